//go:build !unix

package rules_test

import (
	"testing"
	"time"
)

// began is where the clock of the benchmarks starts.
var began = time.Now()

// processorTime is the time on the wall where the time that the process keeps
// processors busy is not to be had.
func processorTime(*testing.B) time.Duration { return time.Since(began) }
