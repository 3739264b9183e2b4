package mend_test

import (
	"context"
	"strings"
	"sync/atomic"
	"testing"

	"duskproof/checker"
	"duskproof/checker/finding"
	"duskproof/checker/mend"
	"duskproof/checker/report"
)

// proveWithin proves fixes with so many checks, and counts those that were made.
func proveWithin(t *testing.T, c *checker.Checker, s *sample, base *report.Plan, budget int) (findings []finding.Finding, checks int) {
	t.Helper()
	var made atomic.Int64
	full := inFull(c, s)
	options := mend.Options{Budget: budget, Recheck: func(ctx context.Context, text []byte, target finding.Identity) (mend.Outcome, error) {
		made.Add(1)
		return full(ctx, text, target)
	}}
	findings, err := mend.Prove(context.Background(), s.text, mend.Outcome{Usable: true, Findings: base.Findings, Facts: base.Facts, Plan: base.Model}, options)
	if err != nil {
		t.Fatal(err)
	}
	return findings, int(made.Load())
}

// TestFixesAreShared holds that, when checks are scarce, the legs of one shallow run
// get the one change that was proved for all of them, and that the change does
// settle each.
func TestFixesAreShared(t *testing.T) {
	c := newChecker(t)
	s := sample{name: "large.lighting.json", text: largePlan(60)}
	base := check(t, c, &s, s.text)
	const budget = 12
	findings, checks := proveWithin(t, c, &s, &base, budget)
	if checks > budget {
		t.Errorf("%d checks made, %d allowed", checks, budget)
	}
	shallow := 0
	for i := range findings {
		f := &findings[i]
		if f.Rule != "earth.shallow-cable" {
			continue
		}
		shallow++
		if len(f.Fixes) == 0 || !f.Fixes[0].Proved {
			t.Errorf("no fix is proved for %s", f.Element)
			continue
		}
		text, err := mend.Apply(s.text, f.Fixes[0].Patch)
		if err != nil {
			t.Fatal(err)
		}
		after := check(t, c, &s, text)
		for k := range after.Findings {
			if after.Findings[k].Identity() == f.Identity() {
				t.Errorf("%s stays after: %s", f.Element, f.Fixes[0].Text)
			}
		}
		noHarm(t, &base, &after)
	}
	if shallow < 2 {
		t.Fatalf("%d shallow legs in the plan, want several", shallow)
	}
}

// TestBudgetEnds holds that no more checks are made than allowed, and that what
// was not tried for want of checks says that it is not proved.
func TestBudgetEnds(t *testing.T) {
	c := newChecker(t)
	s := sample{name: "large.lighting.json", text: largePlan(60)}
	base := check(t, c, &s, s.text)
	candidates := map[string]bool{}
	for _, rule := range mend.Rules() {
		candidates[rule] = true
	}
	for _, budget := range []int{1, 2, 3, 5, 8} {
		findings, checks := proveWithin(t, c, &s, &base, budget)
		if checks > budget {
			t.Errorf("%d checks made, %d allowed", checks, budget)
		}
		unproved := 0
		for i := range findings {
			f := &findings[i]
			if f.Severity < finding.Advice || !candidates[f.Rule] || f.Fixes[0].Proved {
				continue
			}
			unproved++
			if !strings.HasSuffix(f.Fixes[0].Text, "(not proved)") {
				t.Errorf("%d checks: %s %s: %s", budget, f.Rule, f.Element, f.Fixes[0].Text)
			}
		}
		if unproved == 0 {
			t.Errorf("%d checks are enough: the plan is too small for this test", budget)
		}
	}
}
