package report

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// symbols are drawn about (0, 0). The lamp in a circle with a cross is that of
// IEC 60617; so are the transformer's two windings. The receptacle, a circle
// with two bars, is that of ANSI Y32.9. The others are our own, and the legend
// explains every one that is used.
var symbols = []struct {
	name string
	size float64
	body string
}{
	{"path", 9, `<circle class="d-lamp" r="4"/><circle class="d-core" r="1.3"/>`},
	{"bollard", 9, `<rect class="d-lamp" x="-3.8" y="-3.8" width="7.6" height="7.6"/><circle class="d-core" r="1.3"/>`},
	{"post", 13, `<circle class="d-stroke" r="6"/><circle class="d-lamp" r="3.6"/>`},
	{"spot", 10, `<circle class="d-lamp" r="4.4"/><path class="d-cross" d="M-3.1 -3.1L3.1 3.1M-3.1 3.1L3.1 -3.1"/>`},
	{"flood", 10, `<rect class="d-lamp" x="-4.2" y="-4.2" width="8.4" height="8.4"/><path class="d-cross" d="M-4.2 -4.2L4.2 4.2M-4.2 4.2L4.2 -4.2"/>`},
	{"wash", 10, `<path class="d-lamp" d="M-4.6 2A4.6 4.6 0 0 1 4.6 2Z"/><path class="d-cross" d="M0 2L0 -2.6"/>`},
	{"wall", 9, `<path class="d-lamp" d="M-4.4 2A4.4 4.4 0 0 1 4.4 2Z"/>`},
	{"step", 8, `<rect class="d-lamp" x="-3.8" y="-2" width="7.6" height="4"/><path class="d-cross" d="M-3.8 0L3.8 0"/>`},
	{"deck", 8, `<path class="d-lamp" d="M0 -4L4 0L0 4L-4 0Z"/>`},
	{"rail", 9, `<rect class="d-lamp" x="-4.4" y="-1.5" width="8.8" height="3"/>`},
	{"well", 10, `<circle class="d-lamp" r="4.4"/><path class="d-core" d="M0 -3L2.6 1.8L-2.6 1.8Z"/>`},
	{"in-ground", 10, `<rect class="d-lamp" x="-4.4" y="-4.4" width="8.8" height="8.8"/><circle class="d-cross" r="2.6"/>`},
	{"hanging", 10, `<path class="d-cross" d="M0 -5L0 -1"/><path class="d-lamp" d="M-4 4L0 -2.4L4 4Z"/>`},
	{"strip", 14, `<rect class="d-lamp" x="-6.5" y="-1.5" width="13" height="3"/>`},
	{"underwater", 10, `<circle class="d-lamp" r="4.4"/><path class="d-cross" d="M-3.4 0Q-1.7 -2.4 0 0T3.4 0"/>`},
	{"receptacle", 11, `<circle class="d-device" r="4.8"/><path class="d-stroke" d="M-1.5 -4.5L-1.5 4.5M1.5 -4.5L1.5 4.5"/>`},
	{"transformer", 18, `<rect class="d-device" x="-8.5" y="-6.5" width="17" height="13"/><circle class="d-stroke" cx="-2.4" r="3.9"/><circle class="d-stroke" cx="2.4" r="3.9"/>`},
	{"hub", 7, `<rect class="d-node" x="-3" y="-3" width="6" height="6"/>`},
	{"tee", 7, `<path class="d-node" d="M0 -3.6L3.4 2.6L-3.4 2.6Z"/>`},
	{"splice", 6, `<circle class="d-node" r="2.3"/>`},
	{"sensor", 9, `<path class="d-device" d="M-4 3.4L0 -3.8L4 3.4Z"/><circle class="d-core" cy="1" r="1.2"/>`},
}

func (d *drawing) defineSymbols() {
	for _, s := range symbols {
		d.b.WriteString(`<g id="` + d.prefix + "s-" + s.name + `">` + s.body + "</g>\n")
	}
}

func symbolSize(name string) float64 {
	for _, s := range symbols {
		if s.name == name {
			return s.size
		}
	}
	return 9
}

// fixtureSymbol is the symbol of a kind of fixture.
func fixtureSymbol(kind string) string {
	for _, s := range symbols {
		if s.name == kind {
			return kind
		}
	}
	return "path"
}

// turned are the symbols that face where the fixture shines.
var turned = map[string]bool{"wash": true, "wall": true, "step": true}

// fixtures draws the fixtures by kind, each with its aim.
func (d *drawing) fixtures() {
	d.open("g", "class", "fixtures")
	for _, f := range d.plan.Fixtures {
		if f.At == nil {
			continue
		}
		at := d.at(*f.At)
		bearing, aimed := aimBearing(f)
		d.beam(f, at, bearing, aimed)
		name := fixtureSymbol(f.Type.Kind)
		turn := ""
		if aimed && turned[name] {
			turn = "rotate(" + decimal(bearing) + " " + decimal(at.x) + " " + decimal(at.y) + ")"
		}
		d.open("use", "href", "#"+d.prefix+"s-"+name, "x", at.x, "y", at.y, "transform", turn)
		d.words("title", d.lampTitle(f))
		d.shut("use")
		d.room.take(boxAt(at, symbolSize(name), symbolSize(name)))
		if d.holds(at) {
			d.key("s-"+name, f.Type.Kind+" fixture")
		}
	}
	d.shut("g")
}

