package facts

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// farthestWater bounds the pairs of things and water that are listed: a little
// beyond the largest distance that a rule asks about, 20 ft.
const farthestWater = 6.5 // m

// codeWater reports whether codes have setbacks for a kind of water.
func codeWater(kind string) bool { return kind == "pool" || kind == "spa" || kind == "fountain" }

// water lists what is near water, and what may be for all that the plan says.
func (j *join) water() {
	waters := j.plan.Site.Water
	for _, f := range j.plan.Fixtures {
		if f.At == nil {
			continue
		}
		for _, i := range j.near.water.NearPoint(*f.At, farthestWater+radius(f)) {
			j.addWater(j.nearFixture(f), waters[i], polygonOf(waters[i].Outline).Distance(*f.At)-radius(f))
		}
	}
	for _, run := range j.plan.Runs {
		for _, leg := range run.Legs {
			line := site.Line(leg.Route)
			if len(line) < 2 {
				continue
			}
			for _, i := range j.near.water.NearLine(line, farthestWater) {
				j.addWater(nearLeg(leg), waters[i], site.LinePolygon(line, polygonOf(waters[i].Outline)).M)
			}
		}
	}
	for _, w := range waters {
		j.transformersNear(w, polygonOf(w.Outline))
		j.receptaclesNear(w, polygonOf(w.Outline))
	}
	j.waterUnknown()
}

func (j *join) nearFixture(f *plan.Fixture) WaterDistance {
	out := WaterDistance{ID: f.ID, Thing: "fixture", Listing: f.Type.Listing}
	supplied(&out, j.runOf(f.ID))
	return out
}

func nearLeg(leg *plan.Leg) WaterDistance {
	out := WaterDistance{ID: leg.ID, Thing: "leg", Listing: leg.Cable.Listing}
	supplied(&out, leg.Run)
	return out
}

// supplied says what feeds a thing; nothing where no run reaches it.
func supplied(out *WaterDistance, run *plan.Run) {
	if run == nil || run.Transformer == nil {
		return
	}
	t := run.Transformer.Type
	out.SupplyListing, out.Output, out.TapVolts = t.Listing, t.Output, ptr(run.TapVolts)
}

func (j *join) transformersNear(w *plan.Water, edge site.Polygon) {
	for i, t := range j.plan.Transformers {
		if t.At == nil {
			continue
		}
		d := edge.Distance(*t.At)
		j.addWater(WaterDistance{ID: t.ID, Thing: "transformer", Listing: t.Type.Listing}, w, d)
		fact := &j.doc.Transformers[i]
		nearest(&fact.WaterM, &fact.WaterKind, d, w.Kind)
	}
}

func (j *join) receptaclesNear(w *plan.Water, edge site.Polygon) {
	if j.plan.Supply == nil {
		return
	}
	for i, r := range j.plan.Supply.Receptacles {
		if r.At == nil {
			continue
		}
		d := edge.Distance(*r.At)
		j.addWater(WaterDistance{ID: r.ID, Thing: "receptacle"}, w, d)
		if codeWater(w.Kind) {
			kind := ""
			nearest(&j.doc.Receptacles[i].WaterM, &kind, d, w.Kind)
		}
	}
}

func nearest(m **float64, kind *string, d float64, of string) {
	d = math.Max(0, d)
	if site.Known(d) && (*m == nil || d < **m) {
		*m, *kind = ptr(d), of
	}
}

func (j *join) addWater(out WaterDistance, w *plan.Water, d float64) {
	d = math.Max(0, d)
	if !site.Known(d) || d > farthestWater {
		return
	}
	out.Water, out.Kind, out.DistanceM = w.ID, w.Kind, ptr(d)
	j.doc.WaterDistances = append(j.doc.WaterDistances, out)
}

// waterUnknown lists, where there is a pool, spa or fountain, the fixtures,
// legs and transformers of which the plan does not say where they are.
func (j *join) waterUnknown() {
	var near *plan.Water
	for _, w := range j.plan.Site.Water {
		if near == nil && codeWater(w.Kind) {
			near = w
		}
	}
	if near == nil {
		return
	}
	add := func(out WaterDistance, at *r2.Vec) {
		if at == nil {
			out.Water, out.Kind = near.ID, near.Kind
			j.doc.WaterDistances = append(j.doc.WaterDistances, out)
		}
	}
	for _, f := range j.plan.Fixtures {
		add(j.nearFixture(f), f.At)
	}
	for _, run := range j.plan.Runs {
		for _, leg := range run.Legs {
			if len(leg.Route) < 2 {
				add(nearLeg(leg), nil)
			}
		}
	}
	for _, t := range j.plan.Transformers {
		add(WaterDistance{ID: t.ID, Thing: "transformer", Listing: t.Type.Listing}, t.At)
	}
}
