package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
)

// writeWhole writes a file whole or not at all: whoever reads it meanwhile, and
// whoever interrupts, finds the old file or the new one. What is not a file, such
// as a device or a pipe, is written to as it is, and a link stays a link.
func writeWhole(name string, write func(io.Writer) error) error {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() {
		return writeThrough(name, write)
	}
	if target, err := filepath.EvalSymlinks(name); err == nil {
		name = target
	}
	temporary, err := os.CreateTemp(filepath.Dir(name), ".duskproof-*")
	if err != nil {
		return fmt.Errorf("write %s: %w", name, plainly(err))
	}
	defer func() { _ = os.Remove(temporary.Name()) }() // gone already when all went well
	if err := write(temporary); err != nil {
		temporary.Close()
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := errors.Join(temporary.Chmod(0o644), temporary.Close()); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := os.Rename(temporary.Name(), name); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}

// writeThrough writes to something that cannot be put in place of another.
func writeThrough(name string, write func(io.Writer) error) error {
	to, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := errors.Join(write(to), to.Close()); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}

func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }
