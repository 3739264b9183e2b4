package validate

import (
	"encoding/json"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
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

// node is one schema. A nil slice, map or pointer, and a count of -1, mean that
// the keyword is absent.
type node struct {
	never              bool // the schema is false
	ref                *node
	refName            string
	kinds              []string
	words              []string // enum, when all of it is text
	properties         map[string]*node
	patterns           []patternNode
	others             *node // additionalProperties
	names              *node // propertyNames
	required           []string
	dependentRequired  map[string][]string
	dependentSchemas   map[string]*node
	items              *node
	least, most        *float64
	leastItems         int
	mostItems          int
	leastLength        int
	mostLength         int
	leastMembers       int
	mostMembers        int
	distinct           bool
	pattern            *lazyPattern
	date               bool
	any                []*node
	condition, implied *node
}

// patternNode is one entry of patternProperties.
type patternNode struct {
	pattern *lazyPattern
	node    *node
}

// lazyPattern is an expression that is compiled when first wanted.
type lazyPattern struct {
	text    string
	compile func() *regexp.Regexp
}

func newPattern(text string) *lazyPattern {
	return &lazyPattern{text, sync.OnceValue(func() *regexp.Regexp {
		expression, err := regexp.Compile(text)
		if err != nil {
			return nil
		}
		return expression
	})}
}

func (p *lazyPattern) matches(s string) answer {
	if p.text == "^//" { // comments, on every object
		return yes(strings.HasPrefix(s, "//"))
	}
	expression := p.compile()
	if expression == nil {
		return unsure
	}
	return yes(expression.MatchString(s))
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
	if result != misfits && n.kinds != nil {
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
	return both(result, n.branches(value, depth))
}

// kindOf says whether a value is of one of the node's kinds.
func (n *node) kindOf(value any) answer {
	var kind string
	switch v := value.(type) {
	case map[string]any:
		kind = "object"
	case []any:
		kind = "array"
	case string:
		kind = "string"
	case bool:
		kind = "boolean"
	case nil:
		kind = "null"
	case json.Number:
		if slices.Contains(n.kinds, "integer") && !slices.Contains(n.kinds, "number") {
			if strings.ContainsAny(string(v), ".eE") {
				return unsure
			}
			kind = "integer"
			break
		}
		kind = "number"
	default:
		return unsure
	}
	return yes(slices.Contains(n.kinds, kind))
}

func (n *node) object(v map[string]any, depth int) answer {
	if n.leastMembers >= 0 && len(v) < n.leastMembers || n.mostMembers >= 0 && len(v) > n.mostMembers {
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
		for i := range n.patterns {
			switch n.patterns[i].pattern.matches(name) {
			case fits:
				known, result = true, both(result, n.patterns[i].node.check(value, depth+1))
			case unsure:
				return unsure
			}
		}
		if !known && n.others != nil {
			result = both(result, n.others.check(value, depth+1))
		}
		if n.names != nil {
			result = both(result, n.names.check(name, depth+1))
		}
		if result == misfits {
			return misfits
		}
	}
	return both(result, n.dependents(v, depth))
}

// dependents looks at what the presence of some members asks for.
func (n *node) dependents(v map[string]any, depth int) answer {
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
	if n.leastItems >= 0 && len(v) < n.leastItems || n.mostItems >= 0 && len(v) > n.mostItems {
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
	if n.leastLength >= 0 || n.mostLength >= 0 {
		length := utf8.RuneCountInString(v)
		if length < n.leastLength || n.mostLength >= 0 && length > n.mostLength {
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
	if n.least == nil && n.most == nil {
		return fits
	}
	x, err := strconv.ParseFloat(string(v), 64)
	atBound := n.least != nil && x == *n.least || n.most != nil && x == *n.most
	if err != nil || len(v) > exactDigits && atBound {
		return unsure
	}
	return yes((n.least == nil || x >= *n.least) && (n.most == nil || x <= *n.most))
}

// branches looks at anyOf and at if with then.
func (n *node) branches(value any, depth int) answer {
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
