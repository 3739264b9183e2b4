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
		"title": color.New(color.Bold), "mark": color.New(color.Bold), "faint": color.New(color.Faint), "good": color.New(color.FgGreen),
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
	t.heading(p)
	if len(p.Profiles) > 0 {
		words := fmt.Sprintf("stage %s, judged by %s", Clean(cmp.Or(p.Stage, "not stated")), Clean(strings.Join(p.Profiles, ", ")))
		for _, line := range wrap(words, t.prose()-len(margin)) {
			fmt.Fprintln(t, margin+t.paint["faint"].Sprint(line))
		}
	}
	fmt.Fprintln(t)
	for i := range p.Problems {
		t.problem(p, &p.Problems[i])
	}
	t.findings(p)
	var footer []finding.Finding
	for _, f := range p.Findings {
		if f.Severity == finding.Caution {
			footer = append(footer, f)
		}
	}
	t.cautions(footer)
	t.exceptions(p)
	t.carried(p)
	t.verdict(p)
}

// heading names a plan by path and title, on one line where they fit.
func (t *text) heading(p *Plan) {
	path, title := Clean(p.Path), Clean(p.Title)
	switch {
	case title == "":
		fmt.Fprintln(t, t.paint["title"].Sprint(path))
	case columnsOf(path)+3+columnsOf(title) <= t.options.Width:
		fmt.Fprintln(t, t.paint["title"].Sprint(path+" · "+title))
	default:
		fmt.Fprintln(t, t.paint["title"].Sprint(path))
		t.paragraph(margin, title)
	}
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

// findings prints the findings, those of one kind folded. The place of each is
// a path that a terminal can open; where that does not fit beside the rule, it
// stands on a line of its own, for every finding of that plan.
func (t *text) findings(p *Plan) {
	all := folded(p)
	below := false
	for i := range all {
		severity, rule, place := headOf(p, &all[i])
		below = below || columnsOf(severity)+columnsOf(rule)+columnsOf(place)+2 > t.options.Width
	}
	for i := range all {
		t.finding(p, &all[i], below)
	}
}

// headOf is what a finding begins with.
func headOf(p *Plan, g *fold) (severity, rule, place string) {
	severity, rule = g.first.Severity.String(), Clean(g.first.Rule)
	if n := len(g.rest); n > 0 {
		rule += fmt.Sprintf(" ×%d", n+1)
	}
	return severity, rule, fmt.Sprintf("%s:%d:%d", Clean(p.Path), g.first.Line, g.first.Column)
}

func (t *text) finding(p *Plan, g *fold, below bool) {
	f := g.first
	severity, rule, place := headOf(p, g)
	gap := " "
	if below {
		gap = "\n" + margin
	}
	fmt.Fprintf(t, "%s %s%s%s\n", t.paint[severity].Sprint(severity), t.paint["title"].Sprint(rule), gap, t.paint["faint"].Sprint(place))
	t.paragraph(margin, Clean(f.Message))
	t.excerpt(f.Line, f.Column, f.EndLine, f.EndColumn, f.Excerpt, severity)
	if words := measureLine(p, f); words != "" {
		t.labelled("value", words)
	}
	if len(g.rest) > 0 {
		t.labelled("also", Clean(g.others(p)))
	}
	t.labelled("basis", Clean(basisLine(f)))
	fixes, more := g.fixes()
	for _, fix := range fixes {
		t.labelled(fixWord(fix), Clean(g.fixText(fix)))
	}
	if more {
		t.labelled("more", "some of these have another fix of their own; the HTML form lists it")
	}
	fmt.Fprintln(t)
}

// excerpt shows the line with the place marked.
func (t *text) excerpt(line, column, endLine, endColumn int, excerpt, severity string) {
	if line == 0 {
		return
	}
	v := viewOf(excerpt, column, endOn(line, endLine, endColumn, excerpt), t.prose()-gutterWidth-3)
	before, after := v.before, v.after
	if v.cutBefore {
		before = ellipsis + before
	}
	if v.cutAfter {
		after += ellipsis
	}
	fmt.Fprintf(t, "%s %s\n", t.paint["faint"].Sprintf("%6d |", line), before+t.paint["mark"].Sprint(v.mark)+after)
	fmt.Fprintf(t, "%s %s%s\n", t.paint["faint"].Sprint("       |"), strings.Repeat(" ", columnsOf(before)),
		t.paint[severity].Sprint(strings.Repeat("^", max(1, columnsOf(v.mark)))))
}

// ellipsis stands for what is not shown of a line.
const ellipsis = "…"

// endOn is the end column on the first line of a place.
func endOn(line, endLine, endColumn int, excerpt string) int {
	if endLine != line {
		return utf8.RuneCountInString(excerpt) + 1
	}
	return endColumn
}

// labelled writes a small label and a paragraph beside it.
func (t *text) labelled(label, words string) {
	column := max(8, len(label)+1)
	lines := wrap(words, t.prose()-len(margin)-column)
	for i, line := range lines {
		head := strings.Repeat(" ", column)
		if i == 0 {
			head = t.paint["faint"].Sprintf("%-*s", column, label)
		}
		fmt.Fprintf(t, "%s%s%s\n", margin, head, line)
	}
}

// mostProse is the number of columns beyond which lines of words are hard to
// read, however wide the terminal is.
const mostProse = 100

// prose is the width of words.
func (t *text) prose() int { return min(t.options.Width, mostProse) }

func (t *text) paragraph(indent, words string) {
	for _, line := range wrap(words, t.prose()-len(indent)) {
		fmt.Fprintf(t, "%s%s\n", indent, line)
	}
}

// cautions prints the standing cautions as one footer.
func (t *text) cautions(footer []finding.Finding) {
	if len(footer) == 0 {
		return
	}
	fmt.Fprintln(t, t.paint["caution"].Sprint("standing cautions"))
	for _, f := range footer {
		lines := wrap(Clean(f.Message), t.prose()-2*len(margin))
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

// exceptions lists the variances, the danger rules that are switched off, the
// rules that failed, and what could not be judged: a label and words for each.
func (p *Plan) exceptions() [][2]string {
	var out [][2]string
	for i := range p.Variances {
		out = append(out, [2]string{"variance", varianceLine(&p.Variances[i])})
	}
	for i := range p.SwitchedOff {
		out = append(out, [2]string{"off", switchedOffLine(&p.SwitchedOff[i])})
	}
	for i := range p.Weakened {
		out = append(out, [2]string{"weakened", weakenedLine(&p.Weakened[i])})
	}
	for _, f := range p.Failed {
		out = append(out, [2]string{"failed", fmt.Sprintf("%s did not judge this plan: %s (%s:%d:%d)", f.Rule, f.Message, f.File, f.Line, f.Column)})
	}
	for i := range p.Unjudged {
		out = append(out, [2]string{"unjudged", unjudgedLine(&p.Unjudged[i])})
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

// mostSummed is how many plans the summary names; of more, those that are held
// or were not judged come first, and the rest is counted.
const mostSummed = 40

// summary closes the report: a line for each plan, the counts, the caution.
func (t *text) summary(r *Report) {
	if len(r.Plans) > 1 {
		if !t.options.Brief {
			t.plans(r)
		}
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
