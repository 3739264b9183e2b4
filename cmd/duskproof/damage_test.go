package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// damage is one thing done to testdata/source/whole.lighting.json.
type damage struct {
	Name, Find, Put string
	Problems        []struct{ At, Said string }
	Rule, Element   string
}

// wholePlan is the sound plan that is damaged.
const wholePlan = "../../testdata/source/whole.lighting.json"

// leastDamages is how many ways of making a plan unusable are tried at least.
const leastDamages = 60

// damages reads lists of damages.
func damages(t *testing.T, lists ...string) []damage {
	t.Helper()
	var all []damage
	for _, list := range lists {
		var some []damage
		if err := json.Unmarshal(read(t, filepath.Join("../../testdata", list)), &some); err != nil {
			t.Fatalf("%s: %v", list, err)
		}
		all = append(all, some...)
	}
	return all
}

// checkDamaged does each damage to a plan of its own, checks them all in one
// run, and returns the results in order.
func checkDamaged(t *testing.T, all []damage) (int, []jsonPlan) {
	t.Helper()
	whole := string(read(t, wholePlan))
	texts := make([]string, len(all))
	for i, d := range all {
		if n := strings.Count(whole, d.Find); n != 1 {
			t.Fatalf("%s: the plan has %q %d times, want once", d.Name, d.Find, n)
		}
		texts[i] = strings.Replace(whole, d.Find, d.Put, 1)
	}
	return checkTexts(t, texts)
}

// checkTexts checks plans in one run and returns the results in order.
func checkTexts(t *testing.T, texts []string, args ...string) (int, []jsonPlan) {
	t.Helper()
	folder := t.TempDir()
	for i, text := range texts {
		name := filepath.Join(folder, fmt.Sprintf("%05d.lighting.json", i))
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	status, report := judge(t, append(args, folder)...)
	if len(report.Plans) != len(texts) {
		t.Fatalf("%d plans in the report, want %d", len(report.Plans), len(texts))
	}
	return status, report.Plans
}

// TestWholePlanIsJudged holds that the plan that is damaged below is sound.
func TestWholePlanIsJudged(t *testing.T) {
	_, plan := judgeOne(t, wholePlan)
	if plan.Verdict == "unjudged" || find(plan, "plan.conflict", "") != nil {
		t.Errorf("verdict %s, findings %v", plan.Verdict, plan.Findings)
	}
}

// TestDamagedPlansAreRefused holds that plans which cannot be used are refused,
// each problem with its place and what to do about it.
func TestDamagedPlansAreRefused(t *testing.T) {
	all := damages(t, "source/damage.json", "damaged/references.json")
	if len(all) < leastDamages {
		t.Errorf("%d damages, want at least %d", len(all), leastDamages)
	}
	status, plans := checkDamaged(t, all)
	if status != exitUnusable {
		t.Errorf("status %d, want %d", status, exitUnusable)
	}
	for i, d := range all {
		t.Run(d.Name, func(t *testing.T) {
			plan := plans[i]
			if plan.Verdict != "unjudged" || len(plan.Findings) > 0 {
				t.Errorf("verdict %s with %d findings, want unjudged", plan.Verdict, len(plan.Findings))
			}
			if len(plan.Problems) != len(d.Problems) {
				t.Fatalf("problems %v, want %v", plan.Problems, d.Problems)
			}
			for j, want := range d.Problems {
				have := plan.Problems[j]
				if at := fmt.Sprintf("%d:%d", have.Line, have.Column); at != want.At {
					t.Errorf("at %s, want %s", at, want.At)
				}
				if !strings.Contains(have.Message, want.Said) {
					t.Errorf("says %q, want %q in it", have.Message, want.Said)
				}
			}
		})
	}
}

// TestCutPlansAreRefused holds that a plan cut off at any byte is refused, at a
// place that the text has.
func TestCutPlansAreRefused(t *testing.T) {
	whole := strings.TrimRight(string(read(t, wholePlan)), "\n")
	var texts []string
	for end := range whole {
		texts = append(texts, whole[:end])
	}
	status, plans := checkTexts(t, texts)
	if status != exitUnusable {
		t.Errorf("status %d, want %d", status, exitUnusable)
	}
	for i, plan := range plans {
		if plan.Verdict != "unjudged" || len(plan.Problems) != 1 || plan.Problems[0].Message == "" {
			t.Errorf("cut at %d: verdict %s, problems %v", len(texts[i]), plan.Verdict, plan.Problems)
			continue
		}
		lines := strings.Split(texts[i], "\n")
		at := plan.Problems[0]
		if at.Line < 1 || at.Line > len(lines) || at.Column < 1 || at.Column > 1+utf8.RuneCountInString(lines[at.Line-1]) {
			t.Errorf("cut at %d: %d:%d is no place in it", len(texts[i]), at.Line, at.Column)
		}
	}
}

// TestContradictionsAreFindings holds that a plan which says two things at once,
// or too little, is judged as far as it goes, and says so.
func TestContradictionsAreFindings(t *testing.T) {
	all := damages(t, "damaged/contradictions.json")
	status, plans := checkDamaged(t, all)
	if status == exitUnusable || status == exitFailed {
		t.Errorf("status %d", status)
	}
	for i, d := range all {
		t.Run(d.Name, func(t *testing.T) {
			plan := plans[i]
			if plan.Verdict == "unjudged" {
				t.Fatalf("not judged: %v", plan.Problems)
			}
			for _, f := range plan.Findings {
				if f.Rule == d.Rule && (d.Element == "" || f.Element == d.Element) {
					if f.Line < 1 || f.Column < 1 {
						t.Errorf("no place: %v", f)
					}
					return
				}
			}
			t.Errorf("no %s for %q among %v", d.Rule, d.Element, keysOf(plan))
		})
	}
}

func keysOf(plan jsonPlan) []string {
	var keys []string
	for _, f := range plan.Findings {
		keys = append(keys, f.key())
	}
	return keys
}
