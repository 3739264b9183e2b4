package validate

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// maxListed is how many names or words a message lists in full.
const maxListed = 24

// missing returns the names that a required leaf wants and the value lacks, in
// the order of the schema.
func (r *run) missing(l leaf) []string {
	object, _ := r.value(l.at).(map[string]any)
	required, _ := l.chain[len(l.chain)-1].raw["required"].([]any)
	var list []string
	for _, item := range required {
		name, _ := item.(string)
		if _, ok := object[name]; !ok {
			list = append(list, name)
		}
	}
	return list
}

// unknown returns the names that an additionalProperties leaf refuses, sorted.
func (r *run) unknown(l leaf) []string {
	object, _ := r.value(l.at).(map[string]any)
	holder := l.chain[len(l.chain)-1]
	properties, _ := holder.raw["properties"].(map[string]any)
	var list []string
	for _, name := range slices.Sorted(maps.Keys(object)) {
		if _, ok := properties[name]; !ok && len(r.set.matching(holder, name)) == 0 {
			list = append(list, name)
		}
	}
	return list
}

// capped cuts a list of names so that not too many problems come of it.
func (r *run) capped(names []string) []string {
	room := max(1, maxProblems-len(r.notes))
	if over := len(names) - room; over > 0 {
		r.more += over
		return names[:room]
	}
	return names
}

// sayMissing says which names are missing. A name that stands there misspelt is
// left to the problem about the misspelling.
func (r *run) sayMissing(l leaf) {
	schemas := r.schemasFor(l)
	known := names(schemas)
	for _, name := range r.missing(l) {
		if r.misspelt(l.at, known, name) {
			continue
		}
		next, _ := r.set.step(schemas, name)
		r.say(l.at, "%s has no %s%s; add it%s", r.subject(l.at), quote(name), meaning(next, name), example(next, name))
	}
}

// maxStrange is how many unknown names of one object are tried for a missing
// one.
const maxStrange = 500

// findStrange notes the names that will be spoken of as unknown.
func (r *run) findStrange(leaves []leaf) {
	r.strange = map[string][]string{}
	for _, l := range leaves {
		last := len(l.at) - 1
		switch {
		case l.keyword == "additionalProperties":
			key := pointerOf(l.at)
			r.strange[key] = append(r.strange[key], r.unknown(l)...)
		case l.keyword == "false" && last >= 0:
			key := pointerOf(l.at[:last])
			r.strange[key] = append(r.strange[key], l.at[last])
		}
	}
}

// misspelt says whether the object at a path holds an unknown name that is meant
// for name.
func (r *run) misspelt(at []string, known []string, name string) bool {
	strange := r.strange[pointerOf(at)]
	for _, other := range strange[:min(len(strange), maxStrange)] {
		if _, near := distance(other, name); near && nearest(other, known) == name {
			return true
		}
	}
	return false
}

// schemasFor returns every schema that applies to the value of a leaf.
func (r *run) schemasFor(l leaf) []schema {
	var list []schema
	seen := map[string]bool{}
	for _, s := range l.chain {
		for _, n := range r.set.inPlace(s) {
			key := n.at.url + "#" + pointerOf(n.at.path)
			if !seen[key] {
				seen[key] = true
				list = append(list, n)
			}
		}
	}
	return list
}

// meaning returns the title of the schema of a name for a message, in brackets,
// unless it only repeats the name.
func meaning(list []schema, name string) string {
	for _, s := range list {
		if title, _ := s.raw["title"].(string); title != "" {
			if plain(title) == plain(name) {
				return ""
			}
			return " (" + lowerFirst(title) + ")"
		}
	}
	return ""
}

// example words the first example of a schema as a member of an object.
func example(list []schema, name string) string {
	if examples := examplesOf(list, 1); len(examples) > 0 {
		return fmt.Sprintf(", for example %s: %s", quote(name), examples[0])
	}
	return ""
}

// sayUnknown says that a name is not known, and which one may be meant.
func (r *run) sayUnknown(l leaf, at []string, name string) {
	schemas := r.schemasFor(l)
	known := slices.DeleteFunc(names(schemas), func(n string) bool { return n == name })
	subject := r.subject(at)
	key := append(slices.Clip(at), name)
	near := nearest(name, known)
	home := r.home(at, schemas, name)
	switch {
	case slices.Contains(names(r.set.along(at)), name):
		r.sayOfKey(key, "%s does not go with %s in %s", quote(name), r.tag(l, at), subject)
	case near != "" && (home == "" || plain(near) == plain(name) || plain(near) == plain(name)+"s" || plain(near)+"s" == plain(name)):
		r.sayOfKey(key, "%s is not a property of %s; did you mean %s?", quote(name), subject, quote(near))
	case home != "":
		r.sayOfKey(key, "%s is not a property of %s; it belongs %s", quote(name), subject, home)
	case len(known) == 0:
		r.sayOfKey(key, "%s cannot be a name in %s%s", quote(name), subject, r.set.nameForm(schemas))
	default:
		r.sayOfKey(key, "%s is not a property of %s; %s", quote(name), subject, enumerate(quoteAll(known)))
	}
}

