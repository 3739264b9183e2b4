// Package rule holds what a rule is: its metadata, and the hits it makes. A
// rule written in Go and one written in Rego have the same metadata and make
// the same hits, so nothing downstream can tell which is which.
package rule

import "duskproof/checker/finding"

// Meta is the metadata of one rule: the METADATA block of a Rego package
// (under "custom"), or the rule's meta.json. schema/rule.schema.json is its
// published form.
type Meta struct {
	// ID is "family.slug".
	ID string `json:"id"`
	// Title is one line, without a full stop.
	Title string `json:"title"`
	// Why is a paragraph: what goes wrong on site when the rule is broken.
	Why string `json:"why"`
	// Severity is the rule's usual and gravest severity; a hit may carry a
	// lower one for its case.
	Severity finding.Severity `json:"severity"`
	// Basis says why the rule exists.
	Basis finding.Basis `json:"basis"`
	// Source names clause and edition, listing, or "common practice".
	Source string `json:"source"`
	// Confidence is how sure the source is: "confirmed" (two independent
	// public pages), "single" (one), "memory" or "practice". A rule from
	// memory gives advice at most.
	Confidence string `json:"confidence"`
	// Needs lists the facts the rule reads; the engine says "cannot judge"
	// for every element in scope that lacks one.
	Needs []Need `json:"needs"`
	// Limits lists the names of the profile limits the rule reads.
	Limits []string `json:"limits"`
	// Hint is the fix hint; {element}, {case}, {value} and {limit} are
	// replaced.
	Hint string `json:"hint"`
	// Since is the version that brought the rule.
	Since string `json:"since"`
	// Footer is true for standing cautions that print once at the end.
	Footer bool `json:"footer,omitempty"`
	// House is true for rules that came from a user's folder. It is set by
	// the loader, never by the rule.
	House bool `json:"-"`
	// File is where the metadata stands, for messages.
	File string `json:"-"`
}

// Need names facts that a rule reads.
type Need struct {
	// Each is a collection of the facts document ("legs"), one of its
	// single objects ("supply"), or "plan" for the document itself.
	Each string `json:"each"`
	// Where narrows the scope: field to the values that are in scope. An
	// absent field is out of scope. Booleans are "true" and "false".
	Where map[string][]string `json:"where,omitempty"`
	// Has lists the fields without which the rule cannot judge.
	Has []string `json:"has"`
}

// Hit is what a rule says about one element: everything the rule knows, and
// nothing about files, lines or grading.
type Hit struct {
	// Rule is the rule's id; the engine fills it in for Rego rules.
	Rule string `json:"rule,omitempty"`
	// Element is an element's id, or a section's name.
	Element string `json:"element"`
	// Field is where in the element the matter lies, as the path of keys
	// and indices below the element in the plan file: ["cover"]. When it
	// does not exist there the nearest existing ancestor is shown.
	Field []any `json:"field,omitempty"`
	// Case tells apart several hits on one element.
	Case string `json:"case,omitempty"`
	// Severity of this case; empty means the rule's own.
	Severity string `json:"severity,omitempty"`
	// Message is the finding's message.
	Message string `json:"message"`
	// Value and Limit are in the SI unit named by Unit.
	Value *float64 `json:"value,omitempty"`
	Limit *float64 `json:"limit,omitempty"`
	Unit  string   `json:"unit,omitempty"`
	// LimitName is the profile limit the hit was judged against; its
	// source is printed and its confidence caps the severity.
	LimitName string `json:"limit_name,omitempty"`
	// Hint replaces the rule's own fix hint when it is not empty.
	Hint string `json:"hint,omitempty"`
	// Basis replaces the rule's own basis for this case when not empty.
	Basis string `json:"basis,omitempty"`
	// Source replaces the rule's own source for this case when not empty.
	Source string `json:"source,omitempty"`
}
