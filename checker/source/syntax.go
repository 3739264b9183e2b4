package source

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/go-json-experiment/json/jsontext"
)

// fault is what is wrong with the grammar, and where.
type fault struct {
	span    Span
	message string
}

// faultf makes a fault.
func faultf(start, end int, format string, args ...any) fault {
	return fault{Span{start, end}, fmt.Sprintf(format, args...)}
}

// addSyntax records what is wrong after the last token that was read. The
// decoder has said that something is; this reads on from there with what the
// grammar allowed, to say it in words a person can act on.
func (r *reader) addSyntax(err error) {
	found, ok := r.explain()
	if !ok {
		found = r.unexplained(err)
	}
	end := len(r.doc.data)
	found.span.Start = min(found.span.Start, end)
	found.span.End = min(max(found.span.Start, found.span.End), end)
	r.add(found.span, found.message)
}

// unexplained falls back on the decoder's own word for the error.
func (r *reader) unexplained(err error) fault {
	at := r.offset()
	var syntax *jsontext.SyntacticError
	if errors.As(err, &syntax) {
		at = int(syntax.ByteOffset)
		err = syntax.Err
	}
	return faultf(at, at+1, "this is not valid JSON: %v", err)
}

// explain finds the fault after the last token.
func (r *reader) explain() (fault, bool) {
	data := r.doc.data
	at := skipSpace(data, r.offset())
	if len(r.frames) > 0 && r.top().state == wantComma {
		if found, ok := r.glued(at, r.top().last.End); ok {
			return found, true
		}
	}
	if found, ok := r.stray(at); ok {
		return found, true
	}
	switch {
	case len(r.frames) == 0:
		return r.explainValue(at)
	case at >= len(data):
		return r.truncated(), true
	}
	switch state := r.top().state; {
	case state == wantFirst:
		return r.explainItem(at, -1)
	case state == wantColon && data[at] == ':':
		return r.explainValue(skipSpace(data, at+1))
	case state == wantColon:
		return r.explainColon(at), true
	case data[at] == ',':
		return r.explainItem(skipSpace(data, at+1), at)
	}
	return r.explainComma(at), true
}

// explainItem explains what stands where a name or an entry should. comma is
// the offset of the comma before it, or -1.
func (r *reader) explainItem(at, comma int) (fault, bool) {
	if at >= len(r.doc.data) {
		return r.truncated(), true
	}
	top, c := r.top(), r.doc.data[at]
	switch {
	case c == ',':
		return faultf(at, at+1, "there is a comma too many here; remove it"), true
	case c == top.closer() && comma >= 0:
		return faultf(comma, comma+1, "the comma before the closing %c must go: nothing follows it", c), true
	case c == '}' || c == ']':
		return r.mismatch(at), true
	case !top.object:
		return r.explainValue(at)
	case c == '"':
		return r.explainText(at)
	}
	return r.explainName(at, comma)
}

// explainColon explains what stands where the colon after a name should.
func (r *reader) explainColon(at int) fault {
	name := r.doc.data[r.top().last.Start:r.top().last.End]
	end := r.top().last.End
	switch {
	case r.doc.data[at] == '=':
		return faultf(at, at+1, "a colon stands between a name and its value: write %s: …", r.nameText())
	case bytes.ContainsAny(name, ":,") || isWordByte(r.doc.data[at]) && at == end:
		return faultf(r.top().last.Start, end, "the name %s has no colon after it; a double quote may be missing or too many near here", r.nameText())
	}
	return faultf(end, end+1, "the name %s needs a colon and a value after it", r.nameText())
}

// nameText returns the name read last as it is written, for a message.
func (r *reader) nameText() string {
	name := string(r.doc.data[r.top().last.Start+1 : r.top().last.End-1])
	return `"` + clip(name) + `"`
}

