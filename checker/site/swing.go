package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Sweep is the ground that a leaf passes over. One of its two shapes is in
// use: a sector for a hinged leaf, a rectangle for a sliding one. Either is
// widened by half the leaf's thickness.
type Sweep struct {
	// Sector is what a hinged leaf sweeps; its OuterM is 0 otherwise.
	Sector Sector
	// Track runs along the middle of what a sliding leaf sweeps, from end
	// to end; it has no length for a hinged leaf.
	Track Segment
	// Slides tells which shape is in use.
	Slides bool
	// HalfM is half the leaf's thickness in metres.
	HalfM float64
	// Usable is false when the leaf could not be swept.
	Usable bool
}

// Sweep returns the ground that the leaf passes over, closed and open
// positions included. The corners of a thick leaf pass inside it: the free
// corner of a leaf of length L and half thickness h is sqrt(L^2+h^2) from the
// hinge, less than L+h.
func (l Leaf) Sweep() Sweep {
	out := Sweep{HalfM: l.ThicknessM / 2, Slides: l.Slides(), Usable: l.usable()}
	if !out.Usable {
		return out
	}
	if l.Slides() {
		u := Heading(l.ClosedDeg)
		out.Track = Segment{r2.Add(l.Hinge, r2.Scale(l.HingeGapM-l.SlideM, u)), r2.Add(l.Hinge, r2.Scale(l.LengthM, u))}
		return out
	}
	out.Sector = Sector{Centre: l.Hinge, InnerM: l.HingeGapM, OuterM: l.LengthM, FromDeg: l.ClosedDeg, SpanDeg: l.AngleDeg}
	switch l.Opens {
	case OpensRight:
	case OpensBoth:
		out.Sector.FromDeg = NormalBearing(l.ClosedDeg - l.AngleDeg)
		out.Sector.SpanDeg = math.Min(360, 2*l.AngleDeg)
	case OpensLeft:
		out.Sector.FromDeg = NormalBearing(l.ClosedDeg - l.AngleDeg)
	default: // no hand stated: it does not move
		out.Sector.SpanDeg = 0
	}
	return out
}

// Bounds returns a box that holds the sweep.
func (s Sweep) Bounds() r2.Box {
	if s.Slides {
		return grow(bounds([]r2.Vec{s.Track.A, s.Track.B}), s.HalfM)
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
		at, away, d := nearestOnTrack(p, s.Track, s.HalfM)
		return Clearance{GapM: d - radiusM, Nearest: at, Away: away}
	}
	at, d := s.Sector.nearest(p)
	return Clearance{GapM: d - s.HalfM - radiusM, Nearest: at, Away: s.Sector.away(p, at, d)}
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

// nearestOnTrack returns the point of the edge of the rectangle along a track
// that is nearest to p, the direction away from the track there, and the
// signed distance.
func nearestOnTrack(p r2.Vec, track Segment, half float64) (at, away r2.Vec, signed float64) {
	n := dist(track.A, track.B)
	if n == 0 {
		away = r2.Vec{X: 0, Y: 1}
		if p != track.A {
			away = r2.Unit(r2.Sub(p, track.A))
		}
		return track.A, away, dist(p, track.A) - half
	}
	u := r2.Scale(1/n, r2.Sub(track.B, track.A))
	v := leftNormal(track)
	mid := track.at(0.5)
	w := r2.Sub(p, mid)
	x, y := r2.Dot(w, u), r2.Dot(w, v)
	sx, sy := math.Copysign(1, x), math.Copysign(1, y)
	dx, dy := math.Abs(x)-n/2, math.Abs(y)-half
	var ax, ay float64 // how far to move out, along u and v
	switch {
	case dx > 0 && dy > 0:
		d := math.Hypot(dx, dy)
		ax, ay, signed = sx*dx/d, sy*dy/d, d
	case dx > dy:
		ax, signed = sx, dx
	default:
		ay, signed = sy, dy
	}
	away = r2.Add(r2.Scale(ax, u), r2.Scale(ay, v))
	return r2.Sub(p, r2.Scale(signed, away)), away, signed
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
