package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

// own are the schemas whose every property this package's tests hold to be
// documented.
var own = []string{Config, Plan, Profile, Report}

// newCompiler returns a compiler that knows every embedded schema by its $id,
// asserts formats, and loads nothing else.
func newCompiler(t *testing.T) *jsonschema.Compiler {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.Draft = jsonschema.Draft2020
	c.AssertFormat = true
	c.LoadURL = func(url string) (io.ReadCloser, error) {
		return nil, fmt.Errorf("%s is not embedded", url)
	}
	for _, name := range schemaNames(t) {
		data := readSchema(t, name)
		if err := c.AddResource(readTree(t, name)["$id"].(string), bytes.NewReader(data)); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
	return c
}

func schemaNames(t *testing.T) []string {
	t.Helper()
	names, err := fs.Glob(Files, "*.json")
	if err != nil || len(names) == 0 {
		t.Fatalf("embedded schemas: %v, %v", names, err)
	}
	return names
}

func readSchema(t *testing.T, name string) []byte {
	t.Helper()
	data, err := Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func readTree(t *testing.T, name string) map[string]any {
	t.Helper()
	var tree map[string]any
	if err := json.Unmarshal(readSchema(t, name), &tree); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return tree
}

// compileSchema compiles one embedded schema.
func compileSchema(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	s, err := newCompiler(t).Compile(readTree(t, name)["$id"].(string))
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return s
}

func TestEverySchemaCompiles(t *testing.T) {
	for _, name := range schemaNames(t) {
		tree := readTree(t, name)
		if got := tree["$schema"]; got != "https://json-schema.org/draft/2020-12/schema" {
			t.Errorf("%s: $schema is %v, want draft 2020-12", name, got)
		}
		compileSchema(t, name)
	}
}

// visit calls f on every object of a JSON tree with its JSON Pointer, in
// pointer order.
func visit(tree any, pointer string, f func(pointer string, node map[string]any)) {
	switch v := tree.(type) {
	case map[string]any:
		f(pointer, v)
		for _, key := range slices.Sorted(maps.Keys(v)) {
			visit(v[key], pointer+"/"+escape(key), f)
		}
	case []any:
		for i, item := range v {
			visit(item, fmt.Sprintf("%s/%d", pointer, i), f)
		}
	}
}

func escape(token string) string {
	return strings.NewReplacer("~", "~0", "/", "~1").Replace(token)
}
