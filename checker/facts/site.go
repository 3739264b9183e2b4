package facts

import (
	"context"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// site measures swings, crossings and distances.
func (j *join) site(context.Context) error {
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
	j.services()
	for _, b := range j.plan.Site.Beds {
		j.doc.Beds = append(j.doc.Beds, Bed{ID: b.ID, Cover: b.Cover, Annuals: b.Annuals})
	}
	j.leaves()
	j.standings()
	j.crossings()
	j.water()
	j.surrounds()
	j.powerPlaces()
	return nil
}

// leafOf is a gate or door as geometry knows it.
func leafOf(l *plan.Leaf) site.Leaf {
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
	for _, l := range j.plan.Site.Leaves {
		j.doc.Leaves = append(j.doc.Leaves, Leaf{ID: l.ID, Door: l.Door, LeafM: l.LeafM, GapM: l.GroundGapM})
		leaf := leafOf(l)
		sweep := leaf.Sweep()
		for _, f := range j.plan.Fixtures {
			if f.At == nil || f.Host == l.ID {
				continue
			}
			c := sweep.Clearance(*f.At, radius(f))
			if !site.Known(c.GapM) || c.GapM > farthestClearance {
				continue
			}
			j.doc.LeafClearances = append(j.doc.LeafClearances, LeafClearance{
				ID: f.ID, Leaf: l.ID, Door: l.Door, ClearanceM: c.GapM, Clears: clears(leaf, l, f),
			})
		}
	}
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
func clears(leaf site.Leaf, l *plan.Leaf, f *plan.Fixture) bool {
	if flush(f) {
		return true
	}
	if f.HeightM == nil {
		return false
	}
	base := f.GroundM - l.ElevationM
	bottom, top := base, base+*f.HeightM
	switch f.Mount {
	case "tree", "wall", "hanging", "rail", "under-deck":
		bottom = top // it does not stand on the ground
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
