package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"duskproof/checker/report"
)

// ownProcess makes the program itself a command to run in a process of its own.
func ownProcess(t *testing.T) string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(t.TempDir(), "duskproof")
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	return program
}

// everyForm is the arguments that check both Tern Cottage plans in every form of
// output, into a folder.
func everyForm(folder string) []string {
	args := []string{"check", "--today", day, "--fixes", "hint"}
	for _, form := range report.FormNames() {
		args = append(args, "--as", form+"="+filepath.Join(folder, form))
	}
	return append(args, issuedPlan(), draftPlan())
}

// outputs runs a command that checks in every form and returns what it wrote.
func outputs(t *testing.T, environment []string, command ...string) map[string][]byte {
	t.Helper()
	folder := t.TempDir()
	run := exec.Command(command[0], append(command[1:], everyForm(folder)...)...)
	run.Env = environment
	var exit *exec.ExitError
	if out, err := run.CombinedOutput(); err != nil && (!errors.As(err, &exit) || exit.ExitCode() != exitHeld) {
		t.Fatalf("%v: %v\n%s", command, err, out)
	}
	written := map[string][]byte{}
	for _, form := range report.FormNames() {
		written[form] = read(t, filepath.Join(folder, form))
	}
	return written
}

// TestOutputIsReproducible holds that the same plans give the same bytes in every
// form of output, in another process, with another number of processors, home,
// language and time zone.
func TestOutputIsReproducible(t *testing.T) {
	program := ownProcess(t)
	first := outputs(t, append(os.Environ(), "GOMAXPROCS=1"), program)
	other := []string{
		"PATH=" + os.Getenv("PATH"), "GOMAXPROCS=4", "HOME=" + t.TempDir(), "TMPDIR=" + t.TempDir(), "LANG=tr_TR.UTF-8", "LC_ALL=tr_TR.UTF-8",
		"TZ=Pacific/Kiritimati", "TERM=xterm-256color", "USER=somebody", "DUSKPROOF_SECRET=swordfish",
	}
	for form, want := range first {
		if len(want) == 0 {
			t.Errorf("%s is empty", form)
		}
	}
	for form, have := range outputs(t, other, program) {
		if !bytes.Equal(have, first[form]) {
			t.Errorf("%s: other bytes in another place", form)
		}
		if bytes.Contains(have, []byte("swordfish")) {
			t.Errorf("%s: the environment came out", form)
		}
	}
}

// TestNoNetwork holds that a check needs no network: in a network namespace of
// its own, which has no interface that is up and reaches nothing, it gives the
// same bytes.
func TestNoNetwork(t *testing.T) {
	unshare := []string{"unshare", "--net"}
	if os.Getuid() != 0 {
		unshare = []string{"unshare", "--map-root-user", "--net"}
	}
	if out, err := exec.Command(unshare[0], append(unshare[1:], "true")...).CombinedOutput(); err != nil {
		if os.Getenv("DUSKPROOF_OUTSIDE") != "" {
			t.Fatalf("no network namespace can be made: %v %s", err, out)
		}
		t.Skipf("no network namespace can be made here: %v %s", err, strings.TrimSpace(string(out)))
	}
	program := ownProcess(t)
	outside := outputs(t, os.Environ(), program)
	for form, have := range outputs(t, os.Environ(), append(unshare, program)...) {
		if !bytes.Equal(have, outside[form]) {
			t.Errorf("%s: other bytes without a network", form)
		}
	}
}
