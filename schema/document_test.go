package schema

import (
	"encoding"
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
	quantityType  = reflect.TypeFor[plan.Quantity]()
	tapePoint     = reflect.TypeFor[plan.TapePoint]()
	textMarshaler = reflect.TypeFor[encoding.TextMarshaler]()
)

func TestDocumentStructsMatchSchema(t *testing.T) {
	m := newMatcher(t, Plan)
	m.match("Document", reflect.TypeFor[plan.Document](), m.root)
	if len(m.seen) < 50 {
		t.Errorf("only %d structs were compared; the walk is broken", len(m.seen))
	}
}

// matcher compares Go types with a schema, object by object.
type matcher struct {
	t    *testing.T
	root map[string]any
	seen map[reflect.Type]bool
	// written is true for what the program writes: a field that it never
	// leaves out must be required, and no other.
	written bool
}

func newMatcher(t *testing.T, name string) *matcher {
	return &matcher{t: t, root: readTree(t, name), seen: map[reflect.Type]bool{}}
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
	if typ.Implements(textMarshaler) {
		m.matchScalar(path, reflect.String, node)
		return
	}
	switch typ.Kind() {
	case reflect.Interface:
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
	fields := m.fieldsOf(path, typ)
	required, _ := node["required"].([]any)
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		sub, ok := properties[name].(map[string]any)
		if !ok {
			m.t.Errorf("%s: %q is a field of %s but not in the schema", path, name, typ)
			continue
		}
		if m.written && slices.Contains(required, any(name)) == fields[name].optional {
			m.t.Errorf("%s: %q is required or left out by one of schema and %s only", path, name, typ)
		}
		m.match(path+"."+name, fields[name].typ, sub)
	}
	for _, name := range slices.Sorted(maps.Keys(properties)) {
		if _, ok := fields[name]; !ok {
			m.t.Errorf("%s: %q is in the schema but not a field of %s", path, name, typ)
		}
	}
}

// jsonField is a struct field as JSON has it.
type jsonField struct {
	typ      reflect.Type
	optional bool
}

// fieldsOf returns the fields of a struct by their JSON names.
func (m *matcher) fieldsOf(path string, typ reflect.Type) map[string]jsonField {
	fields := map[string]jsonField{}
	for i := range typ.NumField() {
		field := typ.Field(i)
		name, options, _ := strings.Cut(field.Tag.Get("json"), ",")
		if name == "" {
			m.t.Errorf("%s.%s has no json name", path, field.Name)
		}
		if name != "-" {
			fields[name] = jsonField{field.Type, strings.Contains(options, "omitempty")}
		}
	}
	return fields
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
