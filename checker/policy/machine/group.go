package machine

import (
	"math/big"
	"slices"
)

// group is what an Array, an Object or a Set holds, or a Number that was computed.
type group struct {
	exact *big.Float // of a Number: what it is exactly

	shape *shape  // of an object made of a struct: its keys
	keys  []Value // of any other object
	items []Value // members; of an object, the values of its keys
	// index finds the members of a set and the keys of an object once there
	// are many. It is renewed when they are put in order.
	index  map[string]int
	sorted bool
}

// few is how many keys are looked through one by one.
const few = 8

// ArrayOf returns an array.
func ArrayOf(items []Value) Value { return Value{kind: Array, group: &group{items: items}} }

// Len returns how many members an Array, Object or Set has.
func (v Value) Len() int {
	if v.group == nil {
		return 0
	}
	if v.group.shape == nil {
		return len(v.group.items)
	}
	n := 0
	for i := range v.group.items {
		n += truth(v.group.items[i].kind != Undefined)
	}
	return n
}

// Get returns the value of a key of an Object, an Array or a Set; undefined when
// there is none.
func (v Value) Get(key Value) Value {
	switch v.kind {
	case Array:
		i, ok := key.integer()
		if ok && i >= 0 && int(i) < len(v.group.items) {
			return v.group.items[i]
		}
	case Object:
		if i := v.group.find(key); i >= 0 {
			return v.group.items[i]
		}
	case Set:
		if v.group.find(key) >= 0 {
			return key
		}
	}
	return Value{}
}

// Field returns the value of a key that is text; undefined when there is none.
func (v Value) Field(name string) Value {
	if v.kind != Object {
		return Value{}
	}
	return v.Get(TextValue(name))
}

// Has says whether an Object has a key.
func (v Value) Has(name string) bool { return v.Field(name).kind != Undefined }

// names returns what a group is searched by: the keys of an object, the members
// of a set.
func (g *group) names(kind Kind) []Value {
	if kind == Object {
		return g.keys
	}
	return g.items
}

// find returns where a key is, or -1.
func (g *group) find(key Value) int {
	if g.shape != nil {
		return g.shape.find(key)
	}
	names := g.items
	if g.keys != nil {
		names = g.keys
	}
	if g.index != nil {
		var room [64]byte
		if i, found := g.index[string(appendKey(room[:0], key))]; found {
			return i
		}
		return -1
	}
	for i := range names {
		if names[i].kind == key.kind && Compare(names[i], key) == 0 {
			return i
		}
	}
	return -1
}

// add adds a member to a set, or a key to an object, and returns its place.
func (g *group) add(key Value, kind Kind) int {
	if i := g.find(key); i >= 0 {
		return i
	}
	i := len(g.items)
	g.sorted = false
	if kind == Object {
		g.keys, g.items = append(g.keys, key), append(g.items, Value{})
	} else {
		g.items = append(g.items, key)
	}
	if g.index != nil {
		g.index[string(appendKey(nil, key))] = i
	} else if i+1 > few {
		g.remember(kind)
	}
	return i
}

// put gives a key of an object a value.
func (g *group) put(key, value Value) { g.items[g.add(key, Object)] = value }

// remember makes the index.
func (g *group) remember(kind Kind) {
	names := g.names(kind)
	g.index = make(map[string]int, 2*len(names))
	for i := range names {
		g.index[string(appendKey(nil, names[i]))] = i
	}
}

// inOrder puts the members of a set in order and returns them.
func (g *group) inOrder() []Value {
	if !g.sorted {
		slices.SortFunc(g.items, Compare)
		g.sorted = true
		if g.index != nil {
			g.remember(Set)
		}
	}
	return g.items
}

// keysInOrder puts the keys of an object in order, each with its value.
func (g *group) keysInOrder() {
	if g.sorted {
		return
	}
	order := make([]int, len(g.keys))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return Compare(g.keys[a], g.keys[b]) })
	keys, items := make([]Value, len(order)), make([]Value, len(order))
	for to, from := range order {
		keys[to], items[to] = g.keys[from], g.items[from]
	}
	g.keys, g.items, g.sorted = keys, items, true
	if g.index != nil {
		g.remember(Object)
	}
}

// scan goes through a group in the engine's order.
type scan struct {
	group *group
	kind  Kind
	at    int
}

// scan begins to go through a group.
func (g *group) scan(kind Kind) scan {
	switch {
	case kind == Set:
		g.inOrder()
	case kind == Object && g.shape == nil:
		g.keysInOrder()
	}
	return scan{group: g, kind: kind}
}

// scan begins to go through a value, which has no members unless it is a group.
func (v Value) scan() scan {
	if v.group == nil {
		return scan{}
	}
	return v.group.scan(v.kind)
}

// next returns the next key and its value: of an array the place, of a set the
// member itself.
func (s *scan) next() (key, value Value, more bool) {
	g := s.group
	for g != nil && s.at < len(g.items) {
		i := s.at
		s.at++
		switch {
		case s.kind == Array:
			return wholeOf(int64(i)), g.items[i], true
		case s.kind == Set:
			return g.items[i], g.items[i], true
		case g.shape == nil:
			return g.keys[i], g.items[i], true
		}
		place := g.shape.order[i]
		if g.items[place].kind != Undefined {
			return g.shape.keys[place], g.items[place], true
		}
	}
	return Value{}, Value{}, false
}

// Each visits the members of an Array, Object or Set in order.
func (v Value) Each(visit func(key, value Value)) {
	if v.group == nil {
		return
	}
	for members := v.group.scan(v.kind); ; {
		key, value, more := members.next()
		if !more {
			return
		}
		visit(key, value)
	}
}