// explainComma explains what stands where a comma or an end should.
func (r *reader) explainComma(at int) fault {
	data, top := r.doc.data, r.top()
	end, c := top.last.End, data[at]
	switch {
	case at == end && isWordByte(c) && data[end-1] == '"':
		return faultf(end-1, end, `the text ends at this double quote; inside text, write it as \"`)
	case at == end && isWordByte(c):
		return explainWord(data, wordStart(data, end))
	case c == '}' || c == ']':
		return r.mismatch(at)
	case c == ':' && !top.object:
		return faultf(at, at+1, "a name with a value belongs in an object, but the list that begins at %s is still open", r.place(top.start))
	case c == ':':
		return faultf(at, at+1, "there is a colon too many here; a comma or a double quote may be missing before it")
	case c == ';':
		return faultf(at, at+1, "entries are separated by a comma, not a semicolon")
	case c != '"' && c != '{' && c != '[' && !isWordByte(c):
		return faultf(at, wordEnd(data, at), "a comma or a closing %c is expected here, not %s", top.closer(), quote(string(data[at:wordEnd(data, at)])))
	case !top.object && c == '"' && r.isName(at):
		return faultf(end, end, "the list that begins at %s has no closing ] before the next name", r.place(top.start))
	}
	return faultf(end, end, "a comma is missing here")
}

// isName says whether the text at at is followed by a colon.
func (r *reader) isName(at int) bool {
	data := r.doc.data
	for i := at + 1; i < len(data) && data[i] >= ' '; i++ {
		switch data[i] {
		case '\\':
			i++
		case '"':
			next := skipSpace(data, i+1)
			return next < len(data) && data[next] == ':'
		}
	}
	return false
}

// truncated explains the end of the file inside something.
func (r *reader) truncated() fault {
	end := len(bytes.TrimRight(r.doc.data, " \t\r\n"))
	if len(r.frames) == 0 {
		return faultf(end, end, "the file ends before its value; the end may be missing")
	}
	top := r.top()
	more := ""
	if n := len(r.frames) - 1; n > 0 {
		more = fmt.Sprintf(" (and %d more around it)", n)
	}
	return faultf(end, end, "the file ends too early: the %s that begins at %s%s has no closing %c; the end of the file may be missing",
		top.noun(), r.place(top.start), more, top.closer())
}

// mismatch explains a closing bracket of the wrong kind.
func (r *reader) mismatch(at int) fault {
	top, c := r.top(), r.doc.data[at]
	return faultf(at, at+1, "found %c, but the %s that begins at %s is still open and closes with %c",
		c, top.noun(), r.place(top.start), top.closer())
}

// trailing explains what follows the one value of the file.
func (r *reader) trailing(at int) (Span, string) {
	if found, ok := r.stray(at); ok {
		return found.span, found.message
	}
	c := r.doc.data[at]
	last := r.doc.Lines().Position(r.offset()).Line
	switch c {
	case '}', ']':
		return Span{at, at + 1}, fmt.Sprintf("there is a closing %c too many: the value that the file holds ends on line %d", c, last)
	case ',':
		return Span{at, at + 1}, fmt.Sprintf("the value that the file holds ends on line %d; remove this comma and what follows", last)
	case '{', '[':
		return Span{at, at + 1}, fmt.Sprintf("a second value begins here; a file holds one, and it ends on line %d", last)
	}
	return Span{at, wordEnd(r.doc.data, at)}, fmt.Sprintf("the value that the file holds ends on line %d; remove what follows it", last)
}

// place writes the line and column of an offset.
func (r *reader) place(offset int) string {
	p := r.doc.Lines().Position(offset)
	return fmt.Sprintf("%d:%d", p.Line, p.Column)
}

// closer returns the bracket that closes the frame.
func (f *frame) closer() byte {
	if f.object {
		return '}'
	}
	return ']'
}

// noun returns what the frame is called.
func (f *frame) noun() string {
	if f.object {
		return "object"
	}
	return "list"
}
