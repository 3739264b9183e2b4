package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Gap is the shortest way between two things.
type Gap struct {
	// M is its length in metres: 0 when they meet, +Inf when one of them
	// has no points, NaN when something is unusable.
	M float64
	// A is on the first thing, B on the second.
	A, B r2.Vec
}

func unknownGap() Gap { return Gap{M: math.NaN(), A: noPoint(), B: noPoint()} }
func noGap() Gap      { return Gap{M: math.Inf(1), A: noPoint(), B: noPoint()} }

// PointSegment returns the gap between a point and a segment.
func PointSegment(p r2.Vec, s Segment) Gap {
	if !Usable(p, s.A, s.B) {
		return unknownGap()
	}
	f := footOn(p, s)
	return Gap{M: dist(p, f), A: p, B: f}
}

// SegmentSegment returns the gap between two segments. Where they overlap
// along a stretch, A and B are one point of it.
func SegmentSegment(s, t Segment) Gap {
	if !Usable(s.A, s.B, t.A, t.B) {
		return unknownGap()
	}
	return segmentGap(s, t)
}

// PointLine returns the gap between a point and a polyline.
func PointLine(p r2.Vec, l Line) Gap {
	return LineLine(Line{p}, l)
}

// LineLine returns the gap between two polylines.
func LineLine(a, b Line) Gap {
	if !Usable(a...) || !Usable(b...) {
		return unknownGap()
	}
	return segmentsGap(a.segments(), b.segments())
}

// LinePolygon returns the gap between a polyline and the region of a polygon:
// 0 as soon as any part of the line is in the polygon. Use [Polygon.Nearest]
// for a signed distance to its edge.
func LinePolygon(l Line, g Polygon) Gap {
	if !Usable(l...) || !Usable(g...) {
		return unknownGap()
	}
	if len(l) == 0 || len(g) == 0 {
		return noGap()
	}
	if g.locate(l[0]) != Outside {
		return Gap{M: 0, A: l[0], B: l[0]}
	}
	return segmentsGap(l.segments(), g.ring().segments())
}

// PolygonPolygon returns the gap between the regions of two polygons: 0 as
// soon as they share a point.
func PolygonPolygon(g, h Polygon) Gap {
	if !Usable(g...) || !Usable(h...) {
		return unknownGap()
	}
	if len(g) == 0 || len(h) == 0 {
		return noGap()
	}
	if h.locate(g[0]) != Outside {
		return Gap{M: 0, A: g[0], B: g[0]}
	}
	if g.locate(h[0]) != Outside {
		return Gap{M: 0, A: h[0], B: h[0]}
	}
	return segmentsGap(g.ring().segments(), h.ring().segments())
}

// segmentsGap returns the least gap of all pairs, skipping pairs whose boxes
// are farther apart than the best so far.
func segmentsGap(as, bs []Segment) Gap {
	best := noGap()
	for _, a := range as {
		for _, b := range bs {
			if best.M < math.Inf(1) && boxGap(a, b) >= best.M {
				continue
			}
			if g := segmentGap(a, b); g.M < best.M {
				best = g
			}
		}
		if best.M == 0 {
			break
		}
	}
	return best
}

// boxGap returns a lower bound of the distance between two segments: the
// larger of the gaps of their boxes along x and along y.
func boxGap(a, b Segment) float64 {
	x := max(min(a.A.X, a.B.X)-max(b.A.X, b.B.X), min(b.A.X, b.B.X)-max(a.A.X, a.B.X))
	y := max(min(a.A.Y, a.B.Y)-max(b.A.Y, b.B.Y), min(b.A.Y, b.B.Y)-max(a.A.Y, a.B.Y))
	return max(max(x, y), 0)
}

// fractionOn returns how far along s, from 0 to 1, the point of s nearest to p
// is; 0 for a segment without length.
func fractionOn(p r2.Vec, s Segment) float64 {
	d := r2.Sub(s.B, s.A)
	n := r2.Norm2(d)
	if n == 0 {
		return 0
	}
	return min(1, max(0, r2.Dot(r2.Sub(p, s.A), d)/n))
}

// footOn returns the point of s nearest to p.
func footOn(p r2.Vec, s Segment) r2.Vec { return s.at(fractionOn(p, s)) }

// segmentGap returns the gap between two usable segments. If they do not cross
// properly, the shortest way starts at an end of one of them.
func segmentGap(s, t Segment) Gap {
	if u, _, ok := properCrossing(s, t); ok {
		p := s.at(u)
		return Gap{M: 0, A: p, B: p}
	}
	best := noGap()
	keep := func(a, b r2.Vec) {
		if d := dist(a, b); d < best.M {
			best = Gap{M: d, A: a, B: b}
		}
	}
	keep(s.A, footOn(s.A, t))
	keep(s.B, footOn(s.B, t))
	keep(footOn(t.A, s), t.A)
	keep(footOn(t.B, s), t.B)
	return best
}

// properCrossing returns the fractions along s and t at which the two cross,
// each end of one strictly on its own side of the other. Where rounding
// misjudges a side, an end lies within rounding of the other segment, and the
// caller's look at the ends finds that.
func properCrossing(s, t Segment) (along, across float64, ok bool) {
	d, e, w := r2.Sub(s.B, s.A), r2.Sub(t.B, t.A), r2.Sub(t.A, s.A)
	c := r2.Cross(d, e)
	if c == 0 {
		return 0, 0, false
	}
	along, across = r2.Cross(w, e)/c, r2.Cross(w, d)/c
	return along, across, along > 0 && along < 1 && across > 0 && across < 1
}
