package light

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Wall is an upright rectangle over a line on the plan: a wall, fence, hedge,
// riser, or gate leaf in one position.
type Wall struct {
	ID           string
	A, B         r2.Vec  // the ends of the centre line
	BaseM, TopM  float64 // elevations
	ThicknessM   float64 // across the line; 0 is a sheet
	Transmission float64 // share of light let through by one crossing
}

// Name implements [Occluder].
func (w Wall) Name() string { return w.ID }

func (w Wall) check() error {
	if w.ThicknessM < 0 {
		return fmt.Errorf("wall %q is %g m thick; it is 0 or more", w.ID, w.ThicknessM)
	}
	return checkSolid("wall", w.ID, w.Transmission,
		w.A.X, w.A.Y, w.B.X, w.B.Y, w.BaseM, w.TopM, w.ThicknessM)
}

func (w Wall) box() r3.Box {
	h := w.ThicknessM / 2
	return r3.Box{
		Min: r3.Vec{X: min(w.A.X, w.B.X) - h, Y: min(w.A.Y, w.B.Y) - h, Z: w.BaseM},
		Max: r3.Vec{X: max(w.A.X, w.B.X) + h, Y: max(w.A.Y, w.B.Y) + h, Z: w.TopM},
	}
}

// axes returns the unit vectors along and across the wall and its length.
func (w Wall) axes() (along, across r2.Vec, length float64) {
	d := r2.Sub(w.B, w.A)
	n := math.Sqrt(r2.Dot(d, d))
	if n == 0 {
		return r2.Vec{X: 1}, r2.Vec{Y: 1}, 0
	}
	along = r2.Scale(1/n, d)
	return along, r2.Vec{X: -along.Y, Y: along.X}, n
}

func (w Wall) crossing(s ray) (in, out float64, ok bool) {
	if w.ThicknessM > 2*GrazeM {
		return w.boxCrossing(s)
	}
	line, dir := r2.Sub(w.B, w.A), flat(s.along)
	den := r2.Cross(dir, line)
	if den == 0 {
		return 0, 0, false
	}
	rel := r2.Sub(w.A, flat(s.from))
	t, u := r2.Cross(rel, line)/den, r2.Cross(rel, dir)/den
	if t < s.lo || t > s.hi || u < 0 || u > 1 {
		return 0, 0, false
	}
	z := s.from.Z + t*s.along.Z
	return t, t, z >= w.BaseM && z < w.TopM
}

func (w Wall) boxCrossing(s ray) (in, out float64, ok bool) {
	along, across, n := w.axes()
	rel, dir := r2.Sub(flat(s.from), w.A), flat(s.along)
	u0, du := r2.Dot(rel, along), r2.Dot(dir, along)
	v0, dv := r2.Dot(rel, across), r2.Dot(dir, across)
	h := w.ThicknessM / 2
	in, out = s.lo, s.hi
	if in, out, ok = clipSlab(in, out, u0, du, 0, n); !ok {
		return 0, 0, false
	}
	if in, out, ok = clipSlab(in, out, v0, dv, -h, h); !ok {
		return 0, 0, false
	}
	if in, out, ok = clipSlab(in, out, s.from.Z, s.along.Z, w.BaseM, w.TopM); !ok {
		return 0, 0, false
	}
	return in, out, out-in > s.graze
}

func (w Wall) pass(ray, float64, float64) float64 { return w.Transmission }

// stepOff moves a luminaire out of its wall to the face it shines from: the
// side it stands on, or the side it is aimed at when it stands in the middle.
// A luminaire on top of its wall, or aimed along it, leaves the wall out.
func (w Wall) stepOff(at, aim r3.Vec) (r3.Vec, bool) {
	if at.Z >= w.TopM-GrazeM {
		return at, false
	}
	_, across, _ := w.axes()
	h := w.ThicknessM / 2
	v := r2.Dot(r2.Sub(flat(at), w.A), across)
	toward := r2.Dot(flat(aim), across)
	var side float64
	switch {
	case math.Abs(v) > h+GrazeM:
		return at, true
	case math.Abs(v) > max(h/2, GrazeM):
		side = math.Copysign(1, v)
	case math.Abs(toward) > aimAside:
		side = math.Copysign(1, toward)
	default:
		return at, false
	}
	move := r2.Scale(side*(h+2*GrazeM)-v, across)
	return r3.Add(at, r3.Vec{X: move.X, Y: move.Y}), true
}
