// Package finding holds what duskproof says about a plan: findings, their
// severity and basis, and the fixes that go with them. It imports nothing of
// the module, so that every other part can speak of findings.
package finding

import "cmp"

// Finding is one statement about one element of one plan, made by one rule.
//
// Two findings are the same finding when Rule, Element and Case agree, wherever
// an edit has moved them; see [Finding.Identity].
type Finding struct {
	// Rule is the id of the rule that made the finding, "family.slug".
	Rule string `json:"rule"`
	// Severity is the effective severity, after every grading step.
	Severity Severity `json:"severity"`
	// Basis says why the rule exists.
	Basis Basis `json:"basis"`
	// Element is the id of the plan element, or the name of a section
	// ("site") when the finding is about something absent.
	Element string `json:"element"`
	// Case tells apart several findings of one rule on one element: a
	// corner, a tread, a scene. Empty when there is only one.
	Case string `json:"case,omitempty"`
	// Pointer is the RFC 6901 JSON Pointer of the place in the plan.
	Pointer string `json:"pointer"`
	// Line and Column are 1-based; Column counts code points. EndColumn is
	// exclusive.
	Line      int `json:"line"`
	Column    int `json:"column"`
	EndLine   int `json:"endLine"`
	EndColumn int `json:"endColumn"`
	// Message says what, where, how far off and why it matters, in the
	// plan's own units.
	Message string `json:"message"`
	// Value and Limit are in the SI unit named by Unit; nil when the
	// finding is not about a number.
	Value *float64 `json:"value,omitempty"`
	Limit *float64 `json:"limit,omitempty"`
	Unit  string   `json:"unit,omitempty"`
	// Source names the clause, listing or practice behind the rule.
	Source string `json:"source,omitempty"`
	// Fixes are in order of rising cost; a hint comes last.
	Fixes []Fix `json:"fixes"`
	// Excerpt is the text of the line that Line names, for printers, so
	// that they need no file.
	Excerpt string `json:"-"`
}

// Identity names a finding independently of where it stands in the file.
type Identity struct{ Rule, Element, Case string }

// Identity returns the finding's identity.
func (f *Finding) Identity() Identity { return Identity{f.Rule, f.Element, f.Case} }

// Fix is one change that would remove a finding.
type Fix struct {
	// Text is one sentence, in the imperative.
	Text string `json:"text"`
	// Proved is true only when the mended plan was checked again in full.
	Proved bool `json:"proved"`
	// Cost ranks fixes, in the profile's cost units; 0 for a hint.
	Cost float64 `json:"cost"`
	// Patch is the RFC 6902 patch; empty for a hint.
	Patch []Operation `json:"patch,omitempty"`
}

// Operation is one RFC 6902 operation.
type Operation struct {
	Op    string `json:"op"`
	Path  string `json:"path"`
	From  string `json:"from,omitempty"`
	Value any    `json:"value,omitempty"`
}

// Compare is the total order of findings within one plan: how grave they are,
// then where they stand, then which rule and case made them.
func Compare(a, b Finding) int {
	return cmp.Or(
		cmp.Compare(b.Severity, a.Severity),
		cmp.Compare(a.Line, b.Line),
		cmp.Compare(a.Column, b.Column),
		cmp.Compare(a.Rule, b.Rule),
		cmp.Compare(a.Element, b.Element),
		cmp.Compare(a.Case, b.Case),
		cmp.Compare(a.Pointer, b.Pointer),
		cmp.Compare(a.Message, b.Message),
	)
}
