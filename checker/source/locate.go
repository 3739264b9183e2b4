package source

import (
	"bytes"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// Span is a range of bytes, the end exclusive.
type Span struct{ Start, End int }

// Place is where a JSON Pointer leads.
type Place struct {
	// Pointer is what was asked for.
	Pointer string
	// Found is the pointer of the nearest thing that exists: Pointer itself,
	// or an ancestor of it.
	Found string
	// Exists says whether Found is Pointer.
	Exists bool
	// HasKey is true when Found is a member of an object, and Key is the
	// span of its name, quotes included.
	HasKey bool
	Key    Span
	// Value is the span of the value at Found.
	Value Span
	// Open is true when the value is an object or a list.
	Open bool
}

// Mark returns the span to show for the place. A value that exists is marked
// whole. For something absent, the opening bracket of the nearest thing that
// exists is enough: that is where it should be added.
func (p Place) Mark() Span {
	if !p.Exists && p.Open {
		return Span{p.Value.Start, p.Value.Start + 1}
	}
	return p.Value
}

// Range is a span as lines and columns, 1-based, in code points, the end
// exclusive.
type Range struct{ Start, End Position }

// Range turns a span of the document into lines and columns.
func (d *Document) Range(span Span) Range {
	return Range{d.Lines().Position(span.Start), d.Lines().Position(span.End)}
}

// Locate finds the places of pointers, in the order asked. It reads the
// document once, however many pointers there are, and skips every branch that
// nobody asked for; so ask for all pointers together.
func (d *Document) Locate(pointers ...string) []Place {
	root := &branch{}
	nodes := make([]*branch, len(pointers))
	for i, pointer := range pointers {
		nodes[i] = root.add(Tokens(pointer))
	}
	if len(pointers) > 0 {
		w := newWalker(d.data)
		_ = w.visit(root) // an error ends the walk: what follows is absent
	}
	places := make([]Place, len(pointers))
	for i, node := range nodes {
		places[i] = node.place(pointers[i])
	}
	return places
}

// branch is one node of the trie of wanted pointers.
type branch struct {
	parent   *branch
	children map[string]*branch
	found    bool
	hasKey   bool
	open     bool
	key      Span
	value    Span
}

// add enters a path below b and returns its last node.
func (b *branch) add(tokens []string) *branch {
	for _, token := range tokens {
		child := b.children[token]
		if child == nil {
			if b.children == nil {
				b.children = map[string]*branch{}
			}
			child = &branch{parent: b}
			b.children[token] = child
		}
		b = child
	}
	return b
}

// place returns what was found of a pointer that ends at b.
func (b *branch) place(pointer string) Place {
	exists, found := b.found, pointer
	if found != "" && !strings.HasPrefix(found, "/") {
		found = "/" + found
	}
	for !b.found && b.parent != nil {
		b, found = b.parent, Parent(found)
	}
	return Place{Pointer: pointer, Found: found, Exists: exists, HasKey: b.hasKey, Key: b.key, Value: b.value, Open: b.open}
}

// walker reads a document for the branches that are wanted.
type walker struct {
	data []byte
	dec  *jsontext.Decoder
}

// newWalker starts at the beginning of data, which Parse has accepted.
func newWalker(data []byte) *walker {
	return &walker{data, jsontext.NewDecoder(bytes.NewBuffer(data),
		jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true))}
}

// start returns the offset of the next token, past white space and separators.
func (w *walker) start() int {
	at := int(w.dec.InputOffset())
	for at < len(w.data) {
		switch w.data[at] {
		case ' ', '\t', '\r', '\n', ',', ':':
			at++
		default:
			return at
		}
	}
	return at
}

// visit reads the next value, which is what b stands for.
func (w *walker) visit(b *branch) error {
	b.value.Start = w.start()
	kind := w.dec.PeekKind()
	b.open = kind == '{' || kind == '['
	var err error
	switch {
	case kind == '{' && b.children != nil:
		err = w.visitObject(b)
	case kind == '[' && b.children != nil:
		err = w.visitList(b)
	default:
		err = w.dec.SkipValue()
	}
	b.value.End = int(w.dec.InputOffset())
	b.found = b.value.End > b.value.Start
	return err
}

// visitObject reads an object and enters the members that are wanted. When a
// name stands twice the first counts.
func (w *walker) visitObject(b *branch) error {
	if _, err := w.dec.ReadToken(); err != nil {
		return err
	}
	for w.dec.PeekKind() == '"' {
		start := w.start()
		name, err := w.dec.ReadToken()
		if err != nil {
			return err
		}
		child := b.children[name.String()]
		if child == nil || child.found {
			if err := w.dec.SkipValue(); err != nil {
				return err
			}
			continue
		}
		child.hasKey, child.key = true, Span{start, int(w.dec.InputOffset())}
		if err := w.visit(child); err != nil {
			return err
		}
	}
	_, err := w.dec.ReadToken()
	return err
}

// visitList reads a list and enters the entries that are wanted.
func (w *walker) visitList(b *branch) error {
	if _, err := w.dec.ReadToken(); err != nil {
		return err
	}
	var digits [20]byte
	for i := 0; w.dec.PeekKind() != ']'; i++ {
		child := b.children[string(strconv.AppendInt(digits[:0], int64(i), 10))]
		var err error
		if child == nil {
			err = w.dec.SkipValue()
		} else {
			err = w.visit(child)
		}
		if err != nil {
			return err
		}
	}
	_, err := w.dec.ReadToken()
	return err
}
