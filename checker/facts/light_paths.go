package facts

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// paths lights every path, deck and terrace that is meant to be lit.
func (j *join) paths(ctx context.Context, lit *lighting) error {
	step := j.limit("light.grid_step_m", light.DefaultPathStepM)
	for _, p := range j.plan.Site.Paths {
		if !p.Lit {
			continue
		}
		grid, err := light.PathGrid(walked(p), p.WidthM, step)
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

// walked is the centreline of a path at its own level.
func walked(p *plan.Path) []r3.Vec {
	line := make([]r3.Vec, len(p.Centreline))
	for i, v := range p.Centreline {
		line[i] = r3.Vec{X: v.X, Y: v.Y}
		if i < len(p.ElevationsM) {
			line[i].Z = p.ElevationsM[i]
		}
	}
	return line
}

// paces are points on the centreline of a path, a step apart, at its own level;
// none for a path without length.
func paces(p *plan.Path, stepM float64) []r3.Vec {
	grid, err := light.PathGrid(walked(p), 0, stepM)
	if err != nil {
		return nil
	}
	out := make([]r3.Vec, len(grid.Points))
	for i := range out {
		out[i] = grid.Points[i].At
	}
	return out
}

func (j *join) lightOutline(ctx context.Context, lit *lighting, id, kind string, outline []r2.Vec, z float64) error {
	grid, err := light.AreaGrid(outline, z, 0)
	if err != nil {
		return nil //nolint:nilerr // an area without size; plan.conflict says so
	}
	box := polygonOf(outline).Bounds()
	return j.lightArea(ctx, lit, Path{ID: id, Kind: kind, LengthM: box.Max.X - box.Min.X, WidthM: box.Max.Y - box.Min.Y}, grid)
}

// lightArea writes one path or area in every scene in use.
func (j *join) lightArea(ctx context.Context, lit *lighting, base Path, grid light.Grid) error {
	field, err := lit.eval.Evaluate(ctx, j.onTop(grid.Points))
	if err != nil {
		return err
	}
	walked := make([]bool, len(grid.Points))
	base.StepM = grid.AlongM
	for i, p := range grid.Points {
		if walked[i] = j.walkedOn(p.At); walked[i] {
			base.Points++
		}
	}
	for i := range lit.scenes {
		s := &lit.scenes[i]
		if !s.InUse {
			continue
		}
		out := base
		out.Scene = s.ID
		j.summarise(&out, s, grid, field.Lux(s.levels), walked)
		out.Lamps = lit.strongestOver(field, walked, s.levels)
		j.doc.Paths = append(j.doc.Paths, out)
	}
	return nil
}

// summarise writes the light on a path or area. Where a fixture of unknown light
// may add to it there is no sum of the whole, and no point near it counts as
// dark; nor does one where nobody walks.
func (j *join) summarise(out *Path, s *sceneLight, grid light.Grid, lux []float64, walked []bool) {
	dark := j.limit("light.path_dark_lx", 0.4)
	out.Known = true
	var open []float64
	for i, p := range grid.Points {
		switch {
		case !walked[i]:
			lux[i] = math.Max(lux[i], dark)
		case s.mayLight(p.At):
			out.Known = false
			lux[i] = math.Max(lux[i], dark)
		default:
			open = append(open, lux[i])
		}
	}
	if out.Known && len(open) > 0 {
		out.uniformity(light.Summarise(open))
	}
	if len(grid.StationsM) == 0 {
		return
	}
	stretches := light.DarkStretches(grid.StationsM, light.Pick(lux, grid.Middle()), dark, out.LengthM)
	out.DarkM = ptr(0.0)
	if longest, ok := light.Longest(stretches); ok {
		out.DarkM, out.DarkFromM, out.DarkToM = ptr(longest.LengthM()), ptr(longest.FromM), ptr(longest.ToM)
	}
}

// uniformity writes least, mean and most, and the three ratios that people call
// uniformity.
func (out *Path) uniformity(s light.Stats) {
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
}

// walkedOn reports whether people walk on a point of a path or area: nothing
// else to walk on, such as a flight of steps, lies above it, and nothing solid
// stands there.
func (j *join) walkedOn(p r3.Vec) bool {
	at := r2.Vec{X: p.X, Y: p.Y}
	if j.plan.GroundAt(at) > p.Z+flushM {
		return false
	}
	var solid nearestHost
	solid.inside(j.plan.Site, at, p.Z)
	return solid.id == ""
}

const (
	besidePathM = 1.5 // how far from the edge a path light belongs to the path
	oppositeM   = 0.6 // stations nearer than this face each other
)

// rhythm writes how path lights follow one another, and on which sides.
func (j *join) rhythm(out *Path, p *plan.Path) {
	var placed []site.Placed
	for _, f := range j.plan.Fixtures {
		if f.At != nil && (f.Type.Kind == "path" || f.Type.Kind == "bollard") {
			placed = append(placed, site.Placed{ID: f.ID, At: *f.At})
		}
	}
	r, ok := site.RhythmOf(site.Line(p.Centreline), placed, p.WidthM/2+besidePathM, oppositeM)
	if !ok {
		return
	}
	for _, f := range r.Fixtures {
		switch f.Side {
		case site.Left:
			out.LeftLights++
		case site.Right:
			out.RightLights++
		}
	}
	if len(r.Fixtures) < 2 {
		return
	}
	widest := 0.0
	for _, i := range r.Intervals {
		if i.FromID != "" && i.ToID != "" && i.Length() > widest {
			widest = i.Length()
			out.GapFrom, out.GapTo = i.FromID, i.ToID
		}
	}
	out.WidestGapM, out.OppositePairs = ptr(widest), len(r.Opposite)
}
