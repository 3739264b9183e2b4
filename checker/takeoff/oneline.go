package takeoff

import (
	"fmt"
	"strings"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// oneLines draws each transformer with what feeds it and what it feeds: branch
// circuit, receptacle, transformer, commons with their devices, runs, and the
// cables as a tree.
func (b *builder) oneLines() {
	for _, t := range b.plan.Transformers {
		b.out.OneLines = append(b.out.OneLines, OneLine{ID: t.ID, Lines: b.oneLine(t)})
	}
}

func (b *builder) oneLine(t *plan.Transformer) []string {
	d := newDiagram(b.facts)
	d.lines = append(d.lines, b.feedWords(t), transformerWords(t))
	var commons []*facts.Common
	for i := range b.facts.Commons {
		if c := &b.facts.Commons[i]; c.Transformer == t.ID {
			commons = append(commons, c)
		}
	}
	for i, c := range commons {
		last := i == len(commons)-1
		d.branch("", last, commonWords(c, b.when(t.ID, c.NominalAmps)))
		b.commonRuns(d, indented("", last), t, c)
	}
	return d.lines
}

// diagram is a tree in text.
type diagram struct {
	lines []string
	ends  map[string]string // what an end is and gets, by id
}

func newDiagram(doc *facts.Document) *diagram {
	d := &diagram{ends: map[string]string{}}
	for i := range doc.Fixtures {
		f := &doc.Fixtures[i]
		d.ends[f.ID] = fmt.Sprintf("%s (%s)%s", f.ID, f.Type, voltWords(f.NominalVolts))
	}
	for i := range doc.Nodes {
		n := &doc.Nodes[i]
		d.ends[n.ID] = n.Kind + " " + n.ID + voltWords(n.NominalVolts)
	}
	return d
}

func voltWords(volts *float64) string {
	if volts == nil {
		return ""
	}
	return fmt.Sprintf(" %.1f V", *volts)
}

// branch adds a line below another.
func (d *diagram) branch(indent string, last bool, words string) {
	sign := "├─ "
	if last {
		sign = "└─ "
	}
	d.lines = append(d.lines, indent+sign+words)
}

func indented(indent string, last bool) string {
	if last {
		return indent + "   "
	}
	return indent + "│  "
}

// feedWords is the mains side on one line.
func (b *builder) feedWords(t *plan.Transformer) string {
	parts := []string{"mains"}
	if s := b.plan.Supply; s != nil && s.Volts != nil {
		parts[0] = fmt.Sprintf("mains %.0f V", *s.Volts)
	}
	if t.Branch != nil {
		words := "branch " + t.Branch.ID
		if t.Branch.BreakerAmps != nil {
			words += fmt.Sprintf(" %.0f A", *t.Branch.BreakerAmps)
		}
		parts = append(parts, words)
	}
	switch {
	case t.Receptacle != nil:
		words := "receptacle " + t.Receptacle.ID
		switch {
		case t.Receptacle.GFCI == nil:
			words += ", ground-fault protection not stated"
		case *t.Receptacle.GFCI:
			words += ", ground-fault protection"
		default:
			words += ", no ground-fault protection"
		}
		parts = append(parts, words)
	case t.HardWired:
		parts = append(parts, "wired in")
	}
	return strings.Join(parts, " ── ")
}

func transformerWords(t *plan.Transformer) string {
	return fmt.Sprintf("%s ◯◯ %s, %.0f VA %s", t.ID, t.Type.ID, t.Type.RatingVA, t.Type.Kind)
}

func commonWords(c *facts.Common, amps *float64) string {
	device := "no device stated"
	if c.DeviceAmps != nil {
		kind := c.DeviceKind
		if kind == "" {
			kind = "breaker"
		}
		device = fmt.Sprintf("%.0f A %s", *c.DeviceAmps, kind)
	}
	if amps == nil {
		return fmt.Sprintf("common %d, %s: %s", c.Number, device, noAnswer)
	}
	return fmt.Sprintf("common %d, %s: %.1f A", c.Number, device, *amps)
}

// commonRuns adds the runs of a common.
func (b *builder) commonRuns(d *diagram, indent string, t *plan.Transformer, c *facts.Common) {
	var runs []*plan.Run
	for _, run := range b.plan.Runs {
		if run.Transformer == t && run.Common == c.Number {
			runs = append(runs, run)
		}
	}
	for i, run := range runs {
		last := i == len(runs)-1
		d.branch(indent, last, fmt.Sprintf("run %s, %g V tap", run.ID, run.TapVolts))
		w := walk{diagram: d, legs: map[string][]*plan.Leg{}, used: map[*plan.Leg]bool{}, seen: map[string]bool{t.ID: true}}
		for _, leg := range run.Legs {
			w.legs[leg.From] = append(w.legs[leg.From], leg)
			w.legs[leg.To] = append(w.legs[leg.To], leg)
		}
		w.below(indented(indent, last), t.ID, 0)
	}
}

// walk goes out along the legs of one run.
type walk struct {
	*diagram
	legs map[string][]*plan.Leg // by either end
	used map[*plan.Leg]bool
	seen map[string]bool
}

// deepest is how many branchings are drawn below each other.
const deepest = 20

// below adds the legs that leave an end, and what follows them. Legs one after
// another stand below each other without a sign. An end that was drawn already
// closes a loop.
func (w *walk) below(indent, end string, depth int) {
	onward := w.onward(end)
	for len(onward) == 1 && depth > 0 {
		next, words := w.step(onward[0], end)
		w.lines = append(w.lines, indent+words)
		if next == "" {
			return
		}
		end, onward = next, w.onward(next)
	}
	if depth >= deepest && len(onward) > 0 {
		w.lines = append(w.lines, indent+"and more")
		return
	}
	for i, leg := range onward {
		last := i == len(onward)-1
		if w.used[leg] { // a loop that was drawn from its other end
			w.branch(indent, last, leg.ID+" comes back here")
			continue
		}
		next, words := w.step(leg, end)
		w.branch(indent, last, words)
		if next != "" {
			w.below(indented(indent, last), next, depth+1)
		}
	}
}

// onward lists the legs at an end that were not drawn yet.
func (w *walk) onward(end string) []*plan.Leg {
	var out []*plan.Leg
	for _, leg := range w.legs[end] {
		if !w.used[leg] {
			out = append(out, leg)
		}
	}
	return out
}

// step goes along one leg; next is empty when its far end was drawn already.
func (w *walk) step(leg *plan.Leg, end string) (next, words string) {
	w.used[leg] = true
	next = leg.To
	if next == end {
		next = leg.From
	}
	size := leg.Cable.Conductor.Size
	if size == "" {
		size = "size not stated"
	}
	if w.seen[next] {
		return "", fmt.Sprintf("%s, %s, back to %s", leg.ID, size, next)
	}
	w.seen[next] = true
	name := w.ends[next]
	if name == "" {
		name = next
	}
	return next, fmt.Sprintf("%s, %s, to %s", leg.ID, size, name)
}
