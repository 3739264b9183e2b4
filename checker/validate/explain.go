package validate

import (
	"encoding/json"
	"slices"
	"strconv"
)

// explain says what one leaf means.
func (r *run) explain(l leaf) {
	holder := l.chain[len(l.chain)-1]
	switch l.keyword {
	case "required":
		r.sayMissing(l)
	case "additionalProperties":
		for _, name := range r.capped(r.unknown(l)) {
			r.sayUnknown(l, l.at, name)
		}
	case "false":
		r.explainFalse(l)
	case "type":
		r.sayType(l.at, l.chain)
	case "enum", "const":
		r.sayWord(l, allowed(holder))
	case "pattern", "format":
		r.sayForm(l)
	case "anyOf", "oneOf":
		r.explainChoice(l)
	case "not":
		r.explainNot(l)
	case "dependentRequired":
		r.explainDependent(l)
	default:
		r.explainRange(l, holder)
	}
}

// explainFalse explains a value where the schema allows none.
func (r *run) explainFalse(l leaf) {
	path := l.schema.path
	keyword := ""
	if len(path) > 0 {
		keyword = path[len(path)-1]
	}
	last := len(l.at) - 1
	if last < 0 {
		r.say(l.at, "nothing may stand here")
		return
	}
	parent := l.at[:last]
	list, isList := r.value(parent).([]any)
	switch {
	case isList:
		n, _ := strconv.Atoi(l.at[last])
		if n+1 == len(list) {
			r.say(parent, "%s has %d entries; at most %d may stand here", r.subject(parent), len(list), r.prefixLength(parent))
		}
	case keyword == "unevaluatedProperties":
		holder := r.set.start(location{l.schema.url, path[:len(path)-1]})
		held := leaf{failure: l.failure, chain: []schema{holder}}
		if !slices.Contains(names(r.schemasFor(held)), l.at[last]) {
			r.sayUnknown(held, parent, l.at[last])
		}
	default:
		r.sayRefused(l, beside(l.schema.path, l.at[last]))
	}
}

// beside returns the name whose presence brings the schema at path to bear on
// the member called name; "" when there is none.
func beside(path []string, name string) string {
	n := len(path)
	if n < 4 || path[n-4] != "dependentSchemas" || path[n-2] != "properties" || path[n-1] != name {
		return ""
	}
	return path[n-3]
}

// sayRefused says that a member may not be there, for the sake of other when
// that is not "". Of two that refuse each other only one is spoken of.
func (r *run) sayRefused(l leaf, other string) {
	parent, name := l.at[:len(l.at)-1], l.at[len(l.at)-1]
	if other == "" {
		r.sayOfKey(l.at, "%s may not stand here", r.subject(l.at))
		return
	}
	pair := pointerOf(parent) + " " + strconv.Quote(min(name, other)) + strconv.Quote(max(name, other))
	if r.refused[pair] {
		return
	}
	if r.refused == nil {
		r.refused = map[string]bool{}
	}
	r.refused[pair] = true
	r.sayOfKey(l.at, "%s cannot stand beside %s in %s; keep one of the two", quote(name), quote(other), r.subject(parent))
}

// prefixLength returns how many entries a list with a fixed form may have.
func (r *run) prefixLength(at []string) int {
	n := 0
	for _, s := range r.set.along(at) {
		prefix, _ := s.raw["prefixItems"].([]any)
		n = max(n, len(prefix))
	}
	return n
}

// explainNot explains what may not be.
func (r *run) explainNot(l leaf) {
	holder := l.chain[len(l.chain)-1]
	refused := r.set.below(holder, "not")
	names, _ := refused.raw["required"].([]any)
	switch {
	case len(names) > 1:
		r.say(l.at, "%s has %s; they exclude each other", r.subject(l.at), join(showAll(names), "and"))
	case len(names) == 1:
		r.sayOfKey(append(slices.Clip(l.at), names[0].(string)), "%s may not have %s here%s", r.subject(l.at), show(names[0]), because(holder))
	default:
		r.say(l.at, "%s may not be %s%s", r.subject(l.at), found(r.value(l.at)), because(refused, holder))
	}
}

