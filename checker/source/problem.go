package source

import (
	"cmp"
	"fmt"
	"slices"
)

// Problem is a reason why a file cannot be used, at its place.
type Problem struct {
	// Name is the name of the file.
	Name string
	// Line and Column are 1-based; Column counts code points. The end is
	// exclusive.
	Line, Column, EndLine, EndColumn int
	// Message says what is wrong, what was expected, and what to do.
	Message string
	// Excerpt is the text of the line that Line names, in full: it can be
	// long, and can hold control characters.
	Excerpt string
	// Pointer is the JSON Pointer of the place, or of the nearest thing that
	// exists there.
	Pointer string
}

// String returns the problem on one line: name:line:column: message.
func (p Problem) String() string {
	return fmt.Sprintf("%s:%d:%d: %s", p.Name, p.Line, p.Column, p.Message)
}

// Compare is the total order of problems: by file, place, then message.
func (p Problem) Compare(q Problem) int {
	return cmp.Or(
		cmp.Compare(p.Name, q.Name),
		cmp.Compare(p.Line, q.Line),
		cmp.Compare(p.Column, q.Column),
		cmp.Compare(p.EndLine, q.EndLine),
		cmp.Compare(p.EndColumn, q.EndColumn),
		cmp.Compare(p.Pointer, q.Pointer),
		cmp.Compare(p.Message, q.Message),
	)
}

// SortProblems brings problems into their total order.
func SortProblems(problems []Problem) {
	slices.SortStableFunc(problems, Problem.Compare)
}

// NewProblem makes a problem at a span of the document.
func (d *Document) NewProblem(span Span, pointer, message string) Problem {
	start, end := d.Lines().Position(span.Start), d.Lines().Position(max(span.Start, span.End))
	return Problem{
		Name: d.name, Message: message, Pointer: pointer,
		Line: start.Line, Column: start.Column, EndLine: end.Line, EndColumn: end.Column,
		Excerpt: d.Lines().Text(start.Line),
	}
}

// ProblemAt makes a problem at the value that pointer names, or at the nearest
// thing that exists; see [Place.Mark].
func (d *Document) ProblemAt(pointer, message string) Problem {
	place := d.Locate(pointer)[0]
	return d.NewProblem(place.Mark(), place.Found, message)
}
