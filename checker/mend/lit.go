package mend

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
	"duskproof/checker/source"
)

// ground is a place that is to be lit: a tread, a landing, or a stretch of path.
type ground struct {
	name   string // in a sentence: "tread upper/5"
	scene  string
	at     r2.Vec
	across r2.Vec // unit vector to its left, seen going up or along
	halfM  float64
	stair  *plan.Stair // of a tread
	tread  int
}

// groundOf finds the place that a finding on light is about.
func (v *view) groundOf(f *finding.Finding) (ground, bool) {
	if v.plan.Site == nil {
		return ground{}, false
	}
	scene := strings.TrimPrefix(f.Case, "head, ")
	if i := strings.LastIndex(scene, ", "); i >= 0 {
		scene = scene[i+2:]
	}
	for _, st := range v.plan.Site.Stairs {
		for _, t := range st.Treads {
			if t.ID == f.Element {
				return v.treadGround(st, t.Number, scene), true
			}
		}
		if st.ID == f.Element {
			g := v.treadGround(st, len(st.Treads), scene)
			g.name = "the head of " + st.ID
			return g, true
		}
	}
	for _, l := range v.plan.Site.Landings {
		if l.ID == f.Element {
			return landingGround(l, scene), true
		}
	}
	return ground{}, false
}

func (v *view) treadGround(st *plan.Stair, number int, scene string) ground {
	t := st.Treads[number-1]
	left := r2.Scale(0.5, r2.Add(t.Outline[0], t.Outline[3]))
	right := r2.Scale(0.5, r2.Add(t.Outline[1], t.Outline[2]))
	g := ground{name: "tread " + t.ID, scene: scene, at: r2.Scale(0.5, r2.Add(left, right)), stair: st, tread: number}
	if width := r2.Norm(r2.Sub(left, right)); width > nothing {
		g.across, g.halfM = r2.Scale(1/width, r2.Sub(left, right)), width/2
	}
	return g
}

func landingGround(l *plan.Landing, scene string) ground {
	g := ground{name: "landing " + l.ID, scene: scene, across: r2.Vec{X: -1}}
	for _, p := range l.Outline {
		g.at = r2.Add(g.at, r2.Scale(1/float64(len(l.Outline)), p))
	}
	if l.Stair != nil {
		g.across = r2.Unit(r2.Sub(l.Stair.FootLeft, l.Stair.FootRight))
	}
	outline := site.Polygon(l.Outline)
	for outline.Distance(r2.Add(g.at, r2.Scale(g.halfM, g.across))) < 0 && g.halfM < farthestMove {
		g.halfM += 0.05
	}
	return g
}

// onInScene offers to switch on, in the scene in which a place is dark, the groups
// that light it in another, and to turn up those that are dimmed.
func onInScene(v *view, f *finding.Finding) []Candidate {
	g, ok := v.groundOf(f)
	if !ok {
		return nil
	}
	groups := map[string]bool{}
	for i := range v.facts.Treads {
		if t := &v.facts.Treads[i]; t.ID == f.Element && t.Scene != g.scene {
			for _, lamp := range t.Lamps {
				if fixture := v.fixtures[lamp]; fixture != nil && fixture.Group != "" {
					groups[fixture.Group] = true
				}
			}
		}
	}
	var out []Candidate
	for i := range v.entry.Controls {
		for j := range v.entry.Controls[i].Scenes {
			if v.entry.Controls[i].Scenes[j].ID == g.scene {
				out = append(out, v.switchOn(source.Pointer("controls", i, "scenes", j), &v.entry.Controls[i].Scenes[j], groups)...)
			}
		}
	}
	return out
}

func (v *view) switchOn(pointer string, scene *plan.SceneEntry, groups map[string]bool) []Candidate {
	var out []Candidate
	for _, group := range sortedKeys(groups) {
		i := slices.IndexFunc(scene.On, func(g plan.GroupLevel) bool { return g.Group == group })
		e := v.edit()
		text := fmt.Sprintf("Switch on %s in scene %s too", group, scene.ID)
		switch {
		case i < 0:
			e.add(pointer, group, "on")
		case scene.On[i].Level.Set:
			e.set(pointer, "100 %", "on", i, "level")
			text = fmt.Sprintf("Leave %s at full light in scene %s", group, scene.ID)
		default:
			continue
		}
		out = append(out, Candidate{Kind: "scene", Text: text, Cost: v.weight("setting_changed"), Patch: e.patch()})
	}
	return out
}

// mostTemplates is how many fixtures are taken as a pattern for a new one.
const mostTemplates = 4

