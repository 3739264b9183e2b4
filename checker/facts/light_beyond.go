package facts

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/site"
)

// beams says where the light of each fixture aimed at a tree goes.
func (j *join) beams(_ context.Context, lit *lighting) error {
	for _, t := range j.plan.Site.Trees {
		for i, f := range lit.lamps {
			if f.AimAt == nil || f.AimAt.Tree != t.ID {
				continue
			}
			parts := treeParts(t)
			landing := lit.eval.Land(i, parts...)
			out := Beam{ID: f.ID, Tree: t.ID, OnTree: landing.OnAll(), PastTree: landing.Sky}
			bearing, tilt, share := lit.eval.BestAim(i, parts...)
			out.BestBearingDeg, out.BestTiltDeg, out.BestOnTree = ptr(math.Round(bearing)), ptr(math.Round(tilt)), ptr(share)
			j.doc.Beams = append(j.doc.Beams, out)
		}
	}
	return nil
}

// neighbours measures what leaves the place: light on the property line and
// on windows, and bare sources in sight.
func (j *join) neighbours(ctx context.Context, lit *lighting) error {
	if err := j.propertyLine(ctx, lit); err != nil {
		return err
	}
	if err := j.windows(ctx, lit); err != nil {
		return err
	}
	j.sightlines(lit)
	return nil
}

func (j *join) propertyLine(ctx context.Context, lit *lighting) error {
	land := polygonOf(j.plan.Site.PropertyLine)
	if len(land) < 3 {
		return nil
	}
	facing := light.FacingRight
	if land.Anticlockwise() {
		facing = light.FacingLeft // the land, where the lamps are
	}
	height := j.limit("neighbour.property_height_m", 1.5)
	for edge := range land {
		s := land.Edge(edge)
		grid, err := light.UprightGrid([]r3.Vec{{X: s.A.X, Y: s.A.Y}, {X: s.B.X, Y: s.B.Y}}, height, 0, facing)
		if err != nil {
			continue // an edge without length
		}
		field, err := lit.eval.Evaluate(ctx, grid.Points)
		if err != nil {
			return err
		}
		j.boundaryFacts(lit, field, BoundaryLight{ID: "property-line", Kind: "property-line", Edge: edge + 1})
	}
	return nil
}

// boundaryFacts keeps the worst point of a field in every scene.
func (j *join) boundaryFacts(lit *lighting, field *light.Field, base BoundaryLight) {
	for _, scene := range j.plan.Scenes {
		levels := lit.levels[scene.ID]
		worst := light.Summarise(field.Lux(levels))
		if worst.Points == 0 || worst.MaxLux < leastLux {
			continue
		}
		out := base
		at := field.Point(worst.MaxAt).At
		out.Scene, out.Lux, out.XM, out.YM = scene.ID, worst.MaxLux, at.X, at.Y
		if ids := lit.strongest(field, worst.MaxAt, levels); len(ids) > 0 {
			out.Worst = ids[0]
		}
		j.doc.Boundary = append(j.doc.Boundary, out)
	}
}

func (j *join) windows(ctx context.Context, lit *lighting) error {
	for _, w := range j.plan.Site.Windows {
		pane := light.Window{A: w.Line[0], B: w.Line[1], SillM: w.SillM, HeadM: w.HeadM}
		back := pane
		back.A, back.B = pane.B, pane.A // the plan does not say which side is out
		points := append(light.PointsOf(pane.Points()), light.PointsOf(back.Points())...)
		field, err := lit.eval.Evaluate(ctx, points)
		if err != nil {
			return err
		}
		j.boundaryFacts(lit, field, BoundaryLight{ID: w.ID, Kind: w.Whose + "-window"})
	}
	return nil
}

const (
	eyeStepM   = 1.0  // between the eyes of a walker
	eyeReachM  = 20.0 // farther sources are not judged
	dullestLux = 0.05 // at the eye; fainter sources are not listed
)

// sightlines finds, for each place where people look from, the sources that
// shine into the eye, each at its worst.
func (j *join) sightlines(lit *lighting) {
	height := j.limit("light.eye_height_m", 1.6)
	for _, p := range j.plan.Site.Paths {
		line := site.Line(p.Centreline)
		var eyes []r3.Vec
		for at := 0.0; at <= line.Length(); at += eyeStepM {
			if v, _, ok := line.Along(at); ok {
				eyes = append(eyes, r3.Vec{X: v.X, Y: v.Y, Z: p.ElevationsM[0] + height})
			}
		}
		j.seenFrom(lit, p.ID, "path", eyes)
	}
	for _, s := range j.plan.Site.Stairs {
		var eyes []r3.Vec
		for _, t := range s.Treads {
			middle := r2.Scale(0.25, r2.Add(r2.Add(t.Outline[0], t.Outline[1]), r2.Add(t.Outline[2], t.Outline[3])))
			eyes = append(eyes, r3.Vec{X: middle.X, Y: middle.Y, Z: t.HeightM + height})
		}
		j.seenFrom(lit, s.ID, "stair", eyes)
	}
	for _, w := range j.plan.Site.Windows {
		middle := r2.Scale(0.5, r2.Add(w.Line[0], w.Line[1]))
		kind := "window"
		if w.Whose == "neighbour" {
			kind = "neighbour-window"
		}
		j.seenFrom(lit, w.ID, kind, []r3.Vec{{X: middle.X, Y: middle.Y, Z: (w.SillM + w.HeadM) / 2}})
	}
}

func (j *join) seenFrom(lit *lighting, from, kind string, eyes []r3.Vec) {
	worst := map[string]Sightline{}
	for _, eye := range eyes {
		for _, v := range lit.eval.Views(eye, eyeReachM) {
			id := lit.lamps[v.Luminaire].ID
			lux := v.Candela / (v.DistanceM * v.DistanceM)
			if lux < dullestLux || lux <= worst[id].Lux {
				continue
			}
			s := Sightline{ID: id, From: from, FromKind: kind, DistanceM: v.DistanceM, Candela: v.Candela, Lux: lux}
			if lumens := lit.eval.Luminaire(v.Luminaire).Lumens; lumens > 0 {
				s.CandelaPerKlm = 1000 * v.Candela / lumens
			}
			worst[id] = s
		}
	}
	for _, id := range sortedKeys(worst) {
		j.doc.Sightlines = append(j.doc.Sightlines, worst[id])
	}
}
