package facts

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// beyondHeadM is how far beyond the head of a flight its top is taken to be:
// one pace, where a foot stands before the first step down.
const beyondHeadM = 0.3

// topOf is the middle of the level at the head of a flight.
func topOf(s *plan.Stair) r3.Vec {
	middle := r2.Add(r2.Scale(0.5, r2.Add(s.HeadLeft, s.HeadRight)), r2.Scale(beyondHeadM, upOf(s)))
	return r3.Vec{X: middle.X, Y: middle.Y, Z: s.BaseM + float64(s.Risers)*s.RiseM}
}

// stairFacts writes the flights, with the source near the top and the controls
// of the lamps that light them.
func (j *join) stairFacts(ctx context.Context, lit *lighting, field *light.Field, places []place) error {
	var tops []light.Point
	for _, s := range j.plan.Site.Stairs {
		tops = append(tops, light.Point{At: topOf(s), Normal: light.Up})
	}
	above, err := lit.eval.Evaluate(ctx, j.onTop(tops))
	if err != nil {
		return err
	}
	for i, s := range j.plan.Site.Stairs {
		out := Stair{ID: s.ID, Risers: s.Risers, Public: s.Public, Handrails: s.Handrails, Unlit: !s.Lit}
		var own []place
		for _, p := range places {
			if p.fact.Stair == s.ID {
				own = append(own, p)
			}
		}
		for k := range lit.scenes {
			if scene := &lit.scenes[k]; scene.InUse {
				out.Tops = append(out.Tops, j.topIn(lit, scene, s, topLamps(lit, scene, field, own, above, i)))
				top := &out.Tops[len(out.Tops)-1]
				if !scene.mayLight(tops[i].At) {
					top.Lux = ptr(above.LuxAt(i, scene.levels))
				}
				if top.SourceM != nil && (out.TopSourceM == nil || *top.SourceM < *out.TopSourceM) {
					out.TopSourceM = top.SourceM
				}
			}
		}
		j.stairControls(&out, s, lampsOn(lit, field, own))
		j.doc.Stairs = append(j.doc.Stairs, out)
	}
	return nil
}

// topLamps names the lamps that light the top of a flight in a scene: the level
// beyond its head, its top landing or its highest tread.
func topLamps(lit *lighting, scene *sceneLight, field *light.Field, own []place, above *light.Field, stair int) map[string]bool {
	lamps := map[string]bool{}
	add := func(f *light.Field, point int) {
		for _, id := range lit.strongest(f, point, scene.levels) {
			lamps[id] = true
		}
	}
	add(above, stair)
	for _, p := range own {
		if p.fact.Last || p.fact.End == "top" {
			for i := range p.names {
				add(field, p.first+i)
			}
		}
	}
	return lamps
}

// topIn finds the source nearest to the head of a flight in a scene. A fixture
// of unknown light that is on nearby is given the benefit of the doubt.
func (j *join) topIn(lit *lighting, scene *sceneLight, s *plan.Stair, lamps map[string]bool) StairTop {
	out := StairTop{Scene: scene.ID}
	head := site.Segment{A: s.HeadLeft, B: s.HeadRight}
	offer := func(f *plan.Fixture) {
		if d := site.PointSegment(*f.At, head).M; out.SourceM == nil || d < *out.SourceM {
			out.Source, out.SourceM = f.ID, ptr(d)
		}
	}
	for _, f := range lit.lamps {
		if lamps[f.ID] {
			offer(f)
		}
	}
	for _, f := range scene.unknown {
		if f.At != nil && site.PointSegment(*f.At, head).M < unknownReach {
			offer(f)
		}
	}
	out.Unknown = scene.unplaced && out.SourceM == nil
	return out
}

// lampsOn names the lamps that light a flight at full level.
func lampsOn(lit *lighting, field *light.Field, own []place) map[string]bool {
	full := make(light.Levels, len(lit.lamps))
	for i := range full {
		full[i] = 1
	}
	lamps := map[string]bool{}
	for _, p := range own {
		for i := range p.names {
			for _, id := range lit.strongest(field, p.first+i, full) {
				lamps[id] = true
			}
		}
	}
	return lamps
}

// stairControls finds the controls of a flight's lamps, and whether one of them
// works by itself or can be worked from the flight or from a building.
func (j *join) stairControls(out *Stair, s *plan.Stair, lamps map[string]bool) {
	for i := range j.doc.Controls {
		c := &j.doc.Controls[i]
		if !slices.ContainsFunc(c.Switches, func(id string) bool { return lamps[id] }) {
			continue
		}
		out.Controls = append(out.Controls, c.ID)
		out.Automatic = out.Automatic || automatic(c.Kind)
		for _, place := range c.ReachableAt {
			out.Reachable = out.Reachable || j.atStair(s, place)
		}
	}
}

// automatic reports whether a control works without a hand on it.
func automatic(kind string) bool { return kind != "switch" && kind != "dimmer" }

// atStairM is how near to an end of a flight a path or deck leads past it.
const atStairM = 1.5

// atStair reports whether someone at a place is at the flight, or indoors.
func (j *join) atStair(s *plan.Stair, place string) bool {
	if place == s.ID {
		return true
	}
	near := func(d float64) bool { return d <= atStairM }
	ends := []r2.Vec{r2.Scale(0.5, r2.Add(s.FootLeft, s.FootRight)), r2.Scale(0.5, r2.Add(s.HeadLeft, s.HeadRight))}
	gap := func(region interface{ Distance(r2.Vec) float64 }) float64 {
		return math.Min(region.Distance(ends[0]), region.Distance(ends[1]))
	}
	g := j.plan.Site
	for _, b := range g.Buildings {
		if b.ID == place {
			return true
		}
	}
	for _, l := range g.Leaves {
		if l.ID == place {
			return l.Door || near(math.Min(r2.Norm(r2.Sub(l.Hinge, ends[0])), r2.Norm(r2.Sub(l.Hinge, ends[1]))))
		}
	}
	for _, l := range g.Landings {
		if l.ID == place {
			return l.Stair == s || near(gap(polygonOf(l.Outline)))
		}
	}
	for _, p := range g.Paths {
		if p.ID == place {
			return near(gap(site.Strip{Centreline: site.Line(p.Centreline), WidthM: p.WidthM}))
		}
	}
	for _, d := range g.Decks {
		if d.ID == place {
			return near(gap(polygonOf(d.Outline)))
		}
	}
	for _, a := range g.Areas {
		if a.ID == place {
			return near(gap(polygonOf(a.Outline)))
		}
	}
	return false
}
