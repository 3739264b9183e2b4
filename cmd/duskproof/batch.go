package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"duskproof/checker"
	"duskproof/checker/config"
	"duskproof/checker/finding"
	"duskproof/checker/policy"
	"duskproof/checker/report"
	"duskproof/checker/source"
)

// checkAll checks the plans side by side and returns the results in order. It
// stops early when a rule could not be stopped, since only the end of the
// process ends such a rule, and when the user interrupts. What the forms of output
// have no use for is let go at once, so that memory grows with the findings and
// not with the plans.
func (c *checkCommand) checkAll(ctx context.Context, set *setup, names []string, std streams, outputs []output) ([]report.Plan, []error) {
	plans, errs := make([]report.Plan, len(names)), make([]error, len(names))
	bar := newProgress(std.err, len(names))
	defer bar.end()
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(jobs(c.Jobs), len(names)) {
		wait.Go(func() {
			for i := range next {
				if policy.Runaways() > 0 {
					plans[i], errs[i] = unstopped(names[i])
					continue
				}
				plans[i], errs[i] = c.checkOne(ctx, set, names[i], std.in)
				letGo(&plans[i], outputs)
				bar.step()
			}
		})
	}
	feed(ctx, next, len(names))
	if !finished(ctx, &wait) {
		return nil, nil
	}
	return plans, slices.DeleteFunc(errs, func(err error) bool { return err == nil || ofRules(err) })
}

// letGo drops what no form of output will ask for. A line that a finding quotes
// is cut out of the text, which it would else hold on to.
func letGo(p *report.Plan, outputs []output) {
	if slices.ContainsFunc(outputs, output.draws) {
		return
	}
	p.Model, p.Facts = nil, nil
	lines := map[string]string{}
	for i := range p.Findings {
		line := p.Findings[i].Excerpt
		if _, known := lines[line]; !known {
			lines[line] = strings.Clone(line)
		}
		p.Findings[i].Excerpt = lines[line]
	}
	if p.Document != nil && slices.ContainsFunc(outputs, output.edits) {
		p.Document = p.Document.TextOnly()
		return
	}
	p.Document = nil
}

// grace is how long an interrupted command waits for what is under way.
const grace = time.Second

// finished waits for the workers; false means that the user interrupts, and that
// one of them is left behind in the middle of something long.
func finished(ctx context.Context, wait *sync.WaitGroup) bool {
	done := make(chan struct{})
	go func() {
		wait.Wait()
		close(done)
	}()
	select {
	case <-done:
		return true
	case <-ctx.Done():
	}
	select {
	case <-done:
		return true
	case <-time.After(grace):
		return false
	}
}

// feed hands out the numbers below n until the user interrupts.
func feed(ctx context.Context, next chan<- int, n int) {
	defer close(next)
	for i := range n {
		select {
		case next <- i:
		case <-ctx.Done():
			return
		}
	}
}

// jobs is how many plans are checked at the same time.
func jobs(flag int) int {
	if flag > 0 {
		return flag
	}
	return runtime.GOMAXPROCS(0)
}

// checkOne reads and checks one plan.
func (c *checkCommand) checkOne(ctx context.Context, set *setup, name string, in io.Reader) (report.Plan, error) {
	input := checker.Input{Name: filepath.ToSlash(name)}
	folder, settings, place := filepath.Dir(name), set.effective(name), name
	var err error
	if name == "-" {
		input.Name, folder, place = c.Name, c.Base, filepath.Join(c.Base, c.Name)
		settings = set.config.Effective("").Over(set.layer)
		input.Bytes, err = readPlan(in, 0)
	} else {
		input.Bytes, err = readPlanFile(name)
	}
	if err != nil {
		err = plainly(err)
		return unread(input.Name, err), &readError{fmt.Errorf("read the plan: %w", err)}
	}
	if len(c.Only) > 0 {
		settings.Rules = onlyRules(settings.Rules, c.Only)
	}
	input.Settings = &settings
	input.Carried = set.carried.entries(place, settings.Carried)
	if folder != "" {
		root, err := os.OpenRoot(folder)
		if err != nil {
			err = plainly(err)
			return unread(input.Name, err), &readError{fmt.Errorf("open the plan's folder: %w", err)}
		}
		defer root.Close()
		input.FS = root.FS()
	}
	result, err := set.checker.Check(ctx, input)
	if fixed := c.fix(ctx, set.checker, input, &result); fixed != nil {
		return result, fixed
	}
	return result, err
}

// readPlan reads at most a little more than a plan may have, so that the reader
// of plans can refuse the rest. There is room at once for as many bytes as are
// expected.
func readPlan(in io.Reader, expected int64) ([]byte, error) {
	most := int64(source.DefaultLimits().MaxBytes) + 1
	var text bytes.Buffer
	text.Grow(int(min(expected, most)) + bytes.MinRead)
	_, err := text.ReadFrom(io.LimitReader(in, most))
	roomFor(text.Len())
	return text.Bytes(), err
}

// readPlanFile reads a plan from the disk.
func readPlanFile(name string) ([]byte, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	var expected int64
	if info, err := file.Stat(); err == nil && info.Mode().IsRegular() {
		expected = info.Size()
	}
	return readPlan(file, expected)
}

func onlyRules(rules []config.Rule, only []string) []config.Rule {
	for _, id := range only {
		rules = dropRule(rules, id)
	}
	return rules
}

// errUnstopped is why the plans after a rule without an end are not checked.
var errUnstopped = errors.New("a rule could not be stopped")

// unstopped is the result of a plan that comes after such a rule.
func unstopped(name string) (report.Plan, error) {
	return unread(name, errUnstopped), &readError{fmt.Errorf("%s was not checked: %w", name, errUnstopped)}
}

// unread is the result of a plan that could not be read, and why.
func unread(name string, why error) report.Plan {
	problem := report.Problem{Rule: "plan.unreadable", Line: 1, Column: 1, EndLine: 1, EndColumn: 1, Message: "the plan was not checked: " + why.Error()}
	return report.Plan{
		Path: filepath.ToSlash(name), Verdict: report.Unjudged, Profiles: []string{}, Problems: []report.Problem{problem},
		Findings: []finding.Finding{}, Unjudged: []report.UnjudgedRule{}, Variances: []report.Variance{}, SwitchedOff: []report.SwitchedOff{},
	}
}
