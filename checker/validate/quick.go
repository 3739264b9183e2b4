package validate

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// answer is what a quick look at a value comes to.
type answer uint8

const (
	unsure answer = iota // only the library can tell
	fits
	misfits
)

// quick is a schema made ready for a quick look, which most documents pass: the
// library need not even compile its schema for them. A quick look knows the
// keywords that schemas of ours use, and where it is not certain it says so. A
// test compares it with the library on damaged plans.
type quick struct{ root *node }

// node is one schema. A nil slice, map or pointer means that the keyword is
// absent.
type node struct {
	never      bool  // the schema is false
	kinds      kinds // 0 when absent
	distinct   bool
	date       bool
	ref        *node
	words      []string // enum, when all of it is text
	properties map[string]*node
	comments   *node // the entry ^// of patternProperties
	others     *node // additionalProperties
	required   []string
	items      *node
	pattern    textPattern
	bounds     *limits
	rarer      *rarer
}

// limits are the bounds of numbers and counts; a count of -1 means that the keyword
// is absent.
type limits struct {
	least, most               *float64
	leastItems, mostItems     int
	leastLength, mostLength   int
	leastMembers, mostMembers int
}

// rarer is the keywords that few schemas have.
type rarer struct {
	patterns           []patternNode
	names              *node // propertyNames
	dependentRequired  map[string][]string
	dependentSchemas   map[string]*node
	any                []*node
	condition, implied *node
}

// patternNode is one entry of patternProperties.
type patternNode struct {
	pattern textPattern
	node    *node
}

// kinds is a set of types.
type kinds uint8

const (
	objectKind kinds = 1 << iota
	arrayKind
	textKind
	booleanKind
	nullKind
	numberKind
	integerKind
)

// kindNamed is the type with a name; 0 when there is none.
func kindNamed(name string) kinds {
	switch name {
	case "object":
		return objectKind
	case "array":
		return arrayKind
	case "string":
		return textKind
	case "boolean":
		return booleanKind
	case "null":
		return nullKind
	case "number":
		return numberKind
	case "integer":
		return integerKind
	}
	return 0
}

func yes(ok bool) answer {
	if ok {
		return fits
	}
	return misfits
}

// both joins the answers of two keywords that must both be fulfilled.
func both(a, b answer) answer {
	switch {
	case a == misfits || b == misfits:
		return misfits
	case a == unsure || b == unsure:
		return unsure
	}
	return fits
}

// mostSteps bounds how deep references may lead without going into the value.
const mostSteps = 200

// check takes a quick look at a document's value.
func (q *quick) check(value any) answer { return q.root.check(value, 0) }

func (n *node) check(value any, depth int) answer {
	switch {
	case depth > mostSteps:
		return unsure
	case n.never:
		return misfits
	}
	result := fits
	if n.ref != nil {
		result = n.ref.check(value, depth+1)
	}
	if result != misfits && n.kinds != 0 {
		result = both(result, n.kindOf(value))
	}
	if result != misfits && n.words != nil {
		text, isText := value.(string)
		result = both(result, yes(isText && slices.Contains(n.words, text)))
	}
	if result == misfits {
		return misfits
	}
	switch v := value.(type) {
	case map[string]any:
		result = both(result, n.object(v, depth))
	case []any:
		result = both(result, n.list(v, depth))
	case string:
		result = both(result, n.text(v))
	case json.Number:
		result = both(result, n.number(v))
	}
	if result == misfits {
		return misfits
	}
	if n.rarer == nil {
		return result
	}
	return both(result, n.rarer.branches(value, depth))
}

// kindOf says whether a value is of one of the node's kinds.
func (n *node) kindOf(value any) answer {
	var kind kinds
	switch v := value.(type) {
	case map[string]any:
		kind = objectKind
	case []any:
		kind = arrayKind
	case string:
		kind = textKind
	case bool:
		kind = booleanKind
	case nil:
		kind = nullKind
	case json.Number:
		kind = numberKind
		if n.kinds&(integerKind|numberKind) == integerKind {
			if strings.ContainsAny(string(v), ".eE") {
				return unsure
			}
			kind = integerKind
		}
	default:
		return unsure
	}
	return yes(n.kinds&kind != 0)
}

