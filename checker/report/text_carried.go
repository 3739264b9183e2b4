package report

import "fmt"

// carried prints what became of the plan's entries in a list of carried
// findings.
func (t *text) carried(p *Plan) {
	lines := carriedLines(p)
	for _, line := range lines {
		t.labelled("carried", Clean(line))
	}
	if len(lines) > 0 {
		fmt.Fprintln(t)
	}
}
