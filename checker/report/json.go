package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"unicode/utf16"
)

// JSON writes the report in its published form, schema/report.schema.json.
func JSON(w io.Writer, r *Report) error {
	if err := writeJSON(w, r); err != nil {
		return fmt.Errorf("write the report as JSON: %w", err)
	}
	return nil
}

// writeJSON writes a value as indented JSON. Characters that could steer a
// terminal are written as escapes, so that the data stays the same and the text
// is safe to look at.
func writeJSON(w io.Writer, value any) error {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	if err := encoder.Encode(value); err != nil {
		return err
	}
	_, err := w.Write(escapeUnsafe(b.Bytes()))
	return err
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
