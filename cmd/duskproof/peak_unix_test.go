//go:build unix

package main

import (
	"os"
	"runtime"
	"syscall"
)

// peakOf returns the most memory that a process had, in bytes.
func peakOf(state *os.ProcessState) int64 {
	usage, ok := state.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	if runtime.GOOS == "darwin" || runtime.GOOS == "ios" {
		return usage.Maxrss // bytes there, kilobytes elsewhere
	}
	return usage.Maxrss * 1024
}
