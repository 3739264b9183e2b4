package policy

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/open-policy-agent/opa/v1/ast"
)

// Problem is something wrong with a rule file, at its place.
type Problem struct {
	// File is the path as the user knows it, with forward slashes.
	File string
	// Line and Column are 1-based and count code points; the end is
	// exclusive. Line 0 means the file as a whole.
	Line, Column, EndLine, EndColumn int
	// Rule is the id of the rule, where it is known.
	Rule string
	// Message says what is wrong, in lower case without a full stop.
	Message string
	// Excerpt is the text of the line that Line names.
	Excerpt string
}

// Error returns the problem as "file:line:column: message".
func (p Problem) Error() string {
	if p.Line == 0 {
		return fmt.Sprintf("%s: %s", p.File, p.Message)
	}
	return fmt.Sprintf("%s:%d:%d: %s", p.File, p.Line, p.Column, p.Message)
}

// sortProblems sorts by place and drops repeats.
func sortProblems(problems []Problem) []Problem {
	slices.SortFunc(problems, func(a, b Problem) int {
		return cmp.Or(
			cmp.Compare(a.File, b.File),
			cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.Message, b.Message),
		)
	})
	return slices.Compact(problems)
}

// texts keeps the text of every file read, by its path, for excerpts.
type texts map[string][]byte

// line returns the text of one line of a file, without its end.
func (t texts) line(file string, number int) string {
	rest := string(t[file])
	for range number - 1 {
		_, after, found := strings.Cut(rest, "\n")
		if !found {
			return ""
		}
		rest = after
	}
	line, _, _ := strings.Cut(rest, "\n")
	return strings.TrimSuffix(line, "\r")
}

// at makes a problem that marks length code points from a line and a column.
func (t texts) at(file string, line, column, length int, message string) Problem {
	return Problem{
		File: file, Line: line, Column: column,
		EndLine: line, EndColumn: column + max(length, 1),
		Message: message, Excerpt: t.line(file, line),
	}
}

// atLocation makes a problem at a place in Rego, whose columns count code
// points.
func (t texts) atLocation(loc *ast.Location, message string) Problem {
	if loc == nil {
		return Problem{File: builtIn, Message: message}
	}
	if loc.Row == 0 {
		return Problem{File: loc.File, Message: message}
	}
	text, _, _ := strings.Cut(string(loc.Text), "\n")
	return t.at(loc.File, loc.Row, loc.Col, utf8.RuneCountInString(text), message)
}
