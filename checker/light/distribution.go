package light

import "gonum.org/v1/gonum/spatial/r3"

// Distribution is the way a luminaire throws its light, apart from how much
// light there is: every value is per lumen of lamp flux, so that one
// distribution serves every lamp and every voltage. Implementations are
// pointers, immutable and safe for concurrent use.
//
// Directions are unit vectors in the luminaire's own frame: -z is the
// photometric axis (nadir when the luminaire is not tilted, the beam axis of a
// spotlight), +x lies in the 0 degree half-plane, +y in the 90 degree
// half-plane, counter-clockwise seen from above.
type Distribution interface {
	// PerLumen returns the intensity in the direction dir in candela per
	// lumen of lamp flux; never negative.
	PerLumen(dir r3.Vec) float64
	// Peak returns the greatest intensity in candela per lumen and one
	// direction in which it occurs. No direction has more.
	Peak() (perLumen float64, dir r3.Vec)
	// OutputRatio is the share of the lamp flux that leaves the luminaire:
	// 1 for the built-in shapes and for absolute photometry.
	OutputRatio() float64
}

// PerLumenAt returns the intensity at a vertical angle gammaDeg (0 is the
// photometric axis) in the half-plane planeDeg, both in the luminaire's frame.
func PerLumenAt(d Distribution, planeDeg, gammaDeg float64) float64 {
	return d.PerLumen(planeDirection(planeDeg, gammaDeg))
}
