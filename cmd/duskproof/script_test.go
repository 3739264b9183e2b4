package main

import (
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// update rewrites the expected outputs; the command is the same for all of
// them: go test ./cmd/duskproof -update.
var update = flag.Bool("update", false, "rewrite the expected outputs under testdata")

// day is the date of every check under test.
const day = "2026-06-01"

// The folders of the repository that tests read.
const (
	plansFolder  = "../../testdata/plans"
	scriptFolder = "../../testdata/script"
)

// TestMain lets scripts run the program itself.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"duskproof": main})
}

// TestScripts runs testdata/script. Each script starts in a folder of its own
// with the Tern Cottage plans in it.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 scriptFolder,
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("NO_COLOR", "1")
			for _, name := range []string{"tern-cottage", "too-far.lighting.json"} {
				if err := copyInto(env.WorkDir, name); err != nil {
					return err
				}
			}
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"edit": edit, "exits": exits},
	})
}

// copyInto copies a plan, or the draft and the issued plan of a folder with
// their photometric files, from testdata into a folder.
func copyInto(folder, name string) error {
	from := filepath.Join(plansFolder, name)
	if info, err := os.Stat(from); err != nil {
		return err
	} else if !info.IsDir() {
		return copyFile(from, filepath.Join(folder, name))
	}
	photometric, err := filepath.Glob(filepath.Join(from, "*.ies"))
	if err != nil {
		return err
	}
	if err := os.Mkdir(filepath.Join(folder, name), 0o755); err != nil {
		return err
	}
	files := append(photometric, filepath.Join(from, "draft.lighting.json"), filepath.Join(from, "issued.lighting.json"))
	for _, file := range files {
		if err := copyFile(file, filepath.Join(folder, name, filepath.Base(file))); err != nil {
			return err
		}
	}
	return nil
}

func copyFile(from, to string) error {
	data, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, data, 0o644)
}

// edit replaces a piece of text that stands once in a file: edit FILE OLD NEW.
func edit(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: edit FILE OLD NEW")
	}
	text := ts.ReadFile(args[0])
	if n := strings.Count(text, args[1]); n != 1 {
		ts.Fatalf("%s has %q %d times, want once", args[0], args[1], n)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, args[1], args[2], 1)), 0o666))
}

// exits runs a program and wants one exit status: exits STATUS PROGRAM ARGS...
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS PROGRAM ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	have := 0
	var failed *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &failed) {
		have = failed.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if have != want {
		ts.Fatalf("exit status %d, want %d", have, want)
	}
}
