package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Heading returns the unit vector of a bearing in degrees. It is exact at
// multiples of 90 degrees. It has NaN coordinates when the bearing is NaN or
// infinite.
func Heading(bearingDeg float64) r2.Vec {
	switch b := NormalBearing(bearingDeg); b {
	case 0:
		return r2.Vec{X: 0, Y: 1}
	case 90:
		return r2.Vec{X: 1, Y: 0}
	case 180:
		return r2.Vec{X: 0, Y: -1}
	case 270:
		return r2.Vec{X: -1, Y: 0}
	default:
		sin, cos := math.Sincos(b * math.Pi / 180)
		return r2.Vec{X: sin, Y: cos}
	}
}

// Bearing returns the bearing from one point to another in degrees, in
// [0, 360); NaN when they are the same point or unusable.
func Bearing(from, to r2.Vec) float64 {
	if !Usable(from, to) || from == to {
		return math.NaN()
	}
	return bearingOf(r2.Sub(to, from))
}

func bearingOf(v r2.Vec) float64 {
	return NormalBearing(math.Atan2(v.X, v.Y) * 180 / math.Pi)
}

// NormalBearing returns the bearing in [0, 360); NaN when it is NaN or
// infinite.
func NormalBearing(deg float64) float64 {
	b := math.Mod(deg, 360)
	if b < 0 {
		b += 360
	}
	if b == 360 { // a tiny negative remainder rounds up
		return 0
	}
	return b + 0 // turns -0 into 0
}

// TurnDeg returns the signed turn from one bearing to another in degrees, in
// (-180, 180]: positive clockwise, that is to the right.
func TurnDeg(fromDeg, toDeg float64) float64 {
	t := NormalBearing(toDeg - fromDeg)
	if t > 180 {
		t -= 360
	}
	return t
}
