package config

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
)

// repositoryMark is the folder or file that marks the root of a repository.
const repositoryMark = ".git"

// Find looks for the settings' file from a folder upwards, inside fsys and not
// beyond the root of a repository. It returns the folder that holds it, or the
// root of the repository without a file, or start when there is neither; found
// says whether there is a file.
func Find(fsys fs.FS, start string) (root string, found bool, err error) {
	if !fs.ValidPath(start) {
		return "", false, fmt.Errorf("find settings: %q is not a path in the folder", start)
	}
	for at := start; ; at = path.Dir(at) {
		if found, err = exists(func() (fs.FileInfo, error) { return fs.Stat(fsys, path.Join(at, FileName)) }); found || err != nil {
			return at, found, err
		}
		top, err := exists(func() (fs.FileInfo, error) { return fs.Stat(fsys, path.Join(at, repositoryMark)) })
		switch {
		case err != nil:
			return "", false, err
		case top:
			return at, false, nil
		case at == ".":
			return start, false, nil
		}
	}
}

// Locate is Find on the disk: from a folder up to the root of its repository,
// or of the disk. The path that it returns is absolute.
func Locate(start string) (root string, found bool, err error) {
	start, err = filepath.Abs(start)
	if err != nil {
		return "", false, fmt.Errorf("find settings: %w", err)
	}
	for at := start; ; at = filepath.Dir(at) {
		if found, err = exists(func() (fs.FileInfo, error) { return os.Stat(filepath.Join(at, FileName)) }); found || err != nil {
			return at, found, err
		}
		top, err := exists(func() (fs.FileInfo, error) { return os.Stat(filepath.Join(at, repositoryMark)) })
		switch {
		case err != nil:
			return "", false, err
		case top:
			return at, false, nil
		case at == filepath.Dir(at):
			return start, false, nil
		}
	}
}

// exists says whether a file is there. One that may not be looked at counts as
// absent: the folder above is somebody else's.
func exists(stat func() (fs.FileInfo, error)) (bool, error) {
	_, err := stat()
	switch {
	case err == nil:
		return true, nil
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, fs.ErrPermission):
		return false, nil
	}
	return false, fmt.Errorf("find settings: %w", err)
}
