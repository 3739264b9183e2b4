package plan

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// aim reads where a fixture points.
func (r *resolver) aim(f *Fixture, s spot, e *AimEntry) {
	if e == nil {
		return
	}
	s = s.key("aim")
	f.AimBearing, f.AimTilt = e.Bearing, e.Tilt
	height := r.extent(s, "height", e.Height)
	switch {
	case e.Tree != "":
		r.aimAtTree(f, s, e.Tree, height)
	case e.At != nil:
		if at := r.locate(e.At, s.key("at")); at != nil {
			ground, _ := r.groundAt(*at, nil)
			f.AimAt = &Target{At: *at, HeightM: ground + or(height, 0)}
		}
	}
	if t := f.AimAt; t != nil && f.At != nil && f.HeightM != nil &&
		r2.Norm(r2.Sub(t.At, *f.At)) < sameM && math.Abs(t.HeightM-f.GroundM-*f.HeightM) < sameM {
		r.conflict(s, "the fixture is aimed at itself")
		f.AimAt = nil
	}
	if f.AimAt != nil && (e.Bearing != nil || e.Tilt != nil) {
		r.conflict(s, "the fixture is aimed at a target, so a bearing or a tilt says it twice")
		f.AimBearing, f.AimTilt = nil, nil
	}
}

// aimAtTree aims at a tree: at the height stated, else at the middle of its
// crown.
func (r *resolver) aimAtTree(f *Fixture, s spot, id string, height *float64) {
	tree, found := find[*Tree](r, s.key("tree"), "tree", id)
	if !found || r.leftOut[&tree.Element] {
		return
	}
	if height == nil {
		if !tree.HasCanopy && tree.RadiusM > 0 {
			return // its crown cannot be, which is reported there
		}
		if !tree.HasCanopy {
			r.conflict(s.key("tree"), "%q has no crown to aim at, and the aim states no height", id)
			return
		}
		middle := (tree.BaseM + tree.TopM) / 2
		height = &middle
	}
	f.AimAt = &Target{At: tree.At, HeightM: tree.ElevationM + *height, Tree: id}
}
