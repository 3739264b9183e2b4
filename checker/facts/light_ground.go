package facts

import (
	"context"
	"math"
	"sort"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// place is a tread or landing to be lit, with its points in the field.
type place struct {
	fact  Tread
	at    r3.Vec
	first int // index of its first point
	names []light.NamedPoint
}

// unknownReach is how near a fixture of unknown light makes a place
// unjudgeable.
const unknownReach = 5.0 // m

// places lists treads, then landings.
func (j *join) places() []place {
	var out []place
	for _, s := range j.plan.Site.Stairs {
		for _, t := range s.Treads {
			names := light.Tread{FrontLeft: t.Outline[0], FrontRight: t.Outline[1], BackRight: t.Outline[2],
				BackLeft: t.Outline[3], ElevationM: t.HeightM}.Points()
			out = append(out, place{names: names, at: names[0].Point.At, fact: Tread{
				ID: t.ID, Stair: s.ID, Number: t.Number, First: t.First, Last: t.Last, Public: s.Public, Unlit: !s.Lit}})
		}
	}
	for _, l := range j.plan.Site.Landings {
		names := landingPoints(l)
		fact := Tread{ID: l.ID, Landing: true, End: l.End, Unlit: !l.Lit}
		if l.Stair != nil {
			fact.Stair, fact.Public = l.Stair.ID, l.Stair.Public
		}
		out = append(out, place{names: names, at: names[0].Point.At, fact: fact})
	}
	return out
}

// landingPoints are the middle of a landing and its corners, a little inside.
func landingPoints(l *plan.Landing) []light.NamedPoint {
	var middle r2.Vec
	for _, p := range l.Outline {
		middle = r2.Add(middle, r2.Scale(1/float64(len(l.Outline)), p))
	}
	at := func(name string, p r2.Vec) light.NamedPoint {
		return light.NamedPoint{Name: name, Point: light.Point{At: r3.Vec{X: p.X, Y: p.Y, Z: l.ElevationM}, Normal: light.Up}}
	}
	out := []light.NamedPoint{at("strip", middle)}
	for _, p := range l.Outline {
		to := r2.Sub(middle, p)
		out = append(out, at("corner", r2.Add(p, r2.Scale(light.CornerInsetM/math.Max(r2.Norm(to), light.CornerInsetM), to))))
	}
	return out
}

// treads lights every tread and landing in every scene in use.
func (j *join) treads(ctx context.Context, lit *lighting) error {
	places := j.places()
	var points []light.Point
	for i := range places {
		places[i].first = len(points)
		points = append(points, light.PointsOf(places[i].names)...)
	}
	field, err := lit.eval.Evaluate(ctx, points)
	if err != nil {
		return err
	}
	for i := range places {
		p := &places[i]
		for _, scene := range j.plan.Scenes {
			if scene.InUse {
				j.doc.Treads = append(j.doc.Treads, j.treadIn(lit, field, p, scene))
			}
		}
	}
	j.stairFacts(lit, field, places)
	return nil
}

// treadIn is one place in one scene.
func (j *join) treadIn(lit *lighting, field *light.Field, p *place, scene *plan.Scene) Tread {
	out := p.fact
	out.Scene = scene.ID
	levels := lit.levels[scene.ID]
	var lux []float64
	for i := range p.names {
		lux = append(lux, field.LuxAt(p.first+i, levels))
	}
	stats := light.Summarise(lux)
	out.Lamps = lit.strongest(field, p.first, levels)
	if lux[0] < j.limit("light.step_low_lx", 5) && lit.unknownNear(p.at) {
		return out // it may well be lit; the plan does not say
	}
	out.LuxCentre, out.LuxMin, out.LuxAvg = ptr(lux[0]), ptr(stats.MinLux), ptr(stats.AvgLux)
	return out
}

func (lit *lighting) unknownNear(p r3.Vec) bool {
	for _, f := range lit.unknown {
		if math.Hypot(f.At.X-p.X, f.At.Y-p.Y) < unknownReach {
			return true
		}
	}
	return false
}

// least is the light below which a lamp is not named.
const leastLux = 0.05

// strongest names the lamps that light a point, the strongest first.
func (lit *lighting) strongest(field *light.Field, point int, levels light.Levels) []string {
	type part struct {
		id  string
		lux float64
	}
	var parts []part
	for _, s := range field.Shares(point) {
		lux := s.Lux
		if levels != nil {
			lux *= levels[s.Luminaire]
		}
		if lux >= leastLux {
			parts = append(parts, part{lit.lamps[s.Luminaire].ID, lux})
		}
	}
	sort.Slice(parts, func(a, b int) bool {
		if parts[a].lux != parts[b].lux {
			return parts[a].lux > parts[b].lux
		}
		return parts[a].id < parts[b].id
	})
	ids := make([]string, len(parts))
	for i, p := range parts {
		ids[i] = p.id
	}
	return ids
}

// stairFacts writes the flights, with the source near the top and the controls
// of the lamps that light them.
func (j *join) stairFacts(lit *lighting, field *light.Field, places []place) {
	for _, s := range j.plan.Site.Stairs {
		out := Stair{ID: s.ID, Risers: s.Risers, Public: s.Public, Handrails: s.Handrails}
		head := site.Segment{A: s.HeadLeft, B: s.HeadRight}
		for _, f := range j.plan.Fixtures {
			if f.At != nil && (j.fixtures[f.ID].Fed || len(j.plan.Runs) == 0) {
				d := site.PointSegment(*f.At, head).M
				if out.TopSourceM == nil || d < *out.TopSourceM {
					out.TopSourceM = ptr(d)
				}
			}
		}
		lamps := map[string]bool{}
		for i := range places {
			if places[i].fact.Stair == s.ID {
				for _, id := range lit.strongest(field, places[i].first, nil) {
					lamps[id] = true
				}
			}
		}
		j.stairControls(&out, lamps)
		j.doc.Stairs = append(j.doc.Stairs, out)
	}
}

func (j *join) stairControls(out *Stair, lamps map[string]bool) {
	for i := range j.doc.Controls {
		c := &j.doc.Controls[i]
		for _, id := range c.Switches {
			if lamps[id] {
				out.Controls = append(out.Controls, c.ID)
				out.Automatic = out.Automatic || automatic(c.Kind)
				break
			}
		}
	}
}

// automatic reports whether a control works without a hand on it.
func automatic(kind string) bool {
	switch kind {
	case "switch", "dimmer":
		return false
	}
	return true
}

// paths lights every path, deck and terrace that is meant to be lit.
func (j *join) paths(ctx context.Context, lit *lighting) error {
	step := j.limit("light.grid_step_m", light.DefaultPathStepM)
	for _, p := range j.plan.Site.Paths {
		if !p.Lit {
			continue
		}
		line := make([]r3.Vec, len(p.Centreline))
		for i, v := range p.Centreline {
			line[i] = r3.Vec{X: v.X, Y: v.Y, Z: p.ElevationsM[i]}
		}
		grid, err := light.PathGrid(line, p.WidthM, step)
		if err != nil {
			continue // a path without length; plan.conflict says so
		}
		out := Path{ID: p.ID, Kind: "path", LengthM: site.Line(p.Centreline).Length(), WidthM: p.WidthM}
		j.rhythm(&out, p)
		if err := j.lightArea(ctx, lit, out, grid); err != nil {
			return err
		}
	}
	for _, a := range j.plan.Site.Areas {
		if a.Lit && a.Kind == "terrace" {
			if err := j.lightOutline(ctx, lit, a.ID, a.Kind, a.Outline, a.ElevationM); err != nil {
				return err
			}
		}
	}
	for _, d := range j.plan.Site.Decks {
		if d.Lit {
			if err := j.lightOutline(ctx, lit, d.ID, "deck", d.Outline, d.ElevationM); err != nil {
				return err
			}
		}
	}
	return nil
}

func (j *join) lightOutline(ctx context.Context, lit *lighting, id, kind string, outline []r2.Vec, z float64) error {
	grid, err := light.AreaGrid(outline, z, 0)
	if err != nil {
		return nil // an area without size; plan.conflict says so
	}
	box := polygonOf(outline).Bounds()
	return j.lightArea(ctx, lit, Path{ID: id, Kind: kind, LengthM: box.Max.X - box.Min.X, WidthM: box.Max.Y - box.Min.Y}, grid)
}

// lightArea writes one path or area in every scene in use.
func (j *join) lightArea(ctx context.Context, lit *lighting, base Path, grid light.Grid) error {
	field, err := lit.eval.Evaluate(ctx, grid.Points)
	if err != nil {
		return err
	}
	base.StepM, base.Points = grid.AlongM, len(grid.Points)
	for _, scene := range j.plan.Scenes {
		if !scene.InUse {
			continue
		}
		out := base
		out.Scene = scene.ID
		lux := field.Lux(lit.levels[scene.ID])
		if !j.obscured(lit, grid) {
			j.summarise(&out, grid, lux)
		}
		j.doc.Paths = append(j.doc.Paths, out)
	}
	return nil
}

// obscured reports whether a fixture of unknown light stands beside the area.
func (j *join) obscured(lit *lighting, grid light.Grid) bool {
	for _, p := range grid.Points {
		if lit.unknownNear(p.At) {
			return true
		}
	}
	return false
}

func (j *join) summarise(out *Path, grid light.Grid, lux []float64) {
	s := light.Summarise(lux)
	out.LuxMin, out.LuxAvg, out.LuxMax = ptr(s.MinLux), ptr(s.AvgLux), ptr(s.MaxLux)
	if v, ok := s.Uo(); ok {
		out.Uo = ptr(v)
	}
	if v, ok := s.AvgToMin(); ok {
		out.AvgToMin = ptr(v)
	}
	if v, ok := s.MaxToMin(); ok {
		out.MaxToMin = ptr(v)
	}
	if len(grid.StationsM) == 0 {
		return
	}
	middle := light.Pick(lux, grid.Middle())
	dark := light.DarkStretches(grid.StationsM, middle, j.limit("light.path_dark_lx", 0.4), out.LengthM)
	out.DarkM, out.DarkFromM, out.DarkToM = ptr(0.0), nil, nil
	if longest, ok := light.Longest(dark); ok {
		out.DarkM, out.DarkFromM, out.DarkToM = ptr(longest.LengthM()), ptr(longest.FromM), ptr(longest.ToM)
	}
}

const (
	besidePathM = 1.5 // how far from the edge a path light belongs to the path
	oppositeM   = 0.6 // stations nearer than this face each other
)

// rhythm writes how path lights follow one another.
func (j *join) rhythm(out *Path, p *plan.Path) {
	var placed []site.Placed
	for _, f := range j.plan.Fixtures {
		if f.At != nil && (strings.Contains(f.Type.Kind, "path") || f.Type.Kind == "bollard") {
			placed = append(placed, site.Placed{ID: f.ID, At: *f.At})
		}
	}
	r, ok := site.RhythmOf(site.Line(p.Centreline), placed, p.WidthM/2+besidePathM, oppositeM)
	if !ok || len(r.Fixtures) < 2 {
		return
	}
	widest := 0.0
	for _, i := range r.Intervals {
		if i.FromID != "" && i.ToID != "" {
			widest = math.Max(widest, i.Length())
		}
	}
	out.WidestGapM, out.OppositePairs = ptr(widest), len(r.Opposite)
}
