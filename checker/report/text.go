package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/fatih/color"

	"duskproof/checker/finding"
)

// TextOptions say how to write for a terminal.
type TextOptions struct {
	// Width is the number of columns; nought means 80.
	Width int
	// Colour is true on a terminal that wants it.
	Colour bool
	// Brief writes one line for each finding.
	Brief bool
}

// text writes one report.
type text struct {
	*bufio.Writer
	options TextOptions
	paint   map[string]*color.Color
}

const (
	leastWidth   = 40
	defaultWidth = 80
	margin       = "  "
	gutterWidth  = 8
)

// Text writes the report for people at a terminal.
func Text(w io.Writer, r *Report, options TextOptions) error {
	if options.Width < leastWidth {
		options.Width = defaultWidth
	}
	t := &text{Writer: bufio.NewWriter(w), options: options, paint: palette(options.Colour)}
	for i := range r.Plans {
		if i > 0 && !options.Brief {
			fmt.Fprintln(t)
		}
		t.plan(&r.Plans[i])
	}
	t.summary(r)
	if err := t.Flush(); err != nil {
		return fmt.Errorf("write the report: %w", err)
	}
	return nil
}

// palette has one colour for each severity and a few for the rest.
func palette(on bool) map[string]*color.Color {
	p := map[string]*color.Color{
		"danger": color.New(color.FgHiRed, color.Bold), "defect": color.New(color.FgYellow, color.Bold),
		"advice": color.New(color.FgCyan), "caution": color.New(color.FgMagenta),
		"title": color.New(color.Bold), "faint": color.New(color.Faint), "good": color.New(color.FgGreen),
	}
	for _, c := range p {
		if on {
			c.EnableColor()
		} else {
			c.DisableColor()
		}
	}
	return p
}

func (t *text) plan(p *Plan) {
	if t.options.Brief {
		t.brief(p)
		return
	}
	title := Clean(p.Path)
	if p.Title != "" {
		title += " · " + Clean(p.Title)
	}
	fmt.Fprintln(t, t.paint["title"].Sprint(title))
	if len(p.Profiles) > 0 {
		fmt.Fprintln(t, t.paint["faint"].Sprintf("%sstage %s, judged by %s", margin, Clean(cmp.Or(p.Stage, "not stated")), Clean(strings.Join(p.Profiles, ", "))))
	}
	fmt.Fprintln(t)
	for i := range p.Problems {
		t.problem(p, &p.Problems[i])
	}
	var footer []finding.Finding
	for _, f := range p.Findings {
		if f.Severity == finding.Caution {
			footer = append(footer, f)
			continue
		}
		t.finding(p, &f)
	}
	t.cautions(footer)
	t.exceptions(p)
	t.carried(p)
	t.verdict(p)
}

func (t *text) brief(p *Plan) {
	for _, q := range p.Problems {
		fmt.Fprintf(t, "%s:%d:%d: %s: %s: %s\n", Clean(p.Path), q.Line, q.Column, t.paint["danger"].Sprint("problem"), q.Rule, Clean(q.Message))
	}
	for _, f := range p.Findings {
		fmt.Fprintf(t, "%s:%d:%d: %s: %s: %s\n", Clean(p.Path), f.Line, f.Column, t.paint[f.Severity.String()].Sprint(f.Severity), f.Rule, Clean(f.Message))
	}
	for _, e := range p.exceptions() {
		fmt.Fprintf(t, "%s: %s: %s\n", Clean(p.Path), e[0], Clean(e[1]))
	}
}

func (t *text) problem(p *Plan, q *Problem) {
	fmt.Fprintf(t, "%s %s %s\n", t.paint["danger"].Sprint("problem"), Clean(q.Rule), t.paint["faint"].Sprintf("%s:%d:%d", Clean(p.Path), q.Line, q.Column))
	t.paragraph(margin, Clean(q.Message))
	t.excerpt(q.Line, q.Column, q.EndLine, q.EndColumn, q.Excerpt, "danger")
	fmt.Fprintln(t)
}

func (t *text) finding(p *Plan, f *finding.Finding) {
	severity := f.Severity.String()
	fmt.Fprintf(t, "%s %s %s\n", t.paint[severity].Sprint(severity), t.paint["title"].Sprint(f.Rule),
		t.paint["faint"].Sprintf("%s:%d:%d", Clean(p.Path), f.Line, f.Column))
	t.paragraph(margin, Clean(f.Message))
	t.excerpt(f.Line, f.Column, f.EndLine, f.EndColumn, f.Excerpt, severity)
	if f.Value != nil && f.Limit != nil {
		value, limit := pair(p, f)
		t.labelled("value", fmt.Sprintf("%s, limit %s", value, limit))
	}
	t.labelled("basis", Clean(basisLine(f)))
	for i := range f.Fixes {
		t.labelled(fixWord(&f.Fixes[i]), Clean(f.Fixes[i].Text))
	}
	fmt.Fprintln(t)
}

