package checker

import (
	"bytes"
	"path/filepath"
	"testing"

	"duskproof/checker/finding"
	"duskproof/checker/report"
	"duskproof/checker/source"
	"duskproof/checker/validate"
	"duskproof/schema"
)

// TestReportsFitTheirSchema holds that what is written of whole plans is what the
// published schema says: of a plan with many findings, of one without holds, of
// one whose lamps have no solution, and of one as built.
func TestReportsFitTheirSchema(t *testing.T) {
	text, err := schema.Files.ReadFile(schema.Report)
	if err != nil {
		t.Fatal(err)
	}
	published, err := validate.New(map[string][]byte{schema.Report: text}, schema.Report)
	if err != nil {
		t.Fatal(err)
	}
	c, err := New(Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"tern-cottage/draft", "tern-cottage/issued", "tern-cottage/as-built", "too-far", "mistakes/wiring"} {
		plan := checkFile(t, c, filepath.Join("../testdata/plans", filepath.FromSlash(name)+".lighting.json"))
		r := report.Report{
			Format: report.Format, Tool: report.Tool{Name: "duskproof", Version: "0.1.0"}, Today: today,
			Caution: report.Caution, Hold: finding.Defect, Plans: []report.Plan{plan},
		}
		var out bytes.Buffer
		if err := report.JSON(&out, &r); err != nil {
			t.Fatal(err)
		}
		doc, problems := source.Parse(name, out.Bytes(), source.Limits{})
		if len(problems) == 0 {
			problems = published.Validate(doc)
		}
		for _, p := range problems {
			t.Errorf("%s: %s", name, p)
		}
	}
}
