package light

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// CornerInsetM is how far the corner points of a tread or window stay inside its
// edges, so that a riser or reveal on the edge is clearly beside them.
const CornerInsetM = 0.02

// NamedPoint is a point of a tread or window with the name findings use.
type NamedPoint struct {
	Name  string
	Point Point
}

// Tread is the walking surface of one step or of a landing, as a four-sided
// outline named as seen by someone going up.
type Tread struct {
	FrontLeft, FrontRight, BackRight, BackLeft r2.Vec
	ElevationM                                 float64
	// WalkM is the distance of the middle of the walking strip from the left
	// edge; 0 means the middle of the tread.
	WalkM float64
}

// Points returns "strip" (the middle of the walking strip), "centre" and the
// four corners, all on the surface and facing up. Building codes that ask for a
// level on a step measure it at the centre of the tread.
func (t Tread) Points() []NamedPoint {
	width := r2.Norm(r2.Sub(t.FrontRight, t.FrontLeft))
	depth := r2.Norm(r2.Sub(t.BackLeft, t.FrontLeft))
	u, v := insetShare(width), insetShare(depth)
	walk := 0.5
	if t.WalkM > 0 && width > 0 {
		walk = min(1-u, t.WalkM/width)
	}
	at := func(name string, across, deep float64) NamedPoint {
		front := mix(t.FrontLeft, t.FrontRight, across)
		back := mix(t.BackLeft, t.BackRight, across)
		p := mix(front, back, deep)
		return NamedPoint{name, Point{At: r3.Vec{X: p.X, Y: p.Y, Z: t.ElevationM}, Normal: Up}}
	}
	return []NamedPoint{
		at("strip", walk, 0.5),
		at("centre", 0.5, 0.5),
		at("front-left", u, v),
		at("front-right", 1-u, v),
		at("back-right", 1-u, 1-v),
		at("back-left", u, 1-v),
	}
}

// Window is a pane over a line on the plan. The outside is on the right hand of
// someone walking from A to B.
type Window struct {
	A, B         r2.Vec
	SillM, HeadM float64 // elevations
}

// Points returns "centre" and the four corners, facing out.
func (w Window) Points() []NamedPoint {
	d := r2.Sub(w.B, w.A)
	n := r2.Norm(d)
	if n == 0 {
		return nil
	}
	normal := r3.Vec{X: d.Y / n, Y: -d.X / n}
	u, v := insetShare(n), insetShare(w.HeadM-w.SillM)
	at := func(name string, across, up float64) NamedPoint {
		p := mix(w.A, w.B, across)
		z := w.SillM + up*(w.HeadM-w.SillM)
		return NamedPoint{name, Point{At: r3.Vec{X: p.X, Y: p.Y, Z: z}, Normal: normal}}
	}
	return []NamedPoint{
		at("centre", 0.5, 0.5),
		at("sill-a", u, v),
		at("sill-b", 1-u, v),
		at("head-b", 1-u, 1-v),
		at("head-a", u, 1-v),
	}
}

// insetShare is the corner inset as a share of a side, at most a quarter.
func insetShare(side float64) float64 {
	if side <= 4*CornerInsetM {
		return 0.25
	}
	return CornerInsetM / side
}

// mix is the point a share of the way from a to b.
func mix(a, b r2.Vec, share float64) r2.Vec {
	return r2.Add(a, r2.Scale(share, r2.Sub(b, a)))
}

// PointsOf drops the names.
func PointsOf(named []NamedPoint) []Point {
	out := make([]Point, len(named))
	for i, n := range named {
		out[i] = n.Point
	}
	return out
}
