package schema

import (
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/plan"
)

// The plan schema and the Go structs that a plan is decoded into must name
// exactly the same properties on each object, or a field would be validated
// and then dropped, or expected and refused.

var (
	quantityType = reflect.TypeFor[plan.Quantity]()
	tapePoint    = reflect.TypeFor[plan.TapePoint]()
)

func TestDocumentStructsMatchSchema(t *testing.T) {
	m := matcher{t: t, root: readTree(t, Plan), seen: map[reflect.Type]bool{}}
	m.match("Document", reflect.TypeFor[plan.Document](), m.root)
	if len(m.seen) < 50 {
		t.Errorf("only %d structs were compared; the walk is broken", len(m.seen))
	}
}

type matcher struct {
	t    *testing.T
	root map[string]any
	seen map[reflect.Type]bool
}

// resolve follows a node's $ref into the definitions.
func (m *matcher) resolve(node map[string]any) map[string]any {
	ref, ok := node["$ref"].(string)
	if !ok {
		return node
	}
	return m.root["$defs"].(map[string]any)[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
}

func (m *matcher) match(path string, typ reflect.Type, node map[string]any) {
	node = m.resolve(node)
	if typ == quantityType || typ == tapePoint {
		m.wantTypes(path, node)
		return
	}
	switch typ.Kind() {
	case reflect.Pointer:
		m.match(path, typ.Elem(), node)
	case reflect.Slice:
		items, ok := node["items"].(map[string]any)
		if !ok {
			m.t.Errorf("%s: a list in Go, but the schema has no items", path)
			return
		}
		m.match(path+"[]", typ.Elem(), items)
	case reflect.Map:
		m.match(path+"{}", typ.Elem(), m.mapValue(path, node))
	case reflect.Struct:
		m.matchStruct(path, typ, node)
	default:
		m.matchScalar(path, typ.Kind(), node)
	}
}

// mapValue returns the subschema of a map's values: the one pattern property
// that is not the comment's.
func (m *matcher) mapValue(path string, node map[string]any) map[string]any {
	patterns, _ := node["patternProperties"].(map[string]any)
	for pattern, sub := range patterns {
		if pattern != "^//" {
			return sub.(map[string]any)
		}
	}
	m.t.Fatalf("%s: a map in Go, but the schema has no named values", path)
	return nil
}

func (m *matcher) matchStruct(path string, typ reflect.Type, node map[string]any) {
	if m.seen[typ] {
		return
	}
	m.seen[typ] = true
	properties, _ := node["properties"].(map[string]any)
	fields := map[string]reflect.Type{}
	for field := range fieldsOf(typ) {
		name := strings.Split(field.Tag.Get("json"), ",")[0]
		if name == "" {
			m.t.Errorf("%s.%s has no json name", path, field.Name)
		}
		if name != "-" {
			fields[name] = field.Type
		}
	}
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		sub, ok := properties[name].(map[string]any)
		if !ok {
			m.t.Errorf("%s: %q is a field of %s but not in the schema", path, name, typ)
			continue
		}
		m.match(path+"."+name, fields[name], sub)
	}
	for _, name := range slices.Sorted(maps.Keys(properties)) {
		if _, ok := fields[name]; !ok {
			m.t.Errorf("%s: %q is in the schema but not a field of %s", path, name, typ)
		}
	}
}

func fieldsOf(typ reflect.Type) func(func(reflect.StructField) bool) {
	return func(yield func(reflect.StructField) bool) {
		for i := range typ.NumField() {
			if !yield(typ.Field(i)) {
				return
			}
		}
	}
}

// wantTypes checks that a quantity or a tape's point takes more than one JSON
// type, as its Go type does.
func (m *matcher) wantTypes(path string, node map[string]any) {
	types, _ := node["type"].([]any)
	if len(types) != 2 || !slices.Contains(types, any("string")) {
		m.t.Errorf("%s: type is %v, want a string or something else", path, node["type"])
	}
}

// scalarTypes says which JSON type a Go kind decodes.
var scalarTypes = map[reflect.Kind]string{
	reflect.String: "string", reflect.Bool: "boolean", reflect.Int: "integer", reflect.Float64: "number",
}

func (m *matcher) matchScalar(path string, kind reflect.Kind, node map[string]any) {
	if want := scalarTypes[kind]; node["type"] != want {
		m.t.Errorf("%s: a Go %s, but the schema says %v", path, kind, node["type"])
	}
}
