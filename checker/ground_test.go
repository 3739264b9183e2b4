package checker

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

const ternCottage = "../testdata/plans/tern-cottage"

func newTestChecker(t *testing.T) *Checker {
	t.Helper()
	c, err := New(Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// changed checks the issued plan of Tern Cottage with one thing changed in it.
func changed(t *testing.T, c *Checker, from, to string) (report.Plan, *facts.Document) {
	t.Helper()
	text, err := os.ReadFile(ternCottage + "/issued.lighting.json")
	if err != nil {
		t.Fatal(err)
	}
	if strings.Count(string(text), from) != 1 {
		t.Fatalf("the plan does not say %q once", from)
	}
	plan, err := c.Check(context.Background(), Input{Name: "changed.lighting.json",
		Bytes: []byte(strings.Replace(string(text), from, to, 1)), FS: os.DirFS(ternCottage)})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range plan.Problems {
		t.Errorf("%s: %s", p.Rule, p.Message)
	}
	return plan, plan.Facts
}

// found lists the elements and cases that a rule has found.
func found(plan report.Plan, id string) []string {
	var out []string
	for _, f := range plan.Findings {
		if f.Rule == id {
			out = append(out, strings.TrimSpace(f.Element+" "+f.Case))
		}
	}
	slices.Sort(out)
	return out
}

// TestLightMovedTowardsTheGate moves one path light a foot towards the gate of
// Tern Cottage, into the swing of its leaf.
func TestLightMovedTowardsTheGate(t *testing.T) {
	c := newTestChecker(t)
	before, _ := changed(t, c, `"id": "P3"`, `"id": "P3"`)
	after, _ := changed(t, c, `"at": [-4.8, 17]`, `"at": [-3.8, 17]`)
	if was, is := found(before, "site.gate-swing"), found(after, "site.gate-swing"); len(was) != 0 || !slices.Equal(is, []string{"P3 side-gate"}) {
		t.Errorf("before %v, after %v", was, is)
	}
}

// TestGateOpenedOverALight leaves the boarded gate open: it then stands between
// the light beside it and the walk.
func TestGateOpenedOverALight(t *testing.T) {
	c := newTestChecker(t)
	const gate = `"ground_gap": "2 in", "solid": true`
	before, _ := changed(t, c, gate, gate)
	after, _ := changed(t, c, gate, `"held_open": true, `+gate)
	want := []string{"walk side-gate open, evening", "walk side-gate open, late"}
	if was, is := found(before, "light.leaf-shadow"), found(after, "light.leaf-shadow"); len(was) != 0 || !slices.Equal(is, want) {
		t.Errorf("closed %v, left open %v", was, is)
	}
}

// TestUpperStepLightRemoved takes the upper light of the upper flight away, and
// holds that exactly the treads that went dark are named, with their light
// against the level.
func TestUpperStepLightRemoved(t *testing.T) {
	c := newTestChecker(t)
	plan, facts := changed(t, c, `{"id": "S5", `, `{"id": "S5", "level": 0, `)
	var dark []string
	for _, p := range facts.Treads {
		if !p.Landing && p.LuxCentre != nil && *p.LuxCentre < 1 {
			dark = append(dark, p.ID+" "+p.Scene)
		}
	}
	slices.Sort(dark)
	var named []string
	for _, f := range plan.Findings {
		if f.Rule == "light.unlit-step" && f.Severity >= finding.Defect {
			named = append(named, f.Element+" "+f.Case)
			if f.Value == nil || f.Limit == nil || *f.Limit != 1 || f.Unit != "lx" || !strings.Contains(f.Message, fmt.Sprintf("%.1f lx", *f.Value)) {
				t.Errorf("%s: %+v", f.Element, f)
			}
		}
	}
	slices.Sort(named)
	if len(dark) == 0 || !slices.Equal(dark, named) {
		t.Errorf("dark are %v, named %v", dark, named)
	}
}
