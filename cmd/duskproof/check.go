package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"

	"duskproof/checker"
	"duskproof/checker/report"
)

// planEnding is the ending of plan files.
const planEnding = ".lighting.json"

// checkCommand is "duskproof check".
type checkCommand struct {
	judging
	fixing
	Paths        []string      `arg:"" optional:"" name:"path" help:"Plans, folders of plans, or - for standard input."`
	As           []string      `help:"Form of output: ${forms}; repeatable as FORM=FILE." placeholder:"FORM[=FILE]" sep:"none"`
	Brief        bool          `help:"One line for each finding."`
	Jobs         int           `help:"Plans checked at the same time; 0 means one for each processor." placeholder:"N"`
	Base         string        `help:"Folder that a plan on standard input stands in." placeholder:"FOLDER" type:"existingdir"`
	Name         string        `help:"Name of a plan on standard input." default:"standard input"`
	Carried      string        `help:"List of carried findings, which do not hold; see duskproof carry." placeholder:"FILE"`
	ChangedSince string        `help:"Check only the plans that changed since a git revision." placeholder:"REV"`
	Lines        bool          `help:"One plan a line on standard input, one result a line on standard output."`
	Watch        bool          `help:"Go on checking whenever a plan is saved."`
	Poll         time.Duration `help:"With --watch: look every DURATION, for folders on a network." placeholder:"DURATION"`
}

// Run checks plans and writes the reports.
func (c *checkCommand) Run(ctx context.Context, std streams) error {
	outputs, err := parseOutputs(c.As)
	if err != nil {
		return err
	}
	if err := errors.Join(c.usesGit(), c.usesLines(), c.usesWatch()); err != nil {
		return err
	}
	if c.Watch {
		return c.watch(ctx, outputs, std)
	}
	set, err := c.open()
	if err != nil {
		return err
	}
	defer set.close()
	if c.Lines {
		return c.checkLines(ctx, set, std)
	}
	status, err := c.round(ctx, set, outputs, std)
	if err != nil {
		return err
	}
	return ended(status)
}

// open reads the settings and what they name.
func (c *checkCommand) open() (*setup, error) {
	set, err := c.setup()
	if err != nil {
		return nil, err
	}
	if set.carried, err = loadCarried(set, c.Carried); err != nil {
		set.close()
		return nil, err
	}
	return set, nil
}

// round checks the plans once, writes every output, and returns the exit
// status. Interrupted, it writes nothing.
func (c *checkCommand) round(ctx context.Context, set *setup, outputs []output, std streams) (int, error) {
	names, since, err := c.plans(ctx, set)
	if err != nil {
		return exitFailed, err
	}
	c.settled(len(names), c.Watch)
	plans, failures := c.checkAll(ctx, set, names, std, outputs)
	broken, err := set.broken(ctx)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return exitFailed, err
	}
	if slices.ContainsFunc(outputs, output.lights) {
		if err := c.light(ctx, plans, names); err != nil {
			return exitFailed, err
		}
	}
	full := set.report(plans, broken)
	status := max(c.complain(full, std.err), statusOfFailures(failures, std.err))
	for i := range plans {
		status = max(status, statusOf(plans[i].Verdict))
	}
	if since != nil {
		grown, err := since.grown(ctx, set.carried, std.err)
		if err != nil {
			return exitFailed, err
		}
		status = max(status, grown)
	}
	for _, o := range outputs {
		if err := o.write(full, c.Brief, std.out); err != nil {
			fmt.Fprintf(std.err, "duskproof: %v\n", err)
			status = exitFailed
		}
	}
	return status, nil
}

// plans lists the plans to check.
func (c *checkCommand) plans(ctx context.Context, set *setup) ([]string, *changes, error) {
	paths := c.Paths
	if c.ChangedSince != "" && len(paths) == 0 {
		paths = []string{"."}
	}
	names, err := planFiles(paths)
	if err != nil || c.ChangedSince == "" {
		return names, nil, err
	}
	since, err := changesSince(ctx, c.ChangedSince)
	if err != nil {
		return nil, nil, err
	}
	names, err = since.plans(ctx, set, names)
	return names, since, err
}

// report puts the results together.
func (s *setup) report(plans []report.Plan, broken []report.RuleProblem) *report.Report {
	return &report.Report{
		Format: report.Format, Tool: report.Tool{Name: "duskproof", Version: checker.Version}, Today: s.today,
		Caution: report.Caution, Hold: s.config.Effective("").Over(s.layer).Hold, Plans: plans,
		RuleProblems: broken, Rules: rulesByID(s.checker.Rules()),
	}
}

func statusOf(verdict string) int {
	switch verdict {
	case report.NoHolds:
		return exitFine
	case report.Held:
		return exitHeld
	}
	return exitUnusable
}

// complain prints which rules could not be used or failed, and returns the
// exit status that this asks for.
func (c *checkCommand) complain(r *report.Report, w io.Writer) int {
	all := r.RuleProblems
	for i := range r.Plans {
		all = slices.Concat(all, r.Plans[i].Failed)
	}
	if len(all) == 0 {
		return exitFine
	}
	if err := report.RuleProblems(w, all, textOptions(w, c.Brief)); err != nil {
		return exitFailed
	}
	return exitUnusable
}

// statusOfFailures prints failures and tells a plan that cannot be used from a
// failure of our own.
func statusOfFailures(failures []error, w io.Writer) int {
	status := exitFine
	for _, failure := range failures {
		fmt.Fprintf(w, "duskproof: %v\n", failure)
		var unreadable *readError
		if errors.As(failure, &unreadable) {
			status = max(status, exitUnusable)
			continue
		}
		status = exitFailed
	}
	return status
}

// ofRules reports whether an error says only that rules did not judge, which
// the report says as well.
func ofRules(err error) bool {
	var engine *checker.EngineError
	var rules *checker.RuleError
	return errors.As(err, &engine) || errors.As(err, &rules)
}

// readError is a plan that could not be read or was not checked.
type readError struct{ error }
