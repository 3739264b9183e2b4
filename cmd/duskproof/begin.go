package main

import (
	_ "embed"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

//go:embed starter.lighting.json
var starter string

// beginCommand is "duskproof begin".
type beginCommand struct {
	Name string `arg:"" help:"Name of the plan: NAME.lighting.json is written."`
}

// Run writes a starter plan; it never overwrites a file.
func (c *beginCommand) Run(std streams) error {
	name := c.Name
	if !strings.HasSuffix(name, planEnding) {
		name += planEnding
	}
	title := strings.TrimSuffix(filepath.Base(name), planEnding)
	if strings.ContainsAny(title, "\"\\\n") {
		return flagError{fmt.Errorf("begin: %q cannot be the name of a plan", title)}
	}
	file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return flagError{fmt.Errorf("begin: %w; choose another name", plainly(err))}
	}
	_, err = file.WriteString(strings.ReplaceAll(starter, "TITLE", title))
	if err := errors.Join(err, file.Close()); err != nil {
		return fmt.Errorf("begin: %w", err)
	}
	fmt.Fprintf(std.out, "wrote %s; draw your own site into it and run: duskproof check %s\n", name, name)
	return nil
}
