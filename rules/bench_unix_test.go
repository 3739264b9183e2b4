//go:build unix

package rules_test

import (
	"syscall"
	"testing"
	"time"
)

// processorTime is how long the process has kept processors busy: what others
// do on the machine changes it less than the time on the wall.
func processorTime(b *testing.B) time.Duration {
	b.Helper()
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		b.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
