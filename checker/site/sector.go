package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Sector is a piece of a ring: what a hinged leaf sweeps. Its area is
//
//	A = (span/360) pi (outer^2 - inner^2)
type Sector struct {
	Centre r2.Vec
	// InnerM and OuterM are the radii of the two arcs in metres. InnerM is
	// 0 for a leaf that begins at its hinge.
	InnerM, OuterM float64
	// FromDeg is the bearing of the first straight edge; SpanDeg is how far
	// the sector reaches clockwise from it. 360 and more is the whole ring;
	// 0 is the leaf that does not move.
	FromDeg, SpanDeg float64
}

func (s Sector) usable() bool {
	return Usable(s.Centre) && usableSize(s.InnerM) && usableSize(s.OuterM) && s.InnerM <= s.OuterM &&
		Known(s.FromDeg) && Known(s.SpanDeg) && s.SpanDeg >= 0
}

// Area returns the area in square metres; NaN when s is unusable.
func (s Sector) Area() float64 {
	if !s.usable() {
		return math.NaN()
	}
	return min(s.SpanDeg, 360) / 360 * math.Pi * (s.OuterM - s.InnerM) * (s.OuterM + s.InnerM)
}

// Bounds returns a box that holds s: that of the whole outer circle.
func (s Sector) Bounds() r2.Box { return Disc{s.Centre, s.OuterM}.Bounds() }

// Contains reports whether p is in s or within TouchM of it.
func (s Sector) Contains(p r2.Vec) bool { return s.Distance(p) <= TouchM }

// Distance returns the signed distance from p to s in metres: negative inside,
// where it is the depth below the nearest edge or arc.
func (s Sector) Distance(p r2.Vec) float64 {
	_, d := s.nearest(p)
	return d
}

// nearest returns the point of the boundary of s nearest to p, and the signed
// distance to it.
//
// Abreast of the sector the nearest point outside is on an arc, along the ray
// from the centre. Elsewhere the distance to a point of the sector grows with
// the angle between the two rays, so the nearest point is on a straight edge.
func (s Sector) nearest(p r2.Vec) (at r2.Vec, signed float64) {
	if !s.usable() || !Usable(p) {
		return noPoint(), math.NaN()
	}
	best, bestD := noPoint(), math.Inf(1)
	keep := func(q r2.Vec) {
		if d := dist(p, q); d < bestD {
			best, bestD = q, d
		}
	}
	if s.SpanDeg < 360 {
		for _, e := range s.edges() {
			keep(footOn(p, e))
		}
	}
	if !s.abreast(p) {
		return best, bestD
	}
	r, ray := dist(p, s.Centre), s.ray(p)
	keep(r2.Add(s.Centre, r2.Scale(s.OuterM, ray)))
	if s.InnerM > 0 {
		keep(r2.Add(s.Centre, r2.Scale(s.InnerM, ray)))
	}
	if (r > s.InnerM || s.InnerM == 0) && r < s.OuterM {
		return best, 0 - bestD
	}
	return best, bestD
}

// ray returns the unit vector from the centre towards p; the first edge's when
// p is at the centre.
func (s Sector) ray(p r2.Vec) r2.Vec {
	if dist(p, s.Centre) <= minPieceM {
		return Heading(s.FromDeg)
	}
	return r2.Unit(r2.Sub(p, s.Centre))
}

// edges returns the two straight edges, from the inner arc outwards.
func (s Sector) edges() [2]Segment {
	edge := func(deg float64) Segment {
		u := Heading(deg)
		return Segment{r2.Add(s.Centre, r2.Scale(s.InnerM, u)), r2.Add(s.Centre, r2.Scale(s.OuterM, u))}
	}
	return [2]Segment{edge(s.FromDeg), edge(s.FromDeg + s.SpanDeg)}
}

// abreast reports whether the ray from the centre to p lies in the span.
func (s Sector) abreast(p r2.Vec) bool {
	if s.SpanDeg >= 360 || p == s.Centre {
		return true
	}
	return NormalBearing(bearingOf(r2.Sub(p, s.Centre))-s.FromDeg) <= s.SpanDeg
}

// Outline returns the sector as a polygon, for drawings, with chords that stay
// within sagittaM of the arcs. A whole ring is drawn as a slit ring. It is nil
// when s is unusable, has no outer radius, or sagittaM is not positive.
func (s Sector) Outline(sagittaM float64) Polygon {
	if !s.usable() || s.OuterM == 0 || !(sagittaM > 0) {
		return nil
	}
	span := min(s.SpanDeg, 360)
	es := s.edges()
	es[1] = Sector{Centre: s.Centre, InnerM: s.InnerM, OuterM: s.OuterM, FromDeg: s.FromDeg, SpanDeg: span}.edges()[1]
	out := Polygon{es[0].A, es[0].B}
	out = append(out, arc(s.Centre, s.OuterM, s.FromDeg, span, sagittaM)...)
	out = append(out, es[1].B)
	if s.InnerM > 0 {
		out = append(out, es[1].A)
		out = append(out, arc(s.Centre, s.InnerM, s.FromDeg+span, -span, sagittaM)...)
	}
	return out
}
