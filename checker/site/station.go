package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Place is a point given along a line: how far along, how far off, which side.
type Place struct {
	// StationM is the distance along the line from its first point, in
	// metres.
	StationM float64
	// OffsetM is the distance from the line in metres, never negative.
	OffsetM float64
	// Side is the side of the line on which the point lies.
	Side Side
	// Foot is the nearest point of the line.
	Foot r2.Vec
	// BearingDeg is the direction of the line at the station, in degrees;
	// at a bend it halves the angle between the two directions. It is NaN
	// for a line without length.
	BearingDeg float64
}

// Along returns the point of l at a station in metres, and the bearing of l
// there. A station up to TouchM beyond an end counts as the end. ok is false,
// and the point has NaN coordinates, when the station is not on the line or
// something is unusable.
func (l Line) Along(stationM float64) (p r2.Vec, bearingDeg float64, ok bool) {
	segs := l.segments()
	if len(segs) == 0 || !Usable(l...) || !(stationM >= -TouchM) {
		return noPoint(), math.NaN(), false
	}
	at := 0.0
	for i, s := range segs {
		n := dist(s.A, s.B)
		last := i == len(segs)-1
		if stationM <= at+n || last && stationM <= at+n+TouchM {
			p, t := pointAtLength(s, stationM-at, n)
			return p, bearingAt(segs, i, t), true
		}
		at += n
	}
	return noPoint(), math.NaN(), false
}

// pointAtLength returns the point of s a length along it, and its fraction,
// with lengths within TouchM of an end moved to that end.
func pointAtLength(s Segment, along, length float64) (r2.Vec, float64) {
	switch {
	case along <= TouchM:
		return s.A, 0
	case along >= length-TouchM:
		return s.B, 1
	default:
		return s.at(along / length), along / length
	}
}

// bearingAt returns the direction of segment i at fraction t: its own inside,
// the halved one at a bend, its own where the line folds straight back.
func bearingAt(segs []Segment, i int, t float64) float64 {
	own := bearingOf(r2.Sub(segs[i].B, segs[i].A))
	if segs[i].A == segs[i].B {
		return math.NaN()
	}
	var j int
	switch {
	case t == 0 && i > 0:
		j = i - 1
	case t == 1 && i+1 < len(segs):
		j = i + 1
	default:
		return own
	}
	sum := r2.Add(r2.Unit(r2.Sub(segs[i].B, segs[i].A)), r2.Unit(r2.Sub(segs[j].B, segs[j].A)))
	if r2.Norm(sum) <= TouchM {
		return own
	}
	return bearingOf(sum)
}

// PointAt returns the point at a station, an offset in metres and a side: the
// way a tape and a rule set out a path light. The offset is square to the line
// and, at a bend, along the line that halves the angle. ok is false when the
// station is not on the line, the offset is negative, something is unusable,
// or an offset is asked of a line without length.
func (l Line) PointAt(stationM, offsetM float64, side Side) (p r2.Vec, ok bool) {
	foot, bearing, ok := l.Along(stationM)
	if !ok || !usableSize(offsetM) {
		return noPoint(), false
	}
	if offsetM == 0 || side == OnLine {
		return foot, true
	}
	if !Known(bearing) {
		return noPoint(), false
	}
	turn := 90.0
	if side == Left {
		turn = -90
	}
	return r2.Add(foot, r2.Scale(offsetM, Heading(bearing+turn))), true
}

// Locate returns the place of p along l: the inverse of [Line.PointAt] as long
// as the foot of p is the nearest point of the line. Of several nearest points
// the one with the lowest station counts. ok is false when l has no points or
// something is unusable.
func (l Line) Locate(p r2.Vec) (Place, bool) {
	segs := l.segments()
	if len(segs) == 0 || !Usable(p) || !Usable(l...) {
		return Place{Foot: noPoint(), StationM: math.NaN(), OffsetM: math.NaN(), BearingDeg: math.NaN()}, false
	}
	best, bestI, bestT := Place{OffsetM: math.Inf(1)}, 0, 0.0
	at := 0.0
	for i, s := range segs {
		n := dist(s.A, s.B)
		t := fractionOn(p, s)
		if d := dist(p, s.at(t)); d < best.OffsetM {
			best = Place{StationM: at + t*n, OffsetM: d, Foot: s.at(t)}
			bestI, bestT = i, t
		}
		at += n
	}
	best.BearingDeg = bearingAt(segs, bestI, bestT)
	best.Side = sideOf(p, best)
	return best, true
}

// sideOf returns the side of p as seen from its foot along the line.
func sideOf(p r2.Vec, at Place) Side {
	if at.OffsetM <= TouchM || !Known(at.BearingDeg) {
		return OnLine
	}
	c := r2.Cross(Heading(at.BearingDeg), r2.Sub(p, at.Foot))
	switch {
	case c > 0:
		return Left
	case c < 0:
		return Right
	default:
		return OnLine
	}
}

// Part returns the part of l between two stations, which are first moved onto
// the line. It is nil when the part has no length or something is unusable.
func (l Line) Part(fromM, toM float64) Line {
	length := l.Length()
	if !Known(length) || !Known(fromM) || !Known(toM) {
		return nil
	}
	fromM, toM = max(0, fromM), min(length, toM)
	if toM-fromM <= 0 {
		return nil
	}
	var out Line
	at := 0.0
	for _, s := range l.Segments() {
		n := dist(s.A, s.B)
		if at+n > fromM && at < toM {
			if len(out) == 0 {
				out = append(out, s.at(max(0, (fromM-at)/n)))
			}
			out = append(out, s.at(min(1, (toM-at)/n)))
		}
		at += n
	}
	return out
}
