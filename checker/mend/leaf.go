package mend

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// leafStepsM are how far from a gate, along the path, a light is tried.
var leafStepsM = []float64{0.6, 1.2, 1.8, 2.4}

// besideLeaf offers, for a path that a leaf throws into shadow, to move the nearest
// lights to either side of it, or to add one there.
func besideLeaf(v *view, f *finding.Finding) []Candidate {
	p, leaf := v.shaded(f)
	if p == nil || leaf == nil {
		return nil
	}
	middle := r2.Add(leaf.Hinge, r2.Scale(leaf.LeafM/2, site.Heading(leaf.ClosedBearing)))
	station, _ := project(p.Centreline, middle)
	s := stretch{path: p, from: math.Max(0, station-1), to: station + 1}
	like := v.patternAlong(s)
	if like == nil {
		return nil
	}
	_, left := project(p.Centreline, *like.At)
	away := math.Max(math.Abs(left), p.WidthM/2+0.2)
	r := v.roomFor(like)
	var out []Candidate
	for _, by := range leafStepsM {
		for _, along := range []float64{station - by, station + by} {
			for _, side := range []float64{1, -1} {
				at, ok := beside(p.Centreline, along, side*away)
				if !ok {
					continue
				}
				at, ok = site.LeastMove(at, r.clear, besideM)
				if !ok {
					continue
				}
				g := ground{name: p.ID, at: at}
				value := v.pair(at)
				if c, ok := v.cloned(like, spotLike{value, "at " + string(encode(value))}, &g); ok {
					out = append(out, c)
				}
				out = append(out, v.nearestTo(p, at)...)
			}
		}
	}
	return out
}

// shaded is the path and the leaf that a finding names.
func (v *view) shaded(f *finding.Finding) (*plan.Path, *plan.Leaf) {
	if v.plan.Site == nil {
		return nil, nil
	}
	p := find(v.plan.Site.Paths, func(p *plan.Path) bool { return p.ID == f.Element })
	leaf := find(v.plan.Site.Leaves, func(l *plan.Leaf) bool { return strings.HasPrefix(f.Case, l.ID+" ") })
	return p, leaf
}

// nearestTo moves the path light that is nearest to a place there.
func (v *view) nearestTo(p *plan.Path, at r2.Vec) []Candidate {
	var best *plan.Fixture
	least := farthestMove
	for _, f := range v.plan.Fixtures {
		if f.At == nil || v.isArray(f) || f.Type.Kind != "path" && f.Type.Kind != "bollard" {
			continue
		}
		if d := r2.Norm(r2.Sub(*f.At, at)); d < least {
			best, least = f, d
		}
	}
	if best == nil {
		return nil
	}
	r := v.roomFor(best)
	if c, ok := v.moveAbout(best, at, r.clear); ok {
		c.Text += fmt.Sprintf(", beside %s", p.ID)
		return []Candidate{c}
	}
	return nil
}
