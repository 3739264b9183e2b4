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

// Page writes the rule's page in Markdown, as docs/rules and the command line
// show it. Bad and good are the example plans, empty when there is none;
// meanings says in a line what each limit means.
func (m *Meta) Page(bad, good string, meanings map[string]string) string {
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
			fmt.Fprintf(&b, "- `%s`: %s\n", name, meanings[name])
		}
	}
	fmt.Fprintf(&b, "\n## What to do\n\n%s.\n", strings.TrimSuffix(m.Hint, "."))
	for _, example := range [][2]string{{"An example that breaks it", bad}, {"The same, put right", good}} {
		if example[1] != "" {
			fmt.Fprintf(&b, "\n## %s\n\n```json\n%s\n```\n", example[0], strings.TrimRight(example[1], "\n"))
		}
	}
	return b.String()
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
