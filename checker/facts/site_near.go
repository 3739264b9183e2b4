package facts

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// standings lists fixtures that stand where people, mowers, vehicles or snow
// go.
func (j *join) standings() {
	lawns := map[string]site.Polygon{}
	strips := map[string]float64{}
	for _, l := range j.plan.Site.Lawns {
		lawns[l.ID] = polygonOf(l.Outline)
		strips[l.ID] = j.limit("site.mower_strip_m", 0)
		if l.MowerStripM != nil {
			strips[l.ID] = *l.MowerStripM
		}
	}
	for _, f := range j.plan.Fixtures {
		if f.At == nil || !stands(f) {
			continue
		}
		r := radius(f)
		for _, s := range j.ground.surfaces.At(*f.At, r, 0) {
			kind := zoneOf(s.Kind)
			if kind == "" || s.DistanceM > -site.TouchM {
				continue
			}
			j.addStanding(f, s.ID, kind, -s.DistanceM)
		}
		for _, id := range sortedKeys(lawns) {
			out := lawns[id].Distance(*f.At) - r
			if out > site.TouchM && out < strips[id] {
				j.addStanding(f, id, "mower-strip", strips[id]-out)
			}
		}
	}
}

// stands reports whether a fixture stands on the ground.
func stands(f *plan.Fixture) bool {
	switch f.Mount {
	case "wall", "tree", "rail", "hanging", "riser", "under-deck", "tread", "deck":
		return false
	}
	return true
}

// zoneOf names the zone of traffic that a surface is, if any.
func zoneOf(kind string) string {
	switch {
	case strings.HasSuffix(kind, "-drive"):
		return "drive"
	case kind == "path" || kind == "stair" || kind == "snow-store" || kind == "mower-strip" || kind == "lawn" || kind == "landing":
		return kind
	}
	return ""
}

func (j *join) addStanding(f *plan.Fixture, zone, kind string, into float64) {
	j.doc.Standings = append(j.doc.Standings, Standing{
		ID: f.ID, Zone: zone, ZoneKind: kind, IntoM: into, Flush: flush(f), LoadClass: f.Type.LoadClass,
	})
}

// crossings lists where legs meet services, roots, buildings, decks, beds that
// are dug over, and other people's land.
func (j *join) crossings() {
	s := j.plan.Site
	land := polygonOf(s.PropertyLine)
	legs := map[string]*Leg{}
	for i := range j.doc.Legs {
		legs[j.doc.Legs[i].ID] = &j.doc.Legs[i]
	}
	for _, run := range j.plan.Runs {
		for _, leg := range run.Legs {
			line := site.Line(leg.Route)
			if len(line) < 2 {
				continue
			}
			for _, service := range s.Services {
				j.serviceCrossing(leg, line, service)
			}
			for _, t := range s.Trees {
				if inGround(leg.Method) {
					zone := site.Disc{Centre: t.At, RadiusM: t.RootM * j.limit("earth.root_zone_factor", 1)}
					j.spanCrossing(leg, t.ID, "root-zone", zone.Spans(line))
				}
			}
			for _, b := range s.Buildings {
				j.spanCrossing(leg, b.ID, "building", polygonOf(b.Outline).Spans(line))
			}
			for _, d := range s.Decks {
				j.spanCrossing(leg, d.ID, "deck", polygonOf(d.Outline).Spans(line))
			}
			for _, b := range s.Beds {
				if b.Annuals {
					j.spanCrossing(leg, b.ID, "annual-bed", polygonOf(b.Outline).Spans(line))
				}
			}
			if len(land) > 2 {
				off := site.OffLand(line, land)
				j.spanCrossing(leg, "property-line", "off-land", off)
				legs[leg.ID].OffLandM = site.TotalLength(off)
			}
		}
	}
}

// Two lines run beside each other when their directions agree within this.
const besideDeg = 20

func (j *join) serviceCrossing(leg *plan.Leg, line site.Line, s *plan.Service) {
	other := site.Line(s.Route)
	out := Crossing{ID: leg.ID, What: s.ID, Kind: "service", ServiceKind: s.Kind, Located: s.Located, Method: leg.Method}
	if crossed := site.Crossings(line, other); len(crossed) > 0 {
		out.Crosses, out.StationM, out.SeparationM = true, crossed[0].StationM, ptr(0.0)
		j.doc.Crossings = append(j.doc.Crossings, out)
		return
	}
	near := math.Max(j.limit("earth.service_separation_m", 0.6), j.limit("earth.mains_separation_m", 0.3))
	for _, stretch := range site.Alongside(line, other, near, besideDeg) {
		next := out
		next.StationM, next.LengthM, next.SeparationM = stretch.From, stretch.Length(), ptr(stretch.MinM)
		j.doc.Crossings = append(j.doc.Crossings, next)
	}
}

func (j *join) spanCrossing(leg *plan.Leg, what, kind string, spans []site.Span) {
	if len(spans) == 0 {
		return
	}
	j.doc.Crossings = append(j.doc.Crossings, Crossing{
		ID: leg.ID, What: what, Kind: kind, Crosses: true, StationM: spans[0].From, LengthM: site.TotalLength(spans), Method: leg.Method,
	})
}

// farthestWater bounds the pairs of things and water that are listed.
const farthestWater = 6.5 // m

