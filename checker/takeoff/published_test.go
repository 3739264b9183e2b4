package takeoff_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

var update = flag.Bool("update", false, "write schema/schedule.schema.json from the Go types")

const published = "../../schema/schedule.schema.json"

// TestSchemaIsCurrent derives the schema from the types and their comments, so
// that what is published cannot drift from what is written.
func TestSchemaIsCurrent(t *testing.T) {
	want := fromSource(t, publishedExamples(t))
	if *update {
		if err := os.WriteFile(published, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if have, err := os.ReadFile(published); err != nil || !bytes.Equal(have, want) {
		t.Fatalf("%s is stale; run: go test ./checker/takeoff -run TestSchemaIsCurrent -update", published)
	}
}

// TestScheduleIsValid validates the demo's schedules against the schema, and
// holds that a broken one is refused.
func TestScheduleIsValid(t *testing.T) {
	text, err := os.ReadFile(published)
	if err != nil {
		t.Fatal(err)
	}
	schema, err := jsonschema.CompileString("schedule.json", string(text))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{demo, "tern-cottage/issued.lighting.json", "format/lane-to-door.lighting.json", "too-far.lighting.json"} {
		data, err := json.Marshal(scheduled(t, name, ""))
		if err != nil {
			t.Fatal(err)
		}
		var s map[string]any
		if err := json.Unmarshal(data, &s); err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(s); err != nil {
			t.Errorf("%s: %#v", name, err)
		}
		delete(s, "lamps")
		if schema.Validate(s) == nil {
			t.Errorf("%s: schedules without lamps were accepted", name)
		}
	}
}

// TestExamplesAreValid validates each example against the property that it shows.
func TestExamplesAreValid(t *testing.T) {
	text, err := os.ReadFile(published)
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource("schedule.json", bytes.NewReader(text)); err != nil {
		t.Fatal(err)
	}
	examples := publishedExamples(t)
	for name, values := range examples {
		owner, property, _ := strings.Cut(name, ".")
		at := "schedule.json#/$defs/" + owner + "/properties/" + property
		if owner == "Schedule" {
			at = "schedule.json#/properties/" + property
		}
		schema, err := compiler.Compile(at)
		if err != nil {
			t.Fatalf("%s: %v", at, err)
		}
		for _, value := range values {
			if err := schema.Validate(value); err != nil {
				t.Errorf("%s: %#v", name, err)
			}
		}
	}
	if len(examples) < 100 {
		t.Errorf("%d properties", len(examples))
	}
}

type object = map[string]any

// fromSource reads schedule.go. Every property has a title, a description and an
// example.
func fromSource(t *testing.T, examples map[string][]any) []byte {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "schedule.go", nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	definitions := object{}
	for _, decl := range file.Decls {
		gen, ok := decl.(*ast.GenDecl)
		if !ok || gen.Tok != token.TYPE {
			continue
		}
		for _, spec := range gen.Specs {
			named := spec.(*ast.TypeSpec)
			def := ofStruct(t, named.Name.Name, named.Type.(*ast.StructType), examples)
			def["description"], def["title"] = sentence(gen.Doc), titleOf(snake(named.Name.Name))
			definitions[named.Name.Name] = def
		}
	}
	root := definitions["Schedule"].(object)
	delete(definitions, "Schedule")
	root["$schema"], root["$id"], root["title"], root["$defs"] = "https://json-schema.org/draft/2020-12/schema", "urn:duskproof:schema:schedule", "Schedule", definitions
	out, err := json.MarshalIndent(root, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return append(out, '\n')
}

func ofStruct(t *testing.T, owner string, s *ast.StructType, examples map[string][]any) object {
	t.Helper()
	properties, required, about := object{}, []string{}, ""
	inJSON := fieldNames(s)
	for _, field := range s.Fields.List {
		name, options, _ := strings.Cut(reflect.StructTag(strings.Trim(field.Tag.Value, "`")).Get("json"), ",")
		if field.Doc != nil {
			about = sentence(field.Doc)
		}
		example := examples[owner+"."+name]
		if about == "" || len(example) == 0 {
			t.Errorf("%s.%s has the comment %q and the examples %v", owner, name, about, example)
		}
		property := ofType(t, field.Type)
		property["description"] = inJSON.ReplaceAllStringFunc(about, func(word string) string { return jsonName(s, word) })
		property["title"], property["examples"] = titleOf(name), example
		properties[name] = property
		if options == "" {
			required = append(required, name)
		}
	}
	slices.Sort(required)
	return object{"type": "object", "additionalProperties": false, "required": required, "properties": properties}
}

func ofType(t *testing.T, expr ast.Expr) object {
	t.Helper()
	switch e := expr.(type) {
	case *ast.StarExpr:
		return ofType(t, e.X)
	case *ast.ArrayType:
		return object{"type": "array", "items": ofType(t, e.Elt)}
	case *ast.Ident:
		if name, plain := map[string]string{"string": "string", "bool": "boolean", "int": "integer", "float64": "number"}[e.Name]; plain {
			return object{"type": name}
		}
		return object{"$ref": "#/$defs/" + e.Name}
	}
	t.Fatalf("type %T has no place in the schedule", expr)
	return nil
}

func sentence(doc *ast.CommentGroup) string {
	if doc == nil {
		return ""
	}
	return strings.Join(strings.Fields(doc.Text()), " ")
}
