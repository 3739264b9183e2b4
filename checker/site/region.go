package site

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Region is a closed part of the plan: [Polygon], [Strip], [Disc], [Margin] or
// [EdgeBand]. A region that is unusable or has no points holds nothing.
type Region interface {
	// Bounds returns a box that holds the region.
	Bounds() r2.Box
	// Contains reports whether p is in the region or within TouchM of it.
	Contains(p r2.Vec) bool
	// Distance returns the distance from p to the region in metres. It is
	// negative inside: p is then at least that deep.
	Distance(p r2.Vec) float64
	// Spans returns the parts of l that are in the region, in order and
	// apart from each other. Where l only touches the region there is no
	// span.
	Spans(l Line) []Span
}

// Span is a part of a line between two stations, in metres along the line.
type Span struct{ From, To float64 }

// Length returns the length of the span in metres.
func (s Span) Length() float64 { return s.To - s.From }

// TotalLength returns the length of spans that are apart from each other.
func TotalLength(spans []Span) float64 {
	sum := 0.0
	for _, s := range spans {
		sum += s.Length()
	}
	return sum
}

// Rest returns what spans leave over of a line of the given length: the parts
// of a leg outside one's own land, for example. The spans must be in order and
// apart, as Spans returns them. It is nil when the length is not known.
func Rest(spans []Span, lengthM float64) []Span {
	if !Known(lengthM) {
		return nil
	}
	var out []Span
	at := 0.0
	for _, s := range spans {
		if s.From-at > TouchM {
			out = append(out, Span{at, s.From})
		}
		at = max(at, s.To)
	}
	if lengthM-at > TouchM {
		out = append(out, Span{at, lengthM})
	}
	return out
}

// joinSpans sorts spans, joins those that touch and drops those without
// length.
func joinSpans(spans []Span) []Span {
	slices.SortFunc(spans, func(a, b Span) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	var out []Span
	for _, s := range spans {
		if n := len(out); n > 0 && s.From <= out[n-1].To+TouchM {
			out[n-1].To = max(out[n-1].To, s.To)
			continue
		}
		out = append(out, s)
	}
	return slices.DeleteFunc(out, func(s Span) bool { return s.Length() <= TouchM })
}

// convexSpans returns the parts of l in a union of convex shapes; clip gives
// the fractions of a segment between which it is in one of them, once for each
// shape.
func convexSpans(l Line, clip func(s Segment, yield func(t0, t1 float64))) []Span {
	var out []Span
	at := 0.0
	for _, s := range l.Segments() {
		n := dist(s.A, s.B)
		clip(s, func(t0, t1 float64) {
			if t1 > t0 {
				out = append(out, Span{at + t0*n, at + t1*n})
			}
		})
		at += n
	}
	return joinSpans(out)
}

// testedSpans returns the parts of l that are in a region of any shape within
// a box. cuts appends every fraction of a segment at which it may enter or
// leave; in decides for the middle of each stretch between two cuts.
func testedSpans(l Line, box r2.Box, cuts func(s Segment, ts []float64) []float64, in func(p r2.Vec) bool) []Span {
	var out []Span
	var ts []float64
	at := 0.0
	for _, s := range l.Segments() {
		n := dist(s.A, s.B)
		if !meet(box, s.bounds()) {
			at += n
			continue
		}
		ts = cuts(s, append(ts[:0], 0, 1))
		slices.Sort(ts)
		from := 0.0
		for _, t := range ts {
			if t <= from || t > 1 {
				continue
			}
			if (t-from)*n <= TouchM && t < 1 {
				continue // too short to judge apart from its neighbour
			}
			if in(s.at((from + t) / 2)) {
				out = append(out, Span{at + from*n, at + t*n})
			}
			from = t
		}
		at += n
	}
	return joinSpans(out)
}

// Spans returns the parts of l in g; see [Region].
func (g Polygon) Spans(l Line) []Span {
	if len(g) == 0 || !Usable(g...) || !Usable(l...) {
		return nil
	}
	box := grow(bounds(g), TouchM)
	if !meet(box, bounds(l)) {
		return nil
	}
	edges := g.ring().segments()
	cuts := func(s Segment, ts []float64) []float64 {
		for _, e := range edges {
			ts = edgeCuts(s, e, ts)
		}
		return ts
	}
	return testedSpans(l, box, cuts, func(p r2.Vec) bool { return g.locate(p) != Outside })
}

// edgeCuts appends the fractions of s at which it crosses or touches e, and
// those at which it starts and ends to run along e.
func edgeCuts(s, e Segment, ts []float64) []float64 {
	if boxGap(s, e) > TouchM {
		return ts
	}
	if t, _, ok := properCrossing(s, e); ok {
		ts = append(ts, t)
	}
	for _, p := range [...]r2.Vec{e.A, e.B} {
		if t := fractionOn(p, s); dist(p, s.at(t)) <= TouchM {
			ts = append(ts, t)
		}
	}
	for i, p := range [...]r2.Vec{s.A, s.B} {
		if dist(p, footOn(p, e)) <= TouchM {
			ts = append(ts, float64(i))
		}
	}
	return ts
}

// Disc is a circle and what is inside it: a root zone, whose radius is that of
// the canopy, or a fixture with its radius.
type Disc struct {
	Centre  r2.Vec
	RadiusM float64
}

func (d Disc) usable() bool { return Usable(d.Centre) && usableSize(d.RadiusM) }

// Bounds returns the smallest box that holds d.
func (d Disc) Bounds() r2.Box { return grow(r2.Box{Min: d.Centre, Max: d.Centre}, d.RadiusM) }

// Contains reports whether p is in d; see [Region].
func (d Disc) Contains(p r2.Vec) bool { return d.Distance(p) <= TouchM }

// Distance returns the signed distance from p to the rim of d.
func (d Disc) Distance(p r2.Vec) float64 {
	if !d.usable() || !Usable(p) {
		return math.NaN()
	}
	return dist(p, d.Centre) - d.RadiusM
}

// Spans returns the parts of l in d; see [Region].
func (d Disc) Spans(l Line) []Span {
	if !d.usable() || !Usable(l...) {
		return nil
	}
	return convexSpans(l, func(s Segment, yield func(t0, t1 float64)) {
		yield(clipDisc(s, d.Centre, d.RadiusM))
	})
}

// clipDisc returns the fractions of s between which it is in a disc; the first
// is not smaller than the second when it is nowhere in it. s has length.
func clipDisc(s Segment, centre r2.Vec, radius float64) (t0, t1 float64) {
	n := dist(s.A, s.B)
	u := r2.Scale(1/n, r2.Sub(s.B, s.A))
	w := r2.Sub(centre, s.A)
	mid, off := r2.Dot(w, u), r2.Cross(u, w)
	if math.Abs(off) >= radius {
		return 1, 0
	}
	half := math.Sqrt((radius - off) * (radius + off))
	return max(0, (mid-half)/n), min(1, (mid+half)/n)
}
