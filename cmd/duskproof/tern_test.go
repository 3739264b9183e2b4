package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// ternCottage is the folder of the demo.
var ternCottage = filepath.Join(plansFolder, "tern-cottage")

func draftPlan() string  { return filepath.Join(ternCottage, "draft.lighting.json") }
func issuedPlan() string { return filepath.Join(ternCottage, "issued.lighting.json") }

// mistakes are those that the draft was given by hand: the rule that must find
// each, how grave it is there, and the text that the place must mark.
var mistakes = []struct{ rule, element, severity, pointer, marked string }{
	{"power.overload", "T1", "advice", "/transformers/0/type", `"T200"`},
	{"power.margin", "T2", "advice", "/transformers/1/type", `"T75"`},
	{"power.gfci", "RC1", "danger", "/supply/receptacles/0/gfci", `false`},
	{"power.in-use-cover", "RC2", "defect", "/supply/receptacles/1/in_use_cover", `false`},
	{"wire.excess-drop", "terrace-run", "advice", "/runs/4/from", `{"transformer": "T2", "common": 1, "tap": "12 V"}`},
	{"wire.undersized", "t1", "danger", "/runs/3/cable", `"18/2"`},
	{"wire.lamp-starved", "H2", "defect", "/fixtures/18/type", `"stone-spot"`},
	{"wire.lamp-overfed", "S1", "defect", "/fixtures/11/type", `"cheek-light"`},
	{"light.unlit-step", "upper/5", "danger", "/site/stairs/1", ``},
	{"site.gate-swing", "P3", "defect", "/fixtures/8/at", `[-2.8, 16.6]`},
	{"earth.shallow-cable", "d2", "defect", "/runs/1/cover", `"8 in"`},
	{"law.local-code", "plan", "caution", "/plan", ``},
	{"law.locate", "permissions", "caution", "/permissions", ``},
	{"law.licensed-supply", "supply", "caution", "/supply", ``},
}

// TestDraftShowsEachMistake holds that the draft is held, and that each mistake
// made in it by hand is found where it was made.
func TestDraftShowsEachMistake(t *testing.T) {
	status, plan := judgeOne(t, draftPlan())
	if status != exitHeld || plan.Verdict != "held" {
		t.Fatalf("status %d, verdict %s; want %d, held", status, plan.Verdict, exitHeld)
	}
	text := read(t, draftPlan())
	for _, want := range mistakes {
		t.Run(want.rule, func(t *testing.T) {
			found := find(plan, want.rule, want.element)
			if found == nil {
				t.Fatalf("not found for %s", want.element)
			}
			if found.Severity != want.severity || found.Pointer != want.pointer {
				t.Errorf("have %s at %s, want %s at %s", found.Severity, found.Pointer, want.severity, want.pointer)
			}
			mark := marked(text, found.Line, found.Column, found.EndLine, found.EndColumn)
			if want.marked != "" && mark != want.marked {
				t.Errorf("marks %s, want %s", mark, want.marked)
			}
		})
	}
}

func find(plan jsonPlan, rule, element string) *jsonFinding {
	for i := range plan.Findings {
		if f := &plan.Findings[i]; f.Rule == rule && f.Element == element {
			return f
		}
	}
	return nil
}

// TestIssuedHasNoHolds holds that the plan put right has advice and cautions at
// most.
func TestIssuedHasNoHolds(t *testing.T) {
	status, plan := judgeOne(t, issuedPlan())
	if status != exitFine || plan.Verdict != "no-holds" {
		t.Errorf("status %d, verdict %s; want %d, no-holds", status, plan.Verdict, exitFine)
	}
	for _, f := range plan.Findings {
		if f.Severity != "advice" && f.Severity != "caution" {
			t.Errorf("%s %s: %s", f.Severity, f.Rule, f.Message)
		}
	}
}

// TestFindingsOfTernCottage holds the whole set of findings of both plans, and
// finds each place a second way.
func TestFindingsOfTernCottage(t *testing.T) {
	for _, name := range []string{draftPlan(), issuedPlan()} {
		_, plan := judgeOne(t, name)
		text := read(t, name)
		seen := map[string]bool{}
		for _, f := range plan.Findings {
			if seen[f.key()] {
				t.Errorf("%s: two findings are %s", name, f.key())
			}
			seen[f.key()] = true
			if line, column := startOf(t, text, f.Pointer); line != f.Line || column != f.Column {
				t.Errorf("%s: %s is at %d:%d, the value at %s begins at %d:%d", name, f.key(), f.Line, f.Column, f.Pointer, line, column)
			}
		}
		golden(t, strings.TrimSuffix(name, ".lighting.json")+".findings.txt", table(plan, text))
	}
}

// table lists findings for people: one line for each, with what its place marks.
func table(plan jsonPlan, text []byte) string {
	const form = "%-8s  %-24s  %-14s  %-20s  %-8s  %-36s  %s\n"
	var out strings.Builder
	fmt.Fprintf(&out, form, "severity", "rule", "element", "case", "place", "pointer", "marks")
	for _, f := range plan.Findings {
		mark := []rune(marked(text, f.Line, f.Column, f.EndLine, f.EndColumn))
		fmt.Fprintf(&out, form, f.Severity, f.Rule, f.Element, f.Case, fmt.Sprintf("%d:%d", f.Line, f.Column), f.Pointer,
			string(mark[:min(len(mark), 24)]))
	}
	return out.String()
}

func read(t *testing.T, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
