package light

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Post is an upright cylinder: a post, a bollard, a trunk.
type Post struct {
	ID           string
	Centre       r2.Vec
	RadiusM      float64
	BaseM, TopM  float64 // elevations
	Transmission float64 // share of light let through by one crossing
}

// Canopy is the crown of a tree or shrub: an upright ellipsoid of revolution.
// Transmission is what a ray through its middle keeps. A shorter way through
// the leaves keeps more, by the law of equal absorption over equal lengths
// (Beer and Lambert, as used for plant canopies): T^(chord / chord through the
// middle).
type Canopy struct {
	ID           string
	Centre       r3.Vec
	RadiusM      float64 // level
	HalfHeightM  float64 // upright
	Transmission float64
}

// Name implements [Occluder].
func (p Post) Name() string { return p.ID }

// Name implements [Occluder].
func (c Canopy) Name() string { return c.ID }

func (p Post) check() error {
	if p.RadiusM < 0 {
		return fmt.Errorf("post %q has a radius of %g m; it is 0 or more", p.ID, p.RadiusM)
	}
	return checkSolid("post", p.ID, p.Transmission, p.Centre.X, p.Centre.Y, p.RadiusM, p.BaseM, p.TopM)
}

func (c Canopy) check() error {
	if !(c.RadiusM > 0 && c.HalfHeightM > 0) {
		return fmt.Errorf("canopy %q is %g m by %g m; both are more than 0", c.ID, c.RadiusM, c.HalfHeightM)
	}
	return checkSolid("canopy", c.ID, c.Transmission, c.Centre.X, c.Centre.Y, c.Centre.Z, c.RadiusM, c.HalfHeightM)
}

func (p Post) box() r3.Box {
	return r3.Box{
		Min: r3.Vec{X: p.Centre.X - p.RadiusM, Y: p.Centre.Y - p.RadiusM, Z: p.BaseM},
		Max: r3.Vec{X: p.Centre.X + p.RadiusM, Y: p.Centre.Y + p.RadiusM, Z: p.TopM},
	}
}

func (c Canopy) box() r3.Box {
	half := r3.Vec{X: c.RadiusM, Y: c.RadiusM, Z: c.HalfHeightM}
	return r3.Box{Min: r3.Sub(c.Centre, half), Max: r3.Add(c.Centre, half)}
}

// quadraticSpan solves a t^2 + 2 b t + c <= 0.
func quadraticSpan(a, b, c float64) (in, out float64, ok bool) {
	if a == 0 {
		return math.Inf(-1), math.Inf(1), c <= 0
	}
	disc := b*b - a*c
	if disc <= 0 {
		return 0, 0, false
	}
	root := math.Sqrt(disc)
	return (-b - root) / a, (-b + root) / a, true
}

func (p Post) crossing(s ray) (in, out float64, ok bool) {
	rel, dir := r2.Sub(flat(s.from), p.Centre), flat(s.along)
	in, out, ok = quadraticSpan(r2.Dot(dir, dir), r2.Dot(rel, dir), r2.Dot(rel, rel)-p.RadiusM*p.RadiusM)
	if !ok {
		return 0, 0, false
	}
	in, out, ok = clipSlab(max(in, s.lo), min(out, s.hi), s.from.Z, s.along.Z, p.BaseM, p.TopM)
	return in, out, ok && out-in > s.graze
}

func (p Post) pass(ray, float64, float64) float64 { return p.Transmission }

// stretch maps the canopy to the unit sphere about the origin.
func (c Canopy) stretch(v r3.Vec) r3.Vec {
	return r3.Vec{X: v.X / c.RadiusM, Y: v.Y / c.RadiusM, Z: v.Z / c.HalfHeightM}
}

func (c Canopy) crossing(s ray) (in, out float64, ok bool) {
	rel, dir := c.stretch(r3.Sub(s.from, c.Centre)), c.stretch(s.along)
	in, out, ok = quadraticSpan(r3.Dot(dir, dir), r3.Dot(rel, dir), r3.Dot(rel, rel)-1)
	if !ok {
		return 0, 0, false
	}
	in, out = max(in, s.lo), min(out, s.hi)
	return in, out, out-in > s.graze
}

func (c Canopy) pass(s ray, in, out float64) float64 {
	if c.Transmission == 0 || c.Transmission == 1 {
		return c.Transmission
	}
	middle := 2 / length(c.stretch(s.along)) // chord through the middle, as a ray parameter
	return math.Pow(c.Transmission, (out-in)/middle)
}

// stepOff moves a luminaire fixed to the side of its post to just outside it.
// One on the axis or on top leaves the post out.
func (p Post) stepOff(at, _ r3.Vec) (r3.Vec, bool) {
	out := r2.Sub(flat(at), p.Centre)
	n := math.Hypot(out.X, out.Y)
	switch {
	case at.Z >= p.TopM-GrazeM, n < p.RadiusM/2:
		return at, false
	case n > p.RadiusM+GrazeM:
		return at, true
	}
	q := r2.Add(p.Centre, r2.Scale((p.RadiusM+2*GrazeM)/n, out))
	return r3.Vec{X: q.X, Y: q.Y, Z: at.Z}, true
}

// stepOff leaves out the crown a luminaire hangs in.
func (c Canopy) stepOff(at, _ r3.Vec) (r3.Vec, bool) { return at, false }
