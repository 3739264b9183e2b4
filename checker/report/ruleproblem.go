package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
)

// RuleProblems writes why rules could not be used, in the look of findings.
func RuleProblems(w io.Writer, problems []RuleProblem, options TextOptions) error {
	if options.Width < leastWidth {
		options.Width = defaultWidth
	}
	t := &text{Writer: bufio.NewWriter(w), options: options, paint: palette(options.Colour)}
	t.ruleProblems(problems)
	if err := t.Flush(); err != nil {
		return fmt.Errorf("write the problems of rules: %w", err)
	}
	return nil
}

func (t *text) ruleProblems(problems []RuleProblem) {
	for i := range problems {
		t.ruleProblem(&problems[i])
	}
}

func (t *text) ruleProblem(q *RuleProblem) {
	place := Clean(q.File)
	if q.Line > 0 {
		place = fmt.Sprintf("%s:%d:%d", place, q.Line, q.Column)
	}
	name, word := cmp.Or(q.Rule, "rule"), t.paint["danger"].Sprint("problem")
	if t.options.Brief {
		fmt.Fprintf(t, "%s: %s: %s: %s\n", place, word, Clean(name), Clean(q.Message))
		return
	}
	fmt.Fprintf(t, "%s %s %s\n", word, t.paint["title"].Sprint(Clean(name)), t.paint["faint"].Sprint(place))
	t.paragraph(margin, Clean(q.Message))
	t.excerpt(q.Line, q.Column, q.EndLine, q.EndColumn, q.Excerpt, "danger")
	fmt.Fprintln(t)
}
