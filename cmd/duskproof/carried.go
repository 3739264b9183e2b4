package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"duskproof/checker/carried"
	"duskproof/checker/source"
)

// carriedFile is a list of carried findings on the disk.
type carriedFile struct {
	path   string // as it is shown
	folder string // absolute; the plans' paths in the list start from it
	list   *carried.List
}

// carriedLists are the lists that the settings and the flag name. A nil
// carriedLists has none.
type carriedLists struct {
	flag  *carriedFile            // wins over the settings
	named map[string]*carriedFile // by the path in the settings
}

// loadCarried reads the list that the flag names, or else those of the settings.
func loadCarried(set *setup, flag string) (*carriedLists, error) {
	lists := &carriedLists{named: map[string]*carriedFile{}}
	if flag != "" {
		data, err := os.ReadFile(flag)
		if err != nil {
			return nil, noList(flag, err)
		}
		lists.flag, err = newCarriedFile(flag, flag, data)
		return lists, err
	}
	names := []string{set.config.Base.Carried}
	for _, p := range set.config.Paths {
		names = append(names, p.Carried)
	}
	for _, name := range names {
		if name == "" || lists.named[name] != nil {
			continue
		}
		root, err := set.open(set.root)
		if err != nil {
			return nil, err
		}
		data, err := fs.ReadFile(root.FS(), name)
		if err != nil {
			return nil, noList(name, err)
		}
		file, err := newCarriedFile(name, filepath.Join(set.root, filepath.FromSlash(name)), data)
		if err != nil {
			return nil, err
		}
		lists.named[name] = file
	}
	return lists, nil
}

func noList(name string, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return flagError{fmt.Errorf("there is no list of carried findings %s; write one with: duskproof carry --to %s", name, name)}
	}
	return flagError{fmt.Errorf("read the list of carried findings: %w", err)}
}

func newCarriedFile(shown, path string, data []byte) (*carriedFile, error) {
	list, problems := carried.Parse(filepath.ToSlash(shown), data)
	if len(problems) > 0 {
		return nil, problemsError(problems)
	}
	absolute, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("find the list of carried findings: %w", err)
	}
	return &carriedFile{path: shown, folder: filepath.Dir(absolute), list: list}, nil
}

// entries are the entries for a plan on the disk; setting is the list that the
// settings name for it.
func (l *carriedLists) entries(plan, setting string) []carried.Entry {
	file := l.of(setting)
	if file == nil {
		return nil
	}
	name, ok := file.name(plan)
	if !ok {
		return nil
	}
	return file.list.Of(name)
}

func (l *carriedLists) of(setting string) *carriedFile {
	switch {
	case l == nil:
		return nil
	case l.flag != nil:
		return l.flag
	}
	return l.named[setting]
}

// files lists every list in use, in order.
func (l *carriedLists) files() []*carriedFile {
	if l.flag != nil {
		return []*carriedFile{l.flag}
	}
	var files []*carriedFile
	for _, name := range sortedKeys(l.named) {
		files = append(files, l.named[name])
	}
	return files
}

// name is a plan's path from the folder of the list; false when the plan is not
// below it.
func (f *carriedFile) name(plan string) (string, bool) {
	absolute, err := filepath.Abs(plan)
	if err != nil {
		return "", false
	}
	relative, err := filepath.Rel(f.folder, absolute)
	if err != nil || !filepath.IsLocal(relative) {
		return "", false
	}
	return filepath.ToSlash(relative), true
}

// parseList reads a list that may not be there.
func parseList(name string, data []byte, there bool) (*carried.List, []source.Problem) {
	if !there {
		return &carried.List{Name: name}, nil
	}
	return carried.Parse(name, data)
}
