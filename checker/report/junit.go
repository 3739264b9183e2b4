package report

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"duskproof/checker/finding"
)

// The form that continuous-integration services call JUnit XML: it has no
// published schema, only common use.
type junitSuites struct {
	XMLName  xml.Name     `xml:"testsuites"`
	Name     string       `xml:"name,attr"`
	Tests    int          `xml:"tests,attr"`
	Failures int          `xml:"failures,attr"`
	Errors   int          `xml:"errors,attr"`
	Skipped  int          `xml:"skipped,attr"`
	Suites   []junitSuite `xml:"testsuite"`
}

type junitSuite struct {
	Name       string          `xml:"name,attr"`
	Timestamp  string          `xml:"timestamp,attr"`
	Tests      int             `xml:"tests,attr"`
	Failures   int             `xml:"failures,attr"`
	Errors     int             `xml:"errors,attr"`
	Skipped    int             `xml:"skipped,attr"`
	Properties []junitProperty `xml:"properties>property"`
	Cases      []junitCase     `xml:"testcase"`
}

type junitProperty struct {
	Name  string `xml:"name,attr"`
	Value string `xml:"value,attr"`
}

type junitCase struct {
	Name    string        `xml:"name,attr"`
	Class   string        `xml:"classname,attr"`
	File    string        `xml:"file,attr,omitempty"`
	Line    int           `xml:"line,attr,omitempty"`
	Failure *junitOutcome `xml:"failure"`
	Error   *junitOutcome `xml:"error"`
	Skipped *junitOutcome `xml:"skipped"`
	Out     string        `xml:"system-out,omitempty"`
}

type junitOutcome struct {
	Message string `xml:"message,attr"`
	Type    string `xml:"type,attr,omitempty"`
	Text    string `xml:",chardata"`
}

// JUnit writes the report as test results: a suite for each plan, a failed case
// for each finding that holds it, a passed case for each other finding, and one
// passed case for a plan in which nothing was found. What could not be judged
// is skipped; what could not be read is an error.
func JUnit(w io.Writer, r *Report) error {
	all := junitSuites{Name: r.Tool.Name}
	for i := range r.Plans {
		suite := junitOf(r, &r.Plans[i])
		all.Tests += suite.Tests
		all.Failures += suite.Failures
		all.Errors += suite.Errors
		all.Skipped += suite.Skipped
		all.Suites = append(all.Suites, suite)
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return fmt.Errorf("write the report as JUnit XML: %w", err)
	}
	encoder := xml.NewEncoder(w)
	encoder.Indent("", "  ")
	if err := encoder.Encode(all); err != nil {
		return fmt.Errorf("write the report as JUnit XML: %w", err)
	}
	_, err := io.WriteString(w, "\n")
	return err
}

func junitOf(r *Report, p *Plan) junitSuite {
	suite := junitSuite{
		Name: Clean(p.Path), Timestamp: r.Today + "T00:00:00",
		Properties: []junitProperty{{"verdict", p.Verdict}, {"profiles", Clean(strings.Join(p.Profiles, ", "))}, {"caution", r.Caution}},
	}
	for i := range p.Variances {
		suite.Properties = append(suite.Properties, junitProperty{"variance", Clean(varianceLine(&p.Variances[i]))})
	}
	for i := range p.SwitchedOff {
		suite.Properties = append(suite.Properties, junitProperty{"switched off", Clean(switchedOffLine(&p.SwitchedOff[i]))})
	}
	for i := range p.Weakened {
		suite.Properties = append(suite.Properties, junitProperty{"weakened", Clean(weakenedLine(&p.Weakened[i]))})
	}
	for i := range p.Problems {
		q := &p.Problems[i]
		suite.add(junitCase{Name: q.Rule, Class: Clean(p.Path), File: Clean(p.Path), Line: q.Line,
			Error: &junitOutcome{Message: Clean(q.Message), Type: q.Rule, Text: Clean(fmt.Sprintf("%s:%d:%d", p.Path, q.Line, q.Column))}})
	}
	for i := range p.Findings {
		suite.add(junitFinding(r, p, &p.Findings[i]))
	}
	for _, f := range p.Failed {
		suite.add(junitCase{Name: Clean(f.Rule), Class: Clean(p.Path), File: Clean(f.File), Line: f.Line,
			Error: &junitOutcome{Message: Clean(f.Message), Type: "rule"}})
	}
	for _, c := range p.Carried {
		if f := c.Finding; f != nil {
			suite.add(junitCase{Name: Clean(strings.TrimSpace(f.Rule + " " + f.Element + " " + f.Case)), Class: Clean(p.Path), File: Clean(p.Path), Line: f.Line,
				Skipped: &junitOutcome{Message: Clean("on the list of carried findings: " + f.Message)}})
		}
	}
	for _, u := range p.Unjudged {
		suite.add(junitCase{Name: Clean(u.Rule + " for want of " + u.Missing), Class: Clean(p.Path), File: Clean(p.Path),
			Skipped: &junitOutcome{Message: Clean("not stated: " + u.Missing + " of " + strings.Join(u.Elements, ", "))}})
	}
	if len(suite.Cases) == 0 {
		suite.add(junitCase{Name: p.Verdict, Class: Clean(p.Path), File: Clean(p.Path)})
	}
	return suite
}

func (s *junitSuite) add(c junitCase) {
	s.Tests++
	switch {
	case c.Failure != nil:
		s.Failures++
	case c.Error != nil:
		s.Errors++
	case c.Skipped != nil:
		s.Skipped++
	}
	s.Cases = append(s.Cases, c)
}

func junitFinding(r *Report, p *Plan, f *finding.Finding) junitCase {
	name := strings.TrimSpace(f.Rule + " " + f.Element)
	if f.Case != "" {
		name += " (" + f.Case + ")"
	}
	out := junitCase{Name: Clean(name), Class: Clean(p.Path), File: Clean(p.Path), Line: f.Line}
	text := []string{fmt.Sprintf("%s:%d:%d", p.Path, f.Line, f.Column), basisLine(f)}
	for i := range f.Fixes {
		text = append(text, fixWord(&f.Fixes[i])+": "+f.Fixes[i].Text)
	}
	for i := range text {
		text[i] = Clean(text[i])
	}
	if f.Severity >= r.Hold {
		out.Failure = &junitOutcome{Message: Clean(f.Message), Type: f.Severity.String(), Text: strings.Join(text, "\n")}
		return out
	}
	out.Out = strings.Join(append([]string{f.Severity.String() + ": " + Clean(f.Message)}, text...), "\n")
	return out
}
