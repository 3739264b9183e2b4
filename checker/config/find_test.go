package config

import (
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"
)

func TestFind(t *testing.T) {
	fsys := fstest.MapFS{
		"work/.git/HEAD":               {},
		"work/" + FileName:             {},
		"work/plans/tern/a.json":       {},
		"bare/.git/HEAD":               {},
		"bare/plans/a.json":            {},
		"loose/plans/a.json":           {},
		"outer/" + FileName:            {},
		"outer/inner/.git/HEAD":        {},
		"outer/inner/plans/a.json":     {},
		"outer/other/plans/a.json":     {},
		"outer/other/plans/deep/a.txt": {},
	}
	for _, c := range []struct {
		start, root string
		found       bool
	}{
		{"work", "work", true},
		{"work/plans/tern", "work", true},
		{"bare/plans", "bare", false},
		{"loose/plans", "loose/plans", false},
		{"outer/other/plans/deep", "outer", true},
		{"outer/inner/plans", "outer/inner", false}, // not beyond a repository's root
		{".", ".", false},
	} {
		root, found, err := Find(fsys, c.start)
		if err != nil || root != c.root || found != c.found {
			t.Errorf("from %s: %q, %v, %v; want %q, %v", c.start, root, found, err, c.root, c.found)
		}
	}
	if _, _, err := Find(fsys, "../work"); err == nil {
		t.Error("a path out of the folder is taken")
	}
}

func TestLocate(t *testing.T) {
	root := t.TempDir()
	deep := filepath.Join(root, "plans", "tern")
	if err := os.MkdirAll(deep, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(root, repositoryMark), 0o755); err != nil {
		t.Fatal(err)
	}
	if got, found, err := Locate(deep); err != nil || found || got != root {
		t.Errorf("without a file: %q, %v, %v; want %q", got, found, err, root)
	}
	if err := os.WriteFile(filepath.Join(root, FileName), []byte(`{"format": "1.0"}`), 0o644); err != nil {
		t.Fatal(err)
	}
	if got, found, err := Locate(deep); err != nil || !found || got != root {
		t.Errorf("with a file: %q, %v, %v; want %q", got, found, err, root)
	}
}
