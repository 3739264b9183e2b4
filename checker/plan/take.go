package plan

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"sync"

	"duskproof/checker/source"
)

// taker takes what was read, as [source.Document.Value] has it, into a place of one
// type.
type taker func(into reflect.Value, from any) error

// takers holds a taker for each type of a document.
var takers sync.Map // reflect.Type to taker

// self is a type that is written in several ways, and takes each itself.
type self interface{ take(from any) error }

var selfType = reflect.TypeFor[self]()

// take takes what was read into what a pointer points to.
func take(into, from any) error {
	to := reflect.ValueOf(into).Elem()
	return takerFor(to.Type())(to, from)
}

func takerFor(kind reflect.Type) taker {
	if known, found := takers.Load(kind); found {
		return known.(taker)
	}
	made := newTaker(kind)
	takers.Store(kind, made)
	return made
}

// newTaker makes the taker of a type. No type of a document holds itself.
func newTaker(kind reflect.Type) taker {
	if reflect.PointerTo(kind).Implements(selfType) {
		return func(into reflect.Value, from any) error { return into.Addr().Interface().(self).take(from) }
	}
	switch kind.Kind() {
	case reflect.String:
		return takeText
	case reflect.Bool:
		return takeTruth
	case reflect.Int:
		return takeWhole
	case reflect.Float64:
		return takeNumber
	case reflect.Pointer:
		member := takerFor(kind.Elem())
		return func(into reflect.Value, from any) error {
			if from == nil {
				return nil
			}
			into.Set(reflect.New(kind.Elem()))
			return member(into.Elem(), from)
		}
	case reflect.Slice:
		return listTaker(kind)
	case reflect.Struct:
		return structTaker(kind)
	}
	panic(fmt.Sprintf("a document has a %s", kind)) // a test takes one of each
}

// below says of a fault at which member or entry it is.
func below(token any, err error) error {
	var at *DecodeError
	if errors.As(err, &at) {
		return &DecodeError{source.Pointer(token) + at.Pointer, at.Err}
	}
	return &DecodeError{source.Pointer(token), err}
}

// cannotStand refuses a value of the wrong kind.
func cannotStand(from any) error {
	kind := "null"
	switch from.(type) {
	case map[string]any:
		kind = "JSON object"
	case []any:
		kind = "JSON list"
	case string:
		kind = "JSON string"
	case json.Number:
		kind = "JSON number"
	case bool:
		kind = "true or false"
	}
	return &DecodeError{"", fmt.Errorf("a %s cannot stand here", kind)}
}

func takeText(into reflect.Value, from any) error {
	text, ok := from.(string)
	if !ok {
		return cannotStand(from)
	}
	into.SetString(text)
	return nil
}

func takeTruth(into reflect.Value, from any) error {
	truth, ok := from.(bool)
	if !ok {
		return cannotStand(from)
	}
	into.SetBool(truth)
	return nil
}

// takeWhole takes a whole number in any of the ways JSON Schema takes one for an
// integer: 4, 4.0, 4e0.
func takeWhole(into reflect.Value, from any) error {
	digits, ok := from.(json.Number)
	if !ok {
		return cannotStand(from)
	}
	number, err := digits.Float64()
	if err != nil || number != math.Trunc(number) || math.Abs(number) > math.MaxInt32 {
		return fmt.Errorf("%s is not a whole number that can be used here", digits)
	}
	into.SetInt(int64(number))
	return nil
}

func takeNumber(into reflect.Value, from any) error {
	digits, ok := from.(json.Number)
	if !ok {
		return cannotStand(from)
	}
	number, err := numberOf(digits)
	into.SetFloat(number)
	return err
}

func numberOf(digits json.Number) (float64, error) {
	number, err := strconv.ParseFloat(string(digits), 64)
	if err != nil {
		return 0, fmt.Errorf("%s is too large a number", digits)
	}
	return number, nil
}

func listTaker(kind reflect.Type) taker {
	member := takerFor(kind.Elem())
	return func(into reflect.Value, from any) error {
		list, ok := from.([]any)
		if !ok {
			return cannotStand(from)
		}
		into.Set(reflect.MakeSlice(kind, len(list), len(list)))
		for i := range list {
			if err := member(into.Index(i), list[i]); err != nil {
				return below(i, err)
			}
		}
		return nil
	}
}

func structTaker(kind reflect.Type) taker {
	type field struct {
		index int
		name  string
		take  taker
	}
	var fields []field
	for i := range kind.NumField() {
		if name := kind.Field(i).Tag.Get("json"); name != "-" && name != "" {
			fields = append(fields, field{i, name, takerFor(kind.Field(i).Type)})
		}
	}
	return func(into reflect.Value, from any) error {
		members, ok := from.(map[string]any)
		if !ok {
			return cannotStand(from)
		}
		for i := range fields {
			member, found := members[fields[i].name]
			if !found {
				continue
			}
			if err := fields[i].take(into.Field(fields[i].index), member); err != nil {
				return below(fields[i].name, err)
			}
		}
		return nil
	}
}
