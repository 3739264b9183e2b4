package schema

import (
	"reflect"
	"testing"

	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// TestReportStructsMatchSchema holds that the report is written as its schema
// says, field for field, required fields included.
func TestReportStructsMatchSchema(t *testing.T) {
	m := newMatcher(t, Report)
	m.written = true
	m.match("Report", reflect.TypeFor[report.Report](), m.root)
	if len(m.seen) < 10 {
		t.Errorf("only %d structs were compared; the walk is broken", len(m.seen))
	}
}

// TestWrittenReportIsValid writes a report with something in every list.
func TestWrittenReportIsValid(t *testing.T) {
	value, limit := 312.4, 300.0
	found := finding.Finding{
		Rule: "power.overload", Severity: finding.Defect, Basis: finding.Listing, Element: "T1", Case: "nominal",
		Pointer: "/transformers/0/type", Line: 30, Column: 20, EndLine: 30, EndColumn: 26,
		Message: "transformer T1 carries 312 VA; it is rated for 300 VA", Value: &value, Limit: &limit, Unit: "VA",
		Source: "the transformer's rating plate",
		Fixes: []finding.Fix{
			{Text: "Use the 600 VA unit", Proved: true, Cost: 120, Patch: []finding.Operation{
				{Op: "test", Path: "/transformers/0/type", Value: "T300"},
				{Op: "replace", Path: "/transformers/0/type", Value: "T600"},
			}},
			{Text: "Use a larger transformer"},
		},
	}
	written := report.Report{
		Format: report.Format, Tool: report.Tool{Name: "duskproof", Version: "0.1.0"}, Today: "2026-06-01",
		Caution: report.Caution, Hold: finding.Defect,
		Plans: []report.Plan{{
			Path: "a.lighting.json", Title: "invented", Stage: "issued", Verdict: report.Held, Profiles: []string{"common"},
			Problems:    []report.Problem{{Rule: "plan.schema", Line: 1, Column: 1, EndLine: 1, EndColumn: 2, Message: "x"}},
			Findings:    []finding.Finding{found},
			Unjudged:    []report.UnjudgedRule{{Rule: "earth.shallow-cable", Missing: "cover_m", Elements: []string{"w1"}}},
			Variances:   []report.Variance{{Rule: "earth.slack", Element: "w2", Reason: "x", GrantedBy: "x", Until: "2027-05-05", State: "applied", Silenced: []finding.Finding{found}}},
			Carried:     []report.Carried{{Rule: "earth.slack", Element: "w3", Severity: finding.Defect, Reason: "xyz", Expires: "2027-05-05", State: "covered", Finding: &found}},
			SwitchedOff: []report.SwitchedOff{{Rule: "power.gfci", Reason: "x", By: "command line"}},
			Failed:      []report.RuleProblem{{Rule: "house.slow", File: "house-rules/slow.rego", Line: 20, Column: 1, EndLine: 20, EndColumn: 5, Message: "x"}},
		}},
		RuleProblems: []report.RuleProblem{{File: "house-rules/broken.rego", Message: "is not UTF-8 text"}},
	}
	s := compileSchema(t, Report)
	if err := s.Validate(decode(t, "report", []byte(mustMarshal(t, written)))); err != nil {
		t.Errorf("%#v", err)
	}
	written.Plans[0].Verdict = "approved"
	if s.Validate(decode(t, "report", []byte(mustMarshal(t, written)))) == nil {
		t.Error("a verdict that is none was accepted")
	}
}
