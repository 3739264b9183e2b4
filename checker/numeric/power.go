package numeric

import (
	"fmt"

	"duskproof/checker/finding"
	"duskproof/checker/measure"
	"duskproof/checker/rule"
)

// judgeOverload finds transformers that carry more than their rating: a danger,
// or a defect where a device ends the overload. Where they do so only while the
// mains is off its rated volts it is advice: a rating holds at rated mains volts,
// and units are made to bear the tolerance (IEC 61558-1, from memory: heated at
// 1.06 times).
func judgeOverload(v *View, emit func(rule.Hit)) {
	for i := range v.Transformers {
		t := &v.Transformers[i]
		if !t.Solved || t.LoadVA <= t.RatingVA+vaTolerance {
			continue
		}
		load, rating := measure.Pair(t.LoadVA, t.RatingVA, "VA", v.Units)
		hit := rule.Hit{
			Element: t.ID, Field: []any{"type"}, Severity: finding.Danger.String(), Value: ptr(t.LoadVA), Limit: ptr(t.RatingVA), Unit: "VA",
		}
		end := "no device in the plan ends that, and a power unit that is overloaded for hours overheats"
		switch {
		case t.NominalVA <= t.RatingVA+vaTolerance:
			nominal, _ := measure.Pair(t.NominalVA, t.LoadVA, "VA", v.Units)
			hit.Case, hit.Severity = caseCorner, finding.Advice.String()
			end = fmt.Sprintf("at nominal supply it carries %s, so nothing is to spare", nominal)
		case t.OverloadEnds:
			hit.Severity = finding.Defect.String()
			end = "its protection ends that sooner or later, and every lamp goes out"
		}
		hit.Message = fmt.Sprintf("transformer %s carries %s with cable losses (%s); it is rated %s: %s", t.ID, load, t.LoadCorner, rating, end)
		emit(hit)
	}
}

// judgeMargin finds transformers that are loaded beyond the customary share,
// or that have no room for the growth the plan states.
func judgeMargin(v *View, emit func(rule.Hit)) {
	for i := range v.Transformers {
		t := &v.Transformers[i]
		if !t.Solved || t.LoadVA > t.RatingVA+vaTolerance {
			continue // without an answer, or judged by power.overload
		}
		if most, ok := v.number("power.loading_advice"); ok && t.Loading > most+ratioTolerance {
			share, limit := measure.SharePair(t.Loading, most)
			emit(rule.Hit{
				Element: t.ID, Field: []any{"type"}, Case: "loading", LimitName: "power.loading_advice",
				Message: fmt.Sprintf("transformer %s is loaded to %s of its %s (%s with cable losses, %s); common practice leaves it at %s or less, for heat and for later lamps",
					t.ID, share, measure.Text(t.RatingVA, "VA", v.Units), measure.Text(t.LoadVA, "VA", v.Units), t.LoadCorner, limit),
				Value: ptr(t.Loading), Limit: ptr(most), Unit: "1",
			})
		}
		if t.GrowthVA != nil && t.LoadVA+*t.GrowthVA > t.RatingVA+vaTolerance {
			total, rating := measure.Pair(t.LoadVA+*t.GrowthVA, t.RatingVA, "VA", v.Units)
			emit(rule.Hit{
				Element: t.ID, Field: []any{"growth"}, Case: "growth",
				Message: fmt.Sprintf("transformer %s has no room for the growth the plan states: %s now (%s) and %s later make %s; it is rated %s",
					t.ID, measure.Text(t.LoadVA, "VA", v.Units), t.LoadCorner, measure.Text(*t.GrowthVA, "VA", v.Units), total, rating),
				Value: ptr(t.LoadVA + *t.GrowthVA), Limit: ptr(t.RatingVA), Unit: "VA",
			})
		}
	}
}
