package plan

import (
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// tapeSlackM is how far two tapes may miss each other, in metres, and still be
// taken as one measured point: tapes sag, and are read to the nearest inch.
const tapeSlackM = 0.05

// fromTapes is the point where two tapes meet. Of the two places that fit, the
// side says which: left or right of the line from the first tape's point to
// the second's.
func (r *resolver) fromTapes(p *Position, s spot) *r2.Vec {
	if len(p.Tapes) != 2 {
		r.conflict(s.key("tapes"), "a place needs two tapes, not %d", len(p.Tapes))
		return nil
	}
	var from [2]*r2.Vec
	var reach [2]*float64
	for i := range p.Tapes {
		at := s.at("tapes", i)
		from[i] = r.tapePoint(&p.Tapes[i].From, at.key("from"))
		reach[i] = r.extent(at, "distance", p.Tapes[i].Distance)
	}
	if from[0] == nil || from[1] == nil || reach[0] == nil || reach[1] == nil {
		return nil
	}
	return r.crossTapes(p, s, *from[0], *from[1], *reach[0], *reach[1])
}

// tapePoint is the known point that a tape is pulled from.
func (r *resolver) tapePoint(p *TapePoint, s spot) *r2.Vec {
	if p.ID == "" {
		return r.coordinates(p.X, p.Y, s)
	}
	array := r.arrayNamed(p.ID)
	if array != nil {
		r.expand(array)
	}
	a := r.anchors[p.ID]
	if a == nil && array != nil && len(array.members) == 0 {
		return nil // the array has no fixtures, which is reported there
	}
	if a != nil {
		if !a.placed() {
			r.dangling(s, "%q has no position to measure from", p.ID)
			return nil
		}
		return r.anchored(a)
	}
	ids := func() []string { return slices.Sorted(maps.Keys(r.anchors)) }
	if e := r.plan.Elements[p.ID]; e != nil {
		r.dangling(s, "%q is %s, which does not stand at one point%s", p.ID, aKind(e.Kind), r.offer("", ids, "points to measure from are"))
		return nil
	}
	r.dangling(s, "there is no point %q to measure from%s", p.ID, r.offer(p.ID, ids, "points to measure from are"))
	return nil
}

// crossTapes intersects two circles. Tapes that miss each other by no more
// than [tapeSlackM] meet on the line through both centres.
func (r *resolver) crossTapes(p *Position, s spot, a, b r2.Vec, ra, rb float64) *r2.Vec {
	line := r2.Sub(b, a)
	between := r2.Norm(line)
	if between < sameM {
		r.conflict(s.key("tapes"), "both tapes start at the same point, so they give no place")
		return nil
	}
	if gap := between - ra - rb; gap > tapeSlackM {
		r.conflict(s.key("tapes"), "the tapes do not meet: their points are %s apart, the tapes reach %s and %s, %s short",
			r.text(between), r.text(ra), r.text(rb), r.text(gap))
		return nil
	}
	if gap := math.Abs(ra-rb) - between; gap > tapeSlackM {
		r.conflict(s.key("tapes"), "the tapes do not meet: their points are %s apart, and a tape of %s passes one of %s by %s",
			r.text(between), r.text(math.Max(ra, rb)), r.text(math.Min(ra, rb)), r.text(gap))
		return nil
	}
	// The foot of the perpendicular from the crossing lies `along` from a on
	// the line to b; the crossing is `off` to its side.
	along := (ra*ra - rb*rb + between*between) / (2 * between)
	off := math.Sqrt(math.Max(0, ra*ra-along*along))
	unit := r2.Scale(1/between, line)
	foot := r2.Add(a, r2.Scale(along, unit))
	left := r2.Vec{X: -unit.Y, Y: unit.X}
	switch {
	case p.Side == "left":
		foot = r2.Add(foot, r2.Scale(off, left))
	case p.Side == "right":
		foot = r2.Sub(foot, r2.Scale(off, left))
	case off > tapeSlackM:
		r.conflict(s, "two places fit these tapes, %s apart: say which side of the line from the first point to the second", r.text(2*off))
		return nil
	}
	return &foot
}
