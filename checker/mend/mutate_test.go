package mend_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// subject is a plan to make a mistake in.
type subject struct {
	rng *rand.Rand
	doc *plan.Document
	*plan.Plan
}

// mistake is one kind of mistake that people make; it returns nothing where the
// plan has no room for it.
type mistake func(s *subject) []finding.Operation

// mistakes are named after what was done.
var mistakes = map[string]mistake{
	"thin cable": thinCable, "another tap": anotherTap, "longer legs": longerLegs, "larger lamps": largerLamps,
	"small unit": smallUnit, "growth": growth, "low unit": lowUnit, "far unit": farUnit, "one common": oneCommon,
	"dim lamps": dimLamps, "scene dark": sceneDark, "moved light": movedLight, "lost light": lostLight,
	"in the swing": inSwing, "on the path": onPath, "in the drive": inDrive, "shallow cable": shallowCable, "no sleeve": noSleeve,
	"no slack": noSlack, "small connector": smallConnector, "little gravel": littleGravel, "by the water": byWater,
	"by the mulch": byMulch, "aim off": aimOff, "sensor turned": sensorTurned, "no growth": noGrowth, "over the line": overLine,
	"long way": longWay, "idle unit": idleUnit,
}

func pick[T any](s *subject, list []T) (T, bool) {
	var none T
	if len(list) == 0 {
		return none, false
	}
	return list[s.rng.IntN(len(list))], true
}

// between is a number from a to b.
func (s *subject) between(a, b float64) float64 { return a + s.rng.Float64()*(b-a) }

// own is a length in the plan's own unit.
func (s *subject) own(m float64) float64 {
	if s.Units == "ft" {
		m /= 0.3048
	}
	return math.Round(m*100) / 100
}

func (s *subject) point(p r2.Vec) any { return []any{s.own(p.X), s.own(p.Y)} }

// placed are the fixtures with a place of their own as [x, y].
func (s *subject) placed() []*plan.Fixture {
	var out []*plan.Fixture
	for _, f := range s.Fixtures {
		if e := s.entryOf(f); f.At != nil && e != nil && e.Array == nil {
			out = append(out, f)
		}
	}
	return out
}

func (s *subject) entryOf(f *plan.Fixture) *plan.FixtureEntry {
	for i := range s.doc.Fixtures {
		if fmt.Sprintf("/fixtures/%d", i) == f.Pointer {
			return &s.doc.Fixtures[i]
		}
	}
	return nil
}

// dimLamps runs the lights of a group at a low level.
func dimLamps(s *subject) []finding.Operation {
	f, ok := pick(s, s.placed())
	if !ok {
		return nil
	}
	level := fmt.Sprintf("%.0f %%", s.between(5, 40))
	var ops []finding.Operation
	for _, other := range s.placed() {
		if other.Group == f.Group {
			ops = append(ops, put(other.Pointer+"/level", level))
		}
	}
	return ops
}

// sceneDark takes a group out of a scene.
func sceneDark(s *subject) []finding.Operation {
	for i := range s.doc.Controls {
		for j := range s.doc.Controls[i].Scenes {
			on := s.doc.Controls[i].Scenes[j].On
			if len(on) > 1 {
				return []finding.Operation{{Op: "remove", Path: fmt.Sprintf("/controls/%d/scenes/%d/on/%d", i, j, s.rng.IntN(len(on)))}}
			}
		}
	}
	return nil
}

// movedLight moves a light somewhere else.
func movedLight(s *subject) []finding.Operation {
	f, ok := pick(s, s.placed())
	if !ok {
		return nil
	}
	return []finding.Operation{put(f.Pointer+"/at", s.point(r2.Add(*f.At, r2.Scale(s.between(0.5, 3), site.Heading(s.between(0, 360))))))}
}

// lostLight leaves out a light at the end of a cable.
func lostLight(s *subject) []finding.Operation {
	var ends []*plan.Leg
	for _, run := range s.Runs {
		for _, leg := range run.Legs {
			touching := 0
			for _, other := range run.Legs {
				if other.From == leg.To || other.To == leg.To {
					touching++
				}
			}
			if e := s.Elements[leg.To]; touching == 1 && e != nil && e.Kind == "fixture" && !leg.Chained {
				ends = append(ends, leg)
			}
		}
	}
	leg, ok := pick(s, ends)
	if !ok {
		return nil
	}
	for _, f := range s.placed() {
		if f.ID == leg.To {
			return []finding.Operation{{Op: "remove", Path: leg.Pointer}, {Op: "remove", Path: f.Pointer}}
		}
	}
	return nil
}

