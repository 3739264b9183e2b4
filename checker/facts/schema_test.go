package facts

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"sort"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write schema/facts.schema.json from the Go types")

const schemaFile = "../../schema/facts.schema.json"

// TestSchemaIsCurrent derives the facts schema from the Go types and their
// comments, so that the published schema cannot drift from what rules get.
func TestSchemaIsCurrent(t *testing.T) {
	want, err := schemaFromSource()
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(schemaFile, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(schemaFile)
	if err != nil || !bytes.Equal(have, want) {
		t.Fatalf("%s is stale; run: go test ./checker/facts -run TestSchemaIsCurrent -update", schemaFile)
	}
}

// TestEmptyDocumentHasArrays checks that a document without elements still
// has every collection as an empty array, never null.
func TestEmptyDocumentHasArrays(t *testing.T) {
	data, err := json.Marshal(New())
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(data, []byte("null")) {
		t.Errorf("null in an empty facts document: %s", data)
	}
	fields := reflect.TypeFor[Document]()
	for i := range fields.NumField() {
		f := fields.Field(i)
		if f.Type.Kind() == reflect.Slice && !bytes.Contains(data, []byte(`"`+f.Tag.Get("json")+`":[]`)) {
			t.Errorf("collection %s is not an empty array", f.Name)
		}
	}
}

type object = map[string]any

func schemaFromSource() ([]byte, error) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		return nil, err
	}
	sort.Strings(files)
	defs := object{}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		if err := readTypes(name, defs); err != nil {
			return nil, err
		}
	}
	root := defs["Document"].(object)
	delete(defs, "Document")
	used := object{}
	collect(root, defs, used)
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["$id"] = "facts.schema.json"
	root["title"] = "Facts"
	root["$defs"] = used
	out, err := json.MarshalIndent(root, "", "  ")
	return append(out, '\n'), err
}

// collect copies the definitions that node refers to, directly or not.
func collect(node any, defs, used object) {
	switch n := node.(type) {
	case object:
		if ref, ok := n["$ref"].(string); ok {
			name := strings.TrimPrefix(ref, "#/$defs/")
			if _, done := used[name]; !done {
				used[name] = defs[name]
				collect(defs[name], defs, used)
			}
		}
		for _, v := range n {
			collect(v, defs, used)
		}
	}
}

func readTypes(name string, defs object) error {
	file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
	if err != nil {
		return err
	}
	for _, decl := range file.Decls {
		gen, ok := decl.(*ast.GenDecl)
		if !ok || gen.Tok != token.TYPE {
			continue
		}
		for _, spec := range gen.Specs {
			ts := spec.(*ast.TypeSpec)
			st, ok := ts.Type.(*ast.StructType)
			if !ok || st.Fields.NumFields() == 0 || st.Fields.List[0].Tag == nil {
				continue // not part of the document
			}
			def, err := structSchema(st)
			if err != nil {
				return fmt.Errorf("%s: %s: %w", name, ts.Name.Name, err)
			}
			def["description"] = words(gen.Doc)
			defs[ts.Name.Name] = def
		}
	}
	return nil
}

func structSchema(st *ast.StructType) (object, error) {
	properties, required := object{}, []string{}
	doc := ""
	for _, field := range st.Fields.List {
		if field.Tag == nil {
			return nil, fmt.Errorf("field %v has no json tag", field.Names)
		}
		tag := reflect.StructTag(strings.Trim(field.Tag.Value, "`")).Get("json")
		name, options, _ := strings.Cut(tag, ",")
		if name == "-" {
			continue // for readers, not for rules
		}
		if field.Doc != nil {
			doc = words(field.Doc)
		} else if name == "id" {
			doc = "The element's id."
		}
		property, err := typeSchema(field.Type)
		if err != nil {
			return nil, fmt.Errorf("field %s: %w", name, err)
		}
		if doc == "" {
			return nil, fmt.Errorf("field %s has no comment", name)
		}
		if _, isRef := property["$ref"]; !isRef {
			property["description"] = doc
		}
		properties[name] = property
		_, pointer := field.Type.(*ast.StarExpr)
		if options == "" {
			if pointer {
				return nil, fmt.Errorf("field %s is a pointer without omitempty", name)
			}
			required = append(required, name)
		}
	}
	sort.Strings(required)
	return object{"type": "object", "properties": properties, "required": required, "additionalProperties": false}, nil
}

func typeSchema(expr ast.Expr) (object, error) {
	switch e := expr.(type) {
	case *ast.StarExpr:
		return typeSchema(e.X)
	case *ast.ArrayType:
		items, err := typeSchema(e.Elt)
		return object{"type": "array", "items": items}, err
	case *ast.Ident:
		switch e.Name {
		case "string":
			return object{"type": "string"}, nil
		case "bool":
			return object{"type": "boolean"}, nil
		case "int":
			return object{"type": "integer"}, nil
		case "float64":
			return object{"type": "number"}, nil
		}
		return object{"$ref": "#/$defs/" + e.Name}, nil
	}
	return nil, fmt.Errorf("type %T has no place in the facts", expr)
}

func words(doc *ast.CommentGroup) string {
	if doc == nil {
		return ""
	}
	return strings.Join(strings.Fields(doc.Text()), " ")
}
