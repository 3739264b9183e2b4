package facts

import (
	"context"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

const (
	leafReachM    = 6.0  // places farther from the leaf's whole sweep are not shadowed noticeably
	leafStepM     = 0.25 // movement of the free end from one position to the next
	leafDimming   = 0.7  // a shadow that leaves more light than this is not listed
	leafPathStepM = 0.5
	listedShare   = 1 - 1e-6 // of the light that a listed shadow takes; rounding hides none
)

// shade is a place that a leaf may darken, with its points in the field of all.
type shade struct {
	id       string
	tread    bool
	darkLux  float64 // below this it is dark
	first, n int
}

// leafShadows moves every solid leaf through its positions and lists the
// places that it darkens: at rest, and in mid-swing for treads.
func (j *join) leafShadows(ctx context.Context, lit *lighting) error {
	for i, l := range j.plan.Site.Leaves {
		out := &j.doc.Leaves[i] // one for each, in the same order
		if l.HeightM > 0 {
			out.HeightM = ptr(l.HeightM)
		}
		shades, points := j.shades(lit, l)
		if out.MayShade = l.Solid && len(shades) > 0 && lit.near(l); !out.MayShade || out.HeightM == nil {
			continue
		}
		shades, points = lit.inReach(l, shades, j.onTop(points))
		if len(points) == 0 {
			continue
		}
		field, err := lit.eval.Evaluate(ctx, points)
		if err != nil {
			return err
		}
		if err := j.shadowsOf(lit, l, shades, field); err != nil {
			return err
		}
	}
	return nil
}

// near reports whether a lamp stands near a leaf.
func (lit *lighting) near(l *plan.Leaf) bool {
	for _, f := range lit.lamps {
		if math.Hypot(f.At.X-l.Hinge.X, f.At.Y-l.Hinge.Y) <= leafReachM+l.LeafM+l.TravelM {
			return true
		}
	}
	return false
}

// shades lists treads, landings and stretches of path near a leaf.
func (j *join) shades(lit *lighting, l *plan.Leaf) (shades []shade, points []light.Point) {
	reach := leafReachM + l.LeafM + l.TravelM
	near := func(p r3.Vec) bool { return math.Hypot(p.X-l.Hinge.X, p.Y-l.Hinge.Y) <= reach }
	for _, p := range lit.places {
		if near(p.at) && !p.fact.Unlit {
			s := shade{id: p.fact.ID, tread: true, darkLux: j.limit("light.step_dark_lx", 1), first: len(points), n: 1}
			if p.fact.Landing {
				s.tread, s.darkLux = false, j.limit("light.landing_dark_lx", 1)
			}
			shades = append(shades, s)
			points = append(points, p.names[0].Point)
		}
	}
	for _, p := range j.plan.Site.Paths {
		if !p.Lit {
			continue
		}
		first := len(points)
		for _, at := range paces(p, leafPathStepM) {
			if near(at) {
				points = append(points, light.Point{At: at, Normal: light.Up})
			}
		}
		if len(points) > first {
			shades = append(shades, shade{id: p.ID, darkLux: j.limit("light.path_dark_lx", 0.4), first: first, n: len(points) - first})
		}
	}
	return shades, points
}

// inReach keeps of some places the points from which a leaf could take so much
// light, wherever it is in its swing, that its shadow would be listed.
func (lit *lighting) inReach(l *plan.Leaf, shades []shade, points []light.Point) ([]shade, []light.Point) {
	var walls []light.Occluder
	for _, p := range LeafGeometry(l).Through(leafStepM) {
		walls = append(walls, leafWall(l, p.Segment))
	}
	most := 0.0
	for _, s := range lit.scenes {
		for _, level := range s.levels {
			most = math.Max(most, level)
		}
	}
	placesLeft, left := shades[:0], points[:0]
	for _, s := range shades {
		first := len(left)
		for _, p := range points[s.first : s.first+s.n] {
			if most*lit.eval.MayTake(p, walls) >= listedShare*(1-leafDimming)*s.darkLux {
				left = append(left, p)
			}
		}
		if s.first, s.n = first, len(left)-first; s.n > 0 {
			placesLeft = append(placesLeft, s)
		}
	}
	return placesLeft, left
}

// leafAt names what the shadow of a leaf on a place in a scene is about.
type leafAt struct {
	place, scene int
	position     string
}

// shadowsOf finds the darkest moment of each place with the leaf closed, open
// and, on a tread, in between.
func (j *join) shadowsOf(lit *lighting, l *plan.Leaf, shades []shade, field *light.Field) error {
	leaf := LeafGeometry(l)
	worst := map[leafAt]LeafShadow{}
	for _, p := range leaf.Through(leafStepM) {
		name := restName(l, p.Name)
		if name == "swing" && !hasTread(shades) {
			continue
		}
		behind, err := field.Behind(leafWall(l, p.Segment))
		if err != nil {
			return err
		}
		for place, s := range shades {
			if name == "swing" && !s.tread {
				continue
			}
			for scene := range lit.scenes {
				if lit.scenes[scene].InUse {
					key := leafAt{place, scene, name}
					darker(worst, key, s, lit.scenes[scene].levels, field, behind, LeafShadow{
						ID: s.id, Leaf: l.ID, Scene: lit.scenes[scene].ID, Position: name, Tread: s.tread,
						OpenDeg: math.Abs(p.Open) * leaf.AngleDeg,
					})
				}
			}
		}
	}
	for place := range shades {
		for scene := range lit.scenes {
			for _, name := range []string{"closed", "open", "swing"} {
				if shadow, found := worst[leafAt{place, scene, name}]; found {
					j.doc.LeafShadows = append(j.doc.LeafShadows, shadow)
				}
			}
		}
	}
	return nil
}

func hasTread(shades []shade) bool {
	for _, s := range shades {
		if s.tread {
			return true
		}
	}
	return false
}

// darker keeps the point of a place that a leaf leaves darkest, of those that are
// lit without it and that it takes much light from.
func darker(worst map[leafAt]LeafShadow, key leafAt, s shade, levels light.Levels, field, behind *light.Field, shadow LeafShadow) {
	for i := s.first; i < s.first+s.n; i++ {
		with, without := behind.LuxAt(i, levels), field.LuxAt(i, levels)
		old, seen := worst[key]
		if with > leafDimming*without || without < s.darkLux || (seen && old.LuxWith <= with) {
			continue
		}
		shadow.LuxWithout, shadow.LuxWith = without, with
		worst[key] = shadow
	}
}

// restName is closed, open or swing. A leaf rests open when the plan says that
// it is left so; else it only passes there.
func restName(l *plan.Leaf, name string) string {
	switch {
	case name == "closed":
		return name
	case name != "" && l.HeldOpen:
		return "open"
	}
	return "swing"
}

func leafWall(l *plan.Leaf, s site.Segment) light.Occluder {
	return light.Wall{ID: l.ID, A: s.A, B: s.B, BaseM: l.ElevationM + l.GroundGapM, TopM: l.ElevationM + l.HeightM}
}
