// Package numeric holds the built-in rules that are written in Go: judgments
// on the solved network that compare many numbers at once. Their metadata,
// page text and examples live in rules/<family>/<slug>/ like those of every
// other rule; only the judging is here. They read the same facts as the Rego
// rules and make the same hits.
package numeric

import (
	"sort"

	"duskproof/checker/facts"
	"duskproof/checker/rule"
)

// Judge is one rule: it reads facts and says its hits to emit.
type Judge func(view *View, emit func(rule.Hit))

// judges are the built-in rules by id.
var judges = map[string]Judge{
	"power.margin":      judgeMargin,
	"power.overload":    judgeOverload,
	"wire.excess-drop":  judgeExcessDrop,
	"wire.lamp-overfed": judgeOverfed,
	"wire.lamp-starved": judgeStarved,
	"wire.no-solution":  judgeNoSolution,
	"wire.undersized":   judgeUndersized,
}

// IDs lists the rules written in Go, sorted.
func IDs() []string {
	ids := make([]string, 0, len(judges))
	for id := range judges {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	return ids
}

// Run judges doc by the rules whose ids are wanted, in order of id.
func Run(doc *facts.Document, wanted func(id string) bool) []rule.Hit {
	view := newView(doc)
	var hits []rule.Hit
	for _, id := range IDs() {
		if !wanted(id) {
			continue
		}
		judges[id](view, func(h rule.Hit) {
			h.Rule = id
			hits = append(hits, h)
		})
	}
	return hits
}

// View is a facts document with its limits by name.
type View struct {
	*facts.Document
	limits map[string]*facts.Limit
}

func newView(doc *facts.Document) *View {
	v := &View{Document: doc, limits: make(map[string]*facts.Limit, len(doc.Limits))}
	for i := range doc.Limits {
		v.limits[doc.Limits[i].Name] = &doc.Limits[i]
	}
	return v
}

// number returns a numeric limit, and whether the profile has it.
func (v *View) number(name string) (float64, bool) {
	if l := v.limits[name]; l != nil && l.Value != nil {
		return *l.Value, true
	}
	return 0, false
}

// numberOr returns a numeric limit, or fallback where no profile has it.
func (v *View) numberOr(name string, fallback float64) float64 {
	if n, ok := v.number(name); ok {
		return n
	}
	return fallback
}

// word returns a limit that is a word, or fallback.
func (v *View) word(name, fallback string) string {
	if l := v.limits[name]; l != nil && l.Text != "" {
		return l.Text
	}
	return fallback
}

// Tolerances of comparison, one for each quantity: what solving and rounding
// can leave, far below what anyone can measure.
const (
	voltTolerance   = 1e-6 // V
	ampTolerance    = 1e-6 // A
	vaTolerance     = 1e-6 // VA
	ratioTolerance  = 1e-9
	lengthTolerance = 1e-6 // m
)

func ptr(v float64) *float64 { return &v }
