package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestHook runs the hook in the hook framework, from a tagged copy of this
// repository, without a network.
func TestHook(t *testing.T) {
	outside(t, "git")
	outside(t, "pre-commit")
	source := taggedCopy(t, "../..")
	gitScripts(t, "hook", func(env *testscript.Env) error {
		env.Setenv("SOURCE", source)
		env.Setenv("PRE_COMMIT_HOME", filepath.Join(env.WorkDir, ".cache"))
		env.Setenv("HOME", filepath.Join(env.WorkDir, ".home"))
		for _, name := range []string{"GOMODCACHE", "GOCACHE", "GOROOT"} {
			value, err := exec.Command("go", "env", name).Output()
			if err != nil {
				return err
			}
			env.Setenv(name, strings.TrimSpace(string(value)))
		}
		env.Setenv("GOPROXY", "off")
		env.Setenv("GOTOOLCHAIN", "local")
		env.Setenv("GOFLAGS", "-modcacherw") // so that the framework's own cache can be taken away
		settings := filepath.Join(env.WorkDir, ".pre-commit-config.yaml")
		text, err := os.ReadFile(settings)
		if err != nil {
			return err
		}
		return os.WriteFile(settings, bytes.ReplaceAll(text, []byte("SOURCE"), []byte(source)), 0o644)
	})
}

// taggedCopy makes a throw-away repository of the files of this one, with a tag.
func taggedCopy(t *testing.T, from string) string {
	t.Helper()
	to := t.TempDir()
	err := filepath.WalkDir(from, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, err := filepath.Rel(from, path)
		switch {
		case err != nil:
			return err
		case name == ".git" || name == "dist":
			return filepath.SkipDir
		case entry.IsDir():
			return os.MkdirAll(filepath.Join(to, name), 0o755)
		case !entry.Type().IsRegular():
			return nil
		}
		data, err := os.ReadFile(path)
		return errors.Join(err, os.WriteFile(filepath.Join(to, name), data, 0o644))
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"init", "-q", "-b", "main"}, {"add", "-A"}, {"commit", "-q", "-m", "copy"}, {"tag", "v0"}} {
		command := exec.Command("git", append([]string{"-C", to, "-c", "user.name=Invented", "-c", "user.email=invented@example.invalid"}, args...)...)
		command.Env = append(os.Environ(), "GIT_CONFIG_NOSYSTEM=1", "GIT_CONFIG_GLOBAL="+os.DevNull)
		if out, err := command.CombinedOutput(); err != nil {
			t.Fatalf("git %s: %v\n%s", args[0], err, out)
		}
	}
	return to
}
