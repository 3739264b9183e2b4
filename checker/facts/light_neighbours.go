package facts

import (
	"context"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/site"
)

const (
	// boundaryStepM is the distance between the points at which light on the
	// property line is taken; there is one more straight across from each
	// lamp that stands within acrossM of it.
	boundaryStepM = 1.0
	acrossM       = 20.0
)

// neighbours measures what leaves the place: light on the property line and
// on windows, and bare sources in sight. All of it is taken with new lamps and
// clean lenses, since an upper limit has to hold on the first evening.
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
		line := []r3.Vec{{X: s.A.X, Y: s.A.Y}, {X: s.B.X, Y: s.B.Y}}
		grid, err := light.UprightGrid(line, height, boundaryStepM, facing)
		if err != nil {
			continue // an edge without length
		}
		points := lit.across(grid.Points, s, height)
		for i := range points {
			at := &points[i].At
			at.Z += j.plan.GroundAt(r2.Vec{X: at.X, Y: at.Y})
		}
		field, err := lit.eval.Bright(ctx, points, leastLux, lit.freshLevels()...)
		if err != nil {
			return err
		}
		j.boundaryFacts(lit, field, BoundaryLight{ID: "property-line", Kind: "property-line", Edge: edge + 1})
	}
	return nil
}

// across adds to points of an edge those straight across from the lamps near it.
func (lit *lighting) across(points []light.Point, edge site.Segment, height float64) []light.Point {
	points = slices.Grow(points, len(lit.lamps))
	for _, f := range lit.lamps {
		if foot := site.PointSegment(*f.At, edge); foot.M <= acrossM {
			points = append(points, light.Point{At: r3.Vec{X: foot.B.X, Y: foot.B.Y, Z: height}, Normal: points[0].Normal})
		}
	}
	return points
}

// freshLevels are the levels of every scene with new lamps and clean lenses.
func (lit *lighting) freshLevels() []light.Levels {
	out := make([]light.Levels, len(lit.scenes))
	for i := range lit.scenes {
		out[i] = lit.scenes[i].fresh
	}
	return out
}

// boundaryFacts keeps the worst point of a field in every scene.
func (j *join) boundaryFacts(lit *lighting, field *light.Field, base BoundaryLight) {
	for i := range lit.scenes {
		s := &lit.scenes[i]
		worst := light.Summarise(field.Lux(s.fresh))
		if worst.Points == 0 || worst.MaxLux < leastLux {
			continue
		}
		out := base
		at := field.Point(worst.MaxAt).At
		out.Scene, out.Lux, out.XM, out.YM = s.ID, worst.MaxLux, at.X, at.Y
		out.Lamps = lit.strongest(field, worst.MaxAt, s.fresh)
		if len(out.Lamps) > 0 {
			out.Worst = out.Lamps[0]
		}
		j.doc.Boundary = append(j.doc.Boundary, out)
	}
}

func (j *join) windows(ctx context.Context, lit *lighting) error {
	for _, w := range j.plan.Site.Windows {
		var points []light.Point
		for _, side := range j.panes(w) {
			points = append(points, side...)
		}
		field, err := lit.eval.Bright(ctx, points, leastLux, lit.freshLevels()...)
		if err != nil {
			return err
		}
		j.boundaryFacts(lit, field, BoundaryLight{ID: w.ID, Kind: w.Whose + "-window"})
	}
	return nil
}
