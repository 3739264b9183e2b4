package facts

import (
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// ground is what the site step and the light step share.
type ground struct {
	surfaces *site.Ground
	strips   map[string]site.Strip // of paths
	covering map[string]covering   // everything that can lie above a cable, by id
}

// covering is one thing that can lie above a cable.
type covering struct {
	kind   string
	region site.Region
	paving paving
	slab   bool // concrete thick enough for the cover table's own row
}

// paving says whether a surface can be lifted and laid again by hand.
type paving int

const (
	unpaved paving = iota
	paved
	pavingUnknown // the plan does not say what it is made of
)

const (
	// edgeM is how far a leg must reach into a surface to lie under it. A
	// cable laid along the edge of a path is drawn on the edge.
	edgeM = 0.05
	// drawnM is how finely a drawing is read, six inches: what reaches into a
	// building or over the property line by less is drawn on its edge.
	drawnM = 0.15
	// slabM is the thickness from which exterior concrete has a row of its own
	// in NEC table 300.5, column 5: 4 in (102 mm), here as a metric plan
	// writes it. slabBeyondM is how far it reaches beyond the cable, 6 in
	// (152 mm).
	slabM       = 0.1
	slabBeyondM = 0.15
)

// newGround gathers everything that can lie above a cable.
func (j *join) newGround() *ground {
	g := &ground{strips: map[string]site.Strip{}, covering: map[string]covering{}}
	if j.plan.Site != nil {
		g.walked(j.plan.Site)
		g.other(j.plan.Site)
	}
	all := make([]site.Surface, 0, len(g.covering))
	for _, id := range sortedKeys(g.covering) {
		all = append(all, site.Surface{ID: id, Kind: g.covering[id].kind, Region: g.covering[id].region})
	}
	g.surfaces = site.NewGround(all)
	return g
}

// walked adds what people walk on.
func (g *ground) walked(s *plan.Site) {
	for _, p := range s.Paths {
		strip := pathStrip(p)
		g.strips[p.ID] = strip
		g.covering[p.ID] = covering{kind: "path", region: strip, paving: pavingOf(p.Surface)}
	}
	for _, st := range s.Stairs {
		g.covering[st.ID] = covering{kind: "stair", region: stairOutline(st), paving: pavingOf(st.Material)}
	}
	for _, l := range s.Landings {
		g.covering[l.ID] = covering{kind: "landing", region: polygonOf(l.Outline), paving: paved}
	}
	for _, d := range s.Decks {
		g.covering[d.ID] = covering{kind: "deck", region: polygonOf(d.Outline)}
	}
	for _, a := range s.Areas {
		c := covering{kind: a.Kind, region: polygonOf(a.Outline), paving: pavingOfArea(a)}
		c.slab = a.ThicknessM != nil && *a.ThicknessM >= slabM-site.TouchM && (a.Surface == "concrete" || a.Surface == "" && a.Kind == "slab")
		g.covering[a.ID] = c
	}
}

// other adds beds, lawns, drives and buildings.
func (g *ground) other(s *plan.Site) {
	for _, b := range s.Beds {
		g.covering[b.ID] = covering{kind: "bed", region: polygonOf(b.Outline)}
	}
	for _, l := range s.Lawns {
		g.covering[l.ID] = covering{kind: "lawn", region: polygonOf(l.Outline)}
	}
	for _, d := range s.Drives {
		g.covering[d.ID] = covering{kind: d.Kind + "-drive", region: polygonOf(d.Outline), paving: pavingOf(d.Surface)}
	}
	for _, b := range s.Buildings {
		g.covering[b.ID] = covering{kind: "building", region: polygonOf(b.Outline), paving: paved}
	}
}

func stairOutline(st *plan.Stair) site.Polygon {
	return site.Polygon{st.FootLeft, st.FootRight, st.HeadRight, st.HeadLeft}
}

// pavingOf reports whether a surface cannot be lifted and laid again by hand.
func pavingOf(surface string) paving {
	switch surface {
	case "flagstone", "stone", "brick", "tile", "concrete", "asphalt", "resin", "rubber":
		return paved
	case "", "other":
		return pavingUnknown
	}
	return unpaved
}

// pavingOfArea is the same for an area, whose kind may say enough.
func pavingOfArea(a *plan.Area) paving {
	switch {
	case a.Kind == "slab":
		return paved
	case a.Surface == "" && a.Kind != "terrace":
		return unpaved
	}
	return pavingOf(a.Surface)
}

// polygonOf is an outline as a polygon.
func polygonOf(outline []r2.Vec) site.Polygon { return site.Polygon(outline) }

// inGround reports whether a leg has to be dug in. One that does not say how it
// is laid is taken to be.
func inGround(method string) bool { return method == "buried" || method == "sleeved" || method == "" }

func isDrive(kind string) bool { return strings.HasSuffix(kind, "-drive") }

// deepest is how far a line reaches into a region, looked for at its bends and
// half way between them; not above nought when it stays outside.
func deepest(line site.Line, region site.Region) float64 {
	depth := 0.0
	for i, p := range line {
		depth = max(depth, -region.Distance(p))
		if i > 0 {
			depth = max(depth, -region.Distance(r2.Scale(0.5, r2.Add(line[i-1], p))))
		}
	}
	return depth
}

// inside returns the parts of a line in a region that reach deeper into it than
// depthM.
func inside(line site.Line, region site.Region, depthM float64) []site.Span {
	var out []site.Span
	for _, span := range region.Spans(line) {
		if deepest(line.Part(span.From, span.To), region) > depthM {
			out = append(out, span)
		}
	}
	return out
}
