package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// moveRays is how many bearings LeastMove looks along at first.
	moveRays = 72
	// moveStepM is the least step along a ray, in metres: moves are found to
	// within it.
	moveStepM = 1e-3
)

// LeastMove returns the point nearest to p at which clear is not negative, no
// farther than maxM away: where to put a fixture that stands in a gate's way,
// in a drive or within a setback, all at once. clear gives, for any point, how
// much room there is to spare; it must not change by more than a step is long,
// as distances, and the least of several distances, do not.
//
// It looks along 72 bearings, then about the best one, and finds the move to
// about a millimetre wherever the acceptable ground within maxM is wider than
// 5 degrees as seen from p. It returns p itself when that is acceptable. ok is
// false when nothing was found or something is unusable.
func LeastMove(p r2.Vec, clear func(r2.Vec) float64, maxM float64) (at r2.Vec, ok bool) {
	if !Usable(p) || !usableSize(maxM) {
		return noPoint(), false
	}
	if clear(p) >= 0 {
		return p, true
	}
	best, bestDeg := math.Inf(1), 0.0
	for i := range moveRays {
		deg := 360 * float64(i) / moveRays
		if m := march(p, deg, clear, min(maxM, best)); m < best {
			best, bestDeg = m, deg
		}
	}
	if math.IsInf(best, 1) {
		return noPoint(), false
	}
	for width := 180.0 / moveRays; width > 1e-3; width /= 2 {
		for _, deg := range [...]float64{bestDeg - width, bestDeg + width} {
			if m := march(p, deg, clear, best); m < best {
				best, bestDeg = m, deg
			}
		}
	}
	return r2.Add(p, r2.Scale(best, Heading(bestDeg))), true
}

// march returns how far along a bearing clear is first not negative; +Inf when
// that is not within maxM. A point that lacks d is at least d from any that is
// acceptable, so steps of d miss nothing.
func march(p r2.Vec, deg float64, clear func(r2.Vec) float64, maxM float64) float64 {
	u := Heading(deg)
	for at := 0.0; at <= maxM; {
		c := clear(r2.Add(p, r2.Scale(at, u)))
		if c >= 0 {
			return at
		}
		if !Known(c) {
			return math.Inf(1)
		}
		at += max(-c, moveStepM)
	}
	return math.Inf(1)
}