func (n *node) object(v map[string]any, depth int) answer {
	if b := n.bounds; b != nil && (len(v) < b.leastMembers || b.mostMembers >= 0 && len(v) > b.mostMembers) {
		return misfits
	}
	for _, name := range n.required {
		if _, there := v[name]; !there {
			return misfits
		}
	}
	result := fits
	for name, value := range v {
		known := false
		if property := n.properties[name]; property != nil {
			known, result = true, both(result, property.check(value, depth+1))
		}
		if n.comments != nil && strings.HasPrefix(name, "//") {
			known, result = true, both(result, n.comments.check(value, depth+1))
		}
		if n.rarer != nil {
			matched, more := n.rarer.member(name, value, depth)
			known, result = known || matched, both(result, more)
		}
		if !known && n.others != nil {
			result = both(result, n.others.check(value, depth+1))
		}
		if result == misfits {
			return misfits
		}
	}
	if n.rarer == nil {
		return result
	}
	return both(result, n.rarer.dependents(v, depth))
}

// member looks at one member of an object; matched is whether a pattern knows its
// name.
func (n *rarer) member(name string, value any, depth int) (matched bool, result answer) {
	result = fits
	for i := range n.patterns {
		switch n.patterns[i].pattern.matches(name) {
		case fits:
			matched, result = true, both(result, n.patterns[i].node.check(value, depth+1))
		case unsure:
			matched, result = true, both(result, unsure)
		}
	}
	if n.names != nil {
		result = both(result, n.names.check(name, depth+1))
	}
	return matched, result
}

// dependents looks at what the presence of some members asks for.
func (n *rarer) dependents(v map[string]any, depth int) answer {
	result := fits
	for name, others := range n.dependentRequired {
		if _, there := v[name]; !there {
			continue
		}
		for _, other := range others {
			if _, there := v[other]; !there {
				return misfits
			}
		}
	}
	for name, schema := range n.dependentSchemas {
		if _, there := v[name]; there {
			result = both(result, schema.check(v, depth+1))
		}
	}
	return result
}

func (n *node) list(v []any, depth int) answer {
	if b := n.bounds; b != nil && (len(v) < b.leastItems || b.mostItems >= 0 && len(v) > b.mostItems) {
		return misfits
	}
	result := fits
	if n.items != nil {
		for _, item := range v {
			if result = both(result, n.items.check(item, depth+1)); result == misfits {
				return misfits
			}
		}
	}
	if n.distinct && len(v) > 1 {
		result = both(result, distinct(v))
	}
	return result
}

// distinct says whether the entries of a list of texts differ.
func distinct(v []any) answer {
	seen := make(map[string]bool, len(v))
	for _, item := range v {
		text, isText := item.(string)
		if !isText {
			return unsure
		}
		if seen[text] {
			return misfits
		}
		seen[text] = true
	}
	return fits
}

func (n *node) text(v string) answer {
	if b := n.bounds; b != nil && (b.leastLength >= 0 || b.mostLength >= 0) {
		length := utf8.RuneCountInString(v)
		if length < b.leastLength || b.mostLength >= 0 && length > b.mostLength {
			return misfits
		}
	}
	result := fits
	if n.date {
		_, err := time.Parse(time.DateOnly, v)
		result = yes(err == nil)
	}
	if n.pattern != nil && result != misfits {
		result = both(result, n.pattern.matches(v))
	}
	return result
}

// exactDigits is how long a number may be for its nearest float64 to tell it
// from a bound that it equals.
const exactDigits = 15

// number compares with the bounds. The nearest float64 of a long number is on the
// same side of a bound as the number itself, unless the two are equal.
func (n *node) number(v json.Number) answer {
	b := n.bounds
	if b == nil || b.least == nil && b.most == nil {
		return fits
	}
	x, err := strconv.ParseFloat(string(v), 64)
	atBound := b.least != nil && x == *b.least || b.most != nil && x == *b.most
	if err != nil || len(v) > exactDigits && atBound {
		return unsure
	}
	return yes((b.least == nil || x >= *b.least) && (b.most == nil || x <= *b.most))
}

// branches looks at anyOf and at if with then.
func (n *rarer) branches(value any, depth int) answer {
	result := fits
	if n.any != nil {
		result = misfits
		for _, branch := range n.any {
			switch branch.check(value, depth+1) {
			case fits:
				result = fits
			case unsure:
				if result == misfits {
					result = unsure
				}
			}
		}
	}
	if n.condition == nil || n.implied == nil || result == misfits {
		return result
	}
	switch n.condition.check(value, depth+1) {
	case misfits:
		return result
	case fits:
		return both(result, n.implied.check(value, depth+1))
	}
	if n.implied.check(value, depth+1) == fits {
		return result
	}
	return unsure
}
