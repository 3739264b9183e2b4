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
	"sync/atomic"
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
	convert   converter
}

// of converts the field of a struct; it is undefined where JSON would leave it out.
func (f *field) of(v reflect.Value) (Value, bool) {
	member := v.Field(f.index)
	if f.omitEmpty && isEmpty(member) {
		return Value{}, true
	}
	return f.convert(member)
}

// find returns the place of a key, or -1.
func (s *shape) find(key Value) int {
	if place, found := s.places[key.text]; found && key.kind == Text {
		return place
	}
	return -1
}

// converter converts values of one type; ok is false for a value that only
// encoding/json can write, or that nothing can.
type converter func(v reflect.Value) (value Value, ok bool)

// converters holds a converter for each type that was met.
var converters sync.Map // reflect.Type to converter

// Convert turns plain Go values into what rules read, as encoding/json would,
// without writing JSON. It knows structs, slices, maps by text, pointers and
// single values; ok is false for anything else. Numbers keep twelve significant
// digits. The fields of a struct are converted on as many processors as it says.
func Convert(v any, processors int) (value Value, ok bool) {
	of := reflect.ValueOf(v)
	if !of.IsValid() {
		return Value{kind: Null}, true
	}
	if of.Kind() == reflect.Pointer && !of.IsNil() && processors > 1 {
		if s := shapeOf(of.Elem().Type()); s != nil {
			return convertSideBySide(s, of.Elem(), processors)
		}
	}
	return converterFor(of.Type())(of)
}

// convertSideBySide converts the fields of a struct on several processors.
func convertSideBySide(s *shape, v reflect.Value, processors int) (Value, bool) {
	items := make([]Value, len(s.fields))
	var next atomic.Int64
	var failed atomic.Bool
	var wait sync.WaitGroup
	for range processors {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(items)); i = next.Add(1) - 1 {
				var ok bool
				if items[i], ok = s.fields[i].of(v); !ok {
					failed.Store(true)
				}
			}
		})
	}
	wait.Wait()
	if failed.Load() {
		return Value{}, false
	}
	return Value{kind: Object, group: &group{shape: s, items: items}}, true
}

// converterFor returns the converter for a type. One that is asked for a second
// time while it is being made is looked up when it is used: types may hold
// themselves.
func converterFor(kind reflect.Type) converter {
	if known, found := converters.Load(kind); found {
		return known.(converter)
	}
	converters.Store(kind, converter(func(v reflect.Value) (Value, bool) { return converterFor(kind)(v) }))
	made := newConverter(kind)
	converters.Store(kind, made)
	return made
}

var (
	jsonMarshaler = reflect.TypeFor[json.Marshaler]()
	textMarshaler = reflect.TypeFor[encoding.TextMarshaler]()
)

// writesItself says whether a type has its own form in JSON.
func writesItself(kind reflect.Type) bool {
	if kind.PkgPath() == "" {
		return false // types of the language itself have no methods
	}
	pointer := reflect.PointerTo(kind)
	return pointer.Implements(jsonMarshaler) || pointer.Implements(textMarshaler)
}

// leave converts nothing.
func leave(reflect.Value) (Value, bool) { return Value{}, false }

func newConverter(kind reflect.Type) converter {
	if writesItself(kind) {
		return leave
	}
	switch kind.Kind() {
	case reflect.String:
		return func(v reflect.Value) (Value, bool) { return TextValue(strings.ToValidUTF8(v.String(), "\uFFFD")), true }
	case reflect.Bool:
		return func(v reflect.Value) (Value, bool) { return Bool(v.Bool()), true }
	case reflect.Float64:
		return func(v reflect.Value) (Value, bool) {
			f := v.Float()
			return Value{kind: Number, number: rounded(f)}, !math.IsInf(f, 0) && !math.IsNaN(f)
		}
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return func(v reflect.Value) (Value, bool) { return wholeOf(v.Int()), true }
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return func(v reflect.Value) (Value, bool) { return wholeOf(int64(v.Uint())), v.Uint() <= math.MaxInt64 }
	case reflect.Interface:
		return orNull(func(v reflect.Value) (Value, bool) { return converterFor(v.Elem().Type())(v.Elem()) })
	case reflect.Pointer:
		member := converterFor(kind.Elem())
		return orNull(func(v reflect.Value) (Value, bool) { return member(v.Elem()) })
	case reflect.Slice, reflect.Array:
		return arrayConverter(kind)
	case reflect.Map:
		return mapConverter(kind)
	case reflect.Struct:
		return structConverter(kind)
	}
	return leave
}

