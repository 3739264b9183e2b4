package main

import (
	"math"
	"os"
	"runtime/debug"
	"sync"
)

// The garbage collector is told to wait longer than it would by itself: a check
// makes much that lives for a moment, and reading the rules alone would call it
// several times. A check of one plan ends before it is called at all; from wide
// megabytes on it works as hard as it must.
const (
	longWait = 1600
	wide     = 150 << 20
	// A plan of so many bytes, of several hundred fixtures, may need more than
	// that to live on: then the collector goes by what lives, as it would by
	// itself.
	largePlan  = 100 << 10
	normalWait = 100
)

// A session in an editor has few plans open and lasts: it is collected before it
// has grown much, yet somebody waits for each check.
const sessionWait = 200

// tuneMemory trades memory for time, unless the user has said otherwise.
func tuneMemory() { collect(longWait, wide) }

// staySmall is for a session.
func staySmall() { collect(sessionWait, wide) }

// roomFor is told how large each plan is that is read, and lets the heap grow
// for a large one.
func roomFor(planBytes int) {
	if planBytes >= largePlan {
		letGrow()
	}
}

var letGrow = sync.OnceFunc(func() { collect(normalWait, math.MaxInt64) })

// collect sets by how many percent the heap may grow before memory is collected,
// and how many bytes it may have, each unless the user has said otherwise.
func collect(percent int, most int64) {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(percent)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(most)
	}
}