// addLight offers one more light like those that light the places next to a
// dark one, placed to it as they are to theirs, and wired beside them.
func addLight(v *view, f *finding.Finding) []Candidate {
	g, ok := v.groundOf(f)
	if !ok {
		return nil
	}
	var out []Candidate
	for _, like := range v.patterns(&g) {
		for _, at := range v.placesLike(like, &g) {
			if c, ok := v.cloned(like, at, g.name); ok {
				out = append(out, c)
			}
		}
	}
	return out
}

// patterns are the fixtures that a new light at a place would be like: those that
// light the other treads of its stair, the nearest first, then what stands
// nearest of the kinds that light the ground.
func (v *view) patterns(g *ground) []*plan.Fixture {
	var out []*plan.Fixture
	for _, f := range v.plan.Fixtures {
		if f.At == nil || v.isArray(f) || !lightsGround(f) || r2.Norm(r2.Sub(*f.At, g.at)) > 3*farthestMove {
			continue
		}
		out = append(out, f)
	}
	slices.SortStableFunc(out, func(a, b *plan.Fixture) int {
		return cmp.Or(cmp.Compare(v.farFrom(a, g), v.farFrom(b, g)), cmp.Compare(a.ID, b.ID))
	})
	return out[:min(len(out), mostTemplates)]
}

// farFrom is how far a fixture is from a place, with those that light its own
// stair before all others.
func (v *view) farFrom(f *plan.Fixture, g *ground) float64 {
	d := r2.Norm(r2.Sub(*f.At, g.at))
	if v.servesStair(f, g.stair) {
		return d / 4
	}
	return d
}

func (v *view) servesStair(f *plan.Fixture, st *plan.Stair) bool {
	if st == nil {
		return false
	}
	return f.Host == st.ID || v.treadOf(f) > 0 && v.stairNamed(f) == st.ID
}

// lightsGround reports whether a fixture is of a kind that lights what people
// walk on.
func lightsGround(f *plan.Fixture) bool {
	switch f.Type.Kind {
	case "path", "step", "bollard", "wash", "deck", "post", "rail", "wall":
		return f.Type.Light != nil
	}
	return false
}

// treadOf is the tread that a fixture's position names, nought when it names none.
func (v *view) treadOf(f *plan.Fixture) int {
	e := v.fixtureEntry(f)
	if e == nil || e.At == nil {
		return 0
	}
	return e.At.Tread
}

func (v *view) stairNamed(f *plan.Fixture) string { return v.fixtureEntry(f).At.Of }

// fixtureEntry is a fixture as written.
func (v *view) fixtureEntry(f *plan.Fixture) *plan.FixtureEntry {
	for i := range v.entry.Fixtures {
		if v.entry.Fixtures[i].ID == f.ID {
			return &v.entry.Fixtures[i]
		}
	}
	return nil
}

// placesLike are where a copy of a fixture would stand to light a place: on the
// tread, as the fixture is on its own; in the riser behind it; or beside it.
func (v *view) placesLike(f *plan.Fixture, g *ground) []any {
	var out []any
	if g.stair != nil && v.treadOf(f) > 0 && v.stairNamed(f) == g.stair.ID {
		across := v.find(f.Pointer, "at", "across")
		pairs := []any{"of", g.stair.ID, "tread", g.tread}
		if across != nil {
			pairs = append(pairs, "across", raw(across))
		}
		return append(out, object(pairs...))
	}
	if g.stair != nil && f.Mount == "riser" && f.Host == g.stair.ID {
		t := g.stair.Treads[g.tread-1]
		return append(out, v.pair(r2.Scale(0.5, r2.Add(t.Outline[2], t.Outline[3]))))
	}
	if f.Mount == "wall" || f.Mount == "riser" || f.Mount == "rail" || f.Mount == "tread" {
		return nil // what it is fixed to may not reach there
	}
	reach := g.halfM + math.Max(v.limit("site.path_edge_m", 0), 0.1) + bodyRadius(f)
	for _, side := range []float64{1, -1} {
		at := r2.Add(g.at, r2.Scale(side*(reach+v.size(placeStep)), g.across))
		out = append(out, v.pair(at))
	}
	return out
}

func bodyRadius(f *plan.Fixture) float64 {
	if f.Type.DiameterM == nil {
		return 0
	}
	return *f.Type.DiameterM / 2
}

// pair writes a point as [x, y], on the tape.
func (v *view) pair(p r2.Vec) any {
	size := v.size(tenthStep)
	return list(v.number(math.Round(p.X/size)*size), v.number(math.Round(p.Y/size)*size))
}

