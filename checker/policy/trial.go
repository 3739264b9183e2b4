package policy

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/cover"
	"github.com/open-policy-agent/opa/v1/format"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/tester"
)

// Deadlines of a trial: of one test, and of all of them.
const (
	testDeadline  = 5 * time.Second
	trialDeadline = 60 * time.Second
)

// Trial is what became of a folder of rules that was tried by itself.
type Trial struct {
	// Problems are everything wrong with the files. When there is one, no
	// test was run.
	Problems []Problem
	// Rules are the ids of the rules in the folder, sorted.
	Rules []string
	// Tests are the results, sorted by file and line.
	Tests []TestResult
	// Coverage is of every file that is not a test, sorted by file.
	Coverage []Coverage
	// Unformatted are the files that are not in standard form, sorted.
	Unformatted []string
}

// TestResult is the result of one test.
type TestResult struct {
	// Package and Name say which test it is.
	Package, Name string
	// File and Line say where it stands.
	File string
	Line int
	// Passed is true when it held; Skipped when it was not run, because
	// its name begins with todo_.
	Passed, Skipped bool
	// Cases are the names of the cases that failed, in a test with cases.
	Cases []string
	// Message says why a test could not be run.
	Message string
	// Output is what the test printed.
	Output string
}

// Coverage says how much of a file the tests reached.
type Coverage struct {
	File string
	// Percent is 0 to 100, by lines; 100 when there is nothing to reach.
	Percent float64
	// Missed are the lines that no test reached.
	Missed []int
}

// Passed returns true when there is no problem, at least one test, and every
// test passed or is marked as yet to be written.
func (t *Trial) Passed() bool {
	failed := slices.ContainsFunc(t.Tests, func(r TestResult) bool { return !r.Passed && !r.Skipped })
	return len(t.Problems) == 0 && len(t.Tests) > 0 && !failed
}

// Try type-checks the rules of a folder and runs the tests beside them
// (*_test.rego), measuring coverage. Name is the folder as the user wrote it,
// factsSchema the decoded schema of the facts document. Rules, helpers and the
// library itself can be tried. The error is not nil only when ctx ended or the
// tests used up their time or memory.
func Try(ctx context.Context, name string, fsys fs.FS, factsSchema any) (Trial, error) {
	catalogue, problems := load(true, Source{Name: name, FS: fsys, trial: true})
	catalogue.dropShadowed()
	trial := Trial{Problems: problems}
	for i := range catalogue.Rules {
		trial.Rules = append(trial.Rules, catalogue.Rules[i].ID)
	}
	trial.Problems = append(trial.Problems, catalogue.trialProblems(factsSchema)...)
	trial.Unformatted = catalogue.unformatted()
	if len(catalogue.modules) == len(catalogue.embedded()) && len(trial.Problems) == 0 {
		trial.Problems = append(trial.Problems, Problem{File: name, Message: "the folder holds no rules written in Rego"})
	}
	if len(trial.Problems) > 0 {
		trial.Problems = sortProblems(trial.Problems)
		return trial, nil
	}
	ctx, cancel := context.WithTimeout(ctx, trialDeadline)
	defer cancel() // ends the tests that still run
	err := catalogue.runTests(ctx, &trial, factsSchema)
	return trial, err
}

// embedded lists the modules that come with the program.
func (c *Catalogue) embedded() []string {
	var names []string
	for _, name := range c.helpers {
		if c.library[name] {
			names = append(names, name)
		}
	}
	return names
}

// dropShadowed removes the embedded library when the folder that is tried holds
// the library itself.
func (c *Catalogue) dropShadowed() {
	own := map[string]bool{}
	for name, module := range c.modules {
		if !c.library[name] {
			own[module.Package.Path.String()] = true
		}
	}
	for _, name := range c.embedded() {
		if own[c.modules[name].Package.Path.String()] {
			delete(c.modules, name)
			c.helpers = slices.DeleteFunc(c.helpers, func(h string) bool { return h == name })
		}
	}
}

// trialProblems compiles the folder with its tests and makes the other checks.
func (c *Catalogue) trialProblems(factsSchema any) []Problem {
	_, problems := c.selected(Options{Facts: factsSchema})
	compiler := newCompiler(factsSchema)
	compiler.Compile(c.modules)
	_, found := c.blame(compiler.Errors)
	return append(problems, found...)
}

