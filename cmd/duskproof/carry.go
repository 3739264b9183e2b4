package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"duskproof/checker/carried"
	"duskproof/checker/config"
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// carryCommand is "duskproof carry".
type carryCommand struct {
	judging
	Paths   []string `arg:"" name:"path" help:"Plans, or folders of plans."`
	To      string   `required:"" help:"The list to write; plans stand in its folder or below." placeholder:"FILE"`
	Reason  string   `help:"Why new entries are carried along; a danger needs it." placeholder:"TEXT"`
	Expires string   `help:"Last date on which new entries are carried along, YYYY-MM-DD." placeholder:"DATE"`
	Grow    bool     `help:"Add what is new to a list that is there already; otherwise it only shrinks."`
	Jobs    int      `help:"Plans checked at the same time; 0 means one for each processor." placeholder:"N"`
}

// tally counts what became of the list.
type tally struct{ added, gone, left int }

// Run writes down the findings that hold, or shortens the list that is there.
func (c *carryCommand) Run(ctx context.Context, std streams) error {
	if len(c.Only)+len(c.Skip) > 0 {
		return flagError{errors.New("carry judges by every rule: --only and --skip would take entries off the list")}
	}
	if c.Expires != "" {
		if _, err := today(c.Expires); err != nil {
			return flagError{fmt.Errorf("--expires: want YYYY-MM-DD, have %q", c.Expires)}
		}
	}
	set, err := c.setup()
	if err != nil {
		return err
	}
	defer set.close()
	old, there, err := readCarried(c.To)
	if err != nil {
		return err
	}
	names, err := planFiles(c.Paths)
	if err != nil {
		return err
	}
	check := checkCommand{judging: c.judging, Jobs: c.Jobs}
	plans, failures := check.checkAll(ctx, set, names, streams{nil, io.Discard, std.err}, nil)
	if err := ctx.Err(); err != nil {
		return err
	}
	status := max(check.complain(set.report(plans, nil), std.err), statusOfFailures(failures, std.err))
	entries, counts, err := c.entries(set, old, there, names, plans)
	if err != nil {
		return err
	}
	list := carried.New(c.To, entries)
	if err := writeWhole(c.To, list.Write); err != nil {
		return err
	}
	fmt.Fprintf(std.out, "wrote %s: %s, %d added, %d taken out\n", report.Clean(c.To), entriesWord(len(entries)), counts.added, counts.gone)
	if counts.left > 0 {
		fmt.Fprintf(std.out, "holding and not on the list: %s; mend, or add with --grow\n", findingsWord(counts.left))
		status = max(status, exitHeld)
	}
	return ended(status)
}

func entriesWord(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}

func findingsWord(n int) string {
	if n == 1 {
		return "1 finding"
	}
	return fmt.Sprintf("%d findings", n)
}

// readCarried reads a list that may not be there yet.
func readCarried(path string) (file *carriedFile, there bool, err error) {
	data, err := os.ReadFile(path)
	there = err == nil
	if errors.Is(err, os.ErrNotExist) {
		data, err = []byte(`{"format": "`+carried.Format+`", "entries": []}`), nil
	}
	if err != nil {
		return nil, false, flagError{fmt.Errorf("read the list of carried findings: %w", err)}
	}
	file, err = newCarriedFile(path, path, data)
	return file, there, err
}

// entries puts the new list together: what is still found of the old one, what
// is new where that is allowed, and the entries of plans that were not checked.
func (c *carryCommand) entries(set *setup, old *carriedFile, there bool, names []string, plans []report.Plan) ([]carried.Entry, tally, error) {
	var out []carried.Entry
	var counts tally
	checked := map[string]bool{}
	for i, name := range names {
		own, inside := old.name(name)
		if !inside {
			return nil, counts, flagError{fmt.Errorf("%s is not below the folder of %s; put the list beside the plans or above them", name, c.To)}
		}
		if plans[i].Verdict == report.Unjudged {
			continue // its entries stay: nothing is known about them
		}
		checked[own] = true
		kept, fresh := c.sort(set, old.list, own, &plans[i], cmp.Or(set.effective(name).Hold, config.DefaultHold))
		counts.gone += len(old.list.Of(own)) - len(kept)
		out = append(out, kept...)
		if there && !c.Grow {
			counts.left += len(fresh)
			continue
		}
		counts.added += len(fresh)
		out = append(out, fresh...)
	}
	for _, e := range old.list.Entries {
		if checked[e.Plan] {
			continue
		}
		if _, err := os.Stat(filepath.Join(old.folder, filepath.FromSlash(e.Plan))); errors.Is(err, os.ErrNotExist) {
			counts.gone++
			continue
		}
		out = append(out, e)
	}
	if counts.added > 0 {
		if err := c.justified(out); err != nil {
			return nil, counts, err
		}
	}
	return out, counts, nil
}

// sort parts the findings of one plan that hold into those that the old list
// covers and those that are new.
func (c *carryCommand) sort(set *setup, old *carried.List, own string, plan *report.Plan, hold finding.Severity) (kept, fresh []carried.Entry) {
	seen := map[finding.Identity]bool{}
	for _, f := range plan.Findings {
		if f.Severity < hold || seen[f.Identity()] {
			continue
		}
		seen[f.Identity()] = true
		e := carried.Entry{Plan: own, Rule: f.Rule, Element: f.Element, Case: f.Case, Severity: f.Severity, Reason: c.Reason, Expires: c.Expires}
		before, known := old.Find(e)
		if known && before.Severity >= f.Severity && (before.Expires == "" || before.Expires >= set.today) {
			kept = append(kept, before)
			continue
		}
		fresh = append(fresh, e)
	}
	return kept, fresh
}

// justified holds that new entries say why they are there.
func (c *carryCommand) justified(entries []carried.Entry) error {
	if c.Reason == "" && c.Expires == "" {
		return flagError{errors.New("say why the findings are carried along with --reason, or until when with --expires")}
	}
	dangers := slices.ContainsFunc(entries, func(e carried.Entry) bool { return e.Severity == finding.Danger && e.Reason == "" })
	if dangers {
		return flagError{errors.New("there are dangers among the findings; a danger is carried along only with a --reason")}
	}
	return nil
}
