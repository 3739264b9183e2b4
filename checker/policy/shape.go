package policy

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"duskproof/checker/rule"
)

// shape is what a facts schema says about collections: for each, the fields
// that its elements may have. It is nil when there is no schema.
type shape map[string][]string

// newShape reads a decoded facts schema.
func newShape(factsSchema any) shape {
	root, ok := factsSchema.(map[string]any)
	if !ok {
		return nil
	}
	root = follow(root, root)
	properties, _ := root["properties"].(map[string]any)
	s := shape{wholePlan: slices.Sorted(maps.Keys(properties))}
	for name, property := range properties {
		member := follow(root, property)
		if items, isArray := member["items"]; isArray {
			member = follow(root, items)
		}
		if fields, isObject := member["properties"].(map[string]any); isObject {
			s[name] = slices.Sorted(maps.Keys(fields))
		}
	}
	return s
}

// follow resolves references inside the schema, "#/$defs/Leg".
func follow(root map[string]any, node any) map[string]any {
	for range 10 {
		object, ok := node.(map[string]any)
		if !ok {
			return nil
		}
		reference, ok := object["$ref"].(string)
		if !ok {
			return object
		}
		node = any(root)
		for _, token := range strings.Split(strings.TrimPrefix(reference, "#/"), "/") {
			parent, isObject := node.(map[string]any)
			if !isObject {
				return nil
			}
			node = parent[token]
		}
	}
	return nil
}

// checkNeeds finds needs that name collections or fields that facts do not
// have: a misspelt need would else never be met.
func (c *Catalogue) checkNeeds(r *Rule, s shape) []Problem {
	if s == nil {
		return nil
	}
	var problems []Problem
	for _, need := range r.Needs {
		for _, message := range needMessages(need, s) {
			problems = append(problems, c.atMetadata(r, "needs", message))
		}
	}
	return problems
}

func needMessages(need rule.Need, s shape) []string {
	fields, ok := s[need.Each]
	if !ok {
		known := slices.Sorted(maps.Keys(s))
		return []string{fmt.Sprintf("needs: facts have no collection %q%s; they have %s",
			need.Each, suggestion(need.Each, known), strings.Join(known, ", "))}
	}
	var messages []string
	for _, field := range append(slices.Sorted(maps.Keys(need.Where)), need.Has...) {
		if !slices.Contains(fields, field) {
			messages = append(messages, fmt.Sprintf("needs: %s have no field %q%s; they have %s",
				need.Each, field, suggestion(field, fields), strings.Join(fields, ", ")))
		}
	}
	return messages
}

// atMetadata makes a problem at a field of a rule's metadata.
func (c *Catalogue) atMetadata(r *Rule, field, message string) Problem {
	m := r.metadata
	line, column, length := m.place(field)
	problem := c.texts.at(m.file, line, column, length, message)
	problem.Rule = r.ID
	return problem
}
