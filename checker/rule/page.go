package rule

import (
	"fmt"
	"strings"
)

// confidenceWords say how sure the source of a rule is.
var confidenceWords = map[string]string{
	"confirmed": "confirmed on two independent public pages",
	"single":    "confirmed on one public page",
	"memory":    "from memory, not confirmed; advice at most",
	"practice":  "habit of the trade, nothing to confirm",
}

// Examples are what a rule's page holds beside its metadata.
type Examples struct {
	// Bad and Good are the example plans, empty when there is none.
	Bad, Good string
	// Says is what the rule says about the bad one, a line each, and Hint
	// the first of its hints.
	Says []string
	Hint string
	// Meanings says in a line what each limit means.
	Meanings map[string]string
}

// inWords puts words where a hint has names to fill in and no example fills them.
var inWords = strings.NewReplacer("{element}", "the element", "{case}", "the other", "{value}", "what it has", "{limit}", "the limit")

// Page writes the rule's page in Markdown, as docs/rules and the command line
// show it.
func (m *Meta) Page(e Examples) string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n%s.\n\n%s\n\n", m.ID, m.Title, strings.TrimSpace(m.Why))
	row := func(name, text string) {
		if text != "" {
			fmt.Fprintf(&b, "| %s | %s |\n", name, strings.ReplaceAll(text, "|", "\\|"))
		}
	}
	b.WriteString("| | |\n| --- | --- |\n")
	row("severity", m.Severity.String()+" at most; a case can be milder")
	row("basis", m.Basis.Words())
	row("source", m.Source)
	row("confidence", confidenceWords[m.Confidence])
	row("needs", m.needs())
	row("since", m.Since)
	if len(m.Limits) > 0 {
		b.WriteString("\n## Limits it reads\n\n")
		for _, name := range m.Limits {
			fmt.Fprintf(&b, "- `%s`: %s\n", name, e.Meanings[name])
		}
	}
	fmt.Fprintf(&b, "\n## What to do\n\n%s.\n", strings.TrimSuffix(m.whatToDo(e), "."))
	plan(&b, "An example that breaks it", e.Bad)
	if len(e.Says) > 0 {
		fmt.Fprintf(&b, "\nIt says:\n\n```text\n%s\n```\n", strings.Join(e.Says, "\n"))
	}
	plan(&b, "The same, put right", e.Good)
	return b.String()
}

// whatToDo is the rule's hint; where it speaks of an element, it is that for the
// example.
func (m *Meta) whatToDo(e Examples) string {
	if e.Hint != "" && e.Hint != m.Hint {
		return "In the example below: " + strings.ToLower(e.Hint[:1]) + e.Hint[1:]
	}
	return inWords.Replace(m.Hint)
}

// plan writes an example plan below a heading.
func plan(b *strings.Builder, heading, text string) {
	if text != "" {
		fmt.Fprintf(b, "\n## %s\n\n```json\n%s\n```\n", heading, strings.TrimRight(text, "\n"))
	}
}

// needs lists the facts without which the rule cannot judge.
func (m *Meta) needs() string {
	var parts []string
	for _, n := range m.Needs {
		if len(n.Has) > 0 {
			parts = append(parts, fmt.Sprintf("%s of %s", strings.Join(n.Has, ", "), n.Each))
		}
	}
	return strings.Join(parts, "; ")
}
