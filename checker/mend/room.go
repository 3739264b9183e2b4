package mend

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// room says how much room to spare a thing would have at any point: the least
// over everything that it has to keep clear of. Negative is too near.
type room struct {
	at    r2.Vec
	gaps  []func(r2.Vec) float64
	harsh []func(r2.Vec) float64 // those that are not kept at at
}

// keep adds something to keep clear of.
func (r *room) keep(gap func(r2.Vec) float64) {
	if gap(r.at) >= 0 {
		r.gaps = append(r.gaps, gap)
		return
	}
	r.harsh = append(r.harsh, gap)
}

// clear is the room to spare at a point.
func (r *room) clear(p r2.Vec) float64 {
	least := math.Inf(1)
	for _, gap := range r.gaps {
		least = math.Min(least, gap(p))
	}
	for _, gap := range r.harsh {
		least = math.Min(least, gap(p))
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// roomFor gathers what a fixture has to keep clear of.
func (v *view) roomFor(f *plan.Fixture) *room {
	r := &room{at: *f.At}
	s := v.plan.Site
	if s == nil {
		return r
	}
	radius := 0.0
	if f.Type.DiameterM != nil {
		radius = *f.Type.DiameterM / 2
	}
	v.keepFromLeaves(r, f, radius)
	v.keepFromSurfaces(r, f, radius)
	v.keepFromWater(r, radius)
	v.keepFromFire(r, f)
	for _, b := range s.Buildings {
		if b.ID != f.Host {
			outline := site.Polygon(b.Outline)
			r.keep(func(p r2.Vec) float64 { return outline.Distance(p) - radius })
		}
	}
	if len(s.PropertyLine) > 2 {
		land := site.Polygon(s.PropertyLine)
		r.keep(func(p r2.Vec) float64 { return -land.Distance(p) - radius })
	}
	return r
}

// keepFromLeaves keeps a fixture out of the swing of gates and doors, unless
// they pass over it.
func (v *view) keepFromLeaves(r *room, f *plan.Fixture, radius float64) {
	need := v.limit("site.leaf_clearance_m", 0)
	for _, l := range v.plan.Site.Leaves {
		if l.ID == f.Host || v.passes(f, l) {
			continue
		}
		sweep := facts.LeafGeometry(l).Sweep()
		r.keep(func(p r2.Vec) float64 { return sweep.Clearance(p, radius).GapM - need })
	}
}

// passes reports whether a leaf passes over or under a fixture.
func (v *view) passes(f *plan.Fixture, l *plan.Leaf) bool {
	for i := range v.facts.LeafClearances {
		if c := &v.facts.LeafClearances[i]; c.ID == f.ID && c.Leaf == l.ID {
			return c.Clears
		}
	}
	return false
}

// keepFromSurfaces keeps a fixture off the surfaces that people, mowers and
// vehicles use, as far from their edges as the limits ask. One that it stands on
// now without a finding, it may go on standing on.
func (v *view) keepFromSurfaces(r *room, f *plan.Fixture, radius float64) {
	switch f.Mount {
	case "", "stake", "post", "surface", "flush":
	default:
		return
	}
	keep := func(id string, region site.Region, margin float64) {
		gap := func(p r2.Vec) float64 { return region.Distance(p) - radius - margin }
		if gap(r.at) < 0 && !v.standsIn(f.ID, id) {
			return
		}
		r.keep(gap)
	}
	s := v.plan.Site
	edge := v.limit("site.path_edge_m", 0)
	for _, p := range s.Paths {
		keep(p.ID, site.Strip{Centreline: site.Line(p.Centreline), WidthM: p.WidthM}, edge)
	}
	for _, st := range s.Stairs {
		keep(st.ID, site.Polygon{st.FootLeft, st.FootRight, st.HeadRight, st.HeadLeft}, edge)
	}
	for _, l := range s.Landings {
		keep(l.ID, site.Polygon(l.Outline), edge)
	}
	for _, d := range s.Drives {
		keep(d.ID, site.Polygon(d.Outline), v.limit("site.drive_edge_m", 0))
	}
	for _, a := range s.Areas {
		if a.Kind == "snow-store" || a.Kind == "mower-strip" {
			keep(a.ID, site.Polygon(a.Outline), v.limit("site.snow_edge_m", 0))
		}
	}
	for _, l := range s.Lawns {
		margin := v.limit("site.mower_strip_m", 0)
		if l.MowerStripM != nil {
			margin = *l.MowerStripM
		}
		keep(l.ID, site.Polygon(l.Outline), margin)
	}
}

// standsIn reports whether the facts list a fixture as standing in a zone, or
// too near it.
func (v *view) standsIn(fixture, zone string) bool {
	for i := range v.facts.Standings {
		if s := &v.facts.Standings[i]; s.ID == fixture && s.Zone == zone {
			return true
		}
	}
	return false
}

// keepFromWater keeps a thing out of the setbacks of water.
func (v *view) keepFromWater(r *room, radius float64) {
	for _, w := range v.plan.Site.Water {
		need := v.limit("water.natural_setback_m", 0)
		if w.Kind == "pool" || w.Kind == "spa" || w.Kind == "fountain" {
			need = v.limit("water.setback_m", 0)
		}
		edge := site.Polygon(w.Outline)
		r.keep(func(p r2.Vec) float64 { return edge.Distance(p) - radius - need })
	}
}

// keepFromFire keeps a hot fixture away from what burns on the ground and from
// trunks, if it is away from them now or has a finding for it.
func (v *view) keepFromFire(r *room, f *plan.Fixture) {
	need := 0.0
	switch {
	case f.Type.CombustibleM != nil:
		need = *f.Type.CombustibleM
	case f.Type.SurfaceC != nil || f.Lamp.Load == "filament":
		need = v.limit("heat.combustible_clearance_m", 0)
	default:
		return
	}
	s := v.plan.Site
	for _, b := range s.Beds {
		if slices.Contains([]string{"mulch", "bark", "leaves", "timber"}, b.Cover) {
			outline := site.Polygon(b.Outline)
			r.keep(func(p r2.Vec) float64 { return outline.Distance(p) - need })
		}
	}
	for _, t := range s.Trees {
		trunk := site.Disc{Centre: t.At, RadiusM: t.TrunkM / 2}
		r.keep(func(p r2.Vec) float64 { return trunk.Distance(p) - need })
	}
	for _, w := range s.Screens {
		if w.Material == "timber" || w.Material == "plants" {
			line, half := site.Line(w.Line), w.ThicknessM/2
			r.keep(func(p r2.Vec) float64 { return site.PointLine(p, line).M - half - need })
		}
	}
}