// stakes are the placed fixtures that stand on the ground. One that states its level
// would hover anywhere else.
func (s *subject) stakes() []*plan.Fixture {
	return slices.DeleteFunc(s.placed(), func(f *plan.Fixture) bool {
		return f.Mount != "stake" && f.Mount != "" && f.Mount != "surface" || s.entryOf(f).Elevation.Set
	})
}

// inSwing stands a light in the way of a gate.
func inSwing(s *subject) []finding.Operation {
	f, ok := pick(s, s.stakes())
	if !ok || s.Site == nil {
		return nil
	}
	leaf, ok := pick(s, s.Site.Leaves)
	if !ok || leaf.Towards == "" {
		return nil
	}
	turn := s.between(0, leaf.AngleDeg)
	if leaf.Towards == "left" {
		turn = -turn
	}
	return []finding.Operation{put(f.Pointer+"/at", s.point(r2.Add(leaf.Hinge, r2.Scale(leaf.LeafM*s.between(0.5, 1.1), site.Heading(leaf.ClosedBearing+turn)))))}
}

// onPath stands a light on the edge of a path.
func onPath(s *subject) []finding.Operation {
	f, ok := pick(s, s.stakes())
	if !ok || s.Site == nil {
		return nil
	}
	p, ok := pick(s, s.Site.Paths)
	if !ok {
		return nil
	}
	i := 1 + s.rng.IntN(len(p.Centreline)-1)
	a, b := p.Centreline[i-1], p.Centreline[i]
	way := r2.Unit(r2.Sub(b, a))
	on := r2.Add(a, r2.Scale(s.rng.Float64(), r2.Sub(b, a)))
	return []finding.Operation{put(f.Pointer+"/at", s.point(r2.Add(on, r2.Scale(p.WidthM/2*s.between(0.6, 1.05), r2.Vec{X: -way.Y, Y: way.X}))))}
}

// inside is a point of an outline near its edge, or nothing.
func (s *subject) inside(outline []r2.Vec, depth float64) (r2.Vec, bool) {
	g := site.Polygon(outline)
	box := g.Bounds()
	for range 50 {
		p := r2.Vec{X: s.between(box.Min.X, box.Max.X), Y: s.between(box.Min.Y, box.Max.Y)}
		if d := g.Distance(p); d < 0 && d > -depth {
			return p, true
		}
	}
	return r2.Vec{}, false
}

func inDrive(s *subject) []finding.Operation {
	f, ok := pick(s, s.stakes())
	if !ok || s.Site == nil {
		return nil
	}
	d, ok := pick(s, s.Site.Drives)
	if !ok {
		return nil
	}
	p, ok := s.inside(d.Outline, 0.6)
	if !ok {
		return nil
	}
	return []finding.Operation{put(f.Pointer+"/at", s.point(p))}
}

func shallowCable(s *subject) []finding.Operation {
	var buried []*plan.Leg
	for _, run := range s.Runs {
		for _, leg := range run.Legs {
			if leg.Method == "buried" || leg.Method == "sleeved" {
				buried = append(buried, leg)
			}
		}
	}
	leg, ok := pick(s, buried)
	if !ok {
		return nil
	}
	return []finding.Operation{put(leg.Pointer+"/cover", s.own(s.between(0.02, 0.12)))}
}

func noSleeve(s *subject) []finding.Operation {
	var sleeved []*plan.Leg
	for _, run := range s.Runs {
		for _, leg := range run.Legs {
			if leg.Sleeve != nil {
				sleeved = append(sleeved, leg)
			}
		}
	}
	leg, ok := pick(s, sleeved)
	if !ok {
		return nil
	}
	return []finding.Operation{{Op: "remove", Path: leg.Pointer + "/sleeve"}}
}

func noSlack(s *subject) []finding.Operation {
	if s.rng.IntN(2) == 0 && s.doc.Defaults.Fixtures.Slack.Set {
		return []finding.Operation{put("/defaults/fixtures/slack", 0)}
	}
	f, ok := pick(s, s.placed())
	if !ok {
		return nil
	}
	return []finding.Operation{put(f.Pointer+"/slack", s.own(s.between(0.01, 0.3)))}
}

