package validate

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// schemaSet is the schemas as they are written, for what the messages need to
// know: names, titles, descriptions, examples, allowed words. A document that
// fits needs none of it, so it is decoded when first wanted.
type schemaSet struct {
	docs map[string]any
	root schema
	// homes says, for each property name, which kinds of object have it.
	homes func() map[string][]string
	// patterns caches the compiled patterns of patternProperties.
	patterns sync.Map
}

// schema is one schema object in its document.
type schema struct {
	at  location
	raw map[string]any
}

// refused are the keywords that the messages could not follow.
var refused = []string{"$anchor", "$dynamicAnchor", "$dynamicRef", "$recursiveAnchor", "$recursiveRef"}

// checkKeywords refuses a schema with a keyword that the messages could not
// follow, or with a second $id. It looks at the text, so a schema may not speak
// of a property with such a name either.
func checkKeywords(data []byte) error {
	for _, keyword := range refused {
		if bytes.Contains(data, []byte(strconv.Quote(keyword))) {
			return fmt.Errorf("the keyword %s is not supported", keyword)
		}
	}
	if bytes.Count(data, []byte(`"$id"`)) > 1 {
		return errors.New("a second $id is not supported; use $defs and $ref")
	}
	return nil
}

// newSchemaSet decodes the schemas, which the compiler has accepted. A file that
// it did not need may be broken; it is left out.
func newSchemaSet(files map[string][]byte, root location) *schemaSet {
	set := &schemaSet{docs: map[string]any{}}
	for file, data := range files {
		decoder := json.NewDecoder(bytes.NewReader(data))
		decoder.UseNumber()
		var doc any
		if err := decoder.Decode(&doc); err != nil {
			continue
		}
		for _, address := range addresses(file, data) {
			set.docs[address] = doc
		}
	}
	set.root = set.start(root)
	set.homes = sync.OnceValue(set.findHomes)
	return set
}

// start returns the schema at a location; an empty one when it is none.
func (s *schemaSet) start(at location) schema {
	raw, _ := s.lookup(at).(map[string]any)
	return schema{at, raw}
}

// lookup returns what stands at a location; nil when there is nothing.
func (s *schemaSet) lookup(at location) any {
	return descend(s.docs[at.url], at.path)
}

// below returns the schema at a path below s.
func (s *schemaSet) below(from schema, path ...string) schema {
	at := location{from.at.url, slices.Concat(from.at.path, path)}
	return s.start(at)
}

// inPlace returns s and every schema that applies to the same value through
// $ref, allOf, anyOf, oneOf, if, then and else, outermost first.
func (s *schemaSet) inPlace(from schema) []schema {
	var list []schema
	seen := map[string]bool{}
	var add func(schema)
	add = func(n schema) {
		key := n.at.url + "#" + pointerOf(n.at.path)
		if n.raw == nil || seen[key] {
			return
		}
		seen[key] = true
		list = append(list, n)
		if ref, ok := n.raw["$ref"].(string); ok {
			add(s.start(refLocation(n.at.url, ref)))
		}
		for _, keyword := range []string{"allOf", "anyOf", "oneOf"} {
			branches, _ := n.raw[keyword].([]any)
			for i := range branches {
				add(s.below(n, keyword, strconv.Itoa(i)))
			}
		}
		for _, keyword := range []string{"if", "then", "else"} {
			add(s.below(n, keyword))
		}
	}
	add(from)
	return list
}

// refLocation resolves a $ref found in the document at base.
func refLocation(base, ref string) location {
	at := parseLocation(ref)
	if address, _, _ := strings.Cut(ref, "#"); address == "" {
		at.url = base
	} else {
		at.url = resolve(base, ref)
	}
	return at
}

// step returns the schemas that apply to the member or entry called token of a
// value to which list applies. named is true when the token is a property that
// the schemas know by name.
func (s *schemaSet) step(list []schema, token string) (next []schema, named bool) {
	add := func(n schema) { next = append(next, s.inPlace(n)...) }
	for _, n := range list {
		if properties, ok := n.raw["properties"].(map[string]any); ok && properties[token] != nil {
			add(s.below(n, "properties", token))
			named = true
		}
	}
	for _, n := range list {
		if i, err := strconv.Atoi(token); err == nil {
			prefix, _ := n.raw["prefixItems"].([]any)
			if i >= 0 && i < len(prefix) {
				add(s.below(n, "prefixItems", token))
			} else {
				add(s.below(n, "items"))
			}
		}
		if !named {
			for _, pattern := range s.matching(n, token) {
				add(s.below(n, "patternProperties", pattern))
			}
			add(s.below(n, "additionalProperties"))
		}
	}
	return next, named
}

// matching returns the patterns of patternProperties that a name matches.
func (s *schemaSet) matching(n schema, name string) []string {
	patterns, _ := n.raw["patternProperties"].(map[string]any)
	var list []string
	for _, pattern := range slices.Sorted(maps.Keys(patterns)) {
		if expr := s.pattern(pattern); expr != nil && expr.MatchString(name) {
			list = append(list, pattern)
		}
	}
	return list
}

// pattern compiles a pattern once; nil when it does not compile.
func (s *schemaSet) pattern(text string) *regexp.Regexp {
	if expr, ok := s.patterns.Load(text); ok {
		return expr.(*regexp.Regexp)
	}
	expr, err := regexp.Compile(text)
	if err != nil {
		return nil
	}
	s.patterns.Store(text, expr)
	return expr
}

// names returns the property names that list knows, sorted.
func names(list []schema) []string {
	set := map[string]bool{}
	for _, n := range list {
		properties, _ := n.raw["properties"].(map[string]any)
		for name := range properties {
			set[name] = true
		}
	}
	return slices.Sorted(maps.Keys(set))
}

// maxVisits bounds the search for the homes of names.
const maxVisits = 20_000

// findHomes returns, for each property name, the kinds of object that have it,
// as dotted paths in which [] stands for the entries of a list and * for any
// name.
func (s *schemaSet) findHomes() map[string][]string {
	homes := map[string]map[string]bool{}
	visits := 0
	stack := map[string]bool{}
	var visit func(from schema, path string)
	visit = func(from schema, path string) {
		key := from.at.url + "#" + pointerOf(from.at.path)
		if visits++; visits > maxVisits || stack[key] || from.raw == nil {
			return
		}
		stack[key] = true
		defer delete(stack, key)
		for _, n := range s.inPlace(from) {
			properties, _ := n.raw["properties"].(map[string]any)
			for _, name := range slices.Sorted(maps.Keys(properties)) {
				if homes[name] == nil {
					homes[name] = map[string]bool{}
				}
				homes[name][path] = true
				visit(s.below(n, "properties", name), joinPath(path, name))
			}
			visit(s.below(n, "items"), path+"[]")
			visit(s.below(n, "additionalProperties"), joinPath(path, "*"))
			patterns, _ := n.raw["patternProperties"].(map[string]any)
			for _, pattern := range slices.Sorted(maps.Keys(patterns)) {
				visit(s.below(n, "patternProperties", pattern), joinPath(path, "*"))
			}
		}
	}
	visit(s.root, "")
	sorted := map[string][]string{}
	for name, set := range homes {
		sorted[name] = slices.Sorted(maps.Keys(set))
	}
	return sorted
}

// joinPath adds a name to a dotted path.
func joinPath(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}
