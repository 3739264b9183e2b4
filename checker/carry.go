package checker

import (
	"slices"

	"duskproof/checker/carried"
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// What becomes of an entry of a list of carried findings, beside stale and
// expired.
const (
	covered = "covered"
	graver  = "graver"
)

// carryAlong takes the findings that the list of carried findings covers out of
// those that count. Entries for rules that do not judge are left alone.
func (s *state) carryAlong() {
	for i := range s.carried {
		e := &s.carried[i]
		if !s.judged(e.Rule) {
			continue
		}
		out := report.Carried{Rule: e.Rule, Element: e.Element, Case: e.Case, Severity: e.Severity, Reason: e.Reason, Expires: e.Expires}
		out.State, out.Finding = s.cover(e)
		s.result.Carried = append(s.result.Carried, out)
	}
}

// cover says what becomes of one entry, and takes out the finding it covers.
func (s *state) cover(e *carried.Entry) (string, *finding.Finding) {
	at := slices.IndexFunc(s.result.Findings, func(f finding.Finding) bool { return f.Identity() == e.Identity() })
	switch {
	case at < 0:
		return stale, nil
	case e.Expires != "" && e.Expires < s.checker.options.Today:
		return expired, nil
	case s.result.Findings[at].Severity > e.Severity:
		return graver, nil
	}
	found := s.result.Findings[at]
	s.result.Findings = slices.Delete(s.result.Findings, at, at+1)
	return covered, &found
}
