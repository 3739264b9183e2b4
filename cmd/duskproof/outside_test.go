package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// outside skips a test whose outside program is missing, or fails it where all
// of them have to be there.
func outside(t *testing.T, program string) {
	t.Helper()
	if _, err := exec.LookPath(program); err == nil {
		return
	}
	if os.Getenv("DUSKPROOF_OUTSIDE") != "" {
		t.Fatalf("%s is not installed", program)
	}
	t.Skipf("%s is not installed; .ci/run installs it", program)
}

// gitScripts runs the scripts in a folder below testdata/script with an author
// for git and nothing of the user's own settings.
func gitScripts(t *testing.T, folder string, setup func(*testscript.Env) error) {
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join(scriptFolder, folder), UpdateScripts: *update, RequireExplicitExec: true, RequireUniqueNames: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("NO_COLOR", "1")
			for _, role := range []string{"AUTHOR", "COMMITTER"} {
				env.Setenv("GIT_"+role+"_NAME", "Invented")
				env.Setenv("GIT_"+role+"_EMAIL", "invented@example.invalid")
			}
			env.Setenv("GIT_CONFIG_NOSYSTEM", "1")
			env.Setenv("GIT_CONFIG_GLOBAL", os.DevNull)
			env.Setenv("GIT_CEILING_DIRECTORIES", filepath.Dir(env.WorkDir))
			for _, name := range []string{"tern-cottage", "too-far.lighting.json"} {
				if err := copyInto(env.WorkDir, name); err != nil {
					return err
				}
			}
			bad, err := os.ReadFile(grave)
			if err != nil {
				return err
			}
			if err := os.WriteFile(filepath.Join(env.WorkDir, "grave.txt"), bad, 0o644); err != nil {
				return err
			}
			return setup(env)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"edit": edit, "exits": exits},
	})
}

// TestGit runs the scripts that need git.
func TestGit(t *testing.T) {
	outside(t, "git")
	elsewhere, hook := t.TempDir(), filepath.Join(t.TempDir(), "pre-commit")
	for _, f := range fences(t, filepath.Join("..", "..", "docs", "adopting.md")) {
		if len(f.info) == 2 && f.info[1] == "pre-commit" {
			if err := os.WriteFile(hook, []byte(strings.Join(f.lines, "\n")+"\n"), 0o755); err != nil {
				t.Fatal(err)
			}
		}
	}
	gitScripts(t, "git", func(env *testscript.Env) error {
		env.Setenv("OUTSIDE", elsewhere)
		env.Setenv("HOOK", hook)
		return nil
	})
}
