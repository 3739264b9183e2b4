package policy

import (
	"cmp"
	"slices"

	"duskproof/checker/policy/machine"
	"duskproof/checker/rule"
)

// Lack says that a rule cannot judge an element, because a fact is missing.
type Lack struct {
	// Rule is the id of the rule that cannot judge.
	Rule string
	// Collection is the collection of the facts document, or "plan".
	Collection string
	// Element is the element's id; for the document itself "plan", for a
	// single object such as supply its name.
	Element string
	// Field is the fact that is missing.
	Field string
}

// wholePlan is the collection of a need that is about the document itself.
const wholePlan = "plan"

// Lacking finds, for every need of every rule, the elements in scope that lack
// a fact. The result is sorted and holds no repeats. A collection that is not
// in the document has no elements.
func Lacking(metas []*rule.Meta, document Document) []Lack {
	var lacks []Lack
	for i := range metas {
		for _, need := range metas[i].Needs {
			lacks = appendLacks(lacks, metas[i].ID, need, document)
		}
	}
	slices.SortFunc(lacks, func(a, b Lack) int {
		return cmp.Or(cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Collection, b.Collection),
			cmp.Compare(a.Element, b.Element), cmp.Compare(a.Field, b.Field))
	})
	return slices.Compact(lacks)
}

func appendLacks(lacks []Lack, id string, need rule.Need, document Document) []Lack {
	eachElement(document, need.Each, func(element machine.Value) {
		if !inScope(element, need.Where) {
			return
		}
		for _, field := range need.Has {
			if !element.Has(field) {
				lacks = append(lacks, Lack{
					Rule: id, Collection: need.Each, Field: field,
					Element: elementID(element, need.Each),
				})
			}
		}
	})
	return lacks
}

// eachElement visits the elements of a collection: the members of an array, a
// single object, or the document itself.
func eachElement(document Document, collection string, visit func(machine.Value)) {
	if collection == wholePlan && document.facts.Kind() == machine.Object {
		visit(document.facts)
		return
	}
	switch value := document.facts.Field(collection); value.Kind() {
	case machine.Object:
		visit(value)
	case machine.Array:
		value.Each(func(_, member machine.Value) {
			if member.Kind() == machine.Object {
				visit(member)
			}
		})
	}
}

// elementID returns the id of an element, or the name of its collection.
func elementID(element machine.Value, collection string) string {
	if id := element.Field("id"); id.Kind() == machine.Text && collection != wholePlan {
		return id.Text()
	}
	return collection
}

// inScope says whether every field of a scope has one of its values. An array
// is in scope when one of its members is.
func inScope(element machine.Value, where map[string][]string) bool {
	for field, values := range where {
		if !matches(element.Field(field), values) {
			return false
		}
	}
	return true
}

// matches says whether a value, or a member of an array, is one of some values
// written as text.
func matches(value machine.Value, values []string) bool {
	switch value.Kind() {
	case machine.Text:
		return slices.Contains(values, value.Text())
	case machine.False:
		return slices.Contains(values, "false")
	case machine.True:
		return slices.Contains(values, "true")
	case machine.Null:
		return slices.Contains(values, "null")
	case machine.Number:
		return slices.Contains(values, value.Digits())
	case machine.Array:
		found := false
		value.Each(func(_, member machine.Value) { found = found || matches(member, values) })
		return found
	}
	return false
}
