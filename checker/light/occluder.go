package light

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Occluder is something that stands in the way of light: a [Wall], [Prism],
// [Post], [Canopy] or [Slab]. The set is closed. Transmission is the share of
// light let through, 0 (solid, the zero value) to 1.
type Occluder interface {
	// Name returns the id.
	Name() string
	// box bounds the solid.
	box() r3.Box
	// crossing returns the first stretch of the ray that lies in the solid,
	// as ray parameters; ok is false when the ray misses or only grazes.
	crossing(s ray) (in, out float64, ok bool)
	// pass returns the share of light that gets through that stretch.
	pass(s ray, in, out float64) float64
	// stepOff returns the point just outside the solid from which a luminaire
	// hosted by it shines, given where it is and which way it shines; ok is
	// false when the host is to be left out altogether.
	stepOff(at, aim r3.Vec) (from r3.Vec, ok bool)
	check() error
}

// GrazeM is the smallest length in metres of a ray inside a solid, and the gap
// kept at both ends of a ray, that counts as being in the way. Points and
// luminaires may therefore lie on a surface.
const GrazeM = 1e-3

// aimAside is the smallest level part of a direction that tells one side of a
// wall from the other.
const aimAside = 0.05

// ray is a straight stretch from a luminaire to a point.
type ray struct {
	from, along r3.Vec // along = to - from
	length      float64
	graze       float64 // GrazeM as a ray parameter
	lo, hi      float64 // the parameters that count
}

func newRay(from, to r3.Vec) ray {
	along := r3.Sub(to, from)
	n := length(along)
	g := 1.0
	if n > 0 {
		g = GrazeM / n
	}
	return ray{from: from, along: along, length: n, graze: g, lo: g, hi: 1 - g}
}

func (s *ray) at(t float64) r3.Vec { return r3.Add(s.from, r3.Scale(t, s.along)) }

// flat drops the height.
func flat(v r3.Vec) r2.Vec { return r2.Vec{X: v.X, Y: v.Y} }

// clipSlab narrows [in, out] to where the coordinate from+t*along lies in
// [low, high].
func clipSlab(in, out, from, along, low, high float64) (float64, float64, bool) {
	if along == 0 {
		return in, out, from >= low && from <= high
	}
	t0, t1 := (low-from)/along, (high-from)/along
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	in, out = max(in, t0), min(out, t1)
	return in, out, in <= out
}

// checkOccluder reports what makes an occluder unusable, nil among it.
func checkOccluder(o Occluder) error {
	if o == nil {
		return errors.New("an occluder is nil")
	}
	return o.check()
}

// checkSolid reports what makes an occluder unusable.
func checkSolid(kind, id string, transmission float64, numbers ...float64) error {
	if !(transmission >= 0 && transmission <= 1) {
		return fmt.Errorf("%s %q has a transmission of %g; it is 0 to 1", kind, id, transmission)
	}
	if !finite(numbers...) {
		return fmt.Errorf("%s %q has a dimension that is not a number", kind, id)
	}
	return nil
}

// outlineNumbers lists the coordinates of outlines for checkSolid.
func outlineNumbers(rings ...[]r2.Vec) []float64 {
	var out []float64
	for _, ring := range rings {
		for _, v := range ring {
			out = append(out, v.X, v.Y)
		}
	}
	return out
}
