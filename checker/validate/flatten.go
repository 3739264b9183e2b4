package validate

import (
	"cmp"
	"slices"
)

// leaf is one failed keyword with the schemas that led to it.
type leaf struct {
	*failure
	// chain holds the schemas that apply to the same value, outermost first;
	// the last one holds the keyword.
	chain []schema
	// branches is set on a oneOf or anyOf no branch of which fits: the
	// leaves of each branch that fits best.
	branches [][]leaf
}

// ranks orders the keywords about one plain value: of several that fail only
// the first is worth saying.
var ranks = map[string]int{
	"type": 1, "enum": 2, "const": 2, "oneOf": 3, "anyOf": 3, "pattern": 4, "format": 5, "minLength": 6, "maxLength": 6,
	"minimum": 7, "exclusiveMinimum": 7, "maximum": 7, "exclusiveMaximum": 7, "multipleOf": 8,
}

// gravest sorts leaves and keeps, of those about one plain value, the one that
// says most.
func gravest(leaves []leaf) []leaf {
	slices.SortFunc(leaves, compareLeaves)
	return slices.CompactFunc(leaves, func(a, b leaf) bool {
		return a.onName == b.onName && ranks[a.keyword] > 0 && ranks[b.keyword] > 0 && slices.Equal(a.at, b.at)
	})
}

// compareLeaves is a stable order of leaves: the library reports members in an
// order that changes from run to run.
func compareLeaves(a, b leaf) int {
	return cmp.Or(slices.CompareFunc(a.at, b.at, compareTokens), boolCompare(a.onName, b.onName),
		cmp.Compare(ranks[a.keyword], ranks[b.keyword]), cmp.Compare(a.keyword, b.keyword), slices.Compare(a.schema.path, b.schema.path), cmp.Compare(a.text, b.text))
}

