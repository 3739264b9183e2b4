package report

import (
	"fmt"

	"duskproof/checker/finding"
)

// carried prints what became of the plan's entries in a list of carried
// findings: those that no longer cover anything one by one, dangers in full,
// and the rest as a number.
func (t *text) carried(p *Plan) {
	if len(p.Carried) == 0 {
		return
	}
	quiet := 0
	for _, c := range p.Carried {
		name := Clean(c.Rule + " on " + c.Element)
		if c.Case != "" {
			name += Clean(", " + c.Case)
		}
		switch {
		case c.State == "stale":
			t.labelled("carried", name+" is not found any more; take it off the list")
		case c.State == "expired":
			t.labelled("carried", fmt.Sprintf("%s was carried until %s; it counts again", name, c.Expires))
		case c.State == "graver":
			t.labelled("carried", fmt.Sprintf("%s was %s on the list and has become graver; it counts again", name, c.Severity))
		case c.Severity == finding.Danger && c.Finding != nil:
			t.labelled("carried", fmt.Sprintf("danger, on the list because: %s. %s", Clean(c.Reason), Clean(c.Finding.Message)))
		default:
			quiet++
		}
	}
	if quiet > 0 {
		t.labelled("carried", counted(quiet, "known finding")+" on the list of carried findings, not counted here")
	}
	fmt.Fprintln(t)
}
