// Package source turns the bytes of a JSON file into a checked document that
// knows where everything stands. It reads strictly (duplicate names, bad UTF-8,
// trailing data and numbers that no program can hold are refused, each at its
// line and column) and finds the place of a JSON Pointer when somebody asks.
// It imports nothing of the module.
package source

import (
	"fmt"
	"sync"
)

// Limits bounds what Parse accepts. A zero field takes the default.
type Limits struct {
	// MaxBytes is the largest file, in bytes.
	MaxBytes int
	// MaxDepth is the deepest nesting of lists and objects.
	MaxDepth int
	// MaxValues is the largest number of values (each text, number, list,
	// object and so on counts as one).
	MaxValues int
}

// DefaultLimits returns the limits that a zero Limits stands for: 16 MiB, 100
// levels, 200,000 values.
func DefaultLimits() Limits {
	return Limits{MaxBytes: 16 << 20, MaxDepth: 100, MaxValues: 200_000}
}

// orDefault fills the zero fields of l with the defaults.
func (l Limits) orDefault() Limits {
	standard := DefaultLimits()
	if l.MaxBytes <= 0 {
		l.MaxBytes = standard.MaxBytes
	}
	if l.MaxDepth <= 0 {
		l.MaxDepth = standard.MaxDepth
	}
	if l.MaxValues <= 0 {
		l.MaxValues = standard.MaxValues
	}
	return l
}

// Document is a file that was read without a problem. It is safe for
// concurrent use; nobody may change the bytes it was made from.
type Document struct {
	name  string
	data  []byte
	text  func() string // data, of which the value and the lines are parts
	value any
	lines func() *Lines
}

// newDocument wraps data; the line table is built when first wanted.
func newDocument(name string, data []byte) *Document {
	text := sync.OnceValue(func() string { return string(data) })
	return &Document{name: name, data: data, text: text, lines: sync.OnceValue(func() *Lines { return newLines(text()) })}
}

// TextOnly returns the document without the value that was read, for whoever
// keeps many documents and needs their bytes and places alone. Its value is nil.
func (d *Document) TextOnly() *Document { return newDocument(d.name, d.data) }

// Parse reads data strictly as one JSON value. When there is any problem the
// document is nil. A syntax problem ends the reading, so there is at most one;
// the duplicate names and impossible numbers before it are listed as well. It
// never panics.
//
// The document keeps data; the caller must not change it afterwards.
func Parse(name string, data []byte, limits Limits) (*Document, []Problem) {
	limits = limits.orDefault()
	if len(data) > limits.MaxBytes {
		return nil, []Problem{{Name: name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1, Message: fmt.Sprintf(
			"the file is %d bytes long; the limit is %d bytes. Split it into smaller files", len(data), limits.MaxBytes)}}
	}
	doc := newDocument(name, data)
	if problem, bad := doc.checkEncoding(); bad {
		return nil, []Problem{problem}
	}
	r := newReader(doc, limits)
	value := r.readDocument()
	if problems := r.sortedProblems(); len(problems) > 0 {
		return nil, problems
	}
	doc.value = value
	return doc, nil
}

// Name returns the name that Parse was given.
func (d *Document) Name() string { return d.name }

// Bytes returns the bytes of the document. Nobody may change them.
func (d *Document) Bytes() []byte { return d.data }

// Value returns the decoded document: map[string]any, []any, string, bool, nil
// and json.Number, which holds a number exactly as it is written. Nobody may
// change it.
func (d *Document) Value() any { return d.value }

// Lines returns the line table of the document.
func (d *Document) Lines() *Lines { return d.lines() }
