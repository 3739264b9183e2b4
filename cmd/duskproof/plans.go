package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// planFiles expands folders into the plans below them, in order, each once.
func planFiles(paths []string) ([]string, error) {
	var out []string
	seen := map[string]bool{}
	add := func(name string) {
		if !seen[name] {
			seen[name] = true
			out = append(out, name)
		}
	}
	for _, path := range paths {
		if path == "-" {
			add(path)
			continue
		}
		info, err := os.Stat(path)
		if err != nil {
			return nil, flagError{fmt.Errorf("no plan there: %w", plainly(err))}
		}
		if !info.IsDir() {
			add(path)
			continue
		}
		below, err := plansBelow(path)
		if err != nil {
			return nil, flagError{err}
		}
		for _, name := range below {
			add(name)
		}
	}
	return out, nil
}

// plansBelow finds the plans in a folder and the folders below it, except
// those whose names begin with a dot. Links are followed to files in the folder
// only.
func plansBelow(folder string) ([]string, error) {
	var out []string
	err := filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && path != folder && strings.HasPrefix(entry.Name(), "."):
			return filepath.SkipDir
		case strings.HasSuffix(entry.Name(), planEnding) && isPlanFile(folder, path, entry):
			out = append(out, path)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("look for plans: %w", plainly(err))
	}
	sort.Strings(out)
	return out, nil
}

// isPlanFile reports whether an entry is a file, or a link to one in the folder
// that is searched: a link in somebody else's folder must not make the program
// read, and quote, a file elsewhere.
func isPlanFile(folder, path string, entry fs.DirEntry) bool {
	if entry.Type()&fs.ModeSymlink == 0 {
		return entry.Type().IsRegular()
	}
	root, err := filepath.EvalSymlinks(folder)
	if err != nil {
		return false
	}
	to, err := filepath.EvalSymlinks(path)
	if err != nil {
		return false
	}
	relative, err := filepath.Rel(root, to)
	if err != nil || !filepath.IsLocal(relative) {
		return false
	}
	info, err := os.Stat(to)
	return err == nil && info.Mode().IsRegular()
}
