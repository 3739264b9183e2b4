package checker

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"duskproof/checker/config"
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// today is the date of the checks in these tests.
const today = "2026-06-01"

// twoCases is a house rule that makes one hit of each of two cases on lamp L1:
// "grave" as grave as the rule is, "mild" one step milder.
const twoCases = `# METADATA
# title: Rule with two cases
# description: |
#   It makes a grave hit and a mild one, so that grading can be seen.
# custom:
#   id: house.two-cases
#   severity: danger
#   basis: house
#   source: our own, for a test
#   confidence: CONFIDENCE
#   needs: []
#   limits: []
#   hint: Look at {element}
package house.two_cases

import data.lib

hits contains lib.hit("L1", [], {"case": "grave", "message": "the grave case"})

hits contains lib.hit("L1", [], {"case": "mild", "severity": "defect", "message": "the mild case"})
`

// oneLampPlan is a plan of one lamp with room for variances; invented.
const oneLampPlan = `{
  "format": "1.0",
  "plan": {"title": "Invented: one lamp", "stage": "design"},
  "units": "m",
  "catalogue": {"fixtures": {"lamp": {"kind": "path", "load": "constant-power", "va": 5, "window": ["9 V", "15 V"]}}},
  "fixtures": [{"id": "L1", "type": "lamp"}],
  "variances": [VARIANCES]
}`

// settings reads the settings in force for a plan from a settings' file.
func settings(t *testing.T, text, path string) config.Settings {
	t.Helper()
	c, problems := config.Parse(config.FileName, []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return c.Effective(path)
}

// judgeTwoCases checks the plan of one lamp by twoCases alone.
func judgeTwoCases(t *testing.T, confidence string, s config.Settings, variances string) report.Plan {
	t.Helper()
	folder := fstest.MapFS{"two-cases.rego": {Data: []byte(strings.Replace(twoCases, "CONFIDENCE", confidence, 1))}}
	c, err := New(Options{Today: today, RuleFolders: []Folder{{"house-rules", folder}}, Only: []string{"house.two-cases", planVariance}})
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(oneLampPlan, "VARIANCES", variances, 1)
	result, err := c.Check(context.Background(), Input{Name: "one.lighting.json", Bytes: []byte(text), Settings: &s})
	if err != nil || len(result.Problems) > 0 {
		t.Fatal(err, result.Problems)
	}
	return result
}

// TestOrderOfDecisions walks through the decisions on a finding's severity one by
// one, each on top of those before it.
func TestOrderOfDecisions(t *testing.T) {
	const (
		repository = `{"format": "1.0", "rules": {"house.two-cases": {"severity": "defect", "reason": "agreed"}}}`
		paths      = `{"format": "1.0", "rules": {"house.two-cases": {"severity": "defect", "reason": "agreed"}},
			"paths": [{"match": "trials/**", "rules": {"house.two-cases": {"severity": "danger"}}}]}`
	)
	variance := `{"rule": "house.two-cases", "element": "L1", "case": "grave", "reason": "seen on site", "granted_by": "invented", "until": "2027-01-01"}`
	commandLine := config.Layer{Rules: []config.Rule{{ID: "house.two-cases", Severity: finding.Advice}}}
	off := config.Layer{Rules: []config.Rule{{ID: "house.two-cases", Off: true, Reason: "not this time"}}}
	steps := []struct {
		name, confidence string
		settings         config.Settings
		variances        string
		want, verdict    string
	}{
		{"the rule's own severity, and the case's", "practice", config.Settings{}, "", "grave danger, mild defect", report.Held},
		{"a value from memory gives advice at most", "memory", config.Settings{}, "", "grave advice, mild advice", report.NoHolds},
		{"the repository grades what the cap left", "memory", settings(t, repository, "a.lighting.json"), "", "grave defect, mild defect", report.Held},
		{"the repository grades the gravest cases; milder ones stay", "practice", settings(t, repository, "a.lighting.json"), "", "grave defect, mild defect", report.Held},
		{"another path's settings do not count", "practice", settings(t, paths, "a.lighting.json"), "", "grave defect, mild defect", report.Held},
		{"the path's settings go on top", "practice", settings(t, paths, "trials/a.lighting.json"), "", "grave danger, mild defect", report.Held},
		{"the command line goes on top", "practice", settings(t, paths, "trials/a.lighting.json").Over(commandLine), "", "grave advice, mild advice", report.NoHolds},
		{"a variance silences what is left of one case", "practice", settings(t, paths, "trials/a.lighting.json"), variance, "mild defect", report.Held},
		{"a rule that is off leaves a variance nothing to silence", "practice", config.Settings{}.Over(off), variance, "", report.NoHolds},
		{"the hold level comes last", "practice", config.Settings{Hold: finding.Danger}, variance, "mild defect", report.NoHolds},
		{"the hold level looks at what is graded, not at the rule's own", "practice", settings(t, repository, "a.lighting.json").Over(config.Layer{Hold: finding.Danger}), "", "grave defect, mild defect", report.NoHolds},
	}
	for _, step := range steps {
		t.Run(step.name, func(t *testing.T) {
			result := judgeTwoCases(t, step.confidence, step.settings, step.variances)
			var have []string
			for _, f := range result.Findings {
				have = append(have, fmt.Sprintf("%s %s", f.Case, f.Severity))
			}
			slices.Sort(have)
			if got := strings.Join(have, ", "); got != step.want || result.Verdict != step.verdict {
				t.Errorf("have %s: %s; want %s: %s", got, result.Verdict, step.want, step.verdict)
			}
		})
	}
}

// TestMemoryCapsByLimit holds that a finding against a limit from memory is
// advice at most, though its rule rests on more, and that settings may grade it
// up again. The other case of the same rule stays as grave as it is.
func TestMemoryCapsByLimit(t *testing.T) {
	text := strings.NewReplacer("CONFIDENCE", "practice", "limits: []", "limits: [light.eye_height_m, site.leaf_clearance_m]",
		`{"case": "grave", "message": "the grave case"}`, `object.union(lib.against(1, "light.eye_height_m"), {"case": "from memory", "message": "m"})`,
		`{"case": "mild", "severity": "defect", "message": "the mild case"}`, `object.union(lib.against(1, "site.leaf_clearance_m"), {"case": "from practice", "message": "m"})`,
	).Replace(twoCases)
	c, err := New(Options{Today: today, RuleFolders: []Folder{{"house-rules", fstest.MapFS{"r.rego": {Data: []byte(text)}}}}, Only: []string{"house.two-cases"}})
	if err != nil {
		t.Fatal(err)
	}
	up := settings(t, `{"format": "1.0", "rules": {"house.two-cases": {"severity": "defect", "reason": "agreed"}}}`, "a")
	for _, step := range []struct {
		settings config.Settings
		want     map[string]finding.Severity
	}{
		{config.Settings{}, map[string]finding.Severity{"from memory": finding.Advice, "from practice": finding.Danger}},
		{up, map[string]finding.Severity{"from memory": finding.Defect, "from practice": finding.Defect}},
	} {
		plan := strings.Replace(oneLampPlan, "VARIANCES", "", 1)
		result, err := c.Check(context.Background(), Input{Name: "one.lighting.json", Bytes: []byte(plan), Settings: &step.settings})
		if err != nil || len(result.Findings) != len(step.want) {
			t.Fatal(err, result.Problems, result.Findings)
		}
		for _, f := range result.Findings {
			if f.Severity != step.want[f.Case] {
				t.Errorf("%s: %s, want %s", f.Case, f.Severity, step.want[f.Case])
			}
		}
	}
}
