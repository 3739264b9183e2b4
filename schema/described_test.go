package schema

import (
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

// propertyKeywords hold named subschemas that people write values for.
var propertyKeywords = []string{"properties", "$defs", "patternProperties"}

// describedNodes returns the subschemas of a schema that must be documented,
// by JSON Pointer: every property of every object, and every definition. The
// conditions under dependentSchemas and if only narrow those, and are left
// out.
func describedNodes(tree map[string]any) map[string]map[string]any {
	nodes := map[string]map[string]any{}
	visit(tree, "", func(pointer string, node map[string]any) {
		if strings.Contains(pointer, "/dependentSchemas/") || strings.Contains(pointer, "/if") || strings.Contains(pointer, "/examples") {
			return
		}
		for _, keyword := range propertyKeywords {
			named, ok := node[keyword].(map[string]any)
			if !ok || strings.HasSuffix(pointer, "/properties") {
				continue
			}
			for name, sub := range named {
				if s, ok := sub.(map[string]any); ok {
					nodes[pointer+"/"+escape(keyword)+"/"+escape(name)] = s
				}
			}
		}
	})
	return nodes
}

func TestEveryPropertyIsDescribed(t *testing.T) {
	for _, name := range own {
		nodes := describedNodes(readTree(t, name))
		if len(nodes) < 20 {
			t.Errorf("%s: only %d properties found", name, len(nodes))
		}
		for pointer, node := range nodes {
			if onlyReference(node) && strings.Contains(pointer, "/patternProperties/") {
				continue
			}
			title, _ := node["title"].(string)
			if title == "" {
				t.Errorf("%s#%s has no title", name, pointer)
			}
			text, _ := node["description"].(string)
			if len(text) < 10 || !strings.HasSuffix(text, ".") {
				t.Errorf("%s#%s: description %q is not a sentence", name, pointer, text)
			}
			if examples, _ := node["examples"].([]any); len(examples) == 0 && !isDefinedObject(pointer, node) {
				t.Errorf("%s#%s has no examples", name, pointer)
			}
		}
	}
}

// onlyReference reports whether a subschema says nothing but where its
// definition is; the definition carries the documentation.
func onlyReference(node map[string]any) bool {
	_, ok := node["$ref"]
	return ok && len(node) == 1
}

// isDefinedObject reports whether a node is the definition of an object; its
// properties, and the properties that refer to it, carry the examples.
func isDefinedObject(pointer string, node map[string]any) bool {
	return strings.Count(pointer, "/") == 2 && strings.HasPrefix(pointer, "/$defs/") && node["type"] == "object"
}

func TestEveryExampleIsValid(t *testing.T) {
	for _, name := range own {
		tree := readTree(t, name)
		c := newCompiler(t)
		count := 0
		for pointer, node := range describedNodes(tree) {
			examples, _ := node["examples"].([]any)
			for _, example := range examples {
				count++
				checkExample(t, c, tree["$id"].(string)+"#"+fragment(pointer), example)
			}
		}
		if count < 20 {
			t.Errorf("%s: only %d examples found", name, count)
		}
	}
}

func checkExample(t *testing.T, c *jsonschema.Compiler, location string, example any) {
	t.Helper()
	s, err := c.Compile(location)
	if err != nil {
		t.Errorf("%s: %v", location, err)
		return
	}
	if err := s.Validate(example); err != nil {
		t.Errorf("%s: example %v: %v", location, example, err)
	}
}

// fragment turns a JSON Pointer into the fragment of a URI.
func fragment(pointer string) string {
	return strings.NewReplacer("%", "%25", "^", "%5E", "[", "%5B", "]", "%5D", " ", "%20", "{", "%7B", "}", "%7D", "$", "$").Replace(pointer)
}

func TestEveryObjectIsClosed(t *testing.T) {
	for _, name := range own {
		visit(readTree(t, name), "", func(pointer string, node map[string]any) {
			if strings.Contains(pointer, "/examples") || strings.HasSuffix(pointer, "/properties") {
				return
			}
			if _, ok := node["properties"]; !ok || strings.Contains(pointer, "/dependentSchemas/") || strings.HasSuffix(pointer, "/if") {
				return
			}
			if node["additionalProperties"] != false {
				t.Errorf("%s#%s has properties but is not closed", name, pointer)
			}
			if name != Plan {
				return
			}
			patterns, _ := node["patternProperties"].(map[string]any)
			if _, ok := patterns["^//"]; !ok {
				t.Errorf("%s#%s allows no comment fields", name, pointer)
			}
		})
	}
}

func TestEveryDefinitionIsUsed(t *testing.T) {
	for _, name := range own {
		tree := readTree(t, name)
		used := map[string]bool{}
		visit(tree, "", func(_ string, node map[string]any) {
			if ref, ok := node["$ref"].(string); ok {
				used[strings.TrimPrefix(ref, "#/$defs/")] = true
			}
		})
		defs, _ := tree["$defs"].(map[string]any)
		for def := range defs {
			if !used[def] {
				t.Errorf("%s: definition %q is used nowhere", name, def)
			}
		}
		for ref := range used {
			if _, ok := defs[ref]; !ok {
				t.Errorf("%s: reference to %q, which is not defined", name, ref)
			}
		}
	}
}