// water lists what is near water.
func (j *join) water() {
	for _, w := range j.plan.Site.Water {
		edge := polygonOf(w.Outline)
		for _, f := range j.plan.Fixtures {
			if f.At != nil {
				j.addWater(WaterDistance{ID: f.ID, Thing: "fixture", Listing: f.Type.Listing}, w, edge.Distance(*f.At))
			}
		}
		for _, run := range j.plan.Runs {
			for _, leg := range run.Legs {
				if len(leg.Route) > 1 {
					gap := site.LinePolygon(site.Line(leg.Route), edge).M
					j.addWater(WaterDistance{ID: leg.ID, Thing: "leg", Listing: leg.Cable.Listing}, w, gap)
				}
			}
		}
		for i, t := range j.plan.Transformers {
			if t.At == nil {
				continue
			}
			d := edge.Distance(*t.At)
			j.addWater(WaterDistance{ID: t.ID, Thing: "transformer", Listing: t.Type.Listing}, w, d)
			nearest(&j.doc.Transformers[i].WaterM, &j.doc.Transformers[i].WaterKind, d, w.Kind)
		}
		if j.plan.Supply != nil {
			j.receptacleWater(w, edge)
		}
	}
}

func (j *join) receptacleWater(w *plan.Water, edge site.Polygon) {
	for i, r := range j.plan.Supply.Receptacles {
		if r.At == nil {
			continue
		}
		d := edge.Distance(*r.At)
		j.addWater(WaterDistance{ID: r.ID, Thing: "receptacle"}, w, d)
		if w.Kind == "pool" || w.Kind == "spa" || w.Kind == "fountain" {
			kind := ""
			nearest(&j.doc.Receptacles[i].WaterM, &kind, d, w.Kind)
		}
	}
}

func nearest(m **float64, kind *string, d float64, of string) {
	d = math.Max(0, d)
	if *m == nil || d < **m {
		*m, *kind = ptr(d), of
	}
}

func (j *join) addWater(out WaterDistance, w *plan.Water, d float64) {
	d = math.Max(0, d)
	if !site.Known(d) || d > farthestWater {
		return
	}
	out.Water, out.Kind, out.DistanceM = w.ID, w.Kind, d
	if run := j.feeding(out); run != nil {
		out.SupplyListing, out.TapVolts = run.Transformer.Type.Listing, ptr(run.TapVolts)
	}
	j.doc.WaterDistances = append(j.doc.WaterDistances, out)
}

// feeding is the run behind a fixture or leg.
func (j *join) feeding(w WaterDistance) *plan.Run {
	if w.Thing == "fixture" {
		return j.runOf(w.ID)
	}
	for _, run := range j.plan.Runs {
		if slices.ContainsFunc(run.Legs, func(l *plan.Leg) bool { return w.Thing == "leg" && l.ID == w.ID }) {
			return run
		}
	}
	return nil
}

// surrounds says what lies round each fixture, and how near the next thing
// that burns is; and how the transformers stand.
func (j *join) surrounds() {
	s := j.plan.Site
	for _, f := range j.plan.Fixtures {
		if f.At == nil {
			continue
		}
		out := j.fixtures[f.ID]
		for _, b := range s.Beds {
			if out.Surround == "" && b.Cover != "" && polygonOf(b.Outline).Contains(*f.At) {
				out.Surround = b.Cover
			}
		}
		for _, d := range s.Decks {
			if polygonOf(d.Outline).Contains(*f.At) && (f.Mount == "under-deck" || f.GroundM+height(f) < d.ElevationM-site.TouchM) {
				out.UnderDeck = d.ID
			}
		}
		if out.Surround == "mulch" || out.Surround == "bark" || out.Surround == "leaves" || out.Surround == "timber" {
			out.NearestCombustibleM, out.NearestCombustible = ptr(0.0), out.Surround
		}
		j.combustible(out, *f.At)
	}
	for i, t := range j.plan.Transformers {
		out := &j.doc.Transformers[i]
		out.SnowM, out.FloodM = s.SnowM, s.FloodM
		if r := t.Receptacle; r != nil && t.At != nil && r.At != nil && t.HeightM != nil && r.HeightM != nil {
			reach := site.CordReach(*t.At, *t.HeightM, *r.At, *r.HeightM, 0)
			out.CordNeededM = ptr(reach.NeedM)
		}
	}
}

func height(f *plan.Fixture) float64 {
	if f.HeightM == nil {
		return 0
	}
	return *f.HeightM
}

// farthestCombustible bounds how far away a thing that burns is listed.
const farthestCombustible = 3.0 // m

func (j *join) combustible(out *Fixture, at r2.Vec) {
	s := j.plan.Site
	note := func(d float64, what string) {
		d = math.Max(0, d)
		if d <= farthestCombustible && (out.NearestCombustibleM == nil || d < *out.NearestCombustibleM) {
			out.NearestCombustibleM, out.NearestCombustible = ptr(d), what
		}
	}
	for _, b := range s.Beds {
		if b.Cover == "mulch" || b.Cover == "bark" || b.Cover == "leaves" {
			note(polygonOf(b.Outline).Distance(at), b.Cover+" in "+b.ID)
		}
	}
	for _, d := range s.Decks {
		if d.Material == "timber" || d.Material == "composite" {
			note(polygonOf(d.Outline).Distance(at), "deck "+d.ID)
		}
	}
	for _, w := range s.Screens {
		if w.Material == "timber" || w.Element.Kind == "hedge" {
			note(site.PointLine(at, site.Line(w.Line)).M-w.ThicknessM/2, w.Element.Kind+" "+w.ID)
		}
	}
	for _, t := range s.Trees {
		note(site.Disc{Centre: t.At, RadiusM: t.TrunkM / 2}.Distance(at), "trunk of "+t.ID)
	}
}
