package light

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Direction returns the unit vector that points along a bearing (degrees
// clockwise from +y) at a tilt (degrees from straight down: 0 is nadir, 90 the
// horizon, 180 straight up).
func Direction(bearingDeg, tiltDeg float64) r3.Vec {
	sinB, cosB := math.Sincos(radians(bearingDeg))
	sinT, cosT := math.Sincos(radians(tiltDeg))
	return r3.Vec{X: sinT * sinB, Y: sinT * cosB, Z: -cosT}
}

// Aim returns the bearing and tilt that point a luminaire at from toward to.
// The bearing is 0 when to is straight above or below from.
func Aim(from, to r3.Vec) (bearingDeg, tiltDeg float64) {
	d := r3.Sub(to, from)
	across := math.Hypot(d.X, d.Y)
	if across > 0 {
		bearingDeg = normalBearing(degrees(math.Atan2(d.X, d.Y)))
	}
	return bearingDeg, degrees(math.Atan2(across, -d.Z))
}

// frame is the orientation of a luminaire: the world directions of its three
// axes. In the luminaire's own frame -z is the photometric axis (the direction
// of vertical angle 0), +x lies in the 0 degree half-plane and +y in the 90
// degree half-plane, counter-clockwise seen from above (LM-63 type C).
type frame struct{ x, y, z r3.Vec }

// newFrame turns the luminaire about its vertical axis until the 0 plane lies
// on zeroBearingDeg, then tips the photometric axis by tiltDeg toward
// aimBearingDeg.
func newFrame(aimBearingDeg, tiltDeg, zeroBearingDeg float64) frame {
	sinZ, cosZ := math.Sincos(radians(zeroBearingDeg))
	x := r3.Vec{X: sinZ, Y: cosZ}
	y := r3.Vec{X: -cosZ, Y: sinZ}
	z := r3.Vec{Z: 1}
	if tiltDeg == 0 {
		return frame{x, y, z}
	}
	sinB, cosB := math.Sincos(radians(aimBearingDeg))
	axis := r3.Vec{X: cosB, Y: -sinB} // nadir turned about it goes toward the bearing
	turn := func(v r3.Vec) r3.Vec { return turnAbout(v, axis, radians(tiltDeg)) }
	return frame{turn(x), turn(y), turn(z)}
}

// turnAbout rotates v about the unit axis by angle, right-handed (Rodrigues).
func turnAbout(v, axis r3.Vec, angle float64) r3.Vec {
	sin, cos := math.Sincos(angle)
	along := r3.Scale(r3.Dot(axis, v)*(1-cos), axis)
	return r3.Add(r3.Add(r3.Scale(cos, v), r3.Scale(sin, r3.Cross(axis, v))), along)
}

// local expresses a world direction in the luminaire's frame.
func (f frame) local(d r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(d, f.x), Y: r3.Dot(d, f.y), Z: r3.Dot(d, f.z)}
}

// world expresses a direction of the luminaire's frame in the world.
func (f frame) world(d r3.Vec) r3.Vec {
	return r3.Add(r3.Add(r3.Scale(d.X, f.x), r3.Scale(d.Y, f.y)), r3.Scale(d.Z, f.z))
}

func radians(deg float64) float64 { return deg * math.Pi / 180 }
func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// normalBearing brings an angle into [0, 360).
func normalBearing(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	return deg
}

// length is the Euclidean norm; garden distances need no overflow guard.
func length(v r3.Vec) float64 { return math.Sqrt(r3.Dot(v, v)) }

// finite reports whether every value is a number that can be reckoned with.
func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