// orNull converts nil to null.
func orNull(convert converter) converter {
	return func(v reflect.Value) (Value, bool) {
		if v.IsNil() {
			return Value{kind: Null}, true
		}
		return convert(v)
	}
}

func arrayConverter(kind reflect.Type) converter {
	if kind.Elem().Kind() == reflect.Uint8 {
		return leave // encoding/json writes bytes as text
	}
	member := converterFor(kind.Elem())
	convert := func(v reflect.Value) (Value, bool) {
		items := make([]Value, v.Len())
		for i := range items {
			item, ok := member(v.Index(i))
			if !ok {
				return Value{}, false
			}
			items[i] = item
		}
		return ArrayOf(items), true
	}
	if kind.Kind() == reflect.Slice {
		return orNull(convert)
	}
	return convert
}

func mapConverter(kind reflect.Type) converter {
	if kind.Key().Kind() != reflect.String || writesItself(kind.Key()) {
		return leave
	}
	member := converterFor(kind.Elem())
	return orNull(func(v reflect.Value) (Value, bool) {
		g := &group{}
		for entry := v.MapRange(); entry.Next(); {
			item, ok := member(entry.Value())
			if !ok {
				return Value{}, false
			}
			g.put(TextValue(entry.Key().String()), item)
		}
		g.keysInOrder() // from here on it is read only
		return Value{kind: Object, group: g}, true
	})
}

func structConverter(kind reflect.Type) converter {
	s := shapeOf(kind)
	if s == nil {
		return leave
	}
	return func(v reflect.Value) (Value, bool) {
		items := make([]Value, len(s.fields))
		for i := range s.fields {
			var ok bool
			if items[i], ok = s.fields[i].of(v); !ok {
				return Value{}, false
			}
		}
		return Value{kind: Object, group: &group{shape: s, items: items}}, true
	}
}

// shapes holds the shape of each struct type that was met.
var shapes sync.Map // reflect.Type to *shape

// shapeOf returns the fields of a struct that encoding/json would write, nil when
// only it can write it, or when the type is no struct.
func shapeOf(kind reflect.Type) *shape {
	if known, found := shapes.Load(kind); found {
		return known.(*shape)
	}
	var s *shape
	if kind.Kind() == reflect.Struct && !writesItself(kind) {
		s = newShape(kind)
	}
	shapes.Store(kind, s)
	return s
}

func newShape(kind reflect.Type) *shape {
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
		s.fields = append(s.fields, field{i, slices.Contains(options, "omitempty"), converterFor(f.Type)})
	}
	slices.SortFunc(s.order, func(a, b int) int { return Compare(s.keys[a], s.keys[b]) })
	return s
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

// powers are the powers of ten that a float holds exactly.
var powers = [...]float64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// unsure is how near to a half a rest of rounding may be before it is not clear to
// which side it goes: a product of floats of twelve digits before the point is less
// wrong than 2e-4.
const unsure = 1e-3

// rounded rounds a float to factDigits significant digits. Most floats are rounded by
// counting units of the last digit, which are whole, so that one division gives the
// float that is nearest to the decimal number; the others are written and read.
func rounded(f float64) float64 {
	if f == math.Trunc(f) && math.Abs(f) < small {
		return f
	}
	for before := range factDigits {
		if math.Abs(f) >= powers[before] || math.Abs(f) < 1e-9 {
			continue
		}
		shift := factDigits - before // digits behind the point
		for before == 0 && math.Abs(f)*powers[shift] < powers[factDigits-1] {
			shift++
		}
		units := f * powers[shift]
		if rest := math.Abs(units - math.Trunc(units)); math.Abs(rest-0.5) > unsure {
			return math.Round(units) / powers[shift]
		}
		break
	}
	var room [32]byte
	written, _ := strconv.ParseFloat(string(strconv.AppendFloat(room[:0], f, 'g', factDigits, 64)), 64) // it was written as a float
	return written
}
