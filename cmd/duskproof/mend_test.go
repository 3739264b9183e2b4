package main

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// TestReplaceFile holds how a mended plan is written: whole, with the mode of the
// old one, through a link, and not at all when the file has changed meanwhile or
// is no file. Nothing else is left in the folder.
func TestReplaceFile(t *testing.T) {
	folder := t.TempDir()
	file, link := filepath.Join(folder, "plan.json"), filepath.Join(folder, "link.json")
	if err := errors.Join(os.WriteFile(file, []byte("old"), 0o600), os.Symlink("plan.json", link), os.Chmod(file, 0o640)); err != nil {
		t.Fatal(err)
	}
	holds := func(want string) {
		t.Helper()
		text, err := os.ReadFile(file)
		if err != nil || string(text) != want {
			t.Errorf("the file says %q (%v), want %q", text, err, want)
		}
		if info, err := os.Stat(file); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o640 {
			t.Errorf("the mode is %v (%v), want 0640", info.Mode().Perm(), err)
		}
		if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
			t.Errorf("the link is %v (%v), want a link", info.Mode(), err)
		}
		if entries, err := os.ReadDir(folder); err != nil || len(entries) != 2 {
			t.Errorf("the folder has %v (%v), want the file and the link", entries, err)
		}
	}
	if err := replaceFile(file, []byte("old"), []byte("new")); err != nil {
		t.Error(err)
	}
	holds("new")
	if err := replaceFile(link, []byte("new"), []byte("newer")); err != nil {
		t.Error(err)
	}
	holds("newer")
	if err := replaceFile(file, []byte("new"), []byte("newest")); !errors.Is(err, errChanged) {
		t.Errorf("a file that changed meanwhile: %v", err)
	}
	holds("newer")
	if err := replaceFile(folder, nil, nil); !errors.Is(err, errNoFile) {
		t.Errorf("a folder: %v", err)
	}
	if err := replaceFile(filepath.Join(folder, "gone.json"), nil, nil); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a file that is gone: %v", err)
	}
}
