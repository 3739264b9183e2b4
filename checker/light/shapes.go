package light

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/spatial/r3"
)

// Shape is a built-in, closed-form distribution. Its flux integrates to the
// stated lumens exactly. Make one with [NewIsotropic], [NewLambert], [NewBeam],
// [NewDownwardRing], [NewStepWash] or [NewShape].
type Shape struct {
	name string
	// The intensity is peak factor times a product of powers of the
	// direction: down^p for the share along the axis, side^q for the share
	// across it, front^q for the share along +x. Unused powers are zero.
	kind    shapeKind
	scale   float64 // candela per lumen before the powers
	down    float64
	side    float64
	peak    float64 // candela per lumen
	peakDir r3.Vec
	cellStore
}

type shapeKind uint8

const (
	isotropic shapeKind = iota
	axial               // down^n
	ring                // down^p side^q
	wash                // down^p front^q
)

// Names of the built-in shapes, as a plan writes them.
const (
	ShapeIsotropic    = "isotropic"
	ShapeLambert      = "lambert"
	ShapeBeam         = "beam"
	ShapeDownwardRing = "downward-ring"
	ShapeStepWash     = "step-wash"
)

// Sharpness of the ring and of the step wash: the sum of their two powers. Both
// are choices of this program (common practice, no source). The ring is about 45
// degrees wide at half intensity, as shaded path lights are; the wash spreads
// about 100 degrees to the sides, as hooded and louvred step lights do.
const (
	ringSharpness = 4.0
	washSharpness = 2.0
)

// Default peak angles in degrees from nadir where the plan states none
// (common practice, no source).
const (
	DefaultRingPeakDeg = 58.0
	DefaultWashPeakDeg = 60.0
)

// ErrShapeAngle is wrapped by the errors of shapes whose angle is out of range.
var ErrShapeAngle = errors.New("angle out of range")

// NewShape makes the built-in shape of that name. angleDeg is the 50 % beam
// angle of a beam and the peak angle of a ring or a wash; 0 takes the default
// of a ring or wash, and is ignored by the shapes that have no angle.
func NewShape(name string, angleDeg float64) (*Shape, error) {
	switch name {
	case ShapeIsotropic:
		return NewIsotropic(), nil
	case ShapeLambert:
		return NewLambert(), nil
	case ShapeBeam:
		return NewBeam(angleDeg)
	case ShapeDownwardRing:
		if angleDeg == 0 {
			angleDeg = DefaultRingPeakDeg
		}
		return NewDownwardRing(angleDeg)
	case ShapeStepWash:
		if angleDeg == 0 {
			angleDeg = DefaultWashPeakDeg
		}
		return NewStepWash(angleDeg)
	}
	return nil, fmt.Errorf("no built-in light shape is called %q", name)
}

// NewIsotropic is a source that shines alike in every direction: I = flux/4pi.
func NewIsotropic() *Shape {
	i := 1 / (4 * math.Pi)
	return &Shape{name: ShapeIsotropic, kind: isotropic, scale: i, peak: i, peakDir: r3.Vec{Z: -1}}
}

// NewLambert is a flat matt emitter that faces along the axis:
// I = flux/pi * cos(gamma), nothing behind (CIE term "Lambertian surface").
func NewLambert() *Shape {
	s := newAxial(1)
	s.name = ShapeLambert
	return s
}

// NewBeam is a spotlight with I = I0 cos^n(gamma) in the forward hemisphere,
// where n is such that the intensity falls to half at half of fullAngleDeg:
// n = ln 0.5 / ln cos(angle/2), I0 = flux (n+1)/2pi. The angle must lie in
// [2, 175] degrees.
func NewBeam(fullAngleDeg float64) (*Shape, error) {
	if !(fullAngleDeg >= 2 && fullAngleDeg <= 175) {
		return nil, fmt.Errorf("beam of %g degrees: %w: a 50 %% beam angle is 2 to 175 degrees", fullAngleDeg, ErrShapeAngle)
	}
	return newAxial(BeamExponent(fullAngleDeg)), nil
}

// BeamExponent returns n of the cos^n beam whose full 50 % angle is given in
// degrees: n = ln 0.5 / ln cos(angle/2).
func BeamExponent(fullAngleDeg float64) float64 {
	return math.Log(0.5) / math.Log(math.Cos(radians(fullAngleDeg/2)))
}

func newAxial(n float64) *Shape {
	i0 := (n + 1) / (2 * math.Pi)
	return &Shape{name: ShapeBeam, kind: axial, scale: i0, down: n, peak: i0, peakDir: r3.Vec{Z: -1}}
}

