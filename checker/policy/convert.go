package policy

import (
	"encoding"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
)

// converter turns plain Go values into what rules read, as encoding/json would,
// without writing JSON. It knows structs, slices, maps by text, pointers and
// single values; anything else is left to encoding/json.
type converter struct {
	words   map[string]*ast.Term
	numbers map[float64]*ast.Term
}

// convertible is a field of a struct.
type convertible struct {
	index     int
	key       *ast.Term
	omitEmpty bool
}

// layouts holds the fields of each struct type, nil for one that only
// encoding/json can write.
var layouts sync.Map // reflect.Type to []convertible

var (
	jsonMarshaler = reflect.TypeFor[json.Marshaler]()
	textMarshaler = reflect.TypeFor[encoding.TextMarshaler]()
)

// convert returns the value, and whether it could be converted.
func (c *converter) convert(v reflect.Value) (*ast.Term, bool) {
	if !v.IsValid() {
		return ast.InternedNullTerm, true
	}
	if writesItself(v.Type()) {
		return nil, false
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return ast.InternedNullTerm, true
		}
		return c.convert(v.Elem())
	case reflect.Struct:
		return c.object(v)
	case reflect.Slice, reflect.Array:
		return c.array(v)
	case reflect.Map:
		return c.dictionary(v)
	}
	return c.single(v)
}

// writesItself says whether a type has its own form in JSON.
func writesItself(kind reflect.Type) bool {
	if kind.PkgPath() == "" {
		return false // types of the language itself have no methods
	}
	pointer := reflect.PointerTo(kind)
	return pointer.Implements(jsonMarshaler) || pointer.Implements(textMarshaler)
}

// single converts text, numbers and booleans.
func (c *converter) single(v reflect.Value) (*ast.Term, bool) {
	switch {
	case v.Kind() == reflect.String:
		return once(c.words, strings.ToValidUTF8(v.String(), "\uFFFD"), ast.StringTerm), true
	case v.Kind() == reflect.Bool:
		return ast.InternedTerm(v.Bool()), true
	case v.CanInt():
		return ast.NewTerm(ast.Number(strconv.FormatInt(v.Int(), 10))), true
	case v.CanUint():
		return ast.NewTerm(ast.Number(strconv.FormatUint(v.Uint(), 10))), true
	case v.Kind() == reflect.Float64 && !math.IsInf(v.Float(), 0) && !math.IsNaN(v.Float()):
		return c.number(v.Float()), true
	}
	return nil, false
}

// number converts a float to at most factDigits digits.
func (c *converter) number(f float64) *ast.Term {
	term, found := c.numbers[f]
	if !found {
		term = ast.NewTerm(ast.Number(strconv.FormatFloat(f, 'g', factDigits, 64)))
		c.numbers[f] = term
	}
	return term
}

func (c *converter) array(v reflect.Value) (*ast.Term, bool) {
	if v.Kind() == reflect.Slice && v.IsNil() {
		return ast.InternedNullTerm, true
	}
	if v.Type().Elem().Kind() == reflect.Uint8 {
		return nil, false // encoding/json writes bytes as text
	}
	members := make([]*ast.Term, v.Len())
	for i := range members {
		term, ok := c.convert(v.Index(i))
		if !ok {
			return nil, false
		}
		members[i] = term
	}
	return ast.ArrayTerm(members...), true
}

func (c *converter) dictionary(v reflect.Value) (*ast.Term, bool) {
	if v.IsNil() {
		return ast.InternedNullTerm, true
	}
	if v.Type().Key().Kind() != reflect.String || writesItself(v.Type().Key()) {
		return nil, false
	}
	members := make([][2]*ast.Term, 0, v.Len())
	for entry := v.MapRange(); entry.Next(); {
		term, ok := c.convert(entry.Value())
		if !ok {
			return nil, false
		}
		members = append(members, [2]*ast.Term{once(c.words, entry.Key().String(), ast.StringTerm), term})
	}
	return ast.ObjectTerm(members...), true
}

func (c *converter) object(v reflect.Value) (*ast.Term, bool) {
	fields := layoutOf(v.Type())
	if fields == nil {
		return nil, false
	}
	members := make([][2]*ast.Term, 0, len(fields))
	for _, field := range fields {
		value := v.Field(field.index)
		if field.omitEmpty && isEmpty(value) {
			continue
		}
		term, ok := c.convert(value)
		if !ok {
			return nil, false
		}
		members = append(members, [2]*ast.Term{field.key, term})
	}
	return ast.ObjectTerm(members...), true
}

// isEmpty says whether encoding/json leaves a field out under omitempty.
func isEmpty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.Map, reflect.String, reflect.Array:
		return v.Len() == 0
	case reflect.Struct:
		return false
	}
	return v.IsZero()
}

// layoutOf returns the fields that encoding/json would write.
func layoutOf(kind reflect.Type) []convertible {
	if known, found := layouts.Load(kind); found {
		return known.([]convertible)
	}
	fields := []convertible{}
	for i := range kind.NumField() {
		field := kind.Field(i)
		tag := field.Tag.Get("json")
		name, rest, _ := strings.Cut(tag, ",")
		options := strings.Split(rest, ",")
		if field.Anonymous || slices.Contains(options, "string") || slices.Contains(options, "omitzero") {
			fields = nil
			break
		}
		if !field.IsExported() || tag == "-" {
			continue
		}
		if name == "" {
			name = field.Name
		}
		fields = append(fields, convertible{i, ast.StringTerm(name), slices.Contains(options, "omitempty")})
	}
	layouts.Store(kind, fields)
	return fields
}
