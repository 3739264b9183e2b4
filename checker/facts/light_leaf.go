package facts

import (
	"context"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

const (
	leafReachM    = 6.0  // places farther from the hinge are not shadowed noticeably
	leafStepM     = 0.25 // movement of the free end from one position to the next
	leafDimming   = 0.7  // a shadow that leaves more light than this is not listed
	leafPathStepM = 0.5
)

// shade is a place that a leaf may darken, with its points.
type shade struct {
	id     string
	tread  bool
	points []light.Point
}

// leafShadows moves every solid leaf through its positions and lists the
// places that it darkens: paths where the leaf rests, treads in mid-swing too.
func (j *join) leafShadows(ctx context.Context, lit *lighting) error {
	for _, l := range j.plan.Site.Leaves {
		if !l.Solid || l.HeightM <= 0 {
			continue
		}
		for _, s := range j.shades(l) {
			field, err := lit.eval.Evaluate(ctx, s.points)
			if err != nil {
				return err
			}
			if err := j.shadowsOn(lit, l, s, field); err != nil {
				return err
			}
		}
	}
	return nil
}

// shades lists treads and stretches of path near a leaf.
func (j *join) shades(l *plan.Leaf) []shade {
	var out []shade
	near := func(p r3.Vec) bool { return math.Hypot(p.X-l.Hinge.X, p.Y-l.Hinge.Y) <= leafReachM }
	for _, p := range j.places() {
		if near(p.at) && !p.fact.Unlit {
			out = append(out, shade{p.fact.ID, true, []light.Point{p.names[0].Point}})
		}
	}
	for _, p := range j.plan.Site.Paths {
		if !p.Lit {
			continue
		}
		s := shade{id: p.ID}
		line := site.Line(p.Centreline)
		for at := 0.0; at <= line.Length(); at += leafPathStepM {
			v, _, ok := line.Along(at)
			if q := (r3.Vec{X: v.X, Y: v.Y, Z: p.ElevationsM[0]}); ok && near(q) {
				s.points = append(s.points, light.Point{At: q, Normal: light.Up})
			}
		}
		if len(s.points) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// shadowsOn finds the worst position of a leaf for one place: at rest, and in
// mid-swing for a tread.
func (j *join) shadowsOn(lit *lighting, l *plan.Leaf, s shade, field *light.Field) error {
	leaf := leafOf(l)
	positions := leaf.Rest()
	if s.tread {
		positions = leaf.Through(leafStepM)
	}
	for _, scene := range j.plan.Scenes {
		if !scene.InUse {
			continue
		}
		levels := lit.levels[scene.ID]
		worst := map[string]LeafShadow{}
		for _, p := range positions {
			behind, err := field.Behind(leafWall(l, p.Segment))
			if err != nil {
				return err
			}
			name := restName(p.Name)
			for i := range s.points {
				with, without := behind.LuxAt(i, levels), field.LuxAt(i, levels)
				old, seen := worst[name]
				if with > leafDimming*without || (seen && old.LuxWith <= with) {
					continue
				}
				worst[name] = LeafShadow{ID: s.id, Leaf: l.ID, Scene: scene.ID, Position: name, Tread: s.tread,
					OpenDeg: math.Abs(p.Open) * leaf.AngleDeg, LuxWithout: without, LuxWith: with}
			}
		}
		for _, name := range sortedKeys(worst) {
			j.doc.LeafShadows = append(j.doc.LeafShadows, worst[name])
		}
	}
	return nil
}

// restName is closed, open or swing.
func restName(name string) string {
	switch {
	case name == "":
		return "swing"
	case strings.HasPrefix(name, "open"):
		return "open"
	}
	return name
}

func leafWall(l *plan.Leaf, s site.Segment) light.Occluder {
	return light.Wall{ID: l.ID, A: s.A, B: s.B, BaseM: l.ElevationM + l.GroundGapM, TopM: l.ElevationM + l.HeightM}
}