// cloned adds a fixture like another at a place, and a cable to it like the
// other's, from the nearest place of the same run.
func (v *view) cloned(like *plan.Fixture, at any, where string) (Candidate, bool) {
	old := v.find(like.Pointer)
	feed := v.feedOf(like)
	if old == nil || feed == nil {
		return Candidate{}, false
	}
	id := v.freshID(like.ID)
	e := v.edit()
	e.add("", copyWith(old, map[string]any{"id": id, "at": at}, "elevation", "slack"), "fixtures")
	e.add(feed.Run.Pointer, v.legTo(feed, id), map[bool]any{true: "chain", false: "legs"}[feed.Chained])
	cost := v.weight("fixture_added") + v.weight("connector")
	text := fmt.Sprintf("Add a %s, %s, to light %s, fed from %s", like.Type.ID, id, where, feed.From)
	return Candidate{Kind: "add", Text: text, Cost: cost, Patch: e.patch()}, true
}

// feedOf is the leg that feeds a fixture.
func (v *view) feedOf(f *plan.Fixture) *plan.Leg {
	run := v.runOf(f.ID)
	if run == nil || run.Transformer == nil {
		return nil
	}
	path := v.pathTo(run, f.ID)
	if len(path) == 0 {
		return nil
	}
	return path[len(path)-1]
}

// legTo is a leg like another, from where that begins, to a new end.
func (v *view) legTo(feed *plan.Leg, end string) any {
	old := v.find(feed.Pointer)
	if feed.Chained {
		return copyWith(old, map[string]any{"to": end, "from": feed.From}, "length")
	}
	return copyWith(old, map[string]any{"id": v.freshID(feed.ID), "from": feed.From, "to": end}, "length", "route", "returns")
}

// lampsAt are the fixtures that light a place in any scene, the strongest first.
func (v *view) lampsAt(id string) []string {
	var out []string
	for i := range v.facts.Treads {
		if t := &v.facts.Treads[i]; t.ID == id {
			out = append(out, missing(out, t.Lamps)...)
		}
	}
	return out
}

func missing(have, from []string) []string {
	var out []string
	for _, s := range from {
		if !slices.Contains(have, s) {
			out = append(out, s)
		}
	}
	return out
}

// moveNearer offers to move the lamps next to a dark place towards it.
func moveNearer(v *view, f *finding.Finding) []Candidate {
	g, ok := v.groundOf(f)
	if !ok {
		return nil
	}
	var out []Candidate
	for _, like := range v.patterns(&g) {
		if v.treadOf(like) > 0 {
			out = append(out, v.otherTread(like, &g)...)
			continue
		}
		if like.Mount == "wall" || like.Mount == "rail" {
			continue
		}
		to := r2.Sub(g.at, *like.At)
		far := r2.Norm(to) - g.halfM - 0.3
		r := v.roomFor(like)
		for _, share := range []float64{0.25, 0.5, 0.75} {
			if by := share * far; by > v.size(placeStep) && by < farthestMove {
				if c, ok := v.moveTo(like, r2.Add(*like.At, r2.Scale(by/r2.Norm(to), to)), r.clear); ok {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// otherTread moves a light from its tread to the dark one, or next to it.
func (v *view) otherTread(f *plan.Fixture, g *ground) []Candidate {
	if g.stair == nil || v.stairNamed(f) != g.stair.ID {
		return nil
	}
	var out []Candidate
	for _, number := range []int{g.tread, g.tread - 1, g.tread + 1} {
		if number < 1 || number > len(g.stair.Treads) || number == v.treadOf(f) {
			continue
		}
		e := v.edit()
		e.set(f.Pointer, number, "at", "tread")
		by := math.Abs(float64(number-v.treadOf(f))) * g.stair.GoingM
		out = append(out, Candidate{Kind: "move", Text: fmt.Sprintf("Move %s from tread %d of %s to tread %d", f.ID, v.treadOf(f), g.stair.ID, number),
			Cost: v.weight("fixture_moved") + by*v.weight("fixture_moved_per_m"), Patch: e.patch()})
	}
	return out
}

// brighter offers fixtures of the catalogue that give more light in place of
// those that light a place.
func brighter(v *view, f *finding.Finding) []Candidate {
	var out []Candidate
	lamps := v.lampsAt(f.Element)
	for _, id := range lamps[:min(2, len(lamps))] {
		fixture := v.fixtures[id]
		if fixture == nil || v.isArray(fixture) || fixture.Lamp.Lumens == nil {
			continue
		}
		for _, t := range v.plan.FixtureTypes {
			if t != fixture.Type && standsIn(t, fixture.Type) && t.Lamp.Lumens != nil && *t.Lamp.Lumens > *fixture.Lamp.Lumens {
				out = append(out, v.retype([]*plan.Fixture{fixture}, t))
			}
		}
	}
	return out
}
