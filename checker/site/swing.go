package site

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Sweep is the ground that a leaf passes over: a sector for a hinged leaf, a
// convex outline for a sliding one.
type Sweep struct {
	// Usable is false when the leaf could not be swept.
	Usable bool
	// Slides tells which of the two shapes is in use.
	Slides bool
	// Sector is what the middle of a hinged leaf sweeps; the leaf reaches
	// HalfM, half its thickness, beyond it.
	Sector Sector
	HalfM  float64
	// Track is what a sliding leaf sweeps, its thickness included.
	Track Polygon
}

// Sweep returns the ground that the leaf passes over, closed and open
// positions included. The corners of a thick hinged leaf pass inside it: the
// free corner of a leaf of length L and half thickness h is sqrt(L^2+h^2) from
// the hinge, less than L+h.
func (l Leaf) Sweep() Sweep {
	out := Sweep{Usable: l.usable(), Slides: l.Slides()}
	if !out.Usable {
		return out
	}
	if l.Slides() {
		out.Track = slideTrack(l.At(0).Segment, l.At(1).Segment, l.ClosedDeg, l.ThicknessM/2)
		return out
	}
	out.HalfM = l.ThicknessM / 2
	out.Sector = Sector{Centre: l.Hinge, InnerM: l.HingeGapM, OuterM: l.LengthM, FromDeg: l.ClosedDeg, SpanDeg: l.AngleDeg}
	switch l.Opens {
	case OpensRight:
	case OpensLeft:
		out.Sector.FromDeg = NormalBearing(l.ClosedDeg - l.AngleDeg)
	case OpensBoth:
		out.Sector.FromDeg = NormalBearing(l.ClosedDeg - l.AngleDeg)
		out.Sector.SpanDeg = min(360, 2*l.AngleDeg)
	default: // no hand: it does not move
		out.Sector.SpanDeg = 0
	}
	return out
}

// slideTrack returns what a leaf sweeps that moves straight from one position
// to another: the hull of both.
func slideTrack(from, to Segment, bearingDeg, half float64) Polygon {
	n := r2.Scale(half, Heading(bearingDeg+90))
	var pts []r2.Vec
	for _, p := range [...]r2.Vec{from.A, from.B, to.A, to.B} {
		pts = append(pts, r2.Add(p, n), r2.Sub(p, n))
	}
	return hull(pts)
}

// hull returns the convex hull of points, anticlockwise: Andrew's monotone
// chain. Points within TouchM of a straight edge of it may be left out.
func hull(pts []r2.Vec) Polygon {
	slices.SortFunc(pts, func(a, b r2.Vec) int {
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
	})
	pts = slices.Compact(pts)
	if len(pts) < 3 {
		return Polygon(pts)
	}
	chain := func(out []r2.Vec, p r2.Vec) []r2.Vec {
		for n := len(out); n >= 2; n-- {
			if r2.Cross(r2.Sub(out[n-1], out[n-2]), r2.Sub(p, out[n-1])) > 0 {
				break
			}
			out = out[:n-1]
		}
		return append(out, p)
	}
	var lower, upper []r2.Vec
	for i := range pts {
		lower = chain(lower, pts[i])
		upper = chain(upper, pts[len(pts)-1-i])
	}
	return Polygon(append(lower[:len(lower)-1], upper[:len(upper)-1]...))
}

// Bounds returns a box that holds the sweep.
func (s Sweep) Bounds() r2.Box {
	if s.Slides {
		return s.Track.Bounds()
	}
	return grow(s.Sector.Bounds(), s.HalfM)
}

// Clearance says how far a round thing is from what a leaf sweeps.
type Clearance struct {
	// GapM is the clear distance in metres from the rim of the thing to the
	// swept ground: 0 when the leaf just touches it, negative when it is
	// struck, and then by how much it stands in the way. NaN when something
	// is unusable.
	GapM float64
	// Nearest is the point of the edge of the swept ground that is nearest
	// to the centre of the thing.
	Nearest r2.Vec
	// Away is the unit vector along which moving the thing gains clearance
	// soonest, as far as this leaf alone is concerned.
	Away r2.Vec
}

// Contact reports whether the leaf strikes or touches the thing.
func (c Clearance) Contact() bool { return c.GapM <= TouchM }

// MoveTo returns where the centre of the thing would have the given clearance
// from this leaf by the shortest move; where it already has it, the centre
// itself.
func (c Clearance) MoveTo(centre r2.Vec, needM float64) r2.Vec {
	if !(c.GapM < needM) {
		return centre
	}
	return r2.Add(centre, r2.Scale(needM-c.GapM, c.Away))
}

// Clearance returns the clearance of a thing of the given radius, a fixture or
// a post, that stands at p. Heights are not considered; see [Leaf.Strikes].
func (s Sweep) Clearance(p r2.Vec, radiusM float64) Clearance {
	if !s.Usable || !Usable(p) || !usableSize(radiusM) {
		return Clearance{GapM: math.NaN(), Nearest: noPoint(), Away: noPoint()}
	}
	if s.Slides {
		near := s.Track.Nearest(p)
		return Clearance{GapM: near.M - radiusM, Nearest: near.At, Away: s.Track.away(p, near)}
	}
	at, d := s.Sector.nearest(p)
	return Clearance{GapM: d - s.HalfM - radiusM, Nearest: at, Away: s.Sector.away(p, at, d)}
}

// away returns the direction from an anticlockwise polygon at p, given the
// nearest point of its boundary.
func (g Polygon) away(p r2.Vec, near EdgePoint) r2.Vec {
	switch {
	case near.M > TouchM:
		return r2.Unit(r2.Sub(p, near.At))
	case near.M < -TouchM:
		return r2.Unit(r2.Sub(near.At, p))
	}
	e := g.Edge(near.Edge)
	if dist(e.A, e.B) <= minPieceM {
		return Heading(0)
	}
	return r2.Scale(-1, leftNormal(e))
}

// away returns the direction from the sector at p, given the nearest point of
// its boundary and the signed distance.
func (s Sector) away(p, at r2.Vec, signed float64) r2.Vec {
	switch {
	case signed > TouchM:
		return r2.Unit(r2.Sub(p, at))
	case signed < -TouchM:
		return r2.Unit(r2.Sub(at, p))
	}
	// On the boundary: outwards from the edge or arc it lies on.
	for i, e := range s.edges() {
		if s.SpanDeg < 360 && dist(p, footOn(p, e)) <= TouchM {
			if i == 0 {
				return Heading(s.FromDeg - 90)
			}
			return Heading(s.FromDeg + s.SpanDeg + 90)
		}
	}
	if s.InnerM > 0 && dist(p, s.Centre) <= s.InnerM+TouchM {
		return r2.Scale(-1, s.ray(p))
	}
	return s.ray(p)
}

// Strikes reports whether the heights of a leaf and a thing overlap, so that a
// contact on the plan is a contact on site. bottomM and topM are the lowest
// and highest part of the thing above the ground at the leaf; a flush fixture
// has a top of 0. A thing that only just reaches the leaf, within TouchM, is
// not struck. A leaf that is unusable in height, or a thing with a height that
// is not a number, counts as struck: what is not known is not a pass.
func (l Leaf) Strikes(bottomM, topM float64) bool {
	leafTop := l.TopM
	if leafTop == 0 {
		leafTop = math.Inf(1)
	}
	under := topM <= l.BottomM+TouchM
	over := bottomM >= leafTop-TouchM
	return !under && !over
}
