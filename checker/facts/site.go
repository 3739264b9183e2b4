package facts

import (
	"context"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// ground is what the site step and the light step share.
type ground struct {
	surfaces *site.Ground
	strips   map[string]site.Strip // of paths
	paved    map[string]bool       // surfaces that cannot be lifted by hand
}

// site measures swings, crossings and distances.
func (j *join) site(context.Context) error {
	j.ground = j.newGround()
	j.pieces()
	j.joints()
	if j.plan.Site == nil {
		return nil
	}
	for _, s := range j.plan.Site.Services {
		j.doc.Services = append(j.doc.Services, Service{ID: s.ID, Kind: s.Kind, Located: s.Located, Private: s.Private})
	}
	for _, b := range j.plan.Site.Beds {
		j.doc.Beds = append(j.doc.Beds, Bed{ID: b.ID, Cover: b.Cover, Annuals: b.Annuals})
	}
	j.leaves()
	j.standings()
	j.crossings()
	j.water()
	j.surrounds()
	return nil
}

// driveRows are the rows of the cover table for each kind of drive.
var driveRows = map[string]string{"home": "home-drive", "shared": "street", "street": "street", "parking": "street"}

// newGround gathers everything that can lie above a cable.
func (j *join) newGround() *ground {
	g := &ground{strips: map[string]site.Strip{}, paved: map[string]bool{}}
	s := j.plan.Site
	if s == nil {
		g.surfaces = site.NewGround(nil)
		return g
	}
	var all []site.Surface
	add := func(id, kind string, region site.Region, paved bool) {
		all = append(all, site.Surface{ID: id, Kind: kind, Region: region})
		g.paved[id] = paved
	}
	for _, p := range s.Paths {
		strip := site.Strip{Centreline: site.Line(p.Centreline), WidthM: p.WidthM}
		g.strips[p.ID] = strip
		add(p.ID, "path", strip, hard(p.Surface))
	}
	for _, st := range s.Stairs {
		add(st.ID, "stair", site.Polygon{st.FootLeft, st.FootRight, st.HeadRight, st.HeadLeft}, true)
	}
	for _, l := range s.Landings {
		add(l.ID, "landing", site.Polygon(l.Outline), true)
	}
	for _, d := range s.Decks {
		add(d.ID, "deck", site.Polygon(d.Outline), false)
	}
	for _, a := range s.Areas {
		add(a.ID, a.Kind, site.Polygon(a.Outline), a.Kind == "slab" || a.Kind == "terrace" && hard(a.Surface))
	}
	for _, b := range s.Beds {
		add(b.ID, "bed", site.Polygon(b.Outline), false)
	}
	for _, l := range s.Lawns {
		add(l.ID, "lawn", site.Polygon(l.Outline), false)
	}
	for _, d := range s.Drives {
		add(d.ID, d.Kind+"-drive", site.Polygon(d.Outline), hard(d.Surface))
	}
	for _, b := range s.Buildings {
		add(b.ID, "building", site.Polygon(b.Outline), true)
	}
	g.surfaces = site.NewGround(all)
	return g
}

// hard reports whether a surface cannot be lifted and laid again by hand.
func hard(surface string) bool {
	switch surface {
	case "concrete", "asphalt", "tarmac", "resin", "flagstone", "paving", "brick", "stone", "setts", "cobble", "tile":
		return true
	}
	return false
}

// polygonOf is an outline as a polygon.
func polygonOf(outline []r2.Vec) site.Polygon { return site.Polygon(outline) }

// inGround reports whether a leg lies in the ground.
func inGround(method string) bool { return method == "buried" || method == "sleeved" || method == "" }

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
