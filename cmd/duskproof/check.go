package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sort"
	"strings"
	"sync"

	"golang.org/x/term"

	"duskproof/checker"
	"duskproof/checker/config"
	"duskproof/checker/finding"
	"duskproof/checker/policy"
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

// planFiles expands folders into the plans below them, in order, each once.
func planFiles(paths []string) ([]string, error) {
	var out []string
	seen := map[string]bool{}
	add := func(name string) {
		if !seen[name] {
			seen[name] = true
			out = append(out, name)
		}
	}
	for _, path := range paths {
		if path == "-" {
			add(path)
			continue
		}
		info, err := os.Stat(path)
		if err != nil {
			return nil, flagError{fmt.Errorf("no plan there: %w", err)}
		}
		if !info.IsDir() {
			add(path)
			continue
		}
		below, err := plansBelow(path)
		if err != nil {
			return nil, flagError{err}
		}
		for _, name := range below {
			add(name)
		}
	}
	return out, nil
}

// plansBelow finds the plans in a folder and the folders below it, except
// those whose names begin with a dot.
func plansBelow(folder string) ([]string, error) {
	var out []string
	err := filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && path != folder && strings.HasPrefix(entry.Name(), "."):
			return filepath.SkipDir
		case !entry.IsDir() && strings.HasSuffix(entry.Name(), planEnding):
			out = append(out, path)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("look for plans: %w", err)
	}
	sort.Strings(out)
	return out, nil
}

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

// output is one form of output and where it goes.
type output struct {
	form, file string
}

// parseOutputs reads --as.
func parseOutputs(as []string) ([]output, error) {
	if len(as) == 0 {
		as = []string{"text"}
	}
	var out []output
	standard := 0
	for _, a := range as {
		form, file, toFile := strings.Cut(a, "=")
		if !knownForm(form) {
			return nil, flagError{fmt.Errorf("--as: unknown form %q; the forms are %s", form, strings.Join(forms, ", "))}
		}
		if !toFile {
			standard++
		}
		out = append(out, output{form, file})
	}
	if standard > 1 {
		return nil, flagError{errors.New("--as: at most one form goes to standard output; give the others a file: FORM=FILE")}
	}
	return out, nil
}

// forms are the forms of output.
var forms = []string{"text", "json"}

func knownForm(form string) bool {
	for _, f := range forms {
		if f == form {
			return true
		}
	}
	return false
}

// write writes the report in one form. A file is written whole or not at all.
func (o output) write(r *report.Report, brief bool, std io.Writer) error {
	if o.file == "" {
		return o.render(std, r, brief)
	}
	temporary, err := os.CreateTemp(filepath.Dir(o.file), ".duskproof-*")
	if err != nil {
		return fmt.Errorf("write %s: %w", o.file, err)
	}
	defer os.Remove(temporary.Name())
	if err := o.render(temporary, r, brief); err != nil {
		temporary.Close()
		return fmt.Errorf("write %s: %w", o.file, err)
	}
	if err := errors.Join(temporary.Chmod(0o644), temporary.Close(), os.Rename(temporary.Name(), o.file)); err != nil {
		return fmt.Errorf("write %s: %w", o.file, err)
	}
	return nil
}

func (o output) render(w io.Writer, r *report.Report, brief bool) error {
	if o.form == "json" {
		return report.JSON(w, r)
	}
	return report.Text(w, r, textOptions(w, brief))
}

// textOptions suit what w is: colour and width on a terminal, neither
// elsewhere.
func textOptions(w io.Writer, brief bool) report.TextOptions {
	options := report.TextOptions{Brief: brief}
	file, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(file.Fd())) {
		return options
	}
	if width, _, err := term.GetSize(int(file.Fd())); err == nil {
		options.Width = width
	}
	options.Colour = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	return options
}
