package source

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// maxNumberLength is the longest number accepted, in characters. The longest
// exact decimal form of a float64 that a person would write is far shorter.
const maxNumberLength = 64

// maxMistakes is how many duplicate names and impossible numbers are listed.
const maxMistakes = 100

// errStop ends the reading; the problem is recorded already.
var errStop = errors.New("stop")

// frame is an object or a list that is open while reading.
type frame struct {
	object bool
	start  int
	// last is the span of the member or entry read last; its end is where
	// a missing comma would go.
	last Span
	// state says what may come next.
	state state
}

// state says what the grammar allows next.
type state int

// The states of the reading.
const (
	// wantFirst: the first name or value, or the end of an empty one.
	wantFirst state = iota
	// wantColon: the colon after a name.
	wantColon
	// The value of a name has no state of its own.
	_
	// wantComma: a comma, or the end.
	wantComma
)

// reader reads one document and builds its value. The duplicate names are
// found by the maps it builds, so that each can be reported, and where the
// first of them stands.
type reader struct {
	doc      *Document
	limits   Limits
	dec      *jsontext.Decoder
	frames   []frame
	values   int
	began    int // where the value read last begins
	problems []Problem
	repeats  []repeat
}

// repeat is a name that stands twice in one object.
type repeat struct {
	span    Span
	pointer string
	name    string
}

// newReader starts at the beginning of doc.
func newReader(doc *Document, limits Limits) *reader {
	return &reader{doc: doc, limits: limits,
		dec: jsontext.NewDecoder(bytes.NewBuffer(doc.data), jsontext.AllowDuplicateNames(true))}
}

// readDocument reads exactly one value. Every failure is a problem.
func (r *reader) readDocument() any {
	value, err := r.readValue()
	if err != nil {
		if !errors.Is(err, errStop) {
			r.addSyntax(err)
		}
		return nil
	}
	if at := skipSpace(r.doc.data, int(r.dec.InputOffset())); at < len(r.doc.data) {
		r.add(r.trailing(at))
	}
	return value
}

// add records a problem at a span.
func (r *reader) add(span Span, message string) {
	r.problems = append(r.problems, r.doc.NewProblem(span, string(r.dec.StackPointer()), message))
}

// offset returns the offset after the last token.
func (r *reader) offset() int { return int(r.dec.InputOffset()) }

// readValue reads the next value.
func (r *reader) readValue() (value any, err error) {
	kind := r.dec.PeekKind()
	var raw []byte
	if kind == '{' || kind == '[' {
		_, err = r.dec.ReadToken()
		raw = r.doc.data[:1]
	} else {
		raw, err = r.dec.ReadValue()
	}
	if err != nil {
		return nil, err
	}
	end := r.offset()
	if r.values++; r.values > r.limits.MaxValues {
		r.add(Span{end, end}, fmt.Sprintf("the file holds more than %d values, which is the limit; split it into smaller files", r.limits.MaxValues))
		return nil, errStop
	}
	start := end - len(raw)
	switch kind {
	case '{':
		value, err = r.readObject(start)
	case '[':
		value, err = r.readList(start)
	case '"':
		value, err = r.text(raw, end)
	case '0':
		value, err = r.readNumber(r.doc.text()[start:end], end)
	case 't', 'f':
		value = kind == 't'
	}
	r.began = start
	return value, err
}

// text is the text in quotes that ends at end: where it can be, a part of the text
// of the document.
func (r *reader) text(quoted []byte, end int) (string, error) {
	if bytes.IndexByte(quoted, '\\') < 0 {
		return r.doc.text()[end-len(quoted)+1 : end-1], nil
	}
	unquoted, err := jsontext.AppendUnquote(nil, quoted)
	return string(unquoted), err
}

// plainLength is the longest number without an exponent that is surely neither too
// large nor too close to zero.
const plainLength = 15

