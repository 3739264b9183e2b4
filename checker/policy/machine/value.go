package machine

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/topdown/builtins"
)

// Kind is the kind of a value, in the order in which the engine sorts values.
type Kind uint8

// The kinds of values.
const (
	Undefined Kind = iota
	Null
	False
	True
	Number
	Text
	Array
	Object
	Set
)

// factDigits is how many significant digits numbers of facts keep. The policy
// engine compares numbers of up to 15 digits ten times faster than longer ones;
// twelve leave a relative error of 5e-13, far below every tolerance.
const factDigits = 12

// Value is one value. It is not changed once a rule can see it. The zero value
// is undefined.
type Value struct {
	kind   Kind
	number float64
	// text is a Text, or the digits of a Number that are not those that
	// factDigits digits of number give.
	text  string
	group *group // of an Array, Object or Set, or of a Number that was computed
}

// TextValue returns text as a value.
func TextValue(text string) Value { return Value{kind: Text, text: text} }

// Bool returns a truth as a value.
func Bool(truth bool) Value {
	if truth {
		return Value{kind: True}
	}
	return Value{kind: False}
}

// numeral returns the number that some digits stand for. One that no float can
// hold has the digits all the same.
func numeral(digits string) (Value, error) {
	number, err := strconv.ParseFloat(digits, 64)
	if err != nil && !errors.Is(err, strconv.ErrRange) {
		return Value{}, fmt.Errorf("read a number: %w", err)
	}
	v := Value{kind: Number, number: number}
	if v.Digits() != digits {
		v.text = digits
	}
	return v, nil
}

// Kind returns the kind.
func (v Value) Kind() Kind { return v.kind }

// Text returns the text of a Text.
func (v Value) Text() string { return v.text }

// Float returns a Number as the nearest float.
func (v Value) Float() float64 { return v.number }

// Digits returns a Number as the engine writes it.
func (v Value) Digits() string {
	if v.text != "" {
		return v.text
	}
	if v.group != nil {
		return string(builtins.FloatToNumber(v.group.exact))
	}
	return strconv.FormatFloat(v.number, 'g', factDigits, 64)
}

// Int returns a Number that is an integer, and whether it is one of less than 32 bits.
func (v Value) Int() (n int, ok bool) {
	i, ok := v.integer()
	return int(i), ok
}

// String writes a value as the engine would.
func (v Value) String() string {
	if v.kind == Undefined {
		return "undefined"
	}
	return v.Term().String()
}

// small is the window in which integers are computed with as such.
const small = 1 << 31

// integer returns a Number that is an integer of less than 32 bits.
func (v Value) integer() (int64, bool) {
	if v.kind != Number || !v.plain() || v.number != math.Trunc(v.number) || math.Abs(v.number) >= small {
		return 0, false
	}
	return int64(v.number), true
}

// Compare orders values as the policy engine does: by kind, then by value.
func Compare(a, b Value) int {
	if a.kind != b.kind {
		return cmp.Compare(a.kind, b.kind)
	}
	switch a.kind {
	case Number:
		return compareNumbers(a, b)
	case Text:
		return strings.Compare(a.text, b.text)
	case Array:
		return slices.CompareFunc(a.group.items, b.group.items, Compare)
	case Set:
		return slices.CompareFunc(a.group.inOrder(), b.group.inOrder(), Compare)
	case Object:
		return compareObjects(a.group, b.group)
	}
	return 0
}

// plain says whether a Number has no more digits than its float shows.
func (v Value) plain() bool { return v.text == "" && v.group == nil }

// compareNumbers compares exactly. Rounding to a float never turns two numbers
// around, so only where the floats are the same are the digits looked at.
func compareNumbers(a, b Value) int {
	switch {
	case a.number < b.number:
		return -1
	case a.number > b.number:
		return 1
	case a.plain() && b.plain():
		return 0
	}
	return ast.NumberCompare(ast.Number(a.Digits()), ast.Number(b.Digits()))
}

// compareObjects compares key by key, each with its value, in the order of keys.
func compareObjects(a, b *group) int {
	left, right := a.scan(Object), b.scan(Object)
	for {
		leftKey, leftValue, more := left.next()
		rightKey, rightValue, also := right.next()
		if !more || !also {
			return cmp.Compare(truth(more), truth(also))
		}
		if order := cmp.Or(Compare(leftKey, rightKey), Compare(leftValue, rightValue)); order != 0 {
			return order
		}
	}
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}

// appendKey appends a form of a value that is the same for equal values only.
func appendKey(key []byte, v Value) []byte {
	key = append(key, byte(v.kind))
	switch v.kind {
	case Number:
		if !v.plain() && (math.IsInf(v.number, 0) || ast.NumberCompare(ast.Number(v.Digits()), ast.Number(strconv.FormatFloat(v.number, 'g', -1, 64))) != 0) {
			return append(append(append(key, '='), v.Digits()...), 0)
		}
		key = strconv.AppendUint(key, math.Float64bits(v.number+0), 36) // -0 is 0
		return append(key, 0)
	case Text:
		key = strconv.AppendInt(key, int64(len(v.text)), 10)
		return append(append(key, ':'), v.text...)
	case Array, Object, Set:
		for members := v.group.scan(v.kind); ; {
			name, member, more := members.next()
			if !more {
				return append(key, 0)
			}
			if v.kind == Object {
				key = appendKey(key, name)
			}
			key = appendKey(key, member)
		}
	}
	return key
}
