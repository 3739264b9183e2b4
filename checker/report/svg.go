package report

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// svg builds an SVG document or a part of one: text is escaped, numbers have a
// fixed precision, and the order is the order of the calls, so that the same
// drawing is the same bytes on every machine.
type svg struct{ b strings.Builder }

// svgDecimals is the precision of a drawing: a tenth of a unit is 0.03 mm on
// paper.
const svgDecimals = 1

// mostUnits bounds coordinates, so that nothing far away makes a number that a
// reader cannot hold.
const mostUnits = 1e7

// decimal prints a coordinate with fixed decimals, without an exponent and
// without a minus before nought.
func decimal(v float64) string {
	if math.IsNaN(v) {
		v = 0
	}
	v = max(-mostUnits, min(mostUnits, v))
	text := strconv.FormatFloat(v, 'f', svgDecimals, 64)
	text = strings.TrimSuffix(text, ".0")
	if text == "-0" {
		return "0"
	}
	return text
}

var xmlMarks = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

// xmlText makes plan text inert in XML.
func xmlText(text string) string { return xmlMarks.Replace(Clean(text)) }

// tag writes an element without content; attributes are pairs of name and
// value, and a value is text, a number or a whole number.
func (s *svg) tag(name string, attributes ...any) {
	s.start(name, attributes)
	s.b.WriteString("/>\n")
}

// open begins an element with content.
func (s *svg) open(name string, attributes ...any) {
	s.start(name, attributes)
	s.b.WriteString(">\n")
}

// shut ends an element that open began.
func (s *svg) shut(name string) { s.b.WriteString("</" + name + ">\n") }

// words writes an element that holds text alone.
func (s *svg) words(name, text string, attributes ...any) {
	s.start(name, attributes)
	s.b.WriteString(">" + xmlText(text) + "</" + name + ">\n")
}

func (s *svg) start(name string, attributes []any) {
	s.b.WriteString("<" + name)
	for i := 1; i < len(attributes); i += 2 {
		value := ""
		switch v := attributes[i].(type) {
		case float64:
			value = decimal(v)
		case int:
			value = strconv.Itoa(v)
		case string:
			value = v
		}
		if value == "" {
			continue
		}
		s.b.WriteString(" " + attributes[i-1].(string) + `="` + xmlText(value) + `"`)
	}
}

// text writes words at a place.
func (s *svg) text(x, y float64, class, words string, attributes ...any) {
	s.words("text", words, append([]any{"x", x, "y", y, "class", class}, attributes...)...)
}

// point is a place in drawing units, x to the right and y down.
type point struct{ x, y float64 }

// outline is the path data of a closed ring, and line that of an open one.
func outline(points []point) string {
	if len(points) == 0 {
		return ""
	}
	return line(points) + "Z"
}

func line(points []point) string {
	var b strings.Builder
	for i, p := range points {
		switch i {
		case 0:
			b.WriteByte('M')
		case 1:
			b.WriteByte('L')
		default:
			b.WriteByte(' ')
		}
		b.WriteString(decimal(p.x) + " " + decimal(p.y))
	}
	return b.String()
}

// frame turns metres on the ground into drawing units.
type frame struct {
	low, high     r2.Vec  // the ground shown
	unitsPerM     float64 // scale
	left, top     float64 // where the ground begins
	width, height float64 // of the ground, in units
}

// at is where a point of the ground is drawn; plan north is up.
func (f *frame) at(p r2.Vec) point {
	return point{f.left + (p.X-f.low.X)*f.unitsPerM, f.top + (f.high.Y-p.Y)*f.unitsPerM}
}

func (f *frame) all(points []r2.Vec) []point {
	out := make([]point, len(points))
	for i, p := range points {
		out[i] = f.at(p)
	}
	return out
}

// holds reports whether a place is drawn.
func (f *frame) holds(p point) bool {
	return p.x >= f.left && p.x <= f.left+f.width && p.y >= f.top && p.y <= f.top+f.height
}

// within brings a place into the frame, a little from its edge.
func (f *frame) within(p point, margin float64) point {
	return point{
		max(f.left+margin, min(f.left+f.width-margin, p.x)),
		max(f.top+margin, min(f.top+f.height-margin, p.y)),
	}
}
