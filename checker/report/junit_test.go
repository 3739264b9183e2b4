package report

import (
	"encoding/xml"
	"strings"
	"testing"
)

// TestJUnitCounts parses the file with the general XML reader and holds that
// what holds a plan fails, and that a plan without findings has a passed case.
func TestJUnitCounts(t *testing.T) {
	type outcome struct {
		Message string `xml:"message,attr"`
	}
	var all struct {
		Tests    int `xml:"tests,attr"`
		Failures int `xml:"failures,attr"`
		Errors   int `xml:"errors,attr"`
		Skipped  int `xml:"skipped,attr"`
		Suites   []struct {
			Name  string `xml:"name,attr"`
			Cases []struct {
				Name    string   `xml:"name,attr"`
				Failure *outcome `xml:"failure"`
				Error   *outcome `xml:"error"`
				Skipped *outcome `xml:"skipped"`
			} `xml:"testcase"`
		} `xml:"testsuite"`
	}
	text := written(t, "junit", sample(t), Options{})
	if err := xml.Unmarshal([]byte(text), &all); err != nil {
		t.Fatal(err)
	}
	// One danger and one defect hold; advice and caution pass; one rule
	// failed, one plan could not be read, one rule lacked data; the third plan
	// is clean.
	if all.Tests != 8 || all.Failures != 2 || all.Errors != 2 || all.Skipped != 1 || len(all.Suites) != 3 {
		t.Errorf("%d tests, %d failures, %d errors, %d skipped in %d suites", all.Tests, all.Failures, all.Errors, all.Skipped, len(all.Suites))
	}
	failures := 0
	for _, suite := range all.Suites {
		for _, c := range suite.Cases {
			if c.Failure != nil {
				failures++
				if !strings.Contains(c.Failure.Message, "<script>alert(1)</script>") {
					t.Errorf("message %q lost the name that the plan gave", c.Failure.Message)
				}
			}
		}
	}
	if failures != all.Failures {
		t.Errorf("%d cases failed, %d are counted", failures, all.Failures)
	}
	if c := all.Suites[2].Cases; len(c) != 1 || c[0].Failure != nil || c[0].Error != nil {
		t.Errorf("the clean plan has cases %+v", c)
	}
}
