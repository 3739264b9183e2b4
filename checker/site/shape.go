package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// TouchM is the distance, in metres, within which two things touch.
	TouchM = 1e-6
	// MaxCoordM is the largest coordinate that is usable, in metres either
	// side of the origin. A thousand kilometres is beyond any plan.
	MaxCoordM = 1e6
	// minPieceM is the length above which a piece of a line has a direction.
	// Shorter ones, a thousandth of what a float64 resolves at MaxCoordM,
	// would lose it to underflow.
	minPieceM = 1e-12
)

// Line is a polyline: a cable's route, a path's centreline, a wall. Repeated
// points are allowed and change nothing. A single point is a line of length 0.
type Line []r2.Vec

// Polygon is a ring without holes. See the package comment for its closing and
// its orientation. Where a ring crosses itself, a point is inside when a ray
// from it crosses the ring an odd number of times; [Polygon.Faults] finds such
// rings so that a plan can refuse them.
type Polygon []r2.Vec

// Segment is a straight piece from A to B. It may have no length.
type Segment struct{ A, B r2.Vec }

// Side says on which side of a line something is.
type Side int

// The sides of a line, seen along it.
const (
	// OnLine is within TouchM of the line itself.
	OnLine Side = iota
	// Left of the line.
	Left
	// Right of the line.
	Right
)

// String returns "on", "left" or "right".
func (s Side) String() string {
	switch s {
	case Left:
		return "left"
	case Right:
		return "right"
	default:
		return "on"
	}
}

// Opposite returns the other side; OnLine is its own opposite.
func (s Side) Opposite() Side {
	switch s {
	case Left:
		return Right
	case Right:
		return Left
	default:
		return OnLine
	}
}

// Known reports whether x is a measure: neither NaN nor infinite.
func Known(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// Usable reports whether every point has finite coordinates within MaxCoordM.
// It is true when there are none.
func Usable(points ...r2.Vec) bool {
	for _, p := range points {
		// Written so that NaN fails.
		if !(math.Abs(p.X) <= MaxCoordM && math.Abs(p.Y) <= MaxCoordM) {
			return false
		}
	}
	return true
}

// usableSize reports whether a length or radius is usable: finite, not
// negative, not beyond MaxCoordM.
func usableSize(m float64) bool { return m >= 0 && m <= MaxCoordM }

// noPoint is the point returned where there is none.
func noPoint() r2.Vec { return r2.Vec{X: math.NaN(), Y: math.NaN()} }

// Segments returns the pieces of l that have length, in order, each beginning
// where the one before it ends. Points within a picometre of the last one are
// passed over.
func (l Line) Segments() []Segment {
	if len(l) < 2 {
		return nil
	}
	out := make([]Segment, 0, len(l)-1)
	last := l[0]
	for _, p := range l[1:] {
		if !(dist(last, p) <= minPieceM) {
			out = append(out, Segment{last, p})
			last = p
		}
	}
	return out
}

// segments returns what a distance is measured to: the pieces that have
// length, or the single point of a line without any.
func (l Line) segments() []Segment {
	if s := l.Segments(); len(s) > 0 || len(l) == 0 {
		return s
	}
	return []Segment{{l[0], l[0]}}
}

// pieces yields what segments returns, without a list of it.
func (l Line) pieces(yield func(Segment) bool) {
	if len(l) == 0 {
		return
	}
	last, none := l[0], true
	for _, p := range l[1:] {
		if dist(last, p) <= minPieceM {
			continue
		}
		if !yield(Segment{last, p}) {
			return
		}
		last, none = p, false
	}
	if none {
		yield(Segment{l[0], l[0]})
	}
}

// Length returns the length of l in metres; 0 when it has fewer than two
// points, NaN when a point is unusable.
func (l Line) Length() float64 {
	if !Usable(l...) {
		return math.NaN()
	}
	sum := 0.0
	for i := 1; i < len(l); i++ {
		sum += dist(l[i-1], l[i])
	}
	return sum
}

// Bounds returns the smallest box that holds l.
func (l Line) Bounds() r2.Box { return bounds(l) }

// Reverse returns l walked the other way.
func (l Line) Reverse() Line {
	out := make(Line, len(l))
	for i, p := range l {
		out[len(l)-1-i] = p
	}
	return out
}

// Length returns the length of the segment in metres.
func (s Segment) Length() float64 {
	if !Usable(s.A, s.B) {
		return math.NaN()
	}
	return dist(s.A, s.B)
}

// at returns the point a fraction t of the way from A to B, exactly A at 0 and
// exactly B at 1.
func (s Segment) at(t float64) r2.Vec {
	if t == 1 {
		return s.B
	}
	return r2.Vec{X: s.A.X + t*(s.B.X-s.A.X), Y: s.A.Y + t*(s.B.Y-s.A.Y)}
}

// bounds returns the smallest box that holds s.
func (s Segment) bounds() r2.Box {
	return r2.Box{
		Min: r2.Vec{X: min(s.A.X, s.B.X), Y: min(s.A.Y, s.B.Y)},
		Max: r2.Vec{X: max(s.A.X, s.B.X), Y: max(s.A.Y, s.B.Y)},
	}
}

func dist(p, q r2.Vec) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// bounds returns the smallest box that holds the points; an empty box at the
// origin when there are none.
func bounds(points []r2.Vec) r2.Box {
	if len(points) == 0 {
		return r2.Box{}
	}
	b := r2.Box{Min: points[0], Max: points[0]}
	for _, p := range points[1:] {
		b.Min.X, b.Min.Y = min(b.Min.X, p.X), min(b.Min.Y, p.Y)
		b.Max.X, b.Max.Y = max(b.Max.X, p.X), max(b.Max.Y, p.Y)
	}
	return b
}

// grow returns b widened by m on every side.
func grow(b r2.Box, m float64) r2.Box {
	return r2.Box{
		Min: r2.Vec{X: b.Min.X - m, Y: b.Min.Y - m},
		Max: r2.Vec{X: b.Max.X + m, Y: b.Max.Y + m},
	}
}

// meet reports whether two boxes share a point.
func meet(a, b r2.Box) bool {
	return a.Min.X <= b.Max.X && b.Min.X <= a.Max.X && a.Min.Y <= b.Max.Y && b.Min.Y <= a.Max.Y
}
