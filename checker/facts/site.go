package facts

import (
	"context"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// site measures swings, crossings and distances.
func (j *join) site(ctx context.Context) error {
	j.ground = j.newGround()
	j.legs = make(map[string]*Leg, len(j.doc.Legs))
	for i := range j.doc.Legs {
		j.legs[j.doc.Legs[i].ID] = &j.doc.Legs[i]
	}
	j.pieces()
	j.joints()
	j.cords()
	if j.plan.Site == nil {
		return nil
	}
	j.near = newSiteIndex(j.plan.Site, j.rootFactor())
	j.services()
	for _, b := range j.plan.Site.Beds {
		j.doc.Beds = append(j.doc.Beds, Bed{ID: b.ID, Cover: b.Cover, Annuals: b.Annuals})
	}
	j.leaves()
	j.standings()
	j.water()
	j.powerPlaces()
	if err := j.crossings(ctx); err != nil {
		return err
	}
	return j.surrounds(ctx)
}

// LeafGeometry is a gate or door as geometry knows it.
func LeafGeometry(l *plan.Leaf) site.Leaf {
	out := site.Leaf{ID: l.ID, Hinge: l.Hinge, LengthM: l.LeafM, ClosedDeg: l.ClosedBearing, AngleDeg: l.AngleDeg,
		BottomM: l.GroundGapM, TopM: l.HeightM}
	switch l.Towards {
	case "left":
		out.Opens = site.OpensLeft
	case "right":
		out.Opens = site.OpensRight
	case "both":
		out.Opens = site.OpensBoth
	}
	if l.SlideBearing != nil {
		out.SlideDeg, out.SlideM = *l.SlideBearing, l.TravelM
	}
	return out
}

// farthestClearance bounds the pairs of fixtures and leaves that are listed.
const farthestClearance = 1.0 // m

// leaves lists gates, doors and the fixtures near their swing.
func (j *join) leaves() {
	standing := boxes(j.plan.Fixtures, func(f *plan.Fixture) r2.Box {
		if f.At == nil {
			return r2.Box{}
		}
		return site.Disc{Centre: *f.At, RadiusM: radius(f)}.Bounds()
	})
	for _, l := range j.plan.Site.Leaves {
		j.doc.Leaves = append(j.doc.Leaves, Leaf{ID: l.ID, Door: l.Door, LeafM: l.LeafM, GapM: l.GroundGapM})
		leaf := LeafGeometry(l)
		sweep := leaf.Sweep()
		for _, i := range standing.Near(grown(sweep.Bounds(), farthestClearance)) {
			f := j.plan.Fixtures[i]
			if f.At == nil || f.Host == l.ID {
				continue
			}
			c := sweep.Clearance(*f.At, radius(f))
			if !site.Known(c.GapM) || c.GapM > farthestClearance {
				continue
			}
			j.doc.LeafClearances = append(j.doc.LeafClearances, LeafClearance{
				ID: f.ID, Leaf: l.ID, Door: l.Door, Slides: l.SlideBearing != nil, ClearanceM: c.GapM, Clears: j.clears(leaf, l, f),
			})
		}
	}
}

// grown is a box widened on every side.
func grown(b r2.Box, m float64) r2.Box {
	by := r2.Vec{X: m, Y: m}
	return r2.Box{Min: r2.Sub(b.Min, by), Max: r2.Add(b.Max, by)}
}

// radius is half the fixture's body, nought when it is not stated.
func radius(f *plan.Fixture) float64 {
	if f.Type.DiameterM == nil {
		return 0
	}
	return *f.Type.DiameterM / 2
}

// clears reports whether the leaf passes over or under the fixture. A flush
// fixture has no height; one whose height is not stated is taken to be struck.
func (j *join) clears(leaf site.Leaf, l *plan.Leaf, f *plan.Fixture) bool {
	if flush(f) {
		return true
	}
	if f.HeightM == nil {
		return false
	}
	base := f.GroundM - l.ElevationM
	bottom, top := base, base+*f.HeightM
	if !j.stands(f) {
		bottom = top // nothing of it is below its light
	}
	if f.Type.BodyHeightM != nil {
		top = max(top, base+*f.Type.BodyHeightM)
	}
	return !leaf.Strikes(bottom, top)
}

// flush reports whether a fixture lies level with what it is in.
func flush(f *plan.Fixture) bool {
	return f.Mount == "flush" || f.Mount == "tread" || f.Mount == "riser" ||
		f.Mount == "" && (f.Type.Mounting == "flush" || f.Type.Mounting == "recessed")
}
