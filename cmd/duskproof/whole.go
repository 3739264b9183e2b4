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
// whoever interrupts, finds the old file or the new one.
func writeWhole(name string, write func(io.Writer) error) error {
	temporary, err := os.CreateTemp(filepath.Dir(name), ".duskproof-*")
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
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

func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K { return slices.Sorted(maps.Keys(m)) }
