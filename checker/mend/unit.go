package mend

import (
	"fmt"
	"math"
	"slices"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
)

// unitOf is the power unit that a finding is about.
func (v *view) unitOf(f *finding.Finding) *plan.Transformer {
	if t := v.transformers[f.Element]; t != nil {
		return t
	}
	for i := range v.facts.Commons {
		if v.facts.Commons[i].ID == f.Element {
			return v.transformers[v.facts.Commons[i].Transformer]
		}
	}
	if c, ok := v.circuitOf(f); ok {
		return c.run.Transformer
	}
	return nil
}

// largerUnit offers the catalogue's power units that could take the place of
// one and carry more, the smallest first.
func largerUnit(v *view, f *finding.Finding) []Candidate {
	t := v.unitOf(f)
	if t == nil {
		return nil
	}
	return v.reunits(t, func(u *plan.TransformerType) bool { return u.RatingVA > t.Type.RatingVA })
}

// otherUnit offers every power unit of the catalogue that could take the place
// of one.
func otherUnit(v *view, f *finding.Finding) []Candidate {
	t := v.unitOf(f)
	if t == nil {
		return nil
	}
	return v.reunits(t, func(*plan.TransformerType) bool { return true })
}

// reunits offers the types that are wanted and fit.
func (v *view) reunits(t *plan.Transformer, wanted func(*plan.TransformerType) bool) []Candidate {
	var out []Candidate
	for _, u := range v.plan.TransformerTypes {
		if u != t.Type && u.ID != t.Type.ID && wanted(u) && v.takesOver(t, u) {
			out = append(out, v.reunit(t, u))
		}
	}
	return out
}

func (v *view) reunit(t *plan.Transformer, u *plan.TransformerType) Candidate {
	e := v.edit()
	e.set(t.Pointer, u.ID, "type")
	return Candidate{
		Kind:  "transformer",
		Text:  fmt.Sprintf("Use a %s (%g VA) for transformer %s instead of the %s (%g VA)", u.ID, u.RatingVA, t.ID, t.Type.ID, t.Type.RatingVA),
		Cost:  v.weight("transformer_changed") + u.RatingVA*v.weight("transformer_per_va"),
		Patch: e.patch(),
	}
}

// takesOver reports whether a type has the taps and commons that the runs of a
// unit use, for the same mains, and may stand where the unit stands.
func (v *view) takesOver(t *plan.Transformer, u *plan.TransformerType) bool {
	old := t.Type
	if old.Outdoor != nil && *old.Outdoor && (u.Outdoor == nil || !*u.Outdoor) || !hasAll(u.Listing, old.Listing) {
		return false
	}
	if old.PrimaryVolts != nil && u.PrimaryVolts != nil && math.Abs(*old.PrimaryVolts-*u.PrimaryVolts) > voltsTolerance {
		return false
	}
	for _, run := range v.plan.Runs {
		if run.Transformer != t {
			continue
		}
		hasTap := slices.ContainsFunc(u.TapVolts, func(tap float64) bool { return math.Abs(tap-run.TapVolts) < voltsTolerance })
		if !hasTap || run.Common > max(1, len(u.Commons)) {
			return false
		}
	}
	return true
}
