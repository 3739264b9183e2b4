package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Where says how a point lies to a polygon.
type Where int

// Where a point can lie.
const (
	// Outside is farther than TouchM from the polygon.
	Outside Where = iota
	// Boundary is within TouchM of an edge, on either side of it.
	Boundary
	// Inside is inside and farther than TouchM from every edge.
	Inside
)

// String returns "outside", "boundary" or "inside".
func (w Where) String() string {
	switch w {
	case Inside:
		return "inside"
	case Boundary:
		return "boundary"
	default:
		return "outside"
	}
}

// Edge returns edge i, from point i to the next; the last edge closes the
// ring. It is the zero Segment when i is out of range.
func (g Polygon) Edge(i int) Segment {
	if i < 0 || i >= len(g) {
		return Segment{}
	}
	j := i + 1
	if j == len(g) {
		j = 0
	}
	return Segment{g[i], g[j]}
}

// SignedArea returns the area in square metres by the shoelace sum, positive
// when the ring is anticlockwise. It is 0 for fewer than three points and NaN
// when a point is unusable.
//
//	A = 1/2 sum (x_i y_i+1 - x_i+1 y_i)
//
// Coordinates are taken relative to the first point, so that a small polygon
// far from the origin keeps its digits.
func (g Polygon) SignedArea() float64 {
	if !Usable(g...) {
		return math.NaN()
	}
	if len(g) < 3 {
		return 0
	}
	sum := 0.0
	for i := 1; i+1 < len(g); i++ {
		sum += r2.Cross(r2.Sub(g[i], g[0]), r2.Sub(g[i+1], g[0]))
	}
	return sum / 2
}

// Area returns the area in square metres, never negative. See
// [Polygon.SignedArea] for bad input. For a ring that crosses itself it is the
// size of the signed sum, which is not an area on the ground.
func (g Polygon) Area() float64 { return math.Abs(g.SignedArea()) }

// Anticlockwise reports whether the ring runs anticlockwise seen from above.
// It is false for a ring without area.
func (g Polygon) Anticlockwise() bool { return g.SignedArea() > 0 }

// Perimeter returns the length of the closed ring in metres.
func (g Polygon) Perimeter() float64 { return g.ring().Length() }

// ring returns the polygon as a closed line.
func (g Polygon) ring() Line {
	if len(g) == 0 {
		return nil
	}
	out := make(Line, 0, len(g)+1)
	return append(append(out, g...), g[0])
}

// Bounds returns the smallest box that holds g.
func (g Polygon) Bounds() r2.Box { return bounds(g) }

// Locate says where p lies. A point within TouchM of an edge is on the
// Boundary. A polygon with fewer than three points, or without area, has a
// boundary but no inside. An unusable point or polygon gives Outside.
func (g Polygon) Locate(p r2.Vec) Where {
	if len(g) == 0 || !Usable(p) || !Usable(g...) {
		return Outside
	}
	return g.locate(p)
}

// locate is Locate without the look at the input.
func (g Polygon) locate(p r2.Vec) Where {
	in := false
	for i := range g {
		e := g.Edge(i)
		if nearEdge(p, e) {
			return Boundary
		}
		// Half-open rule: an edge owns its lower end only, so that a ray
		// through a corner counts it once.
		if (e.A.Y > p.Y) != (e.B.Y > p.Y) {
			x := e.A.X + (p.Y-e.A.Y)/(e.B.Y-e.A.Y)*(e.B.X-e.A.X)
			if p.X < x {
				in = !in
			}
		}
	}
	if in {
		return Inside
	}
	return Outside
}

// nearEdge reports whether p is within TouchM of e, with a cheap look at the
// box first.
func nearEdge(p r2.Vec, e Segment) bool {
	if p.X < min(e.A.X, e.B.X)-TouchM || p.X > max(e.A.X, e.B.X)+TouchM ||
		p.Y < min(e.A.Y, e.B.Y)-TouchM || p.Y > max(e.A.Y, e.B.Y)+TouchM {
		return false
	}
	return dist(p, footOn(p, e)) <= TouchM
}

// Contains reports whether p is inside g or on its boundary.
func (g Polygon) Contains(p r2.Vec) bool { return g.Locate(p) != Outside }

// EdgePoint is the point of a polygon's boundary that is nearest to something.
type EdgePoint struct {
	// Edge is the index of the edge, from point Edge to the next; -1 when
	// there is none.
	Edge int
	// At is the nearest point of that edge.
	At r2.Vec
	// M is the distance in metres: negative inside the polygon, positive
	// outside, 0 on an edge.
	M float64
}

// Nearest returns the nearest point of the boundary and the signed distance to
// it. Of several edges at the same distance the first counts. Edge is -1 and M
// is +Inf when g has no points, and NaN when something is unusable.
func (g Polygon) Nearest(p r2.Vec) EdgePoint {
	if !Usable(p) || !Usable(g...) {
		return EdgePoint{Edge: -1, At: noPoint(), M: math.NaN()}
	}
	best := EdgePoint{Edge: -1, At: noPoint(), M: math.Inf(1)}
	for i := range g {
		f := footOn(p, g.Edge(i))
		if d := dist(p, f); d < best.M {
			best = EdgePoint{Edge: i, At: f, M: d}
		}
	}
	if best.Edge >= 0 && g.locate(p) == Inside {
		best.M = -best.M
	}
	return best
}

// Distance returns the signed distance from p to the boundary of g in metres:
// negative inside. See [Polygon.Nearest].
func (g Polygon) Distance(p r2.Vec) float64 { return g.Nearest(p).M }
