package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/pmezard/go-difflib/difflib"

	"duskproof/checker"
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// mendCommand is "duskproof mend".
type mendCommand struct {
	judging
	Plan  string `arg:"" help:"Plan file."`
	Apply bool   `help:"Write the mended plan in place of the old one."`
}

// Run looks for changes that together leave no holds, and shows or writes them.
func (c *mendCommand) Run(ctx context.Context, std streams) error {
	set, err := c.setup()
	if err != nil {
		return err
	}
	defer set.close()
	text, err := readPlanFile(c.Plan)
	if err != nil {
		return flagError{fmt.Errorf("read the plan: %w", plainly(err))}
	}
	mended, err := c.mend(ctx, set, text)
	if err != nil && !ofRules(err) {
		return err
	}
	status := max(c.complain(&mended, std.err), statusOf(mended.After.Verdict))
	if len(mended.Before.Problems) > 0 {
		return ended(c.refuse(&mended.Before, std.err))
	}
	if err := c.show(std.out, text, &mended); err != nil {
		return err
	}
	if c.Apply && len(mended.Combined.Steps) > 0 {
		if err := replaceFile(c.Plan, text, mended.Combined.Text); err != nil {
			return err
		}
		fmt.Fprintf(std.out, "\n%s is written\n", report.Clean(c.Plan))
	}
	return ended(status)
}

// mend looks for the changes.
func (c *mendCommand) mend(ctx context.Context, set *setup, text []byte) (checker.Mended, error) {
	settings := set.effective(c.Plan)
	if len(c.Only) > 0 {
		settings.Rules = onlyRules(settings.Rules, c.Only)
	}
	root, err := os.OpenRoot(filepath.Dir(c.Plan))
	if err != nil {
		return checker.Mended{}, fmt.Errorf("open the plan's folder: %w", err)
	}
	defer root.Close()
	return set.checker.Mend(ctx, checker.Input{Name: filepath.ToSlash(c.Plan), Bytes: text, FS: root.FS(), Settings: &settings})
}

// complain prints which rules failed on the plan.
func (c *mendCommand) complain(m *checker.Mended, w io.Writer) int {
	if len(m.Before.Failed) == 0 {
		return exitFine
	}
	if err := report.RuleProblems(w, m.Before.Failed, textOptions(w, false)); err != nil {
		return exitFailed
	}
	return exitUnusable
}

// refuse says why a plan cannot be mended.
func (c *mendCommand) refuse(p *report.Plan, w io.Writer) int {
	for _, q := range p.Problems {
		fmt.Fprintf(w, "%s:%d:%d: %s: %s\n", report.Clean(p.Path), q.Line, q.Column, q.Rule, report.Clean(q.Message))
	}
	return exitUnusable
}

// show prints what is changed and why, the difference, and what is left.
func (c *mendCommand) show(w io.Writer, text []byte, m *checker.Mended) error {
	var out bytes.Buffer
	for _, step := range m.Combined.Steps {
		f := &step.Settles
		fmt.Fprintf(&out, "%s (%s %s, cost %.4g)\n", report.Clean(step.Fix.Text), f.Rule, report.Clean(f.Element), step.Fix.Cost)
	}
	if len(m.Combined.Steps) > 0 {
		diff, err := difflib.GetUnifiedDiffString(difflib.UnifiedDiff{
			A: difflib.SplitLines(string(text)), B: difflib.SplitLines(string(m.Combined.Text)),
			FromFile: report.Clean(m.Before.Path), ToFile: report.Clean(m.Before.Path) + " (mended)", Context: 3,
		})
		if err != nil {
			return fmt.Errorf("compare the plans: %w", err)
		}
		fmt.Fprintf(&out, "\n%s\n\n", strings.TrimRight(cleanLines(diff), "\n"))
	}
	c.left(&out, m)
	if _, err := w.Write(out.Bytes()); err != nil {
		return fmt.Errorf("write the difference: %w", err)
	}
	return nil
}

// cleanLines makes control characters visible, line ends kept.
func cleanLines(text string) string {
	lines := difflib.SplitLines(text)
	var out bytes.Buffer
	for _, line := range lines {
		body, end := line, ""
		if n := len(line); n > 0 && line[n-1] == '\n' {
			body, end = line[:n-1], "\n"
		}
		out.WriteString(report.Clean(body) + end)
	}
	return out.String()
}

// left prints what still holds the plan, for a person to settle.
func (c *mendCommand) left(out *bytes.Buffer, m *checker.Mended) {
	if len(m.Combined.Remaining) == 0 {
		if len(m.Combined.Steps) == 0 {
			fmt.Fprintln(out, "nothing holds the plan")
		} else {
			fmt.Fprintln(out, "no finding holds the mended plan")
		}
	} else {
		fmt.Fprintln(out, "left for a person:")
	}
	for i := range m.Combined.Remaining {
		f := &m.Combined.Remaining[i]
		fmt.Fprintf(out, "  %s %s: %s\n", f.Severity, f.Rule, report.Clean(f.Message))
		if hint := hintOf(f); hint != "" {
			fmt.Fprintf(out, "    %s\n", report.Clean(hint))
		}
	}
	fmt.Fprintf(out, "\n%s\n", report.Caution)
}

func hintOf(f *finding.Finding) string {
	for _, fix := range f.Fixes {
		if !fix.Proved {
			return fix.Text
		}
	}
	return ""
}

var (
	errChanged = errors.New("it changed while it was being mended; nothing was written")
	errNoFile  = errors.New("it is no plain file; nothing was written")
)

// replaceFile writes a plan in place of its old text: whole or not at all, with
// the mode that it had, and only while it still has that text. A link stays a
// link.
func replaceFile(name string, old, text []byte) error {
	target, err := filepath.EvalSymlinks(name)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	info, err := os.Stat(target)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if !info.Mode().IsRegular() {
		return flagError{fmt.Errorf("write %s: %w", name, errNoFile)}
	}
	temporary, err := os.CreateTemp(filepath.Dir(target), ".duskproof-*")
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	defer func() { _ = os.Remove(temporary.Name()) }() // gone already when all went well
	_, err = temporary.Write(text)
	if err = errors.Join(err, temporary.Chmod(info.Mode().Perm()), temporary.Sync(), temporary.Close()); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	now, err := os.ReadFile(target)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if !bytes.Equal(now, old) {
		return flagError{fmt.Errorf("write %s: %w", name, errChanged)}
	}
	if err := os.Rename(temporary.Name(), target); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}
