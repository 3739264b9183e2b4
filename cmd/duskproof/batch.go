package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"

	"duskproof/checker"
	"duskproof/checker/config"
	"duskproof/checker/finding"
	"duskproof/checker/policy"
	"duskproof/checker/report"
)

// checkAll checks the plans side by side and returns the results in order. It
// stops early when a rule could not be stopped: only the end of the process
// ends such a rule.
func (c *checkCommand) checkAll(ctx context.Context, set *setup, names []string, in io.Reader) ([]report.Plan, []error) {
	jobs := c.Jobs
	if jobs <= 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	plans, errs := make([]report.Plan, len(names)), make([]error, len(names))
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(jobs, len(names)) {
		wait.Go(func() {
			for i := range next {
				if policy.Runaways() > 0 {
					plans[i], errs[i] = unread(names[i]), &readError{fmt.Errorf("%s was not checked: a rule could not be stopped", names[i])}
					continue
				}
				plans[i], errs[i] = c.checkOne(ctx, set, names[i], in)
			}
		})
	}
	for i := range names {
		next <- i
	}
	close(next)
	wait.Wait()
	return plans, slices.DeleteFunc(errs, func(err error) bool { return err == nil || ofRules(err) })
}

// checkOne reads and checks one plan.
func (c *checkCommand) checkOne(ctx context.Context, set *setup, name string, in io.Reader) (report.Plan, error) {
	input := checker.Input{Name: filepath.ToSlash(name)}
	folder, settings := filepath.Dir(name), set.effective(name)
	var err error
	if name == "-" {
		input.Name, folder = c.Name, c.Base
		settings = set.config.Effective("").Over(set.layer)
		input.Bytes, err = io.ReadAll(in)
	} else {
		input.Bytes, err = os.ReadFile(name)
	}
	if err != nil {
		return unread(input.Name), &readError{fmt.Errorf("read the plan: %w", err)}
	}
	if len(c.Only) > 0 {
		settings.Rules = onlyRules(settings.Rules, c.Only)
	}
	input.Settings = &settings
	if folder != "" {
		root, err := os.OpenRoot(folder)
		if err != nil {
			return unread(input.Name), &readError{fmt.Errorf("open the plan's folder: %w", err)}
		}
		defer root.Close()
		input.FS = root.FS()
	}
	return set.checker.Check(ctx, input)
}

func onlyRules(rules []config.Rule, only []string) []config.Rule {
	for _, id := range only {
		rules = dropRule(rules, id)
	}
	return rules
}

// unread is the result of a plan that could not be read.
func unread(name string) report.Plan {
	return report.Plan{
		Path: filepath.ToSlash(name), Verdict: report.Unjudged, Profiles: []string{}, Problems: []report.Problem{},
		Findings: []finding.Finding{}, Unjudged: []report.UnjudgedRule{}, Variances: []report.Variance{}, SwitchedOff: []report.SwitchedOff{},
	}
}