// aimBearing is where a fixture points; false when it points nowhere sideways.
func aimBearing(f *plan.Fixture) (float64, bool) {
	switch {
	case f.AimAt != nil && f.At != nil:
		b := site.Bearing(*f.At, f.AimAt.At)
		return b, site.Known(b)
	case f.AimBearing != nil:
		return *f.AimBearing, true
	}
	return 0, false
}

// beam draws the way a fixture shines: longer the flatter, with a broken edge
// when it shines up.
func (d *drawing) beam(f *plan.Fixture, at point, bearing float64, aimed bool) {
	if !aimed {
		return
	}
	tilt := 90.0
	if fact := d.lamps[f.ID]; fact != nil && fact.AimTiltDeg != nil {
		tilt = *fact.AimTiltDeg
	}
	flat := math.Abs(math.Sin(tilt * math.Pi / 180))
	if flat < 0.05 && f.Type.Kind != "step" {
		return
	}
	const halfDeg = 15
	reach := 9 + 15*flat
	corner := func(deg float64) point {
		h := site.Heading(bearing + deg)
		return point{at.x + reach*h.X, at.y - reach*h.Y}
	}
	class, meaning := "beam", "aim"
	if tilt > 90 {
		class, meaning = "beam up", "aim, upwards"
	}
	d.tag("path", "class", class, "d", outline([]point{at, corner(-halfDeg), corner(halfDeg)}))
	d.key(class, meaning)
}

// anchorsOf is where each element of a plan is drawn, by id.
func anchorsOf(p *plan.Plan) map[string]r2.Vec {
	out := map[string]r2.Vec{}
	put := func(id string, at *r2.Vec) {
		if at != nil && id != "" {
			out[id] = *at
		}
	}
	for _, f := range p.Fixtures {
		put(f.ID, f.At)
	}
	for _, t := range p.Transformers {
		put(t.ID, t.At)
	}
	for _, c := range p.Controls {
		put(c.ID, c.SensorAt)
	}
	if p.Supply != nil {
		for _, r := range p.Supply.Receptacles {
			put(r.ID, r.At)
			if r.Branch != nil {
				if _, have := out[r.Branch.ID]; !have {
					put(r.Branch.ID, r.At)
				}
			}
		}
	}
	for _, run := range p.Runs {
		anchorRun(out, run)
	}
	anchorSite(out, p.Site)
	return out
}

func anchorRun(out map[string]r2.Vec, run *plan.Run) {
	for _, n := range run.Nodes {
		if n.At != nil {
			out[n.ID] = *n.At
		}
	}
	for _, leg := range run.Legs {
		at, ok := midway(leg.Route)
		if !ok {
			if at, ok = out[leg.To]; !ok {
				at, ok = out[leg.From]
			}
		}
		if !ok {
			continue
		}
		out[leg.ID] = at
		if _, have := out[run.ID]; !have {
			out[run.ID] = at
		}
	}
	if _, have := out[run.ID]; !have && run.Transformer != nil && run.Transformer.At != nil {
		out[run.ID] = *run.Transformer.At
	}
}

func anchorSite(out map[string]r2.Vec, s *plan.Site) {
	if s == nil {
		return
	}
	ring := func(id string, points []r2.Vec) {
		var b bounds
		b.add(points...)
		if b.any {
			out[id] = middle(b.low, b.high)
		}
	}
	way := func(id string, points []r2.Vec) {
		if at, ok := midway(points); ok {
			out[id] = at
		}
	}
	for _, x := range s.Paths {
		way(x.ID, x.Centreline)
	}
	for _, x := range s.Stairs {
		ring(x.ID, []r2.Vec{x.FootLeft, x.FootRight, x.HeadLeft, x.HeadRight})
		for _, t := range x.Treads {
			ring(t.ID, t.Outline[:])
		}
	}
	for _, x := range s.Landings {
		ring(x.ID, x.Outline)
	}
	for _, x := range s.Decks {
		ring(x.ID, x.Outline)
	}
	for _, x := range s.Areas {
		ring(x.ID, x.Outline)
	}
	for _, x := range s.Leaves {
		closed := facts.LeafGeometry(x).At(0).Segment
		out[x.ID] = middle(closed.A, closed.B)
	}
	for _, x := range s.Screens {
		way(x.ID, x.Line)
	}
	for _, x := range s.Posts {
		out[x.ID] = x.At
	}
	for _, x := range s.Trees {
		out[x.ID] = x.At
	}
	for _, x := range s.Beds {
		ring(x.ID, x.Outline)
	}
	for _, x := range s.Lawns {
		ring(x.ID, x.Outline)
	}
	for _, x := range s.Drives {
		ring(x.ID, x.Outline)
	}
	for _, x := range s.Water {
		ring(x.ID, x.Outline)
	}
	for _, x := range s.Windows {
		way(x.ID, x.Line[:])
	}
	for _, x := range s.Buildings {
		ring(x.ID, x.Outline)
	}
	for _, x := range s.Services {
		way(x.ID, x.Route)
	}
	if len(s.PropertyLine) > 1 {
		out["property-line"] = middle(s.PropertyLine[0], s.PropertyLine[1])
	}
}
