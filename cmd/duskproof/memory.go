package main

import (
	"os"
	"runtime/debug"
)

// The garbage collector is told to wait longer than it would by itself: a check
// makes much that lives for a moment, and reading the rules alone would call it
// several times. From wide megabytes on it works as hard as it must.
const (
	longWait = 400
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