// tag words the member that makes the schema of a leaf the one that applies.
func (r *run) tag(l leaf, at []string) string {
	holder := l.chain[len(l.chain)-1]
	properties, _ := holder.raw["properties"].(map[string]any)
	object, _ := r.value(at).(map[string]any)
	for _, name := range slices.Sorted(maps.Keys(properties)) {
		words := allowed(r.set.below(holder, "properties", name))
		if value, ok := object[name]; ok && len(words) == 1 && show(words[0]) == show(value) {
			return quote(name) + ": " + show(value)
		}
	}
	return "the other properties"
}

// home says where a name does belong when it is known elsewhere: in a member of
// the object, in something around it, or in one or two other kinds of object.
func (r *run) home(at []string, schemas []schema, name string) string {
	for _, member := range names(schemas) {
		next, _ := r.set.step(schemas, member)
		if slices.Contains(names(next), name) {
			return "inside " + quote(member)
		}
		if entries, _ := r.set.step(next, "0"); slices.Contains(names(entries), name) {
			return "in an entry of " + quote(member)
		}
	}
	for depth := len(at) - 1; depth >= 0; depth-- {
		if slices.Contains(names(r.set.along(at[:depth])), name) {
			return "to " + r.subject(at[:depth])
		}
	}
	homes := r.set.homes()[name]
	if len(homes) == 0 || len(homes) > 2 {
		return ""
	}
	words := make([]string, len(homes))
	for i, home := range homes {
		words[i] = homeWords(home)
	}
	return strings.Join(words, " or ")
}

// homeWords words a dotted path of findHomes. It is never the top of the file,
// which is around everything.
func homeWords(path string) string {
	base := strings.TrimRight(strings.TrimSuffix(path, ".*"), "[]")
	if strings.HasSuffix(path, "[]") || strings.HasSuffix(path, ".*") {
		return "in an entry of " + quote(strings.ReplaceAll(base, "[]", ""))
	}
	return "inside " + quote(strings.ReplaceAll(base, "[]", ""))
}

// nameForm says, for the end of a message, what names a map may have: what a
// text schema with the same pattern says of itself.
func (s *schemaSet) nameForm(schemas []schema) string {
	for _, n := range schemas {
		patterns, _ := n.raw["patternProperties"].(map[string]any)
		for _, pattern := range slices.Sorted(maps.Keys(patterns)) {
			if text := s.described(s.docs[n.at.url], pattern); text != "" {
				return "; expected: " + lowerFirst(text)
			}
		}
	}
	return ""
}

// described returns what the first schema in node with this pattern says of
// itself.
func (s *schemaSet) described(node any, pattern string) string {
	object, ok := node.(map[string]any)
	if !ok {
		return ""
	}
	if object["pattern"] == pattern {
		if text := firstSentence(schema{raw: object}); text != "" {
			return text
		}
	}
	for _, key := range slices.Sorted(maps.Keys(object)) {
		if text := s.described(object[key], pattern); text != "" {
			return text
		}
	}
	return ""
}

// along returns the schemas that apply to the value at a path.
func (s *schemaSet) along(at []string) []schema {
	list := s.inPlace(s.root)
	for _, token := range at {
		list, _ = s.step(list, token)
	}
	return list
}

// quoteAll quotes each word.
func quoteAll(words []string) []string {
	list := make([]string, len(words))
	for i, word := range words {
		list[i] = quote(word)
	}
	return list
}

// enumerate lists the properties that there are; a long list is cut.
func enumerate(words []string) string {
	if len(words) == 1 {
		return "its only property is " + words[0]
	}
	if more := len(words) - maxListed; more > 1 {
		return "its properties are " + strings.Join(words[:maxListed], ", ") + fmt.Sprintf(" and %d more", more)
	}
	return "its properties are " + join(words, "and")
}

// join joins words with commas and a last conjunction.
func join(words []string, last string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " " + last + " " + words[n-1]
	}
}
