package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"duskproof/checker"
	"duskproof/checker/report"
)

// planEnding is the ending of plan files.
const planEnding = ".lighting.json"

// checkCommand is "duskproof check".
type checkCommand struct {
	judging
	Paths []string `arg:"" optional:"" name:"path" help:"Plans, folders of plans, or - for standard input."`
	As    []string `help:"Form of output: text, json; repeatable as FORM=FILE." placeholder:"FORM[=FILE]" sep:"none"`
	Brief bool     `help:"One line for each finding."`
	Jobs  int      `help:"Plans checked at the same time; 0 means one for each processor." placeholder:"N"`
	Base  string   `help:"Folder that a plan on standard input stands in." placeholder:"FOLDER" type:"existingdir"`
	Name  string   `help:"Name of a plan on standard input." default:"standard input"`
}

// Run checks plans and writes the reports.
func (c *checkCommand) Run(ctx context.Context, std streams) error {
	outputs, err := parseOutputs(c.As)
	if err != nil {
		return err
	}
	set, err := c.setup()
	if err != nil {
		return err
	}
	defer set.close()
	names, err := planFiles(c.Paths)
	if err != nil {
		return err
	}
	plans, failures := c.checkAll(ctx, set, names, std.in)
	broken, err := set.broken(ctx)
	if err != nil {
		return err
	}
	full := &report.Report{
		Format: report.Format, Tool: report.Tool{Name: "duskproof", Version: checker.Version}, Today: set.today,
		Caution: report.Caution, Hold: set.config.Effective("").Over(set.layer).Hold, Plans: plans,
		RuleProblems: broken,
	}
	status := max(c.complain(full, std.err), statusOfFailures(failures, std.err))
	for i := range plans {
		status = max(status, statusOf(plans[i].Verdict))
	}
	for _, o := range outputs {
		if err := o.write(full, c.Brief, std.out); err != nil {
			fmt.Fprintf(std.err, "duskproof: %v\n", err)
			status = exitFailed
		}
	}
	return ended(status)
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
