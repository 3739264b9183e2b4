package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Ends says how a strip ends.
type Ends int

const (
	// FlatEnds stop square at the first and last point: a path or a drive.
	FlatEnds Ends = iota
	// RoundEnds reach half the width beyond: everything within half the
	// width of the centreline.
	RoundEnds
)

// Strip is the surface along a centreline: a path, a wall's thickness, the
// band beside a buried pipe. It is the union of one rectangle for each piece
// of the centreline and one disc for each bend, so outer corners are round.
// With RoundEnds it is exactly what lies within half the width of the
// centreline. Its methods are exact; only [Strip.Outline] is a drawing.
type Strip struct {
	Centreline Line
	WidthM     float64
	Ends       Ends
}

func (s Strip) usable() bool {
	return Usable(s.Centreline...) && usableSize(s.WidthM)
}

// Bounds returns a box that holds s.
func (s Strip) Bounds() r2.Box { return grow(bounds(s.Centreline), s.WidthM/2) }

// Contains reports whether p is on the strip or within TouchM of it.
func (s Strip) Contains(p r2.Vec) bool { return s.Distance(p) <= TouchM }

// Distance returns the signed distance in metres from p to the strip: the
// distance from a path's edge, negative on the path. The depth on a strip with
// flat ends is exact as long as its pieces are longer than half the width.
func (s Strip) Distance(p r2.Vec) float64 {
	if !s.usable() || !Usable(p) {
		return math.NaN()
	}
	half := s.WidthM / 2
	segs := s.Centreline.segments()
	if s.Ends == RoundEnds {
		return centreDistance(p, segs) - half
	}
	best := math.Inf(1)
	for i, seg := range segs {
		if i > 0 {
			best = min(best, dist(p, seg.A)-half)
		}
		best = min(best, boxDistance(p, seg, half))
	}
	if !(best < 0) {
		return best
	}
	first, last := segs[0], segs[len(segs)-1]
	depth := half - centreDistance(p, segs)
	depth = min(depth, dist(p, footOn(p, endEdge(first, 0, half))))
	depth = min(depth, dist(p, footOn(p, endEdge(last, 1, half))))
	return min(0, -depth)
}

// centreDistance returns the distance from p to the nearest of some segments.
func centreDistance(p r2.Vec, segs []Segment) float64 {
	best := math.Inf(1)
	for _, seg := range segs {
		best = min(best, dist(p, footOn(p, seg)))
	}
	return best
}

// endEdge returns the edge square across seg at a fraction of it.
func endEdge(seg Segment, t, half float64) Segment {
	if seg.A == seg.B {
		return seg
	}
	n := r2.Scale(half, leftNormal(seg))
	return Segment{r2.Add(seg.at(t), n), r2.Sub(seg.at(t), n)}
}

// boxDistance returns the signed distance from p to the rectangle that has seg
// as its middle line and reaches half to either side of it.
func boxDistance(p r2.Vec, seg Segment, half float64) float64 {
	n := dist(seg.A, seg.B)
	if n == 0 { // a rectangle without length is the point itself
		return dist(p, seg.A)
	}
	u := r2.Scale(1/n, r2.Sub(seg.B, seg.A))
	w := r2.Sub(p, seg.A)
	along, off := r2.Dot(w, u), math.Abs(r2.Cross(u, w))
	dx, dy := max(-along, along-n), off-half
	if dx <= 0 || dy <= 0 {
		return max(dx, dy)
	}
	return math.Hypot(dx, dy)
}

// Spans returns the parts of l on the strip; see [Region].
func (s Strip) Spans(l Line) []Span {
	if !s.usable() || !Usable(l...) || !meet(grow(s.Bounds(), TouchM), bounds(l)) {
		return nil
	}
	half := s.WidthM / 2
	segs := s.Centreline.segments()
	return convexSpans(l, func(c Segment, yield func(t0, t1 float64)) {
		for i, seg := range segs {
			if boxGap(c, seg) > half+TouchM {
				continue
			}
			yield(clipBox(c, seg, half))
			if s.Ends == RoundEnds || i > 0 {
				yield(clipDisc(c, seg.A, half))
			}
			if s.Ends == RoundEnds && i == len(segs)-1 {
				yield(clipDisc(c, seg.B, half))
			}
		}
	})
}

// clipBox returns the fractions of c between which it is in the rectangle
// along seg that reaches half to either side; the first is not smaller than
// the second when it is nowhere in it. c has length.
func clipBox(c, seg Segment, half float64) (t0, t1 float64) {
	n := dist(seg.A, seg.B)
	if n == 0 {
		return 1, 0
	}
	u := r2.Scale(1/n, r2.Sub(seg.B, seg.A))
	d, w := r2.Sub(c.B, c.A), r2.Sub(c.A, seg.A)
	a0, a1 := clipSlab(r2.Dot(w, u), r2.Dot(d, u), 0, n)
	b0, b1 := clipSlab(r2.Cross(u, w), r2.Cross(u, d), -half, half)
	return max(a0, b0), min(a1, b1)
}