// readNumber checks that a program can hold the number.
func (r *reader) readNumber(text string, end int) (any, error) {
	if len(text) <= plainLength && !strings.ContainsAny(text, "eE") {
		return json.Number(text), nil
	}
	span := Span{end - len(text), end}
	var message string
	f, err := strconv.ParseFloat(text, 64)
	switch {
	case len(text) > maxNumberLength:
		message = fmt.Sprintf("this number is %d characters long; write it with at most %d", len(text), maxNumberLength)
	case err != nil || math.IsInf(f, 0):
		message = fmt.Sprintf("the number %s is too large to use; check its exponent", text)
	case f == 0 && nonZeroDigits(text):
		message = fmt.Sprintf("the number %s is too close to zero to use; check its exponent, or write 0", text)
	default:
		return json.Number(text), nil
	}
	r.add(span, message)
	return json.Number("0"), r.tooMany()
}

// tooMany ends the reading when there are too many mistakes to list.
func (r *reader) tooMany() error {
	if len(r.problems)+len(r.repeats) >= maxMistakes {
		return errStop
	}
	return nil
}

// nonZeroDigits says whether the mantissa of a JSON number is not zero.
func nonZeroDigits(text string) bool {
	for _, c := range []byte(text) {
		switch {
		case c >= '1' && c <= '9':
			return true
		case c == 'e' || c == 'E':
			return false
		}
	}
	return false
}

// open enters a list or an object that begins at start.
func (r *reader) open(object bool, start int) error {
	if len(r.frames) >= r.limits.MaxDepth {
		r.add(Span{start, start + 1}, fmt.Sprintf("lists and objects are nested more than %d deep, which is the limit; a closing bracket may be missing", r.limits.MaxDepth))
		return errStop
	}
	r.frames = append(r.frames, frame{object: object, start: start, last: Span{start, start + 1}})
	return nil
}

// top returns the innermost open frame.
func (r *reader) top() *frame { return &r.frames[len(r.frames)-1] }

// close reads the closing bracket and leaves the frame.
func (r *reader) close() error {
	if _, err := r.dec.ReadToken(); err != nil {
		return err
	}
	r.frames = r.frames[:len(r.frames)-1]
	return nil
}

// done records that a member or entry which began at start has been read.
func (r *reader) done(start int) {
	top := r.top()
	top.last, top.state = Span{start, r.offset()}, wantComma
}

// readObject reads the members of an object up to its end.
func (r *reader) readObject(start int) (any, error) {
	if err := r.open(true, start); err != nil {
		return nil, err
	}
	object := map[string]any{}
	for r.dec.PeekKind() != '}' {
		quoted, err := r.dec.ReadValue()
		if err != nil {
			return nil, err
		}
		at := Span{r.offset() - len(quoted), r.offset()}
		name, err := r.text(quoted, at.End)
		if err != nil {
			return nil, err
		}
		r.top().last, r.top().state = at, wantColon
		_, repeated := object[name]
		if repeated {
			r.repeats = append(r.repeats, repeat{at, string(r.dec.StackPointer()), name})
			if err := r.tooMany(); err != nil {
				return nil, err
			}
		}
		value, err := r.readValue()
		if err != nil {
			return nil, err
		}
		if !repeated {
			object[name] = value
		}
		r.done(at.Start)
	}
	return object, r.close()
}

// readList reads the entries of a list up to its end.
func (r *reader) readList(start int) (any, error) {
	if err := r.open(false, start); err != nil {
		return nil, err
	}
	list := []any{}
	for r.dec.PeekKind() != ']' {
		value, err := r.readValue()
		if err != nil {
			return nil, err
		}
		list = append(list, value)
		r.done(r.began)
	}
	return list, r.close()
}

// sortedProblems returns the problems in order, the repeated names among them.
// The places of the first of each name are looked up together.
func (r *reader) sortedProblems() []Problem {
	pointers := make([]string, len(r.repeats))
	for i, again := range r.repeats {
		pointers[i] = again.pointer
	}
	for i, first := range r.doc.Locate(pointers...) {
		again := r.repeats[i]
		line := r.doc.Lines().Position(first.Key.Start).Line
		r.problems = append(r.problems, r.doc.NewProblem(again.span, again.pointer, fmt.Sprintf(
			"the name %s stands twice in this object, first on line %d; keep one of the two", quote(again.name), line)))
	}
	SortProblems(r.problems)
	return r.problems
}