// NewDownwardRing is a shaded path light: symmetric about the vertical, nothing
// at or above the horizon, greatest at peakDeg from nadir, smooth between. The
// form I ~ cos^p(gamma) sin^q(gamma) with q/p = tan^2(peak) is this program's
// own model (common practice, no source); its flux is exact:
// pi B(q/2+1, (p+1)/2). The peak must lie in [10, 80] degrees.
func NewDownwardRing(peakDeg float64) (*Shape, error) {
	if !(peakDeg >= 10 && peakDeg <= 80) {
		return nil, fmt.Errorf("ring with its peak at %g degrees: %w: a downward ring peaks at 10 to 80 degrees from nadir", peakDeg, ErrShapeAngle)
	}
	p, q := shapePowers(peakDeg, ringSharpness)
	s := &Shape{name: ShapeDownwardRing, kind: ring, down: p, side: q}
	s.scale = 1 / (math.Pi * mathext.Beta(q/2+1, (p+1)/2))
	s.peakDir = planeDirection(0, peakDeg)
	s.peak = s.PerLumen(s.peakDir)
	return s, nil
}

// NewStepWash is a step or wall light that throws forward and down: nothing
// behind its own face, nothing at or above the horizon, greatest straight
// ahead at peakDeg from nadir. Forward is the 0 plane, and tilt 0 is the
// installed position. The form I ~ cos^p(gamma) (sin(gamma) cos(C))^q is this
// program's own model (common practice, no source); its flux is exact:
// B((p+1)/2, q/2+1) B((q+1)/2, 1/2) / 2. The peak must lie in [20, 80] degrees.
func NewStepWash(peakDeg float64) (*Shape, error) {
	if !(peakDeg >= 20 && peakDeg <= 80) {
		return nil, fmt.Errorf("step wash with its peak at %g degrees: %w: a step wash peaks at 20 to 80 degrees from nadir", peakDeg, ErrShapeAngle)
	}
	p, q := shapePowers(peakDeg, washSharpness)
	s := &Shape{name: ShapeStepWash, kind: wash, down: p, side: q}
	s.scale = 2 / (mathext.Beta((p+1)/2, q/2+1) * mathext.Beta((q+1)/2, 0.5))
	s.peakDir = planeDirection(0, peakDeg)
	s.peak = s.PerLumen(s.peakDir)
	return s, nil
}

// shapePowers splits a sharpness so that cos^p sin^q peaks at peakDeg.
func shapePowers(peakDeg, sharpness float64) (p, q float64) {
	sin, cos := math.Sincos(radians(peakDeg))
	return sharpness * cos * cos, sharpness * sin * sin
}

// Name returns the shape's name, one of the Shape constants.
func (s *Shape) Name() string { return s.name }

// powers is a^p b^q, of positive a and b of 0 or more. Logarithms cost a third of
// what two powers do, and are wrong by a few units of the last place.
func powers(a, p, b, q float64) float64 {
	sum := p * math.Log(a)
	if q > 0 {
		sum += q * math.Log(b) // of nought it is minus infinity, and the power nought
	}
	return math.Exp(sum)
}

// PerLumen implements [Distribution].
func (s *Shape) PerLumen(dir r3.Vec) float64 {
	if s.kind == isotropic {
		return s.scale
	}
	down := -dir.Z
	if down <= 0 {
		return 0
	}
	switch s.kind {
	case axial:
		if s.down == 1 {
			return s.scale * down
		}
		return s.scale * powers(down, s.down, 1, 0)
	case ring:
		side2 := dir.X*dir.X + dir.Y*dir.Y
		return s.scale * powers(down, s.down, side2, s.side/2)
	default:
		if dir.X <= 0 {
			return 0
		}
		return s.scale * powers(down, s.down, dir.X, s.side)
	}
}

// Peak implements [Distribution].
func (s *Shape) Peak() (float64, r3.Vec) { return s.peak, s.peakDir }

// middle is near the mean direction of the light; that of a step wash is near its
// peak.
func (s *Shape) middle() r3.Vec {
	if s.kind == wash {
		return s.peakDir
	}
	return r3.Vec{Z: -1}
}

// OutputRatio implements [Distribution]; it is 1.
func (s *Shape) OutputRatio() float64 { return 1 }

// planeDirection is the unit vector at vertical angle gammaDeg in the
// half-plane planeDeg of the luminaire's frame.
func planeDirection(planeDeg, gammaDeg float64) r3.Vec {
	sinC, cosC := math.Sincos(radians(planeDeg))
	sinG, cosG := math.Sincos(radians(gammaDeg))
	return r3.Vec{X: sinG * cosC, Y: sinG * sinC, Z: -cosG}
}
