package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/mend"
	"duskproof/rules"
)

// fixesPage is docs/fixes.md.
func fixesPage(t *testing.T) string {
	t.Helper()
	return string(read(t, "../../docs/fixes.md"))
}

// TestFixesPageShowsWhatIsPrinted holds the example of docs/fixes.md to what the
// commands print.
func TestFixesPageShowsWhatIsPrinted(t *testing.T) {
	page := fixesPage(t)
	shown := regexp.MustCompile("(?s)```\\n\\$ duskproof (mend [^\\n]*)\\n(.*?)\\n```").FindStringSubmatch(page)
	if shown == nil {
		t.Fatal("no command with output in the page")
	}
	t.Chdir("../..")
	plan := strings.Fields(shown[1])[1]
	if out := outputOf(t, "mend", "--today", "2026-06-01", plan); !strings.HasPrefix(out, shown[2]) {
		t.Errorf("mend prints other than the page shows:\n%s", out)
	}
	fragment := regexp.MustCompile("(?s)```json\\n(.*?)```").FindStringSubmatch(page)
	if fragment == nil {
		t.Fatal("no fix in JSON in the page")
	}
	var want any
	var report struct {
		Plans []struct {
			Findings []struct{ Fixes []any }
		}
	}
	if err := json.Unmarshal([]byte(fragment[1]), &want); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(outputOf(t, "check", "--as", "json", "--today", "2026-06-01", plan)), &report); err != nil {
		t.Fatal(err)
	}
	for _, f := range report.Plans[0].Findings {
		if slices.ContainsFunc(f.Fixes, func(fix any) bool { return reflect.DeepEqual(fix, want) }) {
			return
		}
	}
	t.Error("no finding has the fix that the page shows in JSON")
}

// outputOf is what a command writes to its standard output.
func outputOf(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(context.Background(), args, streams{strings.NewReader(""), &out, &errs}); status > exitHeld {
		t.Fatalf("%v: status %d, %s", args, status, &errs)
	}
	return out.String()
}

// TestFixesPageNumbers holds the weights and budgets of docs/fixes.md to those in
// force.
func TestFixesPageNumbers(t *testing.T) {
	page := fixesPage(t)
	text, err := rules.Files.ReadFile("profiles/common.json")
	if err != nil {
		t.Fatal(err)
	}
	var profile struct {
		Limits map[string]struct{ Value json.Number }
	}
	if err := json.Unmarshal(text, &profile); err != nil {
		t.Fatal(err)
	}
	weights := 0
	for name, limit := range profile.Limits {
		if !strings.HasPrefix(name, "cost.") {
			continue
		}
		weights++
		if row := fmt.Sprintf("| `%s` | %s |", name, limit.Value); !strings.Contains(page, row) {
			t.Errorf("the page has no row that begins %s", row)
		}
	}
	if weights == 0 || weights != strings.Count(page, "| `cost.") {
		t.Errorf("%d weights in the profile, %d in the page", weights, strings.Count(page, "| `cost."))
	}
	said := fmt.Sprintf("A plan of 30 fixtures or fewer may be checked %d times, one of 40 fixtures %d times, one of 200 and more %d times",
		mend.DefaultBudget(30), mend.DefaultBudget(40), mend.DefaultBudget(200))
	if !strings.Contains(strings.Join(strings.Fields(page), " "), said) || mend.DefaultBudget(1) != mend.DefaultBudget(30) || mend.DefaultBudget(201) != mend.DefaultBudget(200) {
		t.Errorf("the page does not say: %s", said)
	}
	less := fmt.Sprintf("a plan of 1000 fixtures gets %d checks and one of 2000 fixtures %d", mend.ProvingBudget(1000), mend.ProvingBudget(2000))
	if !strings.Contains(strings.Join(strings.Fields(page), " "), less) || mend.ProvingBudget(400) != mend.DefaultBudget(400) {
		t.Errorf("the page does not say: %s", less)
	}
}
