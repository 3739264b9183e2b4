package facts

import (
	"context"
	"math"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// services lists the buried service lines. A private line counts as located
// when private lines were mapped.
func (j *join) services() {
	for _, s := range j.plan.Site.Services {
		out := Service{ID: s.ID, Kind: s.Kind, Located: s.Located, Private: s.Private}
		mapped := j.doc.Permissions.PrivateLinesMapped
		if out.Located == nil && s.Private != nil && *s.Private && mapped != nil && *mapped {
			out.Located = ptr(true)
		}
		j.doc.Services = append(j.doc.Services, out)
	}
}

// crossings lists where legs meet services, roots, walls, buildings, decks,
// ground that is dug over, and other people's land.
func (j *join) crossings(ctx context.Context) error {
	for _, run := range j.plan.Runs {
		for _, leg := range run.Legs {
			if err := ctx.Err(); err != nil {
				return err
			}
			if line := site.Line(leg.Route); len(line) > 1 {
				j.servicesMet(leg, line)
				j.rootsMet(leg, line)
				j.wallsMet(leg, line)
				j.areasMet(leg, line)
				j.offLand(leg, line)
			} else if inGround(leg.Method) && len(j.doc.Services) > 0 {
				s := j.doc.Services[0]
				j.doc.Crossings = append(j.doc.Crossings, Crossing{ID: leg.ID, What: s.ID, Kind: "service",
					ServiceKind: s.Kind, Located: s.Located, InGround: true, Method: leg.Method})
			}
		}
	}
	return nil
}

// crossing is what every crossing of a leg says.
func crossing(leg *plan.Leg, what, kind string) Crossing {
	return Crossing{ID: leg.ID, What: what, Kind: kind, Crosses: true, InGround: inGround(leg.Method),
		Sleeved: sleevedWhole(leg), Method: leg.Method}
}

// Two lines run beside each other when their directions agree within this.
const besideDeg = 20

func (j *join) servicesMet(leg *plan.Leg, line site.Line) {
	byHand, apart := j.limit("earth.service_separation_m", 0.6), j.limit("earth.mains_separation_m", 0.3)
	for _, i := range j.near.services.NearLine(line, math.Max(byHand, apart)) {
		s, fact := j.plan.Site.Services[i], &j.doc.Services[i]
		other, within := site.Line(s.Route), byHand
		if s.Kind == "mains" {
			within = apart
		}
		gap := site.LineLine(line, other)
		if !(gap.M <= math.Max(byHand, within)) {
			continue
		}
		out := crossing(leg, s.ID, "service")
		out.ServiceKind, out.Located, out.Crosses, out.SeparationM = s.Kind, fact.Located, gap.M <= site.TouchM, ptr(gap.M)
		out.StationM = stationOf(line, other, gap)
		for _, stretch := range site.Alongside(line, other, within, besideDeg) {
			out.LengthM += stretch.Length()
		}
		out.BesideM = beside(line, other, within)
		fact.Met = fact.Met || out.InGround
		j.doc.Crossings = append(j.doc.Crossings, out)
	}
}

// beside is the least distance at which a line runs beside another; nil when it
// does not. Each piece of the other is taken by itself, so that one which
// crosses the line does not count.
func beside(line, other site.Line, withinM float64) *float64 {
	var least *float64
	for _, piece := range other.Segments() {
		for _, stretch := range site.Alongside(line, site.Line{piece.A, piece.B}, withinM, besideDeg) {
			if least == nil || stretch.MinM < *least {
				least = ptr(stretch.MinM)
			}
		}
	}
	return least
}

// stationOf is where along a line it first crosses another, or comes nearest.
func stationOf(line, other site.Line, gap site.Gap) float64 {
	if crossed := site.Crossings(line, other); len(crossed) > 0 {
		return crossed[0].StationM
	}
	if at, ok := line.Locate(gap.A); ok {
		return at.StationM
	}
	return 0
}

// unknownRootsM is how near a tree must be for its roots to matter when the plan
// gives neither its crown nor their radius: about the crown of a small tree.
const unknownRootsM = 3.0

// rootsMet lists root zones that a leg is dug through, and may be.
func (j *join) rootsMet(leg *plan.Leg, line site.Line) {
	if !inGround(leg.Method) {
		return
	}
	for _, i := range j.near.roots.NearLine(line, unknownRootsM) {
		t := j.plan.Site.Trees[i]
		zone := roots(t, j.rootFactor())
		if at, ok := line.Locate(t.At); ok && zone.RadiusM == 0 && at.OffsetM <= unknownRootsM {
			out := crossing(leg, t.ID, "root-zone")
			out.Crosses, out.StationM = false, at.StationM
			j.doc.Crossings = append(j.doc.Crossings, out)
			continue
		}
		if spans := zone.Spans(line); len(spans) > 0 {
			out := crossing(leg, t.ID, "root-zone")
			out.StationM, out.LengthM, out.ZoneM = spans[0].From, site.TotalLength(spans), ptr(zone.RadiusM)
			j.doc.Crossings = append(j.doc.Crossings, out)
		}
	}
}

func (j *join) rootFactor() float64 { return j.limit("earth.root_zone_factor", 1) }

// wallsMet lists free-standing walls that a leg passes under or through. A leg
// that begins or ends at a wall, where a fixture is mounted on it, does not.
func (j *join) wallsMet(leg *plan.Leg, line site.Line) {
	length := line.Length()
	for _, i := range j.near.screens.NearLine(line, 0) {
		w := j.plan.Site.Screens[i]
		if w.Kind != "wall" || w.Material == "timber" || w.Material == "plants" || w.Material == "mesh" {
			continue
		}
		reach := w.ThicknessM/2 + drawnM
		for _, c := range site.Crossings(line, site.Line(w.Line)) {
			if c.StationM <= reach || c.StationM >= length-reach {
				continue
			}
			out := crossing(leg, w.ID, "wall")
			out.Sleeved, out.StationM = hasSleeve(leg), c.StationM
			j.doc.Crossings = append(j.doc.Crossings, out)
			break
		}
	}
}

// areasMet lists buildings, decks, beds that are dug over and lawns that are
// pierced.
func (j *join) areasMet(leg *plan.Leg, line site.Line) {
	s := j.plan.Site
	add := func(id, kind string, spans []site.Span) {
		if len(spans) > 0 {
			out := crossing(leg, id, kind)
			out.StationM, out.LengthM = spans[0].From, site.TotalLength(spans)
			out.Sleeved = out.Sleeved || kind == "building" && hasSleeve(leg)
			j.doc.Crossings = append(j.doc.Crossings, out)
		}
	}
	for _, i := range j.near.buildings.NearLine(line, 0) {
		add(s.Buildings[i].ID, "building", inside(line, polygonOf(s.Buildings[i].Outline), drawnM))
	}
	for _, i := range j.near.decks.NearLine(line, 0) {
		add(s.Decks[i].ID, "deck", inside(line, polygonOf(s.Decks[i].Outline), edgeM))
	}
	for _, i := range j.near.beds.NearLine(line, 0) {
		if b := s.Beds[i]; b.Annuals {
			add(b.ID, "annual-bed", inside(line, polygonOf(b.Outline), edgeM))
		}
	}
	for _, i := range j.near.lawns.NearLine(line, 0) {
		if l := s.Lawns[i]; l.Aerated != nil && *l.Aerated {
			add(l.ID, "aerated-lawn", inside(line, polygonOf(l.Outline), edgeM))
		}
	}
}

// offLand notes how much of a leg lies on other people's land.
func (j *join) offLand(leg *plan.Leg, line site.Line) {
	land := polygonOf(j.plan.Site.PropertyLine)
	var off []site.Span
	for _, span := range site.OffLand(line, land) {
		if deepestOutside(line.Part(span.From, span.To), land) > drawnM {
			off = append(off, span)
		}
	}
	if len(off) == 0 {
		return
	}
	out := crossing(leg, "property-line", "off-land")
	out.StationM, out.LengthM = off[0].From, site.TotalLength(off)
	j.doc.Crossings = append(j.doc.Crossings, out)
	if fact := j.legs[leg.ID]; fact != nil {
		fact.OffLandM = out.LengthM
	}
}

// deepestOutside is how far a line strays from a region, looked for as
// [deepest] does.
func deepestOutside(line site.Line, region site.Region) float64 {
	far := 0.0
	for _, p := range line {
		far = max(far, region.Distance(p))
	}
	return far
}
