package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"unicode/utf16"
	"unicode/utf8"
)

// printer writes values as indented JSON that is safe to look at, one after the
// other in the same memory.
type printer struct {
	compact bytes.Buffer
	encoder *json.Encoder
	text    []byte
}

func newPrinter() *printer {
	p := &printer{}
	p.encoder = json.NewEncoder(&p.compact)
	p.encoder.SetEscapeHTML(false)
	return p
}

// print is a value with every line but the first that far in, without an end of
// line. It holds until the next value is printed.
func (p *printer) print(value any, in string) ([]byte, error) {
	p.compact.Reset()
	if err := p.encoder.Encode(value); err != nil {
		return nil, err
	}
	p.text = appendIndented(p.text[:0], bytes.TrimSuffix(p.compact.Bytes(), []byte("\n")), in)
	return p.text, nil
}

// appendIndented appends a JSON text without white space, with it.
func appendIndented(out, compact []byte, in string) []byte {
	depth := 0
	newLine := func() {
		out = append(append(out, '\n'), in...)
		for range depth {
			out = append(out, "  "...)
		}
	}
	for at := 0; at < len(compact); at++ {
		switch c := compact[at]; c {
		case '"':
			end := endOfString(compact, at)
			out = appendSafe(out, compact[at:end])
			at = end - 1
		case '{', '[':
			out = append(out, c)
			if next := compact[at+1]; next == '}' || next == ']' {
				out = append(out, next)
				at++
				continue
			}
			depth++
			newLine()
		case '}', ']':
			depth--
			newLine()
			out = append(out, c)
		case ',':
			out = append(out, c)
			newLine()
		case ':':
			out = append(out, ": "...)
		default:
			out = append(out, c)
		}
	}
	return out
}

// endOfString is the end of the string that begins at start.
func endOfString(text []byte, start int) int {
	for at := start + 1; at < len(text); at++ {
		switch text[at] {
		case '\\':
			at++
		case '"':
			return at + 1
		}
	}
	return len(text)
}

// appendSafe appends JSON text with the unsafe characters as \u escapes, so that
// the data stays the same. Such characters stand only inside strings; the ends of
// lines stay.
func appendSafe(out, text []byte) []byte {
	begin := 0
	for at := 0; at < len(text); {
		if c := text[at]; c >= ' ' && c <= '~' || c == '\n' {
			at++
			continue
		}
		r, size := utf8.DecodeRune(text[at:])
		if unsafeRune(r) {
			out = append(out, text[begin:at]...)
			for _, unit := range utf16.Encode([]rune{r}) {
				out = fmt.Appendf(out, `\u%04x`, unit)
			}
			begin = at + size
		}
		at += size
	}
	return append(out, text[begin:]...)
}
