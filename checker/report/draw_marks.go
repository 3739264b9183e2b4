package report

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
)

// ranked is the findings of a plan in the order in which drawings and pages
// number them: the gravest first, then as they stand in the file.
func ranked(p *Plan) []*finding.Finding {
	out := make([]*finding.Finding, len(p.Findings))
	for i := range p.Findings {
		out[i] = &p.Findings[i]
	}
	slices.SortStableFunc(out, func(a, b *finding.Finding) int { return cmp.Compare(b.Severity, a.Severity) })
	return out
}

// anchor is where the element of a finding is drawn; a part of an element
// ("T1/2") is drawn where the element is, and a reading of a visit
// ("first-visit/L4") where it was taken. ok is false for what has no place, such
// as the plan as a whole.
func (d *drawing) anchor(f *finding.Finding) (at r2.Vec, ok bool) {
	id := f.Element
	if readingSet(d.plan, id) != nil {
		id = strings.TrimPrefix(f.Case, id+"/")
	}
	for id != "" {
		if at, ok = d.anchors[id]; ok {
			return at, true
		}
		cut := strings.LastIndexByte(id, '/')
		if cut < 0 {
			break
		}
		id = id[:cut]
	}
	return r2.Vec{}, false
}

// findings draws a numbered mark for each finding that has a place.
func (d *drawing) findings() {
	d.open("g", "class", "layer-findings")
	for i, f := range ranked(d.result) {
		if at, ok := d.anchor(f); ok {
			d.mark(i+1, f, d.within(d.at(at), 2))
		}
	}
	d.shut("g")
}

const markHeight = 14.0

// mark draws one mark: the form says how grave the finding is, the number which
// one it is, and a line leads to the element. Where a crowd leaves no room, it is
// a dot.
func (d *drawing) mark(number int, f *finding.Finding, at point) {
	words := strconv.Itoa(number)
	width := max(markHeight, textWidth(words, 9)+7)
	centre, room := d.room.settle(at, width, markHeight, 5, 2, 8, 14, 22, 30, 40, 52, 66, 82, 100, 130, 170)
	severity := f.Severity.String()
	label := fmt.Sprintf("finding %d, %s: %s", number, severity, f.Message)
	if d.inPage {
		d.open("a", "class", "mark "+severity, "id", d.prefix+"m"+words, "href", "#"+d.prefix+"f"+words)
	} else {
		d.open("g", "class", "mark "+severity)
	}
	d.words("title", label)
	if room {
		d.tag("path", "class", "leader", "d", line([]point{at, centre}))
		d.tag("circle", "class", "dot", "cx", at.x, "cy", at.y, "r", 1.4)
		d.markShape(f.Severity, centre, width)
		d.text(centre.x, centre.y+3.2, "", words)
	} else {
		d.tag("circle", "class", "shape", "cx", at.x, "cy", at.y, "r", 2.6)
		d.key("mark-crowded", "finding, no room for its number")
	}
	if d.inPage {
		d.shut("a")
	} else {
		d.shut("g")
	}
	d.keyMark(f.Severity)
}

// markShape draws the form of a severity: an octagon for danger, a square for
// defect, a circle for advice, a flat lozenge for caution.
func (d *drawing) markShape(s finding.Severity, at point, width float64) {
	x0, x1, y0, y1 := at.x-width/2, at.x+width/2, at.y-markHeight/2, at.y+markHeight/2
	const cut = 4.0
	switch s {
	case finding.Danger:
		d.tag("path", "class", "shape", "d", outline([]point{{x0 + cut, y0}, {x1 - cut, y0}, {x1, y0 + cut}, {x1, y1 - cut},
			{x1 - cut, y1}, {x0 + cut, y1}, {x0, y1 - cut}, {x0, y0 + cut}}))
	case finding.Defect:
		d.tag("rect", "class", "shape", "x", x0, "y", y0, "width", width, "height", markHeight)
	case finding.Advice:
		d.tag("rect", "class", "shape", "x", x0, "y", y0, "width", width, "height", markHeight, "rx", markHeight/2)
	default:
		d.tag("path", "class", "shape", "d", outline([]point{{x0 - 3, at.y}, {x0 + 2, y0 + 1}, {x1 - 2, y0 + 1}, {x1 + 3, at.y}, {x1 - 2, y1 - 1}, {x0 + 2, y1 - 1}}))
	}
}
