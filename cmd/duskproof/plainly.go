package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/agnivade/levenshtein"
)

// plainly says of an error of the file system what is the matter with which file,
// in the words of a person.
func plainly(err error) error {
	var at *fs.PathError
	if !errors.As(err, &at) {
		return err
	}
	name := filepath.ToSlash(at.Path)
	switch {
	case errors.Is(err, syscall.EISDIR):
		return fmt.Errorf("%s is a folder, not a file", name)
	case errors.Is(err, syscall.ENOTDIR):
		return fmt.Errorf("%s: there is a file where a folder should be", name)
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%s is there already", name)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: permission denied", name)
	case errors.Is(err, fs.ErrNotExist):
		if folder := filepath.Dir(at.Path); folder != "." {
			if _, gone := os.Stat(folder); errors.Is(gone, fs.ErrNotExist) {
				return fmt.Errorf("there is no folder %s", filepath.ToSlash(folder))
			}
		}
		return fmt.Errorf("there is no %s%s", name, nearby(at.Path))
	}
	return err
}

// nearby names the file in the same folder whose name is most like one that does
// not exist: a few letters off, or without the ending of plans.
func nearby(path string) string {
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return ""
	}
	base, best := filepath.Base(path), ""
	least := max(2, len(base)/5) + 1
	for _, entry := range entries {
		name := entry.Name()
		d := levenshtein.ComputeDistance(strings.ToLower(base), strings.ToLower(name))
		if strings.TrimSuffix(name, planEnding) == strings.TrimSuffix(base, ".json") {
			d = 0
		}
		if d < least {
			best, least = name, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %s?", filepath.ToSlash(filepath.Join(filepath.Dir(path), best)))
}
