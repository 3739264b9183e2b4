package report

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
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
	v := viewOf(excerpt, column, endOn(line, endLine, endColumn, excerpt), t.options.Width-gutterWidth-3)
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

// verdictWidth is the room for a verdict in the list of plans.
const verdictWidth = 12

// plans names each plan with its verdict and counts.
func (t *text) plans(r *Report) {
	order := make([]*Plan, len(r.Plans))
	for i := range r.Plans {
		order[i] = &r.Plans[i]
	}
	if len(order) > mostSummed {
		slices.SortStableFunc(order, func(a, b *Plan) int { return cmp.Compare(verdictRank[a.Verdict], verdictRank[b.Verdict]) })
		order = order[:mostSummed]
	}
	fmt.Fprintf(t, "\n%s\n", t.paint["title"].Sprint("all plans"))
	for _, p := range order {
		words, paint := "no holds", "good"
		switch p.Verdict {
		case Held:
			words, paint = "held", "danger"
		case Unjudged:
			words, paint = "not judged", "danger"
		}
		counts := countWords(p)
		if p.Verdict == Unjudged {
			counts = problemWords(len(p.Problems))
		}
		path, gap := Clean(p.Path), "  "
		if len(margin)+verdictWidth+columnsOf(path)+2+columnsOf(counts) > t.options.Width {
			gap = "\n" + margin + strings.Repeat(" ", verdictWidth)
		}
		fmt.Fprintf(t, "%s%s%s%s%s\n", margin, t.paint[paint].Sprintf("%-*s", verdictWidth, words), path, gap, t.paint["faint"].Sprint(counts))
	}
	if more := len(r.Plans) - len(order); more > 0 {
		fmt.Fprintf(t, "%sand %d more\n", margin, more)
	}
}

var verdictRank = map[string]int{Unjudged: 0, Held: 1, NoHolds: 2}
