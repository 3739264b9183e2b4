package mend_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/pmezard/go-difflib/difflib"

	"duskproof/checker"
	"duskproof/checker/finding"
	"duskproof/checker/mend"
	"duskproof/checker/report"
)

// forAPerson are the findings of the demo's draft that hold it and that no change
// of the plan settles: mains work, which a licensed person does on site.
var forAPerson = []finding.Identity{
	{Rule: "power.gfci", Element: "RC1"},
	{Rule: "power.in-use-cover", Element: "RC2"},
}

// mendDraft mends the draft of the demo, once for all tests.
func mendDraft(t *testing.T) (sample, checker.Mended) {
	t.Helper()
	s := readSample(t, "testdata/plans/tern-cottage/draft.lighting.json")
	m, err := draftMended(t, s)
	if err != nil {
		t.Fatal(err)
	}
	return s, m
}

var (
	draftOnce sync.Once
	draft     checker.Mended
	errDraft  error
)

func draftMended(t *testing.T, s sample) (checker.Mended, error) {
	draftOnce.Do(func() { draft, errDraft = newChecker(t).Mend(context.Background(), s.input(s.text)) })
	return draft, errDraft
}

// holds are the findings at defect and above, by identity, sorted.
func holds(findings []finding.Finding) []finding.Identity {
	var out []finding.Identity
	for i := range findings {
		if findings[i].Severity >= finding.Defect {
			out = append(out, findings[i].Identity())
		}
	}
	slices.SortFunc(out, func(a, b finding.Identity) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
	return out
}

// TestDraftIsMended holds that what still holds the mended draft is exactly what a
// person has to settle, that it validates, and that it does no harm.
func TestDraftIsMended(t *testing.T) {
	s, m := mendDraft(t)
	if len(holds(m.Before.Findings)) <= len(forAPerson) {
		t.Fatal("the draft has nothing to mend")
	}
	if have := holds(m.After.Findings); !slices.Equal(have, forAPerson) {
		t.Errorf("left: %v, want %v", have, forAPerson)
	}
	if have := holds(m.Combined.Remaining); !slices.Equal(have, forAPerson) {
		t.Errorf("said to be left: %v, want %v", have, forAPerson)
	}
	again := check(t, newChecker(t), &s, m.Combined.Text)
	if len(again.Problems) > 0 {
		t.Fatalf("the mended plan does not validate: %v", again.Problems)
	}
	noHarm(t, &m.Before, &again)
}

// noHarm holds that a check has no finding at advice or above that an earlier one
// had not, or had less grave, but for what a graver one of the same rule hid.
func noHarm(t *testing.T, before, after *report.Plan) {
	t.Helper()
	was, matters := map[finding.Identity]finding.Severity{}, map[string]finding.Severity{}
	for i := range before.Findings {
		f := &before.Findings[i]
		was[f.Identity()] = f.Severity
		matters[f.Rule+" "+f.Element] = max(matters[f.Rule+" "+f.Element], f.Severity)
	}
	for i := range after.Findings {
		f := &after.Findings[i]
		severity, known := was[f.Identity()]
		hidden := !known && f.Severity < matters[f.Rule+" "+f.Element]
		if f.Severity >= finding.Advice && f.Rule != "plan.short-take-off" && !hidden && (!known || f.Severity > severity) {
			t.Errorf("new or graver: %s %s at %s (%s)", f.Severity, f.Rule, f.Element, f.Case)
		}
	}
}

// TestDraftDiffersWhereTheDiffSays holds that the steps, applied one after the
// other, make the mended text; that it keeps every comment, and the order and
// spacing of all that no step names; and that few lines change.
func TestDraftDiffersWhereTheDiffSays(t *testing.T) {
	s, m := mendDraft(t)
	text, ops := s.text, 0
	for _, step := range m.Combined.Steps {
		if len(step.Fix.Patch) == 0 || step.Fix.Patch[0].Op != "test" || !step.Fix.Proved || step.Fix.Cost <= 0 {
			t.Errorf("%s: proved %t, cost %g, patch %v", step.Fix.Text, step.Fix.Proved, step.Fix.Cost, step.Fix.Patch)
		}
		var err error
		if text, err = mend.Apply(text, step.Fix.Patch); err != nil {
			t.Fatal(err)
		}
		for _, op := range step.Fix.Patch {
			if op.Op != "test" {
				ops++
			}
		}
	}
	if !bytes.Equal(text, m.Combined.Text) {
		t.Error("the steps do not make the mended text")
	}
	old, mended := difflib.SplitLines(string(s.text)), difflib.SplitLines(string(m.Combined.Text))
	if len(old) != len(mended) {
		t.Fatalf("%d lines before, %d after: nothing was added or taken out", len(old), len(mended))
	}
	changed := 0
	for i := range old {
		if old[i] != mended[i] {
			changed++
		}
	}
	if changed == 0 || changed > ops {
		t.Errorf("%d lines differ, and %d operations change something", changed, ops)
	}
	if bytes.Count(s.text, []byte(`"//"`)) != bytes.Count(m.Combined.Text, []byte(`"//"`)) {
		t.Error("a comment is lost")
	}
}

// TestSameFixesEitherWay holds that the fixes do not depend on the number of
// workers, nor on the short cuts of a trial: the checker ends a trial early and
// keeps what did not change, and finds what checks in full find.
func TestSameFixesEitherWay(t *testing.T) {
	c := newChecker(t)
	for _, name := range []string{
		"rules/wire/undersized/bad.lighting.json", "rules/light/unlit-step/bad.lighting.json", "rules/site/gate-swing/bad.lighting.json",
		"rules/earth/shallow-cable/bad.lighting.json", "rules/power/common-limit/bad.lighting.json", "rules/light/leaf-shadow/bad.lighting.json",
	} {
		s := readSample(t, name)
		result := check(t, c, &s, s.text)
		base := mend.Outcome{Usable: true, Findings: result.Findings, Facts: result.Facts, Plan: result.Model}
		if err := c.Prove(context.Background(), s.input(s.text), &result); err != nil {
			t.Fatal(err)
		}
		want := asJSON(t, result.Findings)
		for _, jobs := range []int{1, 3} {
			findings, err := mend.Prove(context.Background(), s.text, base, mend.Options{Recheck: inFull(c, &s), Jobs: jobs})
			if err != nil {
				t.Fatal(err)
			}
			if have := asJSON(t, findings); have != want {
				t.Errorf("%s, %d jobs:\n%s\nwant\n%s", name, jobs, have, want)
			}
		}
	}
}

// inFull checks every text from the beginning to the end.
func inFull(c *checker.Checker, s *sample) mend.Recheck {
	return func(ctx context.Context, text []byte, _ finding.Identity) (mend.Outcome, error) {
		r, err := c.Check(ctx, s.input(text))
		return mend.Outcome{Usable: r.Facts != nil && len(r.Problems) == 0, Findings: r.Findings, Facts: r.Facts, Plan: r.Model}, err
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
