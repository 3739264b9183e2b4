package mend

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"github.com/tailscale/hujson"

	"duskproof/checker/finding"
	"duskproof/checker/source"
)

// edit builds one patch. What it replaces, removes or adds to is tested first, so
// that the patch is refused by any plan that differs there.
type edit struct {
	v      *view
	tests  []finding.Operation
	ops    []finding.Operation
	tested map[string]bool
}

func (v *view) edit() *edit { return &edit{v: v, tested: map[string]bool{}} }

// patch is the finished patch: tests, then changes.
func (e *edit) patch() []finding.Operation {
	return append(append([]finding.Operation(nil), e.tests...), e.ops...)
}

// raw is a value as the file has it.
func raw(value *hujson.Value) json.RawMessage {
	return json.RawMessage(hujson.Value{Value: value.Value}.Pack())
}

// test asks that a place still has the value it has now.
func (e *edit) test(pointer string) {
	if found := e.v.tree.Find(pointer); found != nil && !e.tested[pointer] {
		e.tested[pointer] = true
		e.tests = append(e.tests, finding.Operation{Op: "test", Path: pointer, Value: raw(found)})
	}
}

// guard asks that an element is still the one it is now: by its id, or by what
// it says in all where it has none.
func (e *edit) guard(pointer string) {
	switch {
	case e.v.tree.Find(pointer+"/id") != nil:
		e.test(pointer + "/id")
	case pointer != "":
		e.test(pointer)
	}
}

// set gives a member of an element a value, whether it has one or not.
func (e *edit) set(element string, value any, keys ...any) {
	pointer := element + source.Pointer(keys...)
	if e.v.tree.Find(pointer) == nil {
		e.guard(element)
		e.ops = append(e.ops, finding.Operation{Op: "add", Path: pointer, Value: value})
		return
	}
	e.test(element + "/id")
	e.test(pointer)
	e.ops = append(e.ops, finding.Operation{Op: "replace", Path: pointer, Value: value})
}

// remove takes out a member or an element. Elements of one array are removed
// from the last to the first.
func (e *edit) remove(pointer string) {
	e.guard(pointer)
	e.ops = append(e.ops, finding.Operation{Op: "remove", Path: pointer})
}

// add appends to an array, which is made when it is not there. The element that
// holds the array is the one it is now.
func (e *edit) add(element string, value any, keys ...any) {
	pointer := element + source.Pointer(keys...)
	e.guard(element)
	if e.v.tree.Find(pointer) == nil {
		e.ops = append(e.ops, finding.Operation{Op: "add", Path: pointer, Value: list(value)})
		return
	}
	e.ops = append(e.ops, finding.Operation{Op: "add", Path: pointer + "/-", Value: value})
}

// object writes an object with its members in the order given: name, value,
// name, value. A nil value leaves the member out.
func object(pairs ...any) json.RawMessage {
	out := []byte{'{'}
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] == nil {
			continue
		}
		if len(out) > 1 {
			out = append(out, ',')
		}
		out = append(append(append(out, encode(pairs[i])...), ':'), encode(pairs[i+1])...)
	}
	return append(out, '}')
}

// list writes an array.
func list(values ...any) json.RawMessage {
	out := []byte{'['}
	for i, value := range values {
		if i > 0 {
			out = append(out, ',')
		}
		out = append(out, encode(value)...)
	}
	return append(out, ']')
}

// encode writes a value of our own making: a word, a number or a raw value.
func encode(value any) []byte {
	text, err := spaced(value)
	if err != nil {
		return []byte("null") // the schema refuses it, so the candidate is dropped
	}
	return text
}

// copyWith writes an object like another, with some members set otherwise and
// some left out. Members that the other lacks come last, by name.
func copyWith(old *hujson.Value, with map[string]any, without ...string) json.RawMessage {
	var pairs []any
	rest := maps.Clone(with)
	if o, ok := old.Value.(*hujson.Object); ok {
		for i := range o.Members {
			name := o.Members[i].Name.Value.(hujson.Literal).String()
			value, replaced := rest[name]
			switch {
			case replaced:
				pairs = append(pairs, name, value)
				delete(rest, name)
			case !slices.Contains(without, name) && !strings.HasPrefix(name, "//"):
				pairs = append(pairs, name, raw(&o.Members[i].Value))
			}
		}
	}
	for _, name := range sortedKeys(rest) {
		pairs = append(pairs, name, rest[name])
	}
	return object(pairs...)
}
