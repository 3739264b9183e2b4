package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"
)

// TestInterrupted holds the status of a command whose context has ended.
func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	var out, complaints bytes.Buffer
	status := run(ctx, []string{"check", "--today", day, issuedPlan()}, streams{strings.NewReader(""), &out, &complaints})
	if status != exitInterrupted || !strings.Contains(complaints.String(), "interrupted") || out.Len() > 0 {
		t.Errorf("status %d, %q, %d bytes of report; want %d and no report", status, complaints.String(), out.Len(), exitInterrupted)
	}
}

// TestInterruptWhileReading interrupts a process that waits for the rest of a
// plan on standard input.
func TestInterruptWhileReading(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process cannot be sent an interrupt here")
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	process := exec.CommandContext(t.Context(), self)
	process.Args = []string{"duskproof", "check", "--today", day, "-"}
	stdin, err := process.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := process.Start(); err != nil {
		t.Fatal(err)
	}
	// More than a pipe holds: once all is written, the process is reading.
	if _, err := stdin.Write(bytes.Repeat([]byte(" "), 1<<18)); err != nil {
		t.Fatal(err)
	}
	if err := process.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	var failed *exec.ExitError
	if err := process.Wait(); !errors.As(err, &failed) || failed.ExitCode() != exitInterrupted {
		t.Errorf("ended with %v, want status %d", err, exitInterrupted)
	}
}
