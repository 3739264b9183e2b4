package checker

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// lackingPlan is a plan that leaves data out: whether the receptacle has a GFCI
// (a danger rule asks), whether it is weather-resistant (no danger), and the
// windows of both lamps. Invented.
const lackingPlan = `{
  "format": "1.0",
  "plan": {"title": "Invented: much left out", "stage": "STAGE"},
  "units": "ft",
  "profiles": ["PROFILE"],
  "supply": {"volts": 120, "branch_circuits": [{"id": "B1", "breaker": "20 A"}], "receptacles": [{"id": "RC1", "branch_circuit": "B1", "in_use_cover": true}]},
  "catalogue": {
    "fixtures": {"lamp": {"kind": "path", "load": "constant-power", "va": 5}},
    "cables": {"12/2": {"conductor": "12 AWG", "ampacity": "25 A"}},
    "transformers": {"T150": {"kind": "magnetic", "rating": "150 VA", "taps": ["12 V"], "impedance": "4 %", "commons": [{"breaker": "15 A"}]}}
  },
  "site": {},
  "transformers": [{"id": "T1", "type": "T150", "plugged_into": "RC1", "height": "14 in"}],
  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "P1", "length": 20}, {"to": "P2", "length": 20}]}],
  "fixtures": [{"id": "P1", "type": "lamp"}, {"id": "P2", "type": "lamp"}]
}`

// lackRules are the rules that judge in these tests.
var lackRules = []string{"plan.cannot-judge", "power.gfci", "power.in-use-cover", "power.weather-rating", "wire.lamp-starved"}

func judgeLacks(t *testing.T, stage, profile string) report.Plan {
	t.Helper()
	c, err := New(Options{Today: today, Only: lackRules})
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer("STAGE", stage, "PROFILE", profile).Replace(lackingPlan)
	result, err := c.Check(context.Background(), Input{Name: "lacking.lighting.json", Bytes: []byte(text)})
	if err != nil || len(result.Problems) > 0 {
		t.Fatal(err, result.Problems)
	}
	return result
}

// lacks lists what cannot be judged, "severity element case" each.
func lacks(result *report.Plan) map[string]string {
	out := map[string]string{}
	for _, f := range result.Findings {
		if f.Rule == cannotJudge {
			out[fmt.Sprintf("%s %s, %s", f.Severity, f.Element, f.Case)] = f.Message
		}
	}
	return out
}

// TestMissingDataIsGroupedBeforeIssue holds that before a plan is issued there
// is one advice for each section, which names rules, elements and what they lack.
func TestMissingDataIsGroupedBeforeIssue(t *testing.T) {
	for _, stage := range []string{"survey", "design"} {
		result := judgeLacks(t, stage, "us-nec-2020")
		have := lacks(&result)
		want := map[string][]string{
			"advice supply, missing data":   {"power.gfci, power.weather-rating cannot be judged", "RC1 (gfci)", "RC1 (weather resistant)"},
			"advice fixtures, missing data": {"wire.lamp-starved cannot be judged", "P1 (", "P2 ("},
		}
		if len(have) != len(want) {
			t.Errorf("%s: have %v", stage, have)
		}
		for key, parts := range want {
			for _, part := range parts {
				if !strings.Contains(have[key], part) {
					t.Errorf("%s: %s says %q, want %q in it", stage, key, have[key], part)
				}
			}
		}
		if result.Verdict != report.NoHolds {
			t.Errorf("%s: %s", stage, result.Verdict)
		}
	}
}

// TestMissingDataHoldsAnIssuedPlan holds that from issue on each rule and element
// has a finding of its own, and that what a danger rule lacks is a defect.
func TestMissingDataHoldsAnIssuedPlan(t *testing.T) {
	for _, stage := range []string{"issued", "as-built"} {
		result := judgeLacks(t, stage, "us-nec-2020")
		have := lacks(&result)
		want := []string{"defect RC1, power.gfci", "advice RC1, power.weather-rating", "advice P1, wire.lamp-starved", "advice P2, wire.lamp-starved"}
		if len(have) != len(want) {
			t.Errorf("%s: have %v", stage, have)
		}
		for _, key := range want {
			if _, found := have[key]; !found {
				t.Errorf("%s: %s is missing; have %v", stage, key, have)
			}
		}
		if result.Verdict != report.Held {
			t.Errorf("%s: %s", stage, result.Verdict)
		}
		// What could not be judged is listed apart as well, for machines.
		if len(result.Unjudged) < 3 {
			t.Errorf("%s: unjudged %+v", stage, result.Unjudged)
		}
	}
}

// TestMuteRulesLackNothing holds that nobody is asked for data that no profile in
// force has a limit for: IEC 60364 has no rule on covers that close over a plug.
func TestMuteRulesLackNothing(t *testing.T) {
	text := strings.NewReplacer("STAGE", "issued", "PROFILE", "iec-60364", `, "in_use_cover": true`, "").Replace(lackingPlan)
	c, err := New(Options{Today: today, Only: lackRules})
	if err != nil {
		t.Fatal(err)
	}
	result, err := c.Check(context.Background(), Input{Name: "lacking.lighting.json", Bytes: []byte(text)})
	if err != nil {
		t.Fatal(err)
	}
	for _, u := range result.Unjudged {
		if u.Rule == "power.in-use-cover" {
			t.Errorf("power.in-use-cover asks for %s of %v under iec-60364", u.Missing, u.Elements)
		}
	}
	for key := range lacks(&result) {
		if strings.Contains(key, "in-use-cover") {
			t.Error(key)
		}
	}
}

// TestNoSiteIsSaidOnce holds that a plan of wiring alone is told once, and not
// for each lamp, that the ground was not judged.
func TestNoSiteIsSaidOnce(t *testing.T) {
	c, err := New(Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	result := checkFile(t, c, goodPlans+"/wiring-only.lighting.json")
	said := 0
	for _, f := range result.Findings {
		if f.Rule == cannotJudge && f.Element == "site" {
			said++
			if f.Severity != finding.Advice || f.Case != "no site" {
				t.Errorf("%s %s", f.Severity, f.Case)
			}
		}
	}
	if said != 1 {
		t.Errorf("said %d times, want once", said)
	}
}
