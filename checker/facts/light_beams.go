package facts

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
)

const (
	upwardDeg = 100.0 // a spot that is tipped farther than this from straight down shines up
	meantDeg  = 30.0  // how far an aim by hand may miss the tree that is meant
	meantM    = 12.0  // and how far away that tree may be
)

// beams says where the light of each fixture aimed at a tree goes. One that is
// turned upwards by bearing and tilt is taken to be meant for the tree nearest
// to its aim. A tree without a crown cannot be judged.
func (j *join) beams(_ context.Context, lit *lighting) error {
	for i, f := range lit.lamps {
		t, stated := j.treeOf(lit, i, f)
		if t == nil {
			continue
		}
		out := Beam{ID: f.ID, Tree: t.ID, Stated: stated}
		if t.HasCanopy {
			parts := treeParts(t)
			landing := lit.eval.Land(i, parts...)
			if !stated && landing.Blocked > landing.OnAll() {
				continue // it lights a wall, not the tree
			}
			out.OnTree, out.PastTree, out.Blocked = ptr(landing.OnAll()), ptr(landing.Sky), ptr(landing.Blocked)
			if *out.OnTree < j.limit("light.beam_on_tree_min", 0) {
				bearing, tilt, share := lit.eval.BestAim(i, parts...)
				if l := lit.eval.Luminaire(i); share < *out.OnTree {
					bearing, tilt, share = l.AimBearingDeg, l.TiltDeg, *out.OnTree // the search found nothing better
				}
				out.BestBearingDeg, out.BestTiltDeg, out.BestOnTree = ptr(math.Round(bearing)), ptr(math.Round(tilt)), ptr(share)
			}
		}
		j.doc.Beams = append(j.doc.Beams, out)
	}
	return nil
}

// treeOf is the tree that a fixture is aimed at, stated or meant.
func (j *join) treeOf(lit *lighting, i int, f *plan.Fixture) (tree *plan.Tree, stated bool) {
	if f.AimAt != nil {
		for _, t := range j.plan.Site.Trees {
			if t.ID == f.AimAt.Tree {
				return t, true
			}
		}
		return nil, false
	}
	l := lit.eval.Luminaire(i)
	tilt := j.fixtures[f.ID].AimTiltDeg
	if !spot(f.Type.Kind) || tilt == nil || *tilt < upwardDeg {
		return nil, false
	}
	aim, least := light.Direction(l.AimBearingDeg, *tilt), meantDeg
	for _, t := range j.plan.Site.Trees {
		if !t.HasCanopy {
			continue
		}
		to := r3.Sub(r3.Vec{X: t.At.X, Y: t.At.Y, Z: t.ElevationM + (t.BaseM+t.TopM)/2}, l.At)
		if off := between(aim, to); off < least && r3.Norm(to) < meantM {
			tree, least = t, off
		}
	}
	return tree, false
}

// spot reports whether a kind of fixture is one that trees are lit with.
func spot(kind string) bool {
	return kind == "spot" || kind == "flood" || kind == "well" || kind == "in-ground"
}

// between is the angle between two directions in degrees.
func between(a, b r3.Vec) float64 {
	n := r3.Norm(a) * r3.Norm(b)
	if n == 0 {
		return 0
	}
	return math.Acos(math.Max(-1, math.Min(1, r3.Dot(a, b)/n))) * 180 / math.Pi
}
