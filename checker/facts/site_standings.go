package facts

import (
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// standings lists fixtures that stand where people, mowers, vehicles or snow
// go, near the edge of that, or beyond the property line.
func (j *join) standings() {
	margins := j.margins()
	widest := 0.0
	for _, m := range margins {
		widest = max(widest, m)
	}
	land := polygonOf(j.plan.Site.PropertyLine)
	for _, f := range j.plan.Fixtures {
		if f.At == nil {
			continue
		}
		if j.stands(f) {
			j.standingsOf(f, margins, widest)
		}
		if len(land) > 2 {
			if out := land.Distance(*f.At); out > drawnM {
				j.addStanding(f, "property-line", "off-land", out)
			}
		}
	}
}

// margins is the room that each surface needs beyond its edge, by its id.
func (j *join) margins() map[string]float64 {
	out := map[string]float64{}
	for id, c := range j.ground.covering {
		switch {
		case isDrive(c.kind):
			out[id] = j.limit("site.drive_edge_m", 0)
		case c.kind == "path" || c.kind == "stair" || c.kind == "landing":
			out[id] = j.limit("site.path_edge_m", 0)
		case c.kind == "snow-store":
			out[id] = j.limit("site.snow_edge_m", 0)
		}
	}
	for _, l := range j.plan.Site.Lawns {
		out[l.ID] = j.limit("site.mower_strip_m", 0)
		if l.MowerStripM != nil {
			out[l.ID] = *l.MowerStripM
		}
	}
	return out
}

func (j *join) standingsOf(f *plan.Fixture, margins map[string]float64, widest float64) {
	r := radius(f)
	near := j.ground.surfaces.At(*f.At, r, widest)
	in := footing(near, r)
	for _, s := range near {
		centred := s.DistanceM+r <= site.TouchM
		kind := zoneOf(s.Kind, flush(f))
		switch {
		case kind == "" || s.DistanceM >= margins[s.ID]-site.TouchM:
		case in.planted && centred && s.Kind != "snow-store":
			// in a bed that is drawn on the lawn, or an island in the drive
		case kind != "lawn":
			j.addStanding(f, s.ID, kind, -s.DistanceM)
		case in.surfaced:
			// on a path or terrace that is drawn on the lawn
		case s.DistanceM > site.TouchM:
			j.addStanding(f, s.ID, "mower-strip", margins[s.ID]-s.DistanceM)
		default:
			j.addStanding(f, s.ID, kind, -s.DistanceM)
		}
	}
}

// footing says what the centre of a fixture is in.
func footing(near []site.Standing, radiusM float64) (in struct{ planted, surfaced bool }) {
	for _, s := range near {
		if s.DistanceM+radiusM > site.TouchM {
			continue
		}
		switch s.Kind {
		case "bed", "planting":
			in.planted = true
		case "lawn":
		default:
			in.surfaced = true
		}
	}
	return in
}

// upright are kinds of things that a fixture can be mounted on, clear of the
// ground.
var upright = map[string]bool{"wall": true, "fence": true, "hedge": true, "post": true, "tree": true, "building": true,
	"deck": true, "stair": true, "tread": true, "gate": true, "door": true, "window": true}

// stands reports whether a fixture stands on the ground, or lies flush in it.
func (j *join) stands(f *plan.Fixture) bool {
	if host := j.plan.Elements[f.Host]; host != nil && upright[host.Kind] {
		return false
	}
	switch f.Mount {
	case "stake", "post", "surface", "flush":
		return true
	case "":
		return f.Type.Mounting != "tree" && f.Type.Mounting != "hanging" && !fitted(f.Type.Kind)
	}
	return false
}

// fitted reports whether a kind of fixture is fixed to something that stands.
func fitted(kind string) bool {
	switch kind {
	case "step", "deck", "rail", "wall", "hanging", "strip", "underwater":
		return true
	}
	return false
}

// inEarth reports whether a fixture lies flush in the ground.
func inEarth(f *plan.Fixture) bool {
	switch f.Mount {
	case "", "flush", "stake", "surface":
	default:
		return false
	}
	if f.Type.Kind == "in-ground" || f.Type.Kind == "well" {
		return true
	}
	return flush(f) && !fitted(f.Type.Kind)
}

// zoneOf names the zone that a surface is, if any. On a terrace a fixture that
// rises is out of the way, and one that lies flush is walked over.
func zoneOf(kind string, flush bool) string {
	switch {
	case isDrive(kind):
		return "drive"
	case kind == "path" || kind == "stair" || kind == "landing" || kind == "snow-store" || kind == "mower-strip" || kind == "lawn":
		return kind
	case flush && (kind == "terrace" || kind == "slab" || kind == "play" || kind == "other"):
		return kind
	}
	return ""
}

func (j *join) addStanding(f *plan.Fixture, zone, kind string, into float64) {
	j.doc.Standings = append(j.doc.Standings, Standing{
		ID: f.ID, Zone: zone, ZoneKind: kind, IntoM: into, Flush: flush(f), LoadClass: f.Type.LoadClass,
	})
}
