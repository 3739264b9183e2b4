package checker

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"duskproof/checker/finding"
	"duskproof/checker/report"
	"duskproof/checker/rule"
	"duskproof/checker/source"
)

const planVariance = "plan.variance"

// The states of a variance.
const (
	applied    = "applied"
	stale      = "stale"
	expired    = "expired"
	notApplied = "not-applied" // its day has not come, or its rule did not judge
)

// defaultMostElements is how many elements one variance may silence where no
// profile says otherwise.
const defaultMostElements = 5

// variances applies the plan's written exceptions: what they silence moves from
// the findings to the variance, and a variance that is expired, matches nothing,
// is too broad or dated in the future becomes a finding of its own. One whose rule
// did not judge is left alone.
func (s *state) variances() {
	var complaints []rule.Hit
	for i, v := range s.plan.Variances {
		out := report.Variance{
			Rule: v.Rule, Element: v.Element, Case: v.Case, Reason: v.Reason, GrantedBy: v.GrantedBy,
			On: v.On, Until: v.Until, State: applied, Silenced: []finding.Finding{},
		}
		switch {
		case v.Until != "" && v.Until < s.checker.options.Today:
			out.State = expired
		case v.On > s.checker.options.Today || s.unheard(v.Rule):
			out.State = notApplied
		default:
			s.silence(&out)
		}
		if complaint := s.complaint(&out); complaint != "" {
			complaints = append(complaints, rule.Hit{Rule: planVariance, Element: v.Element, Case: strings.TrimSpace(v.Rule + " " + v.Case),
				Message: complaint, Field: pointerField{source.Pointer("variances", i), false}.field()})
		}
		s.result.Variances = append(s.result.Variances, out)
	}
	if s.judged(planVariance) {
		s.add(complaints)
	}
}

// unheard reports whether a rule exists and did not judge this plan: it is off,
// or it failed.
func (s *state) unheard(id string) bool {
	_, known := s.checker.metas[id]
	failed := slices.ContainsFunc(s.result.Failed, func(p report.RuleProblem) bool { return p.Rule == id })
	return known && (failed || !s.judged(id))
}

// silence moves the findings that a variance matches out of the way.
func (s *state) silence(v *report.Variance) {
	s.result.Findings = slices.DeleteFunc(s.result.Findings, func(f finding.Finding) bool {
		hit := f.Rule == v.Rule && matches(v.Element, f.Element) && (v.Case == "" || v.Case == f.Case)
		if hit {
			v.Silenced = append(v.Silenced, f)
		}
		return hit
	})
	if len(v.Silenced) == 0 {
		v.State = stale
	}
}

// matches reports whether an element is the one named, or fits a pattern in
// which * stands for any letters.
func matches(pattern, element string) bool {
	if pattern == element {
		return true
	}
	ok, err := path.Match(pattern, element)
	return ok && err == nil
}

// complaint says what is wrong with a variance, or nothing.
func (s *state) complaint(v *report.Variance) string {
	switch v.State {
	case expired:
		return fmt.Sprintf("the variance of %s on %s ran out on %s; its finding counts again", v.Rule, v.Element, v.Until)
	case stale:
		if _, known := s.checker.metas[v.Rule]; !known {
			return fmt.Sprintf("the variance names a rule %q that does not exist%s", v.Rule, s.checker.Suggest(v.Rule))
		}
		return fmt.Sprintf("the variance of %s on %s matches no finding; take it out, or correct what it names", v.Rule, v.Element)
	}
	if v.On > s.checker.options.Today {
		return fmt.Sprintf("the variance of %s on %s is dated %s, which is yet to come; until then it silences nothing", v.Rule, v.Element, v.On)
	}
	most := defaultMostElements
	if n, ok := s.limits.Number("plan.variance_elements_most"); ok {
		most = int(n)
	}
	elements := map[string]bool{}
	for _, f := range v.Silenced {
		elements[f.Element] = true
	}
	if len(elements) > most {
		return fmt.Sprintf("the variance of %s on %s silences %d elements; at most %d is a variance, more is a rule to re-grade in the settings",
			v.Rule, v.Element, len(elements), most)
	}
	return ""
}
