package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"iter"
	"unicode/utf16"

	"duskproof/checker/facts"
)

// JSON writes the report in its published form, schema/report.schema.json.
func JSON(w io.Writer, r *Report) error {
	shell := *r
	shell.Plans = []Plan{}
	plans := func(yield func(any) bool) {
		for i := range r.Plans {
			if !yield(&r.Plans[i]) {
				return
			}
		}
	}
	if err := writeList(w, shell, "  ", "plans", plans); err != nil {
		return fmt.Errorf("write the report as JSON: %w", err)
	}
	return nil
}

// writeList writes a value as indented JSON, with the entries of one list of it
// written one after the other, so that memory holds no more than one of them as
// text. The list is empty in the value; it is the member of that name that stands
// that far in.
func writeList(w io.Writer, shell any, in, name string, entries iter.Seq[any]) error {
	text, err := indented(shell, "")
	if err != nil {
		return err
	}
	opening := []byte("\n" + in + `"` + name + `": [`) // no string holds an end of line
	before, after, found := bytes.Cut(text, append(opening, ']'))
	if !found {
		return fmt.Errorf("no empty list %s", name)
	}
	if _, err := w.Write(append(before, opening...)); err != nil {
		return err
	}
	separator, end := "\n  "+in, ""
	for entry := range entries {
		text, err := indented(entry, "  "+in)
		if err != nil {
			return err
		}
		if _, err := w.Write(append([]byte(separator), bytes.TrimSuffix(text, []byte("\n"))...)); err != nil {
			return err
		}
		separator, end = ",\n  "+in, "\n"+in
	}
	_, err = w.Write(append([]byte(end+"]"), after...))
	return err
}

// indented is a value as JSON, safe to look at, with every line but the first
// that far in.
func indented(value any, in string) ([]byte, error) {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent(in, "  ")
	if err := encoder.Encode(value); err != nil {
		return nil, err
	}
	return escapeUnsafe(b.Bytes()), nil
}

// writeJSON writes a value as indented JSON. Characters that could steer a
// terminal are written as escapes, so that the data stays the same and the text
// is safe to look at.
func writeJSON(w io.Writer, value any) error {
	text, err := indented(value, "")
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// FactsJSON writes the facts of a plan as indented JSON, safe to look at.
func FactsJSON(w io.Writer, doc *facts.Document) error {
	if err := writeJSON(w, doc); err != nil {
		return fmt.Errorf("write the facts: %w", err)
	}
	return nil
}

// escapeUnsafe writes the unsafe characters of a JSON text as \u escapes. Such
// characters stand only inside strings; the ends of lines stay.
func escapeUnsafe(text []byte) []byte {
	safe := func(r rune) bool { return r == '\n' || !unsafeRune(r) }
	if !bytes.ContainsFunc(text, func(r rune) bool { return !safe(r) }) {
		return text
	}
	out := make([]byte, 0, len(text)+len(text)/8)
	for _, r := range string(text) {
		if safe(r) {
			out = append(out, string(r)...)
			continue
		}
		for _, unit := range utf16.Encode([]rune{r}) {
			out = fmt.Appendf(out, `\u%04x`, unit)
		}
	}
	return out
}
