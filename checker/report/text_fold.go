package report

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"duskproof/checker/finding"
)

// fold is one finding with others that say the same of other elements and have
// the same fix. A terminal shows the first in full and names the rest.
type fold struct {
	first *finding.Finding
	rest  []*finding.Finding
}

// folded gathers the findings of a plan, in order, cautions left out.
func folded(p *Plan) []fold {
	var out []fold
	at := map[string][]int{}
	for i := range p.Findings {
		f := &p.Findings[i]
		if f.Severity == finding.Caution {
			continue
		}
		key := foldKey(p, f)
		k := slices.IndexFunc(at[key], func(k int) bool { return sameFix(out[k].first, f) })
		if k >= 0 {
			k = at[key][k]
			out[k].rest = append(out[k].rest, f)
			continue
		}
		at[key] = append(at[key], len(out))
		out = append(out, fold{first: f})
	}
	return out
}

// sameFix reports whether the first fix of two findings is the same.
func sameFix(a, b *finding.Finding) bool {
	if len(a.Fixes) == 0 || len(b.Fixes) == 0 {
		return len(a.Fixes) == len(b.Fixes)
	}
	return alike(a, &a.Fixes[0], b, &b.Fixes[0])
}

// foldKey is the same for findings that differ in their element, their case and
// their value alone.
func foldKey(p *Plan, f *finding.Finding) string {
	value, limit := measures(p, f)
	message := masked(masked(f.Message, f.Element, "\x01"), f.Case, "\x02")
	bound := ""
	if value != "" {
		message = strings.ReplaceAll(message, value, "\x03")
		bound = strconv.FormatFloat(*f.Limit, 'g', 9, 64)
	}
	if limit != "" {
		message = strings.ReplaceAll(message, limit, "\x04")
	}
	return strings.Join([]string{f.Severity.String(), f.Rule, string(f.Basis), f.Source, bound, message}, "\x00")
}

var numbers = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\d+(\.\d+)?`)
})

// alike reports whether a fix of one finding does what a fix of another does, to
// the same things or each to its own element; what comes of it, after the
// semicolon, may differ in its numbers.
func alike(f *finding.Finding, fix *finding.Fix, g *finding.Finding, other *finding.Fix) bool {
	a, aOut := fixParts(fix)
	b, bOut := fixParts(other)
	outcome := func(words, element string) string {
		return numbers().ReplaceAllString(masked(words, element, "\x01"), "\x03")
	}
	return fix.Proved == other.Proved && outcome(aOut, f.Element) == outcome(bOut, g.Element) &&
		(a == b || masked(a, f.Element, "\x01") == masked(b, g.Element, "\x01"))
}

func fixParts(fix *finding.Fix) (action, outcome string) {
	if at := strings.LastIndex(fix.Text, "; "); at >= 0 {
		return fix.Text[:at], fix.Text[at:]
	}
	return fix.Text, ""
}

// masked puts a mark in place of a name that stands alone.
func masked(text, name, mark string) string {
	if name == "" {
		return text
	}
	var b strings.Builder
	for {
		at := strings.Index(text, name)
		if at < 0 {
			return b.String() + text
		}
		end := at + len(name)
		b.WriteString(text[:at])
		if at > 0 && partOfName(text[at-1]) || end < len(text) && partOfName(text[end]) {
			b.WriteString(name)
		} else {
			b.WriteString(mark)
		}
		text = text[end:]
	}
}

func partOfName(c byte) bool {
	return c == '-' || c == '_' || c == '/' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80
}

// others names the findings that are folded away, each with what it has of its
// own: case, value, line.
func (g *fold) others(p *Plan) string {
	value, _ := measures(p, g.first)
	var names []string
	for _, f := range g.rest {
		var own []string
		if f.Element == g.first.Element && f.Case != "" {
			own = append(own, f.Case)
		}
		if v, _ := measures(p, f); v != value {
			own = append(own, v)
		}
		if f.Line != g.first.Line {
			own = append(own, fmt.Sprintf("line %d", f.Line))
		}
		name := f.Element
		if len(own) > 0 {
			name += " (" + strings.Join(own, ", ") + ")"
		}
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}

// fixes are the fixes that all have, the first of them first; more is true when
// some have others of their own.
func (g *fold) fixes() (all []*finding.Fix, more bool) {
	for i := range g.first.Fixes {
		fix := &g.first.Fixes[i]
		if i == 0 || g.shared(fix) {
			all = append(all, fix)
		} else {
			more = true
		}
	}
	for _, f := range g.rest {
		more = more || len(f.Fixes) > len(all)
	}
	return all, more
}

// shared reports whether all the others have a fix too.
func (g *fold) shared(fix *finding.Fix) bool {
	for _, f := range g.rest {
		if !slices.ContainsFunc(f.Fixes, func(other finding.Fix) bool { return alike(g.first, fix, f, &other) }) {
			return false
		}
	}
	return true
}

// fixText is a fix in words; where it names the first element, the others are to
// be changed likewise.
func (g *fold) fixText(fix *finding.Fix) string {
	action, _ := fixParts(fix)
	if len(g.rest) == 0 || masked(action, g.first.Element, "\x01") == action || g.oneChange(fix) {
		return fix.Text
	}
	var names []string
	for _, f := range g.rest {
		if f.Element != g.first.Element {
			names = append(names, f.Element)
		}
	}
	if len(names) == 0 {
		return fix.Text
	}
	return fix.Text + "; likewise " + strings.Join(names, ", ")
}

// oneChange reports whether a fix is one and the same for all, word for word.
func (g *fold) oneChange(fix *finding.Fix) bool {
	action, _ := fixParts(fix)
	for _, f := range g.rest {
		if !slices.ContainsFunc(f.Fixes, func(other finding.Fix) bool { have, _ := fixParts(&other); return have == action }) {
			return false
		}
	}
	return true
}
