package main

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestEditorInARealEditor lets a general-purpose editor with its own client of
// the protocol do the talking: it places findings behind characters outside the
// basic plane, follows a name, renames, and takes a proved fix.
func TestEditorInARealEditor(t *testing.T) {
	outside(t, "nvim")
	t.Parallel()
	folder, path, text := ternOpened(t)
	script, err := filepath.Abs("../../testdata/editor/session.lua")
	if err != nil {
		t.Fatal(err)
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	home := t.TempDir()
	server := filepath.Join(home, "duskproof")
	if err := os.Symlink(self, server); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*patience)
	defer cancel()
	seenFile := filepath.Join(home, "seen.json")
	command := exec.CommandContext(ctx, "nvim", "--headless", "--clean", "-n", "-i", "NONE", "-c", "luafile "+script)
	command.Env = append(os.Environ(), "SERVER="+server, "FOLDER="+folder, "PLAN="+path, "SEEN="+seenFile, "HOME="+home, "XDG_STATE_HOME="+home, "XDG_CACHE_HOME="+home)
	if out, err := command.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var seen struct {
		Problem                   string
		Count                     int
		Edited, Hover, Definition string
		Renamed, Action, Mended   string
		Gfci                      []struct{ Text, Message string }
	}
	if err := json.Unmarshal([]byte(readText(t, seenFile)), &seen); err != nil {
		t.Fatal(err)
	}
	if seen.Problem != "" {
		t.Fatal(seen.Problem)
	}
	if seen.Count != len(reported(t, path)) {
		t.Errorf("it shows %d findings", seen.Count)
	}
	if want := strings.Replace(text, `{"id": "RC1", `, `{"id": "RC1", "//": "🌲🌲 é", `, 1); seen.Edited != want {
		t.Fatal("it holds another text than the plan's")
	}
	if len(seen.Gfci) != 1 || seen.Gfci[0].Text != "false" {
		t.Errorf("behind the trees it marks %+v", seen.Gfci)
	}
	if !strings.Contains(seen.Hover, "**H1**") || !strings.HasPrefix(seen.Definition, `"lower-west-cheek", "line"`) {
		t.Errorf("it shows %q and jumps to %q", seen.Hover, seen.Definition)
	}
	if want := strings.ReplaceAll(seen.Edited, `"RC1"`, `"outlet"`); seen.Renamed != want {
		t.Error("the rename misses its places")
	}
	if !strings.HasPrefix(seen.Action, "Move P3 ") || !oneLineApart(seen.Mended, seen.Renamed) {
		t.Errorf("%q makes\n%s", seen.Action, seen.Mended)
	}
}

// oneLineApart reports whether two texts differ in one line.
func oneLineApart(a, b string) bool {
	left, right := strings.Split(a, "\n"), strings.Split(b, "\n")
	different := 0
	for i := range min(len(left), len(right)) {
		if left[i] != right[i] {
			different++
		}
	}
	return len(left) == len(right) && different == 1
}
