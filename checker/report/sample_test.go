package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"duskproof/checker/finding"
	"duskproof/checker/rule"
	"duskproof/checker/source"
)

// hostile is what a plan may call itself: markup of every form, quotes,
// terminal controls, a mark that turns the direction of writing, a name that
// pings and an address that links.
const hostile = "<script>alert(1)</script><img src=x onerror=alert(2)> \"'&amp; ]]> `x` [a](javascript:b) " +
	"@team https://x.example www.x.example {0} \x1b[31m\x07\u202egnp.exe\u2066 \u0085 \x00 | ~ * _ # \\ --> 💡 =1+1"

func number(v float64) *float64 { return &v }

// samplePlan is a small text that fixes apply to.
const samplePlan = "{\n  \"a\": 1,\n  \"b\": [1, 2, 3],\n  \"c\": \"📏\"\n}"

// sample is a report with something in every list, all of it hostile.
func sample(t testing.TB) *Report {
	t.Helper()
	document, problems := source.Parse("p", []byte(samplePlan), source.Limits{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	found := finding.Finding{
		Rule: "power.overload", Severity: finding.Defect, Basis: finding.Listing, Element: hostile, Case: hostile,
		Pointer: "/b/1" + hostile, Line: 3, Column: 12, EndLine: 3, EndColumn: 13, Message: hostile,
		Value: number(312.4), Limit: number(300), Unit: "VA", Source: hostile, Excerpt: "  \"b\": [1, 2, 3]," + hostile,
		Fixes: []finding.Fix{
			{Text: "Use more " + hostile, Proved: true, Cost: 3, Patch: []finding.Operation{{Op: "replace", Path: "/b/1", Value: 5}}},
			{Text: "Think again " + hostile},
		},
	}
	advice := found
	advice.Rule, advice.Severity, advice.Fixes, advice.Line, advice.EndLine = "wire.excess-drop", finding.Advice, nil, 4, 4
	danger := found
	danger.Rule, danger.Severity, danger.Fixes, danger.Value = "power.gfci", finding.Danger, nil, nil
	caution := found
	caution.Rule, caution.Severity, caution.Value = "law.locate", finding.Caution, nil
	problem := Problem{Rule: "plan.schema", Line: 2, Column: 3, EndLine: 2, EndColumn: 6, Pointer: "/a", Message: hostile, Excerpt: hostile}
	failed := RuleProblem{Rule: "house.slow", File: hostile, Line: 20, Column: 1, EndLine: 20, EndColumn: 5, Message: hostile, Excerpt: hostile}
	return &Report{
		Format: Format, Tool: Tool{"duskproof", "0.1.0"}, Today: "2026-06-01", Caution: Caution, Hold: finding.Defect,
		RuleProblems: []RuleProblem{failed},
		Rules: map[string]rule.Meta{"power.overload": {
			ID: "power.overload", Title: "A transformer " + hostile, Why: strings.Repeat(hostile+" ", 20), Severity: finding.Danger,
			Basis: finding.Listing, Source: hostile, Confidence: "confirmed", Hint: "Use {element} " + hostile,
		}},
		Plans: []Plan{
			{
				Path: "some folder/ä " + hostile, Title: hostile, Stage: "issued", Verdict: Held, Profiles: []string{"common", hostile},
				Findings:    []finding.Finding{danger, found, advice, caution},
				Unjudged:    []UnjudgedRule{{Rule: "earth.shallow-cable", Missing: hostile, Elements: []string{hostile, "w1"}}},
				Variances:   []Variance{{Rule: "earth.slack", Element: hostile, Reason: hostile, GrantedBy: hostile, Until: "2027-05-05", State: "applied", Silenced: []finding.Finding{found}}},
				SwitchedOff: []SwitchedOff{{Rule: "power.gfci", Reason: hostile, By: "command line"}},
				Weakened: []Weakened{
					{Rules: []string{"water.setback"}, Limit: "water.setback_m", Was: "10 ft", Now: "4 in", WasSource: "s", Source: "s", By: hostile},
					{Rules: []string{"power.gfci"}, Was: "danger", Now: "advice at most", Source: "r", By: "settings"},
				},
				Failed:   []RuleProblem{failed},
				Document: document,
			},
			{Path: "b.lighting.json", Verdict: Unjudged, Problems: []Problem{problem}},
			{Path: "c.lighting.json", Verdict: NoHolds},
		},
	}
}

// written writes a report in one form.
func written(t testing.TB, name string, r *Report, o Options) string {
	t.Helper()
	form, known := FormNamed(name)
	if !known {
		t.Fatalf("no form %s", name)
	}
	var b bytes.Buffer
	if err := form.Write(&b, r, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// replaceTwo applies the patch of [sample].
func replaceTwo(text []byte, _ []finding.Operation) ([]byte, error) {
	return bytes.Replace(text, []byte("1, 2, 3"), []byte("1, 5, 3"), 1), nil
}

// TestNoControlReachesAReader holds, for every form, that control characters
// and marks that turn the direction of writing come out visible or escaped.
func TestNoControlReachesAReader(t *testing.T) {
	for _, name := range FormNames() {
		t.Run(name, func(t *testing.T) {
			out := written(t, name, sample(t), Options{Apply: replaceTwo})
			for i, r := range out {
				if r != '\n' && r != '\t' && unsafeRune(r) && !strings.ContainsRune(joiners[name], r) {
					t.Fatalf("%U at byte %d, after %q", r, i, out[max(0, i-40):i])
				}
			}
			if !strings.Contains(out, "\U0001F4A1") && !strings.Contains(out, "\\ud83d\\udca1") {
				t.Error("the lamp in the names is lost")
			}
		})
	}
}

// joiners are the characters without width that a form writes itself.
var joiners = map[string]string{"markdown": "\u2060"}

// TestSameReportSameBytes holds that a report is written the same each time.
func TestSameReportSameBytes(t *testing.T) {
	for _, name := range FormNames() {
		first := written(t, name, sample(t), Options{Apply: replaceTwo})
		for range 5 {
			if written(t, name, sample(t), Options{Apply: replaceTwo}) != first {
				t.Fatalf("%s differs from run to run", name)
			}
		}
	}
}

// TestJSONKeepsTheData holds that escapes change how the text looks and not
// what it says.
func TestJSONKeepsTheData(t *testing.T) {
	want := sample(t)
	var have Report
	if err := json.Unmarshal([]byte(written(t, "json", want, Options{})), &have); err != nil {
		t.Fatal(err)
	}
	for i, p := range want.Plans[:1] {
		got := have.Plans[i]
		if got.Title != p.Title || got.Findings[1].Message != hostile || got.Findings[1].Element != hostile || got.Profiles[1] != hostile {
			t.Errorf("title came back as %q", got.Title)
		}
	}
}
