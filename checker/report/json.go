package report

import (
	"bytes"
	"fmt"
	"io"
	"iter"
	"slices"

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
	p := newPrinter()
	text, err := p.print(shell, "")
	if err != nil {
		return err
	}
	opening := []byte("\n" + in + `"` + name + `": [`) // no string holds an end of line
	before, rest, found := bytes.Cut(text, append(opening, ']'))
	if !found {
		return fmt.Errorf("no empty list %s", name)
	}
	after := append([]byte("]"), rest...) // the next value takes the place of this one
	if _, err := w.Write(slices.Concat(before, opening)); err != nil {
		return err
	}
	separator, end := "\n  "+in, ""
	for entry := range entries {
		if _, err := io.WriteString(w, separator); err != nil {
			return err
		}
		text, err := p.print(entry, "  "+in)
		if err != nil {
			return err
		}
		if _, err := w.Write(text); err != nil {
			return err
		}
		separator, end = ",\n  "+in, "\n"+in
	}
	_, err = w.Write(slices.Concat([]byte(end), after, []byte("\n")))
	return err
}

// writeJSON writes a value as indented JSON. Characters that could steer a
// terminal are written as escapes, so that the data stays the same and the text
// is safe to look at.
func writeJSON(w io.Writer, value any) error {
	text, err := newPrinter().print(value, "")
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

// FactsJSON writes the facts of a plan as indented JSON, safe to look at.
func FactsJSON(w io.Writer, doc *facts.Document) error {
	if err := writeJSON(w, doc); err != nil {
		return fmt.Errorf("write the facts: %w", err)
	}
	return nil
}