// explainDependent explains a name that needs another beside it.
func (r *run) explainDependent(l leaf) {
	holder := l.chain[len(l.chain)-1]
	object, _ := r.value(l.at).(map[string]any)
	needs, _ := holder.raw["dependentRequired"].(map[string]any)
	known := names(r.schemasFor(l))
	for name, list := range needs {
		if _, ok := object[name]; !ok {
			continue
		}
		wanted, _ := list.([]any)
		for _, want := range wanted {
			if other, _ := want.(string); !has(object, other) && !r.misspelt(l.at, known, other) {
				next, _ := r.set.step(r.schemasFor(l), other)
				r.sayOfKey(append(slices.Clip(l.at), name), "%s has %s, which needs %s beside it%s",
					r.subject(l.at), quote(name), quote(other), example(next, other))
			}
		}
	}
}

// has says whether object has a member called name.
func has(object map[string]any, name string) bool {
	_, ok := object[name]
	return ok
}

// showAll shows each value.
func showAll(values []any) []string {
	list := make([]string, len(values))
	for i, value := range values {
		list[i] = show(value)
	}
	return list
}

// explainRange explains the keywords that bound sizes.
func (r *run) explainRange(l leaf, holder schema) {
	limit := func(keyword string) string {
		n, _ := holder.raw[keyword].(json.Number)
		return n.String()
	}
	value := r.value(l.at)
	subject := r.subject(l.at)
	switch l.keyword {
	case "minimum":
		r.say(l.at, "%s is %s; it must be at least %s", subject, show(value), limit("minimum"))
	case "maximum":
		r.say(l.at, "%s is %s; it must be at most %s", subject, show(value), limit("maximum"))
	case "exclusiveMinimum":
		r.say(l.at, "%s is %s; it must be more than %s", subject, show(value), limit("exclusiveMinimum"))
	case "exclusiveMaximum":
		r.say(l.at, "%s is %s; it must be less than %s", subject, show(value), limit("exclusiveMaximum"))
	case "multipleOf":
		r.say(l.at, "%s is %s; it must be a multiple of %s", subject, show(value), limit("multipleOf"))
	case "minLength", "maxLength":
		r.sayLength(l, holder)
	case "minItems", "maxItems":
		list, _ := value.([]any)
		r.say(l.at, "%s has %s; it needs %s%s", subject, count(len(list), "entry", "entries"),
			bounds(limit("minItems"), limit("maxItems")), suchAs(examplesOf(l.chain, 1)))
	case "minProperties", "maxProperties":
		object, _ := value.(map[string]any)
		r.say(l.at, "%s has %s; it needs %s", subject, count(len(object), "property", "properties"),
			bounds(limit("minProperties"), limit("maxProperties")))
	case "uniqueItems":
		r.sayRepeated(l)
	case "contains", "minContains", "maxContains":
		r.say(l.at, "%s does not hold the entries it should%s", subject, because(r.set.below(holder, "contains"), holder))
	default:
		r.say(l.at, "%s does not fit the schema: %s", subject, clip(l.text))
	}
}

// sayLength says that text, or the name at the end of the path, is too short or
// too long.
func (r *run) sayLength(l leaf, holder schema) {
	text, _ := r.value(l.at).(string)
	subject, mark := r.subject(l.at), r.say
	if last := len(l.at) - 1; l.onName {
		text, mark = l.at[last], r.sayOfKey
		subject = "the name " + quote(text) + " in " + r.subject(l.at[:last])
	}
	if l.keyword == "minLength" && text == "" {
		mark(l.at, "%s is empty; write something%s", subject, suchAs(examplesOf(l.chain, 1)))
		return
	}
	low, _ := holder.raw["minLength"].(json.Number)
	high, _ := holder.raw["maxLength"].(json.Number)
	mark(l.at, "%s has %s; it needs %s", subject, count(len([]rune(text)), "character", "characters"),
		bounds(low.String(), high.String()))
}

// sayRepeated marks every entry of a list that repeats an earlier one.
func (r *run) sayRepeated(l leaf) {
	list, _ := r.value(l.at).([]any)
	first := map[string]int{}
	for i, item := range list {
		text, err := json.Marshal(item)
		if err != nil {
			continue
		}
		j, repeated := first[string(text)]
		if !repeated {
			first[string(text)] = i
			continue
		}
		if len(r.notes) >= maxProblems {
			r.more++
			continue
		}
		at := append(slices.Clip(l.at), strconv.Itoa(i))
		r.say(at, "%s repeats entry %d; keep one of the two", r.subject(at), j+1)
	}
}

// count words a number of things.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// bounds words a least and a greatest number, either of which may be absent.
func bounds(low, high string) string {
	switch {
	case low == high:
		return low
	case high == "":
		return "at least " + low
	case low == "" || low == "0":
		return "at most " + high
	}
	return low + " to " + high
}
