package policy

import (
	"cmp"
	"slices"

	"github.com/open-policy-agent/opa/v1/ast"

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
func Lacking(metas []rule.Meta, document Document) []Lack {
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
	eachElement(document, need.Each, func(element ast.Object) {
		if !inScope(element, need.Where) {
			return
		}
		for _, field := range need.Has {
			if element.Get(ast.StringTerm(field)) == nil {
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
func eachElement(document Document, collection string, visit func(ast.Object)) {
	if document.value == nil {
		return
	}
	if collection == wholePlan {
		visit(document.value)
		return
	}
	term := document.value.Get(ast.StringTerm(collection))
	if term == nil {
		return
	}
	switch value := term.Value.(type) {
	case ast.Object:
		visit(value)
	case *ast.Array:
		value.Foreach(func(member *ast.Term) {
			if object, ok := member.Value.(ast.Object); ok {
				visit(object)
			}
		})
	}
}

// elementID returns the id of an element, or the name of its collection.
func elementID(element ast.Object, collection string) string {
	if term := element.Get(ast.StringTerm("id")); term != nil && collection != wholePlan {
		if id, ok := term.Value.(ast.String); ok {
			return string(id)
		}
	}
	return collection
}

// inScope says whether every field of a scope has one of its values. An array
// is in scope when one of its members is.
func inScope(element ast.Object, where map[string][]string) bool {
	for field, values := range where {
		term := element.Get(ast.StringTerm(field))
		if term == nil || !matches(term.Value, values) {
			return false
		}
	}
	return true
}

// matches says whether a value, or a member of an array, is one of some values
// written as text.
func matches(value ast.Value, values []string) bool {
	switch v := value.(type) {
	case ast.String:
		return slices.Contains(values, string(v))
	case ast.Boolean, ast.Number, ast.Null:
		return slices.Contains(values, v.String())
	case *ast.Array:
		found := false
		v.Foreach(func(member *ast.Term) { found = found || matches(member.Value, values) })
		return found
	}
	return false
}
