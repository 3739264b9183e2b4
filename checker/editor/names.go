package editor

import (
	"sort"
	"strconv"
	"strings"

	"duskproof/checker/source"
)

// at is the innermost value at an offset, -1 where there is none. The name of a
// member belongs to its value.
func (t *tree) at(offset int) int {
	after := sort.Search(len(t.nodes), func(i int) bool { return t.nodes[i].value.start > offset })
	if after < len(t.nodes) && t.nodes[after].key != (span{}) && t.nodes[after].key.holds(offset) {
		return after
	}
	i := after - 1
	for i >= 0 && !t.nodes[i].value.holds(offset) {
		i = t.nodes[i].parent
	}
	return i
}

// find is the value that a JSON Pointer leads to, -1 where there is none.
func (t *tree) find(pointer string) int {
	at := 0
	if len(t.nodes) == 0 {
		return -1
	}
	for _, token := range source.Tokens(pointer) {
		if at = t.child(at, token); at < 0 {
			return -1
		}
	}
	return at
}

// child is the member of an object, or the entry of a list, that a token of a
// pointer names.
func (t *tree) child(parent int, token string) int {
	index, err := strconv.Atoi(token)
	for i := parent + 1; i < len(t.nodes) && t.nodes[i].value.start <= t.nodes[parent].value.end; i++ {
		n := &t.nodes[i]
		named := n.key != span{}
		if n.parent == parent && (named && n.name == token || !named && err == nil && n.index == index) {
			return i
		}
	}
	return -1
}

// element is one element of a plan, as it is written.
type element struct {
	id   string
	node int // the object
	name int // the word that gives the id
}

// elements are the elements that a text defines, in the order of the text. Where
// an id is taken twice the first has it.
func (t *tree) elements() []element {
	var out []element
	seen := map[string]bool{}
	for i := range t.nodes {
		n := &t.nodes[i]
		if n.shape == nil || n.shape.role != defines || n.kind != word || n.parent < 0 || seen[n.text] {
			continue
		}
		seen[n.text] = true
		out = append(out, element{id: n.text, node: n.parent, name: i})
	}
	return out
}

// kindOf says what an element is, from the section that it stands in: "leg",
// "branch circuit".
func (t *tree) kindOf(e element) string {
	n := &t.nodes[e.node]
	if t.child(e.node, "array") >= 0 {
		return "array"
	}
	for n.key == (span{}) && n.parent >= 0 {
		n = &t.nodes[n.parent]
	}
	return strings.ReplaceAll(strings.TrimSuffix(n.name, "s"), "_", " ")
}

// book knows the names of a text.
type book struct {
	tree   *tree
	all    []element
	byID   map[string]element
	byNode map[int]element
	groups map[string]bool // names of switching groups
}

func newBook(t *tree) *book {
	b := &book{tree: t, all: t.elements(), byID: map[string]element{}, byNode: map[int]element{}, groups: map[string]bool{}}
	for _, e := range b.all {
		b.byID[e.id], b.byNode[e.node] = e, e
	}
	for i := range t.nodes {
		if n := &t.nodes[i]; n.kind == word && n.shape != nil && n.shape.role == groups {
			b.groups[n.text] = true
		}
	}
	return b
}

// around are the elements that a value lies in, the innermost first. A step of a
// chain is the leg that it makes.
func (b *book) around(at int) []element {
	var out []element
	for ; at >= 0; at = b.tree.nodes[at].parent {
		if e, is := b.byNode[at]; is {
			out = append(out, e)
		} else if e, is := b.chainLeg(at); is {
			out = append(out, e)
		}
	}
	return out
}

// owner is the element that an id belongs to, and the rest of the id: the stair
// of the tread "lower/2", the array of the fixture "P-3", the run of the leg
// "R1/P4" of a chain. An element's own id has no rest.
func (b *book) owner(id string) (e element, rest string, ok bool) {
	if e, ok = b.byID[id]; ok {
		return e, "", true
	}
	if i := strings.IndexByte(id, '/'); i > 0 {
		e, ok = b.byID[id[:i]]
		return e, id[i:], ok
	}
	if i := strings.LastIndexByte(id, '-'); i > 0 && isNumber(id[i+1:]) {
		if e, ok = b.byID[id[:i]]; ok && b.tree.kindOf(e) == "array" {
			return e, id[i:], true
		}
	}
	return element{}, "", false
}

func isNumber(text string) bool {
	return text != "" && !strings.ContainsFunc(text, func(r rune) bool { return r < '0' || r > '9' })
}

// renamed is what an id becomes when the element old is called by another name;
// it stays as it is when the two have nothing to do with each other.
func (b *book) renamed(id, old, name string) string {
	if id == old {
		return name
	}
	e, rest, ok := b.owner(id)
	if !ok || rest == "" {
		return id
	}
	owner := e.id
	if owner == old {
		owner = name
	}
	if b.tree.kindOf(e) != "run" {
		return owner + rest
	}
	end, times, again := strings.Cut(rest[1:], "/")
	if rest = "/" + b.renamed(end, old, name); again {
		rest += "/" + times
	}
	return owner + rest
}

// meaning is what a word stands for.
type meaning struct {
	role role   // defines for elements, groups, types, ruleID, or none
	name string // of the element, group, type or rule
	// section is the type's section of the catalogue.
	section string
}

// entry is the type of the catalogue that a value is, under its name.
func (b *book) entry(at int) (meaning, bool) {
	n := &b.tree.nodes[at]
	if n.parent < 0 || n.key == (span{}) || n.shape == nil {
		return meaning{}, false
	}
	above := b.tree.nodes[n.parent].shape
	if above == nil || above.entries == "" {
		return meaning{}, false
	}
	return meaning{types, n.name, above.entries}, true
}

// wordOf is what a word stands for.
func (b *book) wordOf(at int) meaning {
	n := &b.tree.nodes[at]
	if n.kind != word || n.shape == nil {
		return meaning{}
	}
	switch n.shape.role {
	case defines, names:
		return meaning{role: defines, name: n.text}
	case excepted:
		if strings.Contains(n.text, "*") {
			return meaning{}
		}
		return meaning{role: defines, name: n.text}
	case switches:
		if b.groups[n.text] {
			return meaning{role: groups, name: n.text}
		}
		return meaning{role: defines, name: n.text}
	case types:
		return meaning{types, n.text, n.shape.section}
	case groups, ruleID:
		return meaning{role: n.shape.role, name: n.text}
	}
	return meaning{}
}

// pointed is what an editor's cursor points at: the meaning of the word or of the
// name under it, and where that stands. Elsewhere the meaning has no role.
func (b *book) pointed(offset int) (meaning, span) {
	at := b.tree.at(offset)
	if at < 0 {
		return meaning{}, span{}
	}
	n := &b.tree.nodes[at]
	if n.key != (span{}) && n.key.holds(offset) {
		m, _ := b.entry(at)
		return m, n.key
	}
	return b.wordOf(at), n.value
}
