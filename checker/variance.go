package checker

import (
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// variances lists the plan's written exceptions.
func (s *state) variances() {
	for _, v := range s.plan.Variances {
		s.result.Variances = append(s.result.Variances, report.Variance{
			Rule: v.Rule, Element: v.Element, Case: v.Case, Reason: v.Reason, GrantedBy: v.GrantedBy,
			On: v.On, Until: v.Until, State: "not-applied", Silenced: []finding.Finding{},
		})
	}
}