// boolCompare puts false before true.
func boolCompare(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// compareTokens compares numbers by value: shorter first, then by digits.
func compareTokens(a, b string) int {
	if isDigits(a) && isDigits(b) {
		return cmp.Or(cmp.Compare(len(a), len(b)), cmp.Compare(a, b))
	}
	return cmp.Compare(a, b)
}

// isDigits says whether text is digits only.
func isDigits(text string) bool {
	for _, c := range []byte(text) {
		if c < '0' || c > '9' {
			return false
		}
	}
	return text != ""
}

// extend adds the schema of a failure to the chain that led to it.
func (r *run) extend(chain []schema, f *failure) []schema {
	if n := len(chain); n > 0 && chain[n-1].at.url == f.schema.url && slices.Equal(chain[n-1].at.path, f.schema.path) {
		return chain
	}
	return append(slices.Clip(chain), r.set.start(f.schema))
}

// flatten returns the leaves below a failure. Of the branches of oneOf and
// anyOf only those that fit best are kept.
func (r *run) flatten(f *failure, chain []schema) []leaf {
	chain = r.extend(chain, f)
	switch f.keyword {
	case "", "$ref", "allOf", "then", "else", "dependentSchemas":
		if len(f.causes) > 0 {
			return r.flattenAll(f, chain)
		}
	case "anyOf", "oneOf":
		if len(f.causes) > 0 {
			return r.chooseBranch(leaf{failure: f, chain: chain})
		}
	}
	return []leaf{{failure: f, chain: chain}}
}

// flattenAll returns the leaves of all causes of a failure.
func (r *run) flattenAll(f *failure, chain []schema) []leaf {
	var leaves []leaf
	for _, cause := range f.causes {
		leaves = append(leaves, r.flattenChild(f, cause, chain)...)
	}
	slices.SortFunc(leaves, compareLeaves)
	return leaves
}

// flattenChild flattens one cause of f.
func (r *run) flattenChild(f, cause *failure, chain []schema) []leaf {
	if !slices.Equal(f.at, cause.at) {
		chain = nil
	}
	return r.flatten(cause, chain)
}

// chooseBranch returns the leaves of the branch that fits best. When several
// fit equally well and differ, or none fits at all, it returns choice itself
// with those branches.
func (r *run) chooseBranch(choice leaf) []leaf {
	var all [][]leaf
	for _, cause := range choice.causes {
		all = append(all, r.flattenChild(choice.failure, cause, choice.chain))
	}
	fitting := keep(all, func(branch []leaf) bool { return !r.misses(branch, choice.at) })
	if len(fitting) == 0 {
		choice.branches = all
		return []leaf{choice}
	}
	if tagged := keep(fitting, func(branch []leaf) bool { return !r.missesTag(branch, choice.at) }); len(tagged) > 0 {
		fitting = tagged
	} else if tags, ok := r.commonTag(fitting, choice); ok {
		return []leaf{tags}
	}
	if len(fitting) == 1 {
		return fitting[0]
	}
	if everyLeaf(fitting, choice.at, "required") || r.scalar(choice.at) {
		choice.branches = fitting
		return []leaf{choice}
	}
	return r.best(fitting)
}

// keep returns the branches for which ok holds.
func keep(branches [][]leaf, ok func([]leaf) bool) [][]leaf {
	var list [][]leaf
	for _, branch := range branches {
		if ok(branch) {
			list = append(list, branch)
		}
	}
	return list
}

// misses says whether a branch is for values of another type than the one at
// a path.
func (r *run) misses(branch []leaf, at []string) bool {
	return slices.ContainsFunc(branch, func(l leaf) bool {
		if !slices.Equal(l.at, at) {
			return false
		}
		words := allowed(l.chain[len(l.chain)-1])
		switch l.keyword {
		case "type", "false":
			return true
		case "enum", "const":
			return !slices.ContainsFunc(words, func(word any) bool { return kind(word) == kind(r.value(at)) })
		}
		return false
	})
}

// isTag says whether a leaf is about a member that tells branches apart: one
// whose schema allows a single word.
func isTag(l leaf, at []string) bool {
	if len(l.at) != len(at)+1 || l.onName {
		return false
	}
	words, _ := l.chain[len(l.chain)-1].raw["enum"].([]any)
	return l.keyword == "const" || l.keyword == "enum" && len(words) == 1
}

// missesTag says whether a branch fails on the member that tells branches
// apart.
func (r *run) missesTag(branch []leaf, at []string) bool {
	return slices.ContainsFunc(branch, func(l leaf) bool { return isTag(l, at) })
}

// commonTag makes one leaf of the words that all branches want in the same
// member.
func (r *run) commonTag(branches [][]leaf, choice leaf) (leaf, bool) {
	var tags []leaf
	for _, branch := range branches {
		i := slices.IndexFunc(branch, func(l leaf) bool { return isTag(l, choice.at) })
		if i < 0 || len(tags) > 0 && !slices.Equal(branch[i].at, tags[0].at) {
			return leaf{}, false
		}
		tags = append(tags, branch[i])
	}
	var words []any
	for _, tag := range tags {
		words = append(words, allowed(tag.chain[len(tag.chain)-1])...)
	}
	merged := *tags[0].failure
	merged.keyword = "enum"
	last := schema{raw: map[string]any{"enum": words}}
	return leaf{failure: &merged, chain: append(slices.Clip(tags[0].chain[:len(tags[0].chain)-1]), last)}, true
}

// allowed returns the values of enum or const.
func allowed(s schema) []any {
	if words, ok := s.raw["enum"].([]any); ok {
		return words
	}
	if word, ok := s.raw["const"]; ok {
		return []any{word}
	}
	return nil
}

// everyLeaf says whether all leaves fail one keyword on the value itself.
func everyLeaf(branches [][]leaf, at []string, keyword string) bool {
	for _, branch := range branches {
		for _, l := range branch {
			if l.keyword != keyword || !slices.Equal(l.at, at) {
				return false
			}
		}
	}
	return true
}

// scalar says whether the value at a path is neither an object nor a list.
func (r *run) scalar(at []string) bool {
	switch r.value(at).(type) {
	case map[string]any, []any:
		return false
	}
	return true
}

// best returns the branch with the fewest faults; among equals the one whose
// faults lie deepest, then the first.
func (r *run) best(branches [][]leaf) []leaf {
	type score struct{ faults, depth int }
	rate := func(branch []leaf) score {
		var s score
		for _, l := range branch {
			s.faults += r.weight(l)
			s.depth = max(s.depth, len(l.at))
		}
		return s
	}
	chosen, lead := branches[0], rate(branches[0])
	for _, branch := range branches[1:] {
		if s := rate(branch); s.faults < lead.faults || s.faults == lead.faults && s.depth > lead.depth {
			chosen, lead = branch, s
		}
	}
	return chosen
}

// weight counts how many problems a leaf will make.
func (r *run) weight(l leaf) int {
	switch l.keyword {
	case "required":
		return len(r.missing(l))
	case "additionalProperties":
		return len(r.unknown(l))
	}
	return 1
}
