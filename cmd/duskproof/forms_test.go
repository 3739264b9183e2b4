package main

import (
	"crypto/sha256"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/report"
)

// formsFolder holds what each form of output looks like.
const formsFolder = "../../testdata/report"

// TestFormsOfOutput compares every form with a file; each is a whole report on
// one plan, or its drawing, the same on every machine.
func TestFormsOfOutput(t *testing.T) {
	folder, err := filepath.Abs(formsFolder)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(filepath.Join(plansFolder, "format"))
	for _, form := range append(report.FormNames(), "brief", "svg") {
		t.Run(form, func(t *testing.T) {
			golden(t, filepath.Join(folder, "lane-to-door."+form), inForm(t, form, "lane-to-door.lighting.json"))
		})
	}
}

// inForm is a plan in one form of output; svg is its drawing with every layer.
func inForm(t *testing.T, form, name string) string {
	t.Helper()
	args := []string{"check", "--today", day, "--fixes", "hint", "--as", form, name}
	switch form {
	case "brief":
		args = []string{"check", "--today", day, "--fixes", "hint", "--brief", name}
	case "svg":
		args = []string{"draw", "--today", day, "--layers", strings.Join(report.Layers(), ","), name}
	}
	_, out, complaints := command(t, "", args...)
	if complaints != "" {
		t.Errorf("complaints: %s", complaints)
	}
	return out
}

// formsByDigest are the forms of the demo that nobody reads as text; of these the
// length and the digest are kept.
var formsByDigest = []string{"html", "sarif", "svg"}

// TestFormsOfTernCottage holds the demo in every form, the same bytes in every
// run and on every machine: word for word where people read it.
func TestFormsOfTernCottage(t *testing.T) {
	folder, err := filepath.Abs(formsFolder)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(ternCottage)
	var digests strings.Builder
	for _, form := range append(report.FormNames(), "brief", "svg") {
		out := inForm(t, form, "draft.lighting.json")
		if again := inForm(t, form, "draft.lighting.json"); again != out {
			t.Errorf("%s differs from run to run", form)
		}
		if slices.Contains(formsByDigest, form) {
			fmt.Fprintf(&digests, "%x  %7d bytes  %s\n", sha256.Sum256([]byte(out)), len(out), form)
			continue
		}
		golden(t, filepath.Join(folder, "tern-cottage."+form), out)
	}
	golden(t, filepath.Join(folder, "tern-cottage.sums"), digests.String())
}

// TestSeveralForms writes two forms to files and one to standard output, and
// holds that two on one place are refused.
func TestSeveralForms(t *testing.T) {
	plan, err := filepath.Abs(filepath.Join(plansFolder, "format", "ten-lines.lighting.json"))
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	_, out, _ := command(t, "", "check", "--today", day, "--as", "sarif=out.sarif", "--as", "junit=out.xml", "--as", "markdown", plan)
	if !strings.HasPrefix(out, "## ") {
		t.Errorf("standard output begins %.40q", out)
	}
	if text := string(read(t, "out.sarif")); !strings.Contains(text, `"version": "2.1.0"`) {
		t.Errorf("out.sarif begins %.40q", text)
	}
	if text := string(read(t, "out.xml")); !strings.Contains(text, "<testsuites") {
		t.Errorf("out.xml begins %.40q", text)
	}
	if left, _ := filepath.Glob(".duskproof*"); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
	for _, bad := range [][]string{{"--as", "text", "--as", "json"}, {"--as", "text=a", "--as", "json=./a"}, {"--as", "text="}, {"--as", "pdf"}} {
		if status, _, complaints := command(t, "", append(append([]string{"check"}, bad...), plan)...); status != exitUnusable || !strings.Contains(complaints, "--as") {
			t.Errorf("%v: status %d, %s", bad, status, complaints)
		}
	}
}

// TestOutputThatCannotBeWritten is our failure, not the plan's.
func TestOutputThatCannotBeWritten(t *testing.T) {
	name := filepath.Join(t.TempDir(), "no", "such", "folder", "out.json")
	plan := filepath.Join(plansFolder, "format", "ten-lines.lighting.json")
	if status, _, complaints := command(t, "", "check", "--today", day, "--as", "json="+name, plan); status != exitFailed || !strings.Contains(complaints, name) {
		t.Errorf("status %d, %s", status, complaints)
	}
}