// clipSlab returns the fractions of a move from x to x+dx between which it is
// from lo to hi. A move shorter than TouchM is judged as a whole, with TouchM
// allowed, so that a cable along the edge of a path is on the path.
func clipSlab(x, dx, lo, hi float64) (t0, t1 float64) {
	if math.Abs(dx) <= TouchM {
		if m := x + dx/2; m < lo-TouchM || m > hi+TouchM {
			return 1, 0
		}
		return 0, 1
	}
	t0, t1 = (lo-x)/dx, (hi-x)/dx
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	return max(0, t0), min(1, t1)
}

// EdgePlace is how a point lies to the edge of a strip.
type EdgePlace struct {
	// Place is where the point lies along the centreline.
	Place
	// EdgeM is the distance to the nearest edge in metres: negative on the
	// strip.
	EdgeM float64
}

// Place returns how p lies to the strip: how far along, on which side, and how
// far from the edge. ok is false when something is unusable.
func (s Strip) Place(p r2.Vec) (EdgePlace, bool) {
	at, ok := s.Centreline.Locate(p)
	if !ok || !s.usable() {
		return EdgePlace{Place: at, EdgeM: math.NaN()}, false
	}
	return EdgePlace{Place: at, EdgeM: s.Distance(p)}, true
}

// Outline returns the edge of the strip as a polygon, for drawings and for
// areas: the left edge onward, then the right edge back. Round corners and
// ends are drawn with chords that stay within sagittaM of the arc. At a bend
// sharper than the pieces beside it are long, the ring may overlap itself; the
// other methods do not use it. It is nil when something is unusable, when the
// width is 0, or when sagittaM is not positive.
func (s Strip) Outline(sagittaM float64) Polygon {
	segs := s.Centreline.Segments()
	if !s.usable() || s.WidthM == 0 || len(segs) == 0 || !(sagittaM > 0) {
		return nil
	}
	back := s.Centreline.Reverse().Segments()
	left := offsetLeft(segs, s.WidthM/2, sagittaM)
	right := offsetLeft(back, s.WidthM/2, sagittaM)
	if s.Ends == RoundEnds {
		left = append(left, endCap(segs[len(segs)-1], s.WidthM/2, sagittaM)...)
		right = append(right, endCap(back[len(back)-1], s.WidthM/2, sagittaM)...)
	}
	return Polygon(append(left, right...))
}

// offsetLeft returns the line half to the left of the segments: arcs outside
// bends, crossings of the offset lines inside them.
func offsetLeft(segs []Segment, half, sagitta float64) []r2.Vec {
	var out []r2.Vec
	for i, s := range segs {
		n := r2.Scale(half, leftNormal(s))
		a, b := r2.Add(s.A, n), r2.Add(s.B, n)
		if i == 0 {
			out = append(out, a)
		}
		if i+1 == len(segs) {
			return append(out, b)
		}
		next := segs[i+1]
		m := r2.Scale(half, leftNormal(next))
		c, d := r2.Add(next.A, m), r2.Add(next.B, m)
		if t, _, ok := properCrossing(Segment{a, b}, Segment{c, d}); ok {
			out = append(out, Segment{a, b}.at(t))
			continue
		}
		out = append(out, b)
		turn := TurnDeg(bearingOf(n), bearingOf(m))
		if turn > 0 { // a bend to the right: the left edge goes round outside
			out = append(out, arc(next.A, half, bearingOf(n), turn, sagitta)...)
		}
		out = append(out, c)
	}
	return out
}

func leftNormal(s Segment) r2.Vec {
	u := r2.Unit(r2.Sub(s.B, s.A))
	return r2.Vec{X: -u.Y, Y: u.X}
}

// endCap returns the half circle round the end of s, without its two ends.
func endCap(s Segment, half, sagitta float64) []r2.Vec {
	return arc(s.B, half, bearingOf(leftNormal(s)), 180, sagitta)
}

// arc returns the points between the ends of an arc of the given turn, close
// enough that chords stay within sagitta of it, at most 720 of them.
//
//	sagitta = r (1 - cos(step/2))
func arc(centre r2.Vec, radius, fromDeg, turnDeg, sagitta float64) []r2.Vec {
	n := arcSteps(radius, turnDeg, sagitta)
	out := make([]r2.Vec, 0, n)
	for i := 1; i < n; i++ {
		out = append(out, r2.Add(centre, r2.Scale(radius, Heading(fromDeg+turnDeg*float64(i)/float64(n)))))
	}
	return out
}

func arcSteps(radius, turnDeg, sagitta float64) int {
	if !(radius > 0) || sagitta >= radius {
		return max(1, int(math.Ceil(math.Abs(turnDeg)/90)))
	}
	step := 2 * math.Acos(1-sagitta/radius) * 180 / math.Pi
	n := math.Ceil(math.Abs(turnDeg)/step - 1e-9)
	return int(max(1, min(n, 720)))
}
