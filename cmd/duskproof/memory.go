package main

import (
	"os"
	"runtime/debug"
)

// The garbage collector is told to wait longer than it would by itself: a check
// makes much that lives for a moment, and reading the rules alone would call it
// several times. A check of one plan ends before it is called at all; from wide
// megabytes on it works as hard as it must.
const (
	longWait = 1600
	wide     = 150 << 20
)

// tuneMemory trades memory for time, unless the user has said otherwise.
func tuneMemory() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(longWait)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(wide)
	}
}
