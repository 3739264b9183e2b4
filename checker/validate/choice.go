package validate

import (
	"slices"
	"strconv"
)

// explainChoice explains a oneOf or anyOf: none of its branches fits, or two do.
func (r *run) explainChoice(l leaf) {
	switch {
	case l.branches == nil:
		r.explainBoth(l)
	case everyLeaf(l.branches, l.at, "required"):
		r.explainNeither(l)
	case !slices.ContainsFunc(l.branches, func(branch []leaf) bool { return !r.misses(branch, l.at) }):
		r.sayType(l.at, l.chain)
	default:
		r.explainForms(l)
	}
}

// explainBoth explains a value that fits two branches of oneOf.
func (r *run) explainBoth(l leaf) {
	holder := l.chain[len(l.chain)-1]
	first := r.set.below(holder, l.keyword, strconv.Itoa(l.both[0]))
	second := r.set.below(holder, l.keyword, strconv.Itoa(l.both[1]))
	names := func(s schema) []any {
		var list []any
		for _, n := range r.set.inPlace(s) {
			required, _ := n.raw["required"].([]any)
			list = append(list, required...)
		}
		return list
	}
	one, two := names(first), names(second)
	if len(one) > 0 && len(two) > 0 {
		r.say(l.at, "%s has %s as well as %s; keep only one", r.subject(l.at),
			join(showAll(one), "and"), join(showAll(two), "and"))
		return
	}
	r.say(l.at, "%s can be read in two ways; keep only one%s", r.subject(l.at), because(holder))
}

// explainNeither explains an object that lacks what each branch wants.
func (r *run) explainNeither(l leaf) {
	known := names(r.schemasFor(l))
	var ways []string
	for _, branch := range l.branches {
		var wanted []string
		for _, required := range branch {
			for _, name := range r.missing(required) {
				if r.misspelt(l.at, known, name) {
					return
				}
				wanted = append(wanted, quote(name))
			}
		}
		if way := join(wanted, "and"); !slices.Contains(ways, way) {
			ways = append(ways, way)
		}
	}
	r.say(l.at, "%s needs %s; add one of them", r.subject(l.at), join(ways, "or"))
}

// explainForms explains a value that could be written in several forms, and is
// in none of them.
func (r *run) explainForms(l leaf) {
	var words []any
	var chains []schema
	var forms []string
	for _, branch := range l.branches {
		for _, part := range branch {
			holder := part.chain[len(part.chain)-1]
			words = append(words, allowed(holder)...)
			chains = append(chains, part.chain...)
			if text := firstSentence(holder); text != "" && !slices.Contains(forms, lowerFirst(text)) {
				forms = append(forms, lowerFirst(text))
			}
		}
	}
	if text := formOf(l.chain); text != "" {
		forms = []string{text}
	}
	value := r.value(l.at)
	hint := ""
	if text, ok := value.(string); ok {
		hint = didYouMean(nearest(text, texts(words)))
	}
	examples := examplesOf(slices.Concat(l.chain, chains), 2)
	switch {
	case hint != "":
		r.say(l.at, "%s is %s%s", r.subject(l.at), show(value), hint)
	case len(forms) > 0:
		r.say(l.at, "%s is %s, which cannot be read; expected: %s%s", r.subject(l.at), show(value), join(forms, "or"), forExample(examples))
	case len(words) > 0:
		r.say(l.at, "%s is %s; it may be %s%s", r.subject(l.at), show(value), limited(showAll(words)), suchAs(examples))
	default:
		r.say(l.at, "%s is %s, which cannot be read%s", r.subject(l.at), show(value), suchAs(examples))
	}
}
