package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"

	"duskproof/checker/policy"
	"duskproof/checker/report"
	"duskproof/schema"
)

// rulesCommand is "duskproof rules".
type rulesCommand struct {
	ID      string   `arg:"" optional:"" help:"Rule to explain."`
	Rules   []string `help:"Folder of house rules; repeatable." placeholder:"FOLDER"`
	Profile []string `help:"Print the limits in force under these profiles, and where each came from." placeholder:"NAME"`
}

// Run lists the rules, explains one, or prints the limits of profiles.
func (c *rulesCommand) Run(ctx context.Context, std streams) error {
	j := judging{Rules: c.Rules}
	set, err := j.setup()
	if err != nil {
		return err
	}
	defer set.close()
	if err := c.print(ctx, std, set); err != nil {
		return err
	}
	broken, err := set.broken(ctx)
	if err != nil || len(broken) == 0 {
		return err
	}
	if err := report.RuleProblems(std.err, broken, textOptions(std.err, false)); err != nil {
		return err
	}
	return ended(exitUnusable)
}

func (c *rulesCommand) print(ctx context.Context, std streams, set *setup) error {
	if c.ID == "" {
		if len(c.Profile) > 0 {
			return printLimits(std, set, c.Profile, nil)
		}
		for _, meta := range set.checker.Rules() {
			fmt.Fprintf(std.out, "%-28s %-8s %-9s %s\n", meta.ID, meta.Severity, meta.Basis, meta.Title)
		}
		return nil
	}
	r, ok := set.checker.Rule(c.ID)
	if !ok {
		return flagError{fmt.Errorf("there is no rule %q%s", c.ID, set.checker.Suggest(c.ID))}
	}
	if len(c.Profile) > 0 {
		return printLimits(std, set, c.Profile, r.Limits)
	}
	for line := range strings.Lines(set.checker.Page(ctx, &r)) {
		fmt.Fprintln(std.out, report.Clean(strings.TrimSuffix(line, "\n")))
	}
	return nil
}

// printLimits prints the effective limits under a stack of profiles, each with
// its source and with what it took the place of; names narrows the list.
func printLimits(std streams, set *setup, profiles, names []string) error {
	limits, err := set.checker.ProfileSet().Stack(profiles)
	if err != nil {
		return flagError{err}
	}
	fmt.Fprintf(std.out, "profiles, the lowest first: %s\n", strings.Join(limits.Profiles(), ", "))
	for _, l := range limits.All() {
		if names != nil && !slices.Contains(names, l.Name) {
			continue
		}
		fmt.Fprintf(std.out, "\n%s = %s\n  set by %s: %s (%s)\n", l.Name, report.Clean(l.Words()), report.Clean(l.Profile), report.Clean(l.Cite()), l.Confidence)
		for _, below := range limits.Origin(l.Name)[1:] {
			fmt.Fprintf(std.out, "  instead of %s in %s: %s\n", report.Clean(below.Words()), report.Clean(below.Profile), report.Clean(below.Cite()))
		}
	}
	return nil
}

// factsCommand is "duskproof facts".
type factsCommand struct {
	judging
	Plan string `arg:"" help:"Plan file."`
}

// Run prints the facts document of one plan.
func (c *factsCommand) Run(ctx context.Context, std streams) error {
	set, err := c.setup()
	if err != nil {
		return err
	}
	defer set.close()
	one := checkCommand{judging: c.judging}
	result, err := one.checkOne(ctx, set, c.Plan, nil)
	if err != nil && !ofRules(err) {
		return flagError{err}
	}
	for _, p := range result.Problems {
		fmt.Fprintf(std.err, "%s:%d:%d: %s\n", report.Clean(result.Path), p.Line, p.Column, report.Clean(p.Message))
	}
	if result.Facts == nil {
		return ended(exitUnusable)
	}
	return report.FactsJSON(std.out, result.Facts)
}

// tryrulesCommand is "duskproof tryrules".
type tryrulesCommand struct {
	Folder string `arg:"" help:"Folder of rules with their tests beside them."`
}

// Run tries a folder of rules.
func (c *tryrulesCommand) Run(ctx context.Context, std streams) error {
	root, err := os.OpenRoot(c.Folder)
	if err != nil {
		return flagError{err}
	}
	defer root.Close()
	var facts any
	raw, err := schema.Files.ReadFile("facts.schema.json")
	if err != nil {
		return err
	}
	if err := json.Unmarshal(raw, &facts); err != nil {
		return err
	}
	trial, err := policy.Try(ctx, c.Folder, root.FS(), facts)
	if err != nil {
		return err
	}
	if err := printTrial(std, &trial); err != nil {
		return err
	}
	if !trial.Passed() {
		return ended(exitUnusable)
	}
	return nil
}

// printTrial prints what became of the tests, and what they did not reach.
func printTrial(std streams, t *policy.Trial) error {
	if err := report.RuleProblems(std.out, ruleProblems(t.Problems), textOptions(std.out, false)); err != nil {
		return err
	}
	failed := 0
	for _, test := range t.Tests {
		if test.Passed || test.Skipped {
			continue
		}
		failed++
		fmt.Fprintf(std.out, "%s:%d: %s failed %s%s\n", report.Clean(test.File), test.Line, report.Clean(test.Name), report.Clean(strings.Join(test.Cases, ", ")), report.Clean(test.Message))
	}
	for _, file := range t.Coverage {
		fmt.Fprintf(std.out, "%s: %.0f %% of lines reached", report.Clean(file.File), file.Percent)
		if len(file.Missed) > 0 {
			fmt.Fprintf(std.out, "; not line %s", strings.Trim(fmt.Sprint(file.Missed), "[]"))
		}
		fmt.Fprintln(std.out)
	}
	for _, file := range t.Unformatted {
		fmt.Fprintf(std.out, "%s: not in standard form\n", report.Clean(file))
	}
	fmt.Fprintf(std.out, "%d rules, %d tests, %d failed, %d problems\n", len(t.Rules), len(t.Tests), failed, len(t.Problems))
	return nil
}
