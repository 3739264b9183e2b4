package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"duskproof/checker/facts"
	"duskproof/checker/report"
)

// drawCommand is "duskproof draw".
type drawCommand struct {
	judging
	Plan   string   `arg:"" help:"Plan file."`
	To     string   `help:"File to write instead of standard output." placeholder:"FILE.svg"`
	Layers []string `help:"Layers to draw: ${layers}; all but volts when not given." placeholder:"LAYER"`
	Scene  string   `help:"Scene whose light is shown; otherwise the first in use." placeholder:"ID"`
}

// Run draws one plan.
func (c *drawCommand) Run(ctx context.Context, std streams) error {
	for _, layer := range c.Layers {
		if !slices.Contains(report.Layers(), layer) {
			return flagError{fmt.Errorf("--layers: unknown layer %q; the layers are %s", layer, strings.Join(report.Layers(), ", "))}
		}
	}
	set, err := c.setup()
	if err != nil {
		return err
	}
	defer set.close()
	result, err := usablePlan(ctx, set, c.judging, c.Plan, std)
	if err != nil {
		return err
	}
	options := report.DrawOptions{Layers: c.Layers, Scene: c.Scene, Today: set.today, Caution: report.Caution}
	if len(c.Layers) == 0 || slices.Contains(c.Layers, report.LayerLight) {
		if options.Light, err = mapLight(ctx, result, filepath.Dir(c.Plan)); err != nil {
			return err
		}
	}
	if options.Light != nil && c.Scene != "" && !slices.Contains(options.Light.Scenes, c.Scene) {
		return flagError{fmt.Errorf("--scene: no scene in use is called %q; they are %s", c.Scene, strings.Join(options.Light.Scenes, ", "))}
	}
	err = writeTo(c.To, std.out, func(w io.Writer) error { return report.Draw(w, result, options) })
	if errors.Is(err, report.ErrNothingPlaced) {
		return flagError{fmt.Errorf("%s: %w", c.Plan, err)}
	}
	return err
}

// usablePlan checks a plan for a command that shows it. Problems of a plan that
// cannot be used are printed, and the error is then the exit status.
func usablePlan(ctx context.Context, set *setup, j judging, name string, std streams) (*report.Plan, error) {
	one := checkCommand{judging: j}
	result, err := one.checkOne(ctx, set, name, std.in)
	if err != nil && !ofRules(err) {
		return nil, flagError{err}
	}
	for _, p := range result.Problems {
		fmt.Fprintf(std.err, "%s:%d:%d: %s\n", report.Clean(result.Path), p.Line, p.Column, report.Clean(p.Message))
	}
	if result.Facts == nil || result.Model == nil {
		return nil, ended(exitUnusable)
	}
	return &result, nil
}

// mostCells bounds the map of light of one drawing.
const mostCells = 9000

// light lights the plans of a report for a form that shows it.
func (c *checkCommand) light(ctx context.Context, plans []report.Plan, names []string) error {
	for i := range plans {
		folder := filepath.Dir(names[i])
		if names[i] == "-" {
			folder = c.Base
		}
		var err error
		if plans[i].Light, err = mapLight(ctx, &plans[i], folder); err != nil {
			return err
		}
	}
	return nil
}

// mapLight lights a plan for a drawing; folder is its own, empty when it has
// none. It is nil for a plan that cannot be used.
func mapLight(ctx context.Context, result *report.Plan, folder string) (*facts.LightMap, error) {
	if result.Model == nil || result.Facts == nil {
		return nil, nil
	}
	if folder == "" {
		return facts.MapLight(ctx, result.Model, result.Facts, nil, mostCells)
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, fmt.Errorf("open the plan's folder: %w", err)
	}
	defer root.Close()
	return facts.MapLight(ctx, result.Model, result.Facts, root.FS(), mostCells)
}

// writeTo writes to a file, whole or not at all, or to standard output.
func writeTo(name string, out io.Writer, write func(io.Writer) error) error {
	if name == "" {
		return write(out)
	}
	return writeWhole(name, write)
}
