package report

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"duskproof/checker/finding"
)

// mostComment is the length in bytes from which findings are counted instead of
// listed, so that the text fits a review comment of 65,536 characters.
const mostComment = 60_000

// Markdown writes the report for a review comment.
func Markdown(w io.Writer, r *Report) error {
	m := &markdownWriter{report: r}
	for i := range r.Plans {
		m.plan(&r.Plans[i])
	}
	if len(r.Plans) > 1 {
		m.line("%s.", planCounts(r))
	}
	if len(r.Plans) == 0 {
		m.line("No plans.")
	}
	for i := range r.RuleProblems {
		m.ruleProblem(&r.RuleProblems[i])
	}
	m.line("\n---\n\nChecked %s with %s %s. %s", r.Today, markdown(r.Tool.Name), markdown(r.Tool.Version), markdown(r.Caution))
	if _, err := io.WriteString(w, m.b.String()); err != nil {
		return fmt.Errorf("write the report as Markdown: %w", err)
	}
	return nil
}

type markdownWriter struct {
	report *Report
	b      strings.Builder
}

func (m *markdownWriter) line(form string, args ...any) { fmt.Fprintf(&m.b, form+"\n", args...) }

func (m *markdownWriter) plan(p *Plan) {
	m.line("## %s", verdictLine(p))
	m.line("\n%s%s", code(p.Path), prefixed(" · ", markdown(p.Title)))
	if len(p.Profiles) > 0 {
		m.line("\nStage %s, judged by %s.", markdown(cmp.Or(p.Stage, "not stated")), markdown(strings.Join(p.Profiles, ", ")))
	}
	for i := range p.Problems {
		q := &p.Problems[i]
		m.line("\n- **problem** %s at line %d, column %d: %s", code(q.Rule), q.Line, q.Column, markdown(q.Message))
	}
	for _, s := range finding.Severities() {
		m.findings(p, s)
	}
	m.exceptions(p)
	m.line("")
}

// verdictLine says what became of a plan.
func verdictLine(p *Plan) string {
	switch p.Verdict {
	case Held:
		return "Held: " + countWords(p)
	case NoHolds:
		return "No holds: " + countWords(p)
	}
	return "Not judged: " + problemWords(len(p.Problems))
}

// findings lists the findings of one severity. Those below the hold level are
// folded away.
func (m *markdownWriter) findings(p *Plan, s finding.Severity) {
	n := p.Count(s)
	if n == 0 {
		return
	}
	folded := s < m.report.Hold
	if folded {
		m.line("\n<details><summary>%s</summary>", counted(n, s.String()))
	} else {
		m.line("\n### %s", strings.ToUpper(s.String()[:1])+s.String()[1:])
	}
	m.line("")
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Severity != s {
			continue
		}
		if m.b.Len() > mostComment {
			m.line("- and %d more; the whole list is in the other forms of the report", n)
			break
		}
		m.finding(p, f)
		n--
	}
	if folded {
		m.line("\n</details>")
	}
}

func (m *markdownWriter) finding(p *Plan, f *finding.Finding) {
	m.line("- **%s** at line %d, column %d: %s", markdown(f.Rule), f.Line, f.Column, markdown(f.Message))
	var notes []string
	if words := measureLine(p, f); words != "" {
		notes = append(notes, words)
	}
	notes = append(notes, basisLine(f))
	m.line("  <br>%s", markdown(strings.Join(notes, " · ")))
	for i := range f.Fixes {
		m.line("  <br>%s: %s", fixWord(&f.Fixes[i]), markdown(f.Fixes[i].Text))
	}
}

// exceptions lists variances, rules that were switched off or failed, and what
// could not be judged.
func (m *markdownWriter) exceptions(p *Plan) {
	for _, v := range p.Variances {
		m.line("\n- variance: %s", markdown(varianceLine(&v)))
	}
	for _, line := range carriedLines(p) {
		m.line("\n- carried: %s", markdown(line))
	}
	for _, s := range p.SwitchedOff {
		m.line("\n- %s", markdown(switchedOffLine(&s)))
	}
	for i := range p.Weakened {
		m.line("\n- %s", markdown(weakenedLine(&p.Weakened[i])))
	}
	for i := range p.Failed {
		m.ruleProblem(&p.Failed[i])
	}
	if len(p.Unjudged) > 0 {
		m.line("\n<details><summary>Not judged for want of data: %s</summary>\n", counted(len(p.Unjudged), "rule"))
		for i := range p.Unjudged {
			m.line("- %s", markdown(unjudgedLine(&p.Unjudged[i])))
		}
		m.line("\n</details>")
	}
}

func (m *markdownWriter) ruleProblem(q *RuleProblem) {
	m.line("\n- **rule not used** %s: %s", markdown(strings.TrimSpace(q.Rule+" "+q.File)), markdown(q.Message))
}

func prefixed(prefix, text string) string {
	if text == "" {
		return ""
	}
	return prefix + text
}

// markdownMarks are the characters that mean something in Markdown or HTML, and
// how to say that they do not.
var markdownMarks = strings.NewReplacer(
	"&", "&amp;", "<", "&lt;", ">", "&gt;", "\\", "\\\\", "`", "\\`", "*", "\\*", "_", "\\_", "{", "\\{", "}", "\\}",
	"[", "\\[", "]", "\\]", "#", "\\#", "|", "\\|", "~", "\\~", "!", "\\!", "$", "\\$",
	// A character without width keeps names and addresses from becoming links.
	"@", "@\u2060", "://", ":\u2060//", "www.", "www\u2060.",
)

// markdown makes plan text inert in Markdown, anywhere but at the start of a
// line.
func markdown(text string) string {
	return markdownMarks.Replace(Clean(text))
}

// code shows plan text as it is written.
func code(text string) string {
	text = Clean(text)
	fence := "`"
	for strings.Contains(text, fence) {
		fence += "`"
	}
	if len(fence) > 1 {
		return fence + " " + text + " " + fence
	}
	return fence + text + fence
}
