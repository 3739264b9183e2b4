package machine

import (
	"encoding"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// shape is what all objects made of one type of struct have in common.
type shape struct {
	keys   []Value
	order  []int // the keys in order
	fields []field
	places map[string]int // by name
}

// field is a field of a struct.
type field struct {
	index     int
	omitEmpty bool
}

// find returns the place of a key, or -1.
func (s *shape) find(key Value) int {
	if place, found := s.places[key.text]; found && key.kind == Text {
		return place
	}
	return -1
}

var (
	jsonMarshaler = reflect.TypeFor[json.Marshaler]()
	textMarshaler = reflect.TypeFor[encoding.TextMarshaler]()
)

// shapes holds the shape of each struct type, nil for one that only encoding/json
// can write.
var shapes sync.Map // reflect.Type to *shape

// Convert turns plain Go values into what rules read, as encoding/json would,
// without writing JSON. It knows structs, slices, maps by text, pointers and
// single values; ok is false for anything else. Numbers keep twelve significant
// digits.
func Convert(v any) (value Value, ok bool) {
	c := converter{rounded: map[float64]float64{}}
	return c.convert(reflect.ValueOf(v))
}

type converter struct {
	rounded map[float64]float64
}

func (c *converter) convert(v reflect.Value) (Value, bool) {
	if !v.IsValid() {
		return Value{kind: Null}, true
	}
	switch kind := v.Kind(); kind {
	case reflect.Struct:
		return c.object(v)
	case reflect.Pointer, reflect.Interface, reflect.Slice, reflect.Map:
		if writesItself(v.Type()) {
			return Value{}, false
		}
		if v.IsNil() {
			return Value{kind: Null}, true
		}
		switch kind {
		case reflect.Slice:
			return c.array(v)
		case reflect.Map:
			return c.dictionary(v)
		}
		return c.convert(v.Elem())
	case reflect.Array:
		return c.array(v)
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
func (c *converter) single(v reflect.Value) (Value, bool) {
	if writesItself(v.Type()) {
		return Value{}, false
	}
	switch {
	case v.Kind() == reflect.String:
		return TextValue(strings.ToValidUTF8(v.String(), "\uFFFD")), true
	case v.Kind() == reflect.Bool:
		return Bool(v.Bool()), true
	case v.CanInt():
		return wholeOf(v.Int()), true
	case v.CanUint() && v.Uint() <= math.MaxInt64:
		return wholeOf(int64(v.Uint())), true
	case v.Kind() == reflect.Float64 && !math.IsInf(v.Float(), 0) && !math.IsNaN(v.Float()):
		return Value{kind: Number, number: c.round(v.Float())}, true
	}
	return Value{}, false
}

// wholeOf converts an integer.
func wholeOf(n int64) Value {
	v := Value{kind: Number, number: float64(n)}
	if n >= small || n <= -small {
		if digits := strconv.FormatInt(n, 10); v.Digits() != digits {
			v.text = digits
		}
	}
	return v
}

// round rounds a float to factDigits significant digits.
func (c *converter) round(f float64) float64 {
	if f == math.Trunc(f) && math.Abs(f) < small {
		return f
	}
	rounded, found := c.rounded[f]
	if !found {
		var room [32]byte
		rounded, _ = strconv.ParseFloat(string(strconv.AppendFloat(room[:0], f, 'g', factDigits, 64)), 64)
		c.rounded[f] = rounded
	}
	return rounded
}

func (c *converter) array(v reflect.Value) (Value, bool) {
	if v.Type().Elem().Kind() == reflect.Uint8 {
		return Value{}, false // encoding/json writes bytes as text
	}
	items := make([]Value, v.Len())
	for i := range items {
		item, ok := c.convert(v.Index(i))
		if !ok {
			return Value{}, false
		}
		items[i] = item
	}
	return ArrayOf(items), true
}

func (c *converter) dictionary(v reflect.Value) (Value, bool) {
	if v.Type().Key().Kind() != reflect.String || writesItself(v.Type().Key()) {
		return Value{}, false
	}
	g := &group{}
	for entry := v.MapRange(); entry.Next(); {
		item, ok := c.convert(entry.Value())
		if !ok {
			return Value{}, false
		}
		g.put(TextValue(entry.Key().String()), item)
	}
	g.keysInOrder() // from here on it is read only
	return Value{kind: Object, group: g}, true
}

func (c *converter) object(v reflect.Value) (Value, bool) {
	s := shapeOf(v.Type())
	if s == nil {
		return Value{}, false
	}
	items := make([]Value, len(s.fields))
	for i, field := range s.fields {
		member := v.Field(field.index)
		if field.omitEmpty && isEmpty(member) {
			continue
		}
		item, ok := c.convert(member)
		if !ok {
			return Value{}, false
		}
		items[i] = item
	}
	return Value{kind: Object, group: &group{shape: s, items: items}}, true
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

// shapeOf returns the fields that encoding/json would write, nil when only it can.
func shapeOf(kind reflect.Type) *shape {
	if known, found := shapes.Load(kind); found {
		return known.(*shape)
	}
	s := newShape(kind)
	shapes.Store(kind, s)
	return s
}

func newShape(kind reflect.Type) *shape {
	if writesItself(kind) {
		return nil
	}
	s := &shape{places: map[string]int{}}
	for i := range kind.NumField() {
		f := kind.Field(i)
		tag := f.Tag.Get("json")
		name, rest, _ := strings.Cut(tag, ",")
		options := strings.Split(rest, ",")
		if f.Anonymous || slices.Contains(options, "string") || slices.Contains(options, "omitzero") {
			return nil
		}
		if !f.IsExported() || tag == "-" {
			continue
		}
		if name == "" {
			name = f.Name
		}
		s.places[name] = len(s.keys)
		s.order = append(s.order, len(s.keys))
		s.keys = append(s.keys, TextValue(name))
		s.fields = append(s.fields, field{i, slices.Contains(options, "omitempty")})
	}
	slices.SortFunc(s.order, func(a, b int) int { return Compare(s.keys[a], s.keys[b]) })
	return s
}
