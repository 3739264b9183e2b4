package report

import (
	"cmp"
	"fmt"
	"strings"

	"duskproof/checker/finding"
	"duskproof/checker/measure"
)

// fixWord says whether a change was proved by checking the changed plan.
func fixWord(f *finding.Fix) string {
	if f.Proved {
		return "fix"
	}
	return "hint"
}

// pair prints value and limit in the plan's own units.
func pair(p *Plan, f *finding.Finding) (string, string) {
	if f.Unit == "1" && *f.Limit <= 1 {
		return measure.SharePair(*f.Value, *f.Limit)
	}
	return measure.Pair(*f.Value, *f.Limit, f.Unit, p.Units)
}

// measures prints value and limit; limit is empty where it is nought, for "none"
// is what the message says then, and both are where a distance is less than none.
func measures(p *Plan, f *finding.Finding) (value, limit string) {
	if f.Value == nil || f.Limit == nil {
		return "", ""
	}
	value, limit = pair(p, f)
	if *f.Limit != 0 {
		return value, limit
	}
	if *f.Value < 0 {
		return "", ""
	}
	return value, ""
}

// measureLine says value and limit in words; empty when there is nothing to say.
func measureLine(p *Plan, f *finding.Finding) string {
	value, limit := measures(p, f)
	if limit == "" {
		return value
	}
	return value + ", limit " + limit
}

// basisLine says why the rule exists and where that is written.
func basisLine(f *finding.Finding) string { return basisAndSource(f.Basis, f.Source) }

func basisAndSource(basis finding.Basis, source string) string {
	words := basis.Words()
	if source == "" || basis == finding.Practice && strings.HasPrefix(source, "common practice") {
		return words
	}
	return words + ": " + source
}

var stateWords = map[string]string{
	"applied": "applied", "stale": "matches nothing", "expired": "expired", "not-applied": "not applied",
}

// varianceLine says what became of a written exception. Its parts are plan text,
// not made inert.
func varianceLine(v *Variance) string {
	where := v.Element
	if v.Case != "" {
		where += " (" + v.Case + ")"
	}
	line := fmt.Sprintf("%s on %s, %s: %s (granted by %s", v.Rule, where, stateWords[v.State], v.Reason, v.GrantedBy)
	if v.On != "" {
		line += " on " + v.On
	}
	return line + ", until " + cmp.Or(v.Until, "further notice") + ")"
}

func switchedOffLine(s *SwitchedOff) string {
	return fmt.Sprintf("%s, a danger rule, is switched off: %s", s.Rule, s.Reason)
}

// mostElements is how many elements are named before the rest are counted.
const mostElements = 12

func unjudgedLine(u *UnjudgedRule) string {
	names := u.Elements
	more := ""
	if len(names) > mostElements {
		names, more = names[:mostElements], fmt.Sprintf(" and %d more", len(names)-mostElements)
	}
	return fmt.Sprintf("%s needs %s of %s%s", u.Rule, u.Missing, strings.Join(names, ", "), more)
}

// carriedLines say what became of the plan's entries in a list of carried
// findings: those that no longer cover anything one by one, dangers in full, and
// the rest as a number. Their parts are plan text, not made inert.
func carriedLines(p *Plan) []string {
	var out []string
	quiet := 0
	for i := range p.Carried {
		c := &p.Carried[i]
		name := c.Rule + " on " + c.Element
		if c.Case != "" {
			name += ", " + c.Case
		}
		switch {
		case c.State == "stale":
			out = append(out, name+" is not found any more; take it off the list")
		case c.State == "expired":
			out = append(out, fmt.Sprintf("%s was carried until %s; it counts again", name, c.Expires))
		case c.State == "graver":
			out = append(out, fmt.Sprintf("%s was %s on the list and has become graver; it counts again", name, c.Severity))
		case c.Severity == finding.Danger && c.Finding != nil:
			out = append(out, fmt.Sprintf("danger, on the list because: %s. %s", c.Reason, c.Finding.Message))
		default:
			quiet++
		}
	}
	if quiet > 0 {
		out = append(out, counted(quiet, "known finding")+" on the list of carried findings, not counted here")
	}
	return out
}

// planCounts says how many plans of a report came to what.
func planCounts(r *Report) string {
	held, unjudged := 0, 0
	for i := range r.Plans {
		switch r.Plans[i].Verdict {
		case Held:
			held++
		case Unjudged:
			unjudged++
		}
	}
	return fmt.Sprintf("%d plans: %d held, %d not judged, %d without holds", len(r.Plans), held, unjudged, len(r.Plans)-held-unjudged)
}

func problemWords(n int) string {
	if n == 1 {
		return "1 problem must be mended first"
	}
	return fmt.Sprintf("%d problems must be mended first", n)
}

func countWords(p *Plan) string {
	var parts []string
	for _, s := range finding.Severities() {
		if n := p.Count(s); n > 0 {
			parts = append(parts, counted(n, s.String()))
		}
	}
	if len(parts) == 0 {
		return "nothing found"
	}
	return strings.Join(parts, ", ")
}

// counted counts things by name: "2 dangers", "1 advice".
func counted(n int, word string) string {
	if n != 1 && word != "advice" {
		word += "s"
	}
	return fmt.Sprintf("%d %s", n, word)
}