// smallConnector makes every joint of a type too small.
func smallConnector(s *subject) []finding.Operation {
	var hubs []*plan.Node
	for _, run := range s.Runs {
		for _, n := range run.Nodes {
			if n.Connector != nil {
				hubs = append(hubs, n)
			}
		}
	}
	n, ok := pick(s, hubs)
	if !ok {
		return nil
	}
	return []finding.Operation{put(n.Connector.Pointer+"/most_conductors", 2)}
}

func littleGravel(s *subject) []finding.Operation {
	f, ok := pick(s, slices.DeleteFunc(s.placed(), func(f *plan.Fixture) bool { return f.GravelM == nil }))
	if !ok {
		return nil
	}
	return []finding.Operation{put(f.Pointer+"/drainage/gravel", s.own(s.between(0, 0.08)))}
}

func byWater(s *subject) []finding.Operation {
	f, ok := pick(s, s.stakes())
	if !ok || s.Site == nil {
		return nil
	}
	w, ok := pick(s, s.Site.Water)
	if !ok {
		return nil
	}
	near := site.Polygon(w.Outline).Nearest(*f.At).At
	away := r2.Sub(*f.At, near)
	if r2.Norm(away) < 0.1 {
		return nil
	}
	return []finding.Operation{put(f.Pointer+"/at", s.point(r2.Add(near, r2.Scale(s.between(0.3, 2.5), r2.Unit(away)))))}
}

func byMulch(s *subject) []finding.Operation {
	f, ok := pick(s, slices.DeleteFunc(s.stakes(), func(f *plan.Fixture) bool { return f.Lamp.Load != "filament" }))
	if !ok || s.Site == nil {
		return nil
	}
	b, ok := pick(s, slices.DeleteFunc(slices.Clone(s.Site.Beds), func(b *plan.Bed) bool { return b.Cover != "mulch" && b.Cover != "bark" }))
	if !ok {
		return nil
	}
	p, ok := s.inside(b.Outline, 0.3)
	if !ok {
		return nil
	}
	return []finding.Operation{put(f.Pointer+"/at", s.point(p))}
}

func aimOff(s *subject) []finding.Operation {
	f, ok := pick(s, slices.DeleteFunc(s.placed(), func(f *plan.Fixture) bool { return f.AimAt == nil && f.AimTilt == nil }))
	if !ok {
		return nil
	}
	return []finding.Operation{put(f.Pointer+"/aim", map[string]any{"bearing": math.Floor(s.between(0, 360)), "tilt": math.Floor(s.between(60, 180))})}
}

func sensorTurned(s *subject) []finding.Operation {
	for i := range s.doc.Controls {
		if c := &s.doc.Controls[i]; c.Sensor != nil {
			f, ok := pick(s, s.placed())
			if !ok {
				return nil
			}
			pointer := fmt.Sprintf("/controls/%d/sensor", i)
			return []finding.Operation{put(pointer+"/at", s.point(r2.Add(*f.At, r2.Vec{X: 0.3}))), put(pointer+"/bearing", 270),
				put(pointer+"/height", s.own(0.2)), put(pointer+"/shaded", false)}
		}
	}
	return nil
}

func noGrowth(s *subject) []finding.Operation {
	f, ok := pick(s, slices.DeleteFunc(s.placed(), func(f *plan.Fixture) bool { return f.TreeMount == nil }))
	if !ok {
		return nil
	}
	return []finding.Operation{put(f.Pointer+"/tree_mount/growth_slack", 0)}
}

// overLine stands a light beyond the property line.
func overLine(s *subject) []finding.Operation {
	f, ok := pick(s, s.stakes())
	if !ok || s.Site == nil || len(s.Site.PropertyLine) < 3 {
		return nil
	}
	land := site.Polygon(s.Site.PropertyLine)
	near := land.Nearest(*f.At).At
	if r2.Norm(r2.Sub(*f.At, near)) < 0.1 {
		return nil
	}
	return []finding.Operation{put(f.Pointer+"/at", s.point(r2.Add(near, r2.Scale(s.between(0.2, 1), r2.Unit(r2.Sub(near, *f.At))))))}
}