// unformatted lists the folder's files that are not in standard form.
func (c *Catalogue) unformatted() []string {
	var files []string
	for name := range c.modules {
		if c.library[name] {
			continue
		}
		text, err := format.SourceWithOpts(name, c.texts[name], format.Opts{RegoVersion: ast.RegoV1})
		if err != nil || string(text) != string(c.texts[name]) {
			files = append(files, name)
		}
	}
	slices.Sort(files)
	return files
}

// runTests runs every test in its own goroutine, so that a test that cannot be
// interrupted does not hold the caller.
func (c *Catalogue) runTests(ctx context.Context, trial *Trial, factsSchema any) error {
	store := inmem.New()
	txn, err := store.NewTransaction(ctx)
	if err != nil {
		return fmt.Errorf("open the test store: %w", err)
	}
	defer store.Abort(ctx, txn)
	reach := cover.New()
	runner := tester.NewRunner().
		SetCompiler(newCompiler(factsSchema).WithEnablePrintStatements(true)).
		SetDefaultRegoVersion(ast.RegoV1).
		SetStore(store).
		SetModules(c.modules).
		SetTimeout(testDeadline).
		CapturePrintOutput(true).
		RaiseBuiltinErrors(true).
		SetCoverageQueryTracer(reach)
	results, err := runner.RunTests(ctx, txn)
	if err != nil {
		return fmt.Errorf("start the tests: %w", err)
	}
	if err := gather(ctx, results, trial); err != nil {
		go func() {
			for range results { // lets the tests that still run end
			}
		}()
		return err
	}
	trial.Coverage = c.coverage(reach.Report(c.modules))
	return nil
}

// trialMemory is how many bytes the heap may grow while tests run.
const trialMemory = 1 << 30

// gather takes results until the last one, or the end of time or memory.
func gather(ctx context.Context, results <-chan *tester.Result, trial *Trial) error {
	meter, tick := newMemoryMeter(), time.NewTicker(watchInterval)
	defer tick.Stop()
	for {
		select {
		case <-tick.C:
			if meter.growth("tests") > trialMemory {
				return fmt.Errorf("the tests used more than %d MiB of memory", trialMemory>>20)
			}
		case result, more := <-results:
			if !more {
				sortTests(trial.Tests)
				return nil
			}
			trial.Tests = append(trial.Tests, testResult(result))
		case <-ctx.Done():
			sortTests(trial.Tests)
			if errors.Is(ctx.Err(), context.DeadlineExceeded) {
				return fmt.Errorf("the tests did not end within %s", trialDeadline)
			}
			return fmt.Errorf("run the tests: %w", ctx.Err())
		}
	}
}

func sortTests(tests []TestResult) {
	slices.SortFunc(tests, func(a, b TestResult) int {
		return strings.Compare(fmt.Sprintf("%s %8d %s", a.File, a.Line, a.Name), fmt.Sprintf("%s %8d %s", b.File, b.Line, b.Name))
	})
}

func testResult(r *tester.Result) TestResult {
	t := TestResult{
		Package: strings.TrimPrefix(r.Package, "data."), Name: r.Name,
		Passed: r.Pass() && !r.Skip, Skipped: r.Skip, Output: string(r.Output),
	}
	if r.Location != nil {
		t.File, t.Line = r.Location.File, r.Location.Row
	}
	if r.Error != nil {
		t.Message = r.Error.Error()
	}
	for names, sub := range r.SubResults.Iter {
		if sub.Fail && len(sub.SubResults) == 0 {
			t.Cases = append(t.Cases, strings.Join(names, "/"))
		}
	}
	slices.Sort(t.Cases)
	return t
}

// isEntry says whether a module is the entry query, which only the engine runs.
func (c *Catalogue) isEntry(name string) bool {
	module := c.modules[name]
	return module != nil && module.Package.Path.Equal(entryRef)
}

// coverage picks the folder's own files that are not tests.
func (c *Catalogue) coverage(report cover.Report) []Coverage {
	var list []Coverage
	for name, file := range report.Files {
		if c.library[name] || strings.HasSuffix(name, "_test.rego") || c.isEntry(name) {
			continue
		}
		entry := Coverage{File: name, Percent: file.Coverage}
		if file.CoveredLines+file.NotCoveredLines == 0 {
			entry.Percent = 100
		}
		for _, missed := range file.NotCovered {
			for line := missed.Start.Row; line <= missed.End.Row; line++ {
				entry.Missed = append(entry.Missed, line)
			}
		}
		slices.Sort(entry.Missed)
		entry.Missed = slices.Compact(entry.Missed)
		list = append(list, entry)
	}
	slices.SortFunc(list, func(a, b Coverage) int { return strings.Compare(a.File, b.File) })
	return list
}