// excerpt shows the line with the place marked.
func (t *text) excerpt(line, column, endLine, endColumn int, excerpt, severity string) {
	if line == 0 {
		return
	}
	shown, from, to := window(excerpt, column, endOn(line, endLine, endColumn, excerpt), t.options.Width-gutterWidth-1)
	fmt.Fprintf(t, "%s %s\n", t.paint["faint"].Sprintf("%6d |", line), shown)
	fmt.Fprintf(t, "%s %s%s\n", t.paint["faint"].Sprint("       |"), strings.Repeat(" ", from), t.paint[severity].Sprint(strings.Repeat("^", max(1, to-from))))
}

// endOn is the end column on the first line of a place.
func endOn(line, endLine, endColumn int, excerpt string) int {
	if endLine != line {
		return utf8.RuneCountInString(excerpt) + 1
	}
	return endColumn
}

// window cuts a long line round the marked place and returns where the mark
// stands in what is shown.
func window(line string, column, endColumn, width int) (shown string, from, to int) {
	runes := []rune(line)
	from = min(max(column-1, 0), len(runes))
	to = min(max(endColumn-1, from), len(runes))
	start := 0
	for start < from && (runes[start] == ' ' || runes[start] == '\t') {
		start++
	}
	start = min(start, from)
	if to-start > width {
		start = max(start, from-width/3)
	}
	end := min(len(runes), start+width)
	clean := func(r []rune) string { return Clean(string(r)) }
	before := clean(runes[start:from])
	mark := clean(runes[from:min(to, end)])
	shown = before + mark + clean(runes[min(to, end):end])
	from = utf8.RuneCountInString(before)
	return shown, from, from + utf8.RuneCountInString(mark)
}

// labelled writes a small label and a paragraph beside it.
func (t *text) labelled(label, words string) {
	column := max(8, len(label)+1)
	lines := wrap(words, t.options.Width-len(margin)-column)
	for i, line := range lines {
		head := strings.Repeat(" ", column)
		if i == 0 {
			head = t.paint["faint"].Sprintf("%-*s", column, label)
		}
		fmt.Fprintf(t, "%s%s%s\n", margin, head, line)
	}
}

func (t *text) paragraph(indent, words string) {
	for _, line := range wrap(words, t.options.Width-len(indent)) {
		fmt.Fprintf(t, "%s%s\n", indent, line)
	}
}

// wrap breaks words into lines of at most width characters.
func wrap(words string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(words) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	return append(lines, line)
}

// cautions prints the standing cautions as one footer.
func (t *text) cautions(footer []finding.Finding) {
	if len(footer) == 0 {
		return
	}
	fmt.Fprintln(t, t.paint["caution"].Sprint("standing cautions"))
	for _, f := range footer {
		lines := wrap(Clean(f.Message), t.options.Width-2*len(margin))
		for i, line := range lines {
			bullet := "  "
			if i == 0 {
				bullet = "· "
			}
			fmt.Fprintf(t, "%s%s%s\n", margin, bullet, line)
		}
	}
	fmt.Fprintln(t)
}

// exceptions lists the variances, the danger rules that are switched off, and
// the rules that failed: a label and words for each.
func (p *Plan) exceptions() [][2]string {
	var out [][2]string
	for _, v := range p.Variances {
		out = append(out, [2]string{"variance", fmt.Sprintf("%s on %s, %s: %s (granted by %s, until %s)", v.Rule, v.Element,
			stateWords[v.State], v.Reason, v.GrantedBy, v.Until)})
	}
	for _, s := range p.SwitchedOff {
		out = append(out, [2]string{"off", fmt.Sprintf("%s, a danger rule, is switched off: %s", s.Rule, s.Reason)})
	}
	for _, f := range p.Failed {
		out = append(out, [2]string{"failed", fmt.Sprintf("%s did not judge this plan: %s (%s:%d:%d)", f.Rule, f.Message, f.File, f.Line, f.Column)})
	}
	return out
}

// exceptions prints them below the findings.
func (t *text) exceptions(p *Plan) {
	all := p.exceptions()
	for _, e := range all {
		t.labelled(e[0], Clean(e[1]))
	}
	if len(all) > 0 {
		fmt.Fprintln(t)
	}
}

// verdict closes one plan with counts and the verdict.
func (t *text) verdict(p *Plan) {
	counts := countWords(p)
	switch p.Verdict {
	case Held:
		fmt.Fprintf(t, "%s %s\n", t.paint["danger"].Sprint("HELD"), counts)
	case NoHolds:
		fmt.Fprintf(t, "%s %s\n", t.paint["good"].Sprint("no holds"), counts)
	default:
		fmt.Fprintf(t, "%s %s\n", t.paint["danger"].Sprint("NOT JUDGED"), problemWords(len(p.Problems)))
	}
}

// summary closes the report.
func (t *text) summary(r *Report) {
	if len(r.Plans) > 1 {
		fmt.Fprintf(t, "\n%s\n", planCounts(r))
	}
	if len(r.Plans) == 0 {
		fmt.Fprintln(t, "no plans")
	}
	if t.options.Brief {
		return
	}
	fmt.Fprintln(t)
	t.paragraph("", t.paint["faint"].Sprintf("Checked %s with %s %s. %s", r.Today, r.Tool.Name, r.Tool.Version, r.Caution))
}
