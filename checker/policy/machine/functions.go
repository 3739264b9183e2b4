package machine

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// natives are built-in functions that rules call often. Each has the engine's
// answer for the arguments that it knows, and leaves all others to the engine.
// The comparisons are operations of their own.
var natives = map[string]func([]Value) (Value, error){
	"abs":               abs.call,
	"concat":            concat,
	"count":             count,
	"div":               div.call,
	"floor":             floor.call,
	"internal.member_2": member,
	"minus":             minus.call,
	"mul":               mul.call,
	"object.get":        objectGet,
	"object.union":      objectUnion,
	"plus":              plus.call,
	"rem":               rem.call,
	"round":             round.call,
	"sort":              sorted,
	"sprintf":           sprintf,
	"sum":               sum,
	"trim_suffix":       trimSuffix,
}

// comparisons are built-in functions that are operations where their answer is only
// asked for its truth.
var comparisons = map[string]operation{
	"equal": opEqual, "neq": opNotEqual, "lt": opLess, "lte": opLessOrEqual, "gt": opGreater, "gte": opGreaterOrEqual,
}

func concat(v []Value) (Value, error) {
	separator, list := v[0], v[1]
	if separator.kind != Text || list.kind != Array && list.kind != Set {
		return byEngine("concat", v)
	}
	if list.kind == Set {
		list.group.inOrder()
	}
	words := make([]string, 0, len(list.group.items))
	for _, item := range list.group.items {
		if item.kind != Text {
			return byEngine("concat", v)
		}
		words = append(words, item.text)
	}
	return TextValue(strings.Join(words, separator.text)), nil
}

func count(v []Value) (Value, error) {
	switch v[0].kind {
	case Text:
		return wholeOf(int64(utf8.RuneCountInString(v[0].text))), nil
	case Array, Object, Set:
		return wholeOf(int64(v[0].Len())), nil
	}
	return byEngine("count", v)
}

func member(v []Value) (Value, error) {
	switch v[1].kind {
	case Array:
		return Bool(slices.ContainsFunc(v[1].group.items, func(item Value) bool { return Compare(item, v[0]) == 0 })), nil
	case Set:
		return Bool(v[1].group.find(v[0]) >= 0), nil
	}
	return byEngine("internal.member_2", v)
}

func objectGet(v []Value) (Value, error) {
	if v[0].kind != Object || v[1].kind == Array {
		return byEngine("object.get", v)
	}
	if found := v[0].Get(v[1]); found.kind != Undefined {
		return found, nil
	}
	return v[2], nil
}

// objectUnion puts two objects together; where both have a key, the second wins,
// and objects below it are put together the same way.
func objectUnion(v []Value) (Value, error) {
	if v[0].kind != Object || v[1].kind != Object {
		return byEngine("object.union", v)
	}
	g := &group{}
	v[0].Each(g.put)
	var err error
	v[1].Each(func(key, value Value) {
		if i := g.find(key); i >= 0 && value.kind == Object && g.items[i].kind == Object {
			value, err = objectUnion([]Value{g.items[i], value})
		}
		g.put(key, value)
	})
	return Value{kind: Object, group: g}, err
}

func trimSuffix(v []Value) (Value, error) {
	if v[0].kind != Text || v[1].kind != Text {
		return byEngine("trim_suffix", v)
	}
	return TextValue(strings.TrimSuffix(v[0].text, v[1].text)), nil
}

func sorted(v []Value) (Value, error) {
	switch v[0].kind {
	case Array:
		items := slices.Clone(v[0].group.items)
		slices.SortStableFunc(items, Compare)
		return ArrayOf(items), nil
	case Set:
		return ArrayOf(slices.Clone(v[0].group.inOrder())), nil
	}
	return byEngine("sort", v)
}

// fraction says whether a Number is written with a point or an exponent.
func (v Value) fraction() bool {
	if v.number != math.Trunc(v.number) {
		return true // numbers with digits of their own included: no integer is nearest to a fraction otherwise
	}
	return strings.ContainsAny(v.Digits(), ".eE")
}

// sprintf formats texts and numbers; a number with a point or an exponent is a
// float, any other an integer.
func sprintf(v []Value) (Value, error) {
	if v[0].kind != Text || v[1].kind != Array {
		return byEngine("sprintf", v)
	}
	arguments := make([]any, len(v[1].group.items))
	for i, item := range v[1].group.items {
		n, isInteger := item.integer()
		switch {
		case item.kind == Text:
			arguments[i] = item.text
		case isInteger:
			arguments[i] = n
		case item.kind == Number && item.fraction():
			arguments[i] = item.number
		default:
			return byEngine("sprintf", v)
		}
	}
	return TextValue(fmt.Sprintf(v[0].text, arguments...)), nil
}
