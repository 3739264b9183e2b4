package report

import (
	"bytes"
	"encoding/json"
	"testing"

	"duskproof/checker/finding"
)

// TestListIsWrittenLikeTheWhole holds that a report whose plans are written one
// after the other has the same bytes as one that encoding/json writes at once,
// with names that look like the list itself in it.
func TestListIsWrittenLikeTheWhole(t *testing.T) {
	tricky := "\n  \"plans\": []\u0007"
	for n := range 4 {
		r := &Report{Format: Format, Caution: tricky, Hold: finding.Defect, Plans: []Plan{}}
		for range n {
			r.Plans = append(r.Plans, Plan{Path: tricky, Profiles: []string{}, Findings: []finding.Finding{{Severity: finding.Defect, Message: tricky}, {Severity: finding.Advice}}})
		}
		var whole, have bytes.Buffer
		encoder := json.NewEncoder(&whole)
		encoder.SetEscapeHTML(false)
		encoder.SetIndent("", "  ")
		if err := encoder.Encode(r); err != nil {
			t.Fatal(err)
		}
		if err := JSON(&have, r); err != nil {
			t.Fatal(err)
		}
		if want := appendSafe(nil, whole.Bytes()); !bytes.Equal(have.Bytes(), want) {
			t.Errorf("%d plans:\n%s\nwant\n%s", n, have.Bytes(), want)
		}
	}
}
