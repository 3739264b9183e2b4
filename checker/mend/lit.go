package mend

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// ground is a place that is to be lit: a tread, a landing, or a stretch of path.
type ground struct {
	name   string // in a sentence: "tread upper/5"
	scene  string
	at     r2.Vec
	across r2.Vec // unit vector to its left, seen going up or along
	halfM  float64
	levelM float64
	stair  *plan.Stair // of a tread
	tread  int
}

// groundOf finds the place that a finding on light is about.
func (v *view) groundOf(f *finding.Finding) (ground, bool) {
	if v.plan.Site == nil {
		return ground{}, false
	}
	scene := caseScene(f.Case)
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
	g := ground{name: "tread " + t.ID, scene: scene, at: r2.Scale(0.5, r2.Add(left, right)), levelM: t.HeightM, stair: st, tread: number}
	if width := r2.Norm(r2.Sub(left, right)); width > nothing {
		g.across, g.halfM = r2.Scale(1/width, r2.Sub(left, right)), width/2
	}
	return g
}

func landingGround(l *plan.Landing, scene string) ground {
	g := ground{name: "landing " + l.ID, scene: scene, across: r2.Vec{X: -1}, levelM: l.ElevationM}
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
			if c, ok := v.cloned(like, at, &g); ok {
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
	return f.Host == st.ID || v.treadOf(f) > 0 && v.stairNamed(f) == st.ID || f.Mount == "riser" && v.inStair(f, st)
}

// inStair reports whether a fixture stands within the outline of a stair, or at its
// edge.
func (v *view) inStair(f *plan.Fixture, st *plan.Stair) bool {
	outline := site.Polygon{st.FootLeft, st.FootRight, st.HeadRight, st.HeadLeft}
	return outline.Distance(*f.At) < v.size(placeStep)
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

// spotLike is a place for a light, as it is written, and in words.
type spotLike struct {
	value any
	words string
}

// placesLike are where a light like another would stand to light a place: on the
// tread, as the other is on its own; in the riser behind it; or beside it.
func (v *view) placesLike(f *plan.Fixture, g *ground) []spotLike {
	if g.stair != nil && v.treadOf(f) > 0 && v.stairNamed(f) == g.stair.ID {
		pairs := []any{"of", g.stair.ID, "tread", g.tread}
		if across := v.find(f.Pointer, "at", "across"); across != nil {
			pairs = append(pairs, "across", raw(across))
		}
		return []spotLike{{object(pairs...), fmt.Sprintf("on tread %d of %s", g.tread, g.stair.ID)}}
	}
	if f.Mount == "riser" && g.stair != nil {
		t := g.stair.Treads[g.tread-1]
		at := v.pair(r2.Scale(0.5, r2.Add(t.Outline[2], t.Outline[3])))
		return []spotLike{{at, fmt.Sprintf("in the riser behind tread %d of %s", g.tread, g.stair.ID)}}
	}
	switch f.Mount {
	case "wall", "riser", "rail", "tread":
		return nil // what it is fixed to may not reach there
	}
	r := v.roomFor(f)
	reach := g.halfM + math.Max(v.limit("site.path_edge_m", 0), 0.1) + bodyRadius(f) + v.size(placeStep)
	var out []spotLike
	for _, side := range []float64{1, -1} {
		at, ok := site.LeastMove(r2.Add(g.at, r2.Scale(side*reach, g.across)), r.clear, besideM)
		if ok {
			value := v.pair(at)
			out = append(out, spotLike{value, "at " + string(encode(value))})
		}
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
// other's, from the nearest end of the same run.
func (v *view) cloned(like *plan.Fixture, at spotLike, g *ground) (Candidate, bool) {
	id := v.freshID(like.ID)
	with := map[string]any{"id": id, "at": at.value}
	if v.treadOf(like) == 0 && like.Mount != "riser" && g.levelM > nothing {
		with["elevation"] = v.say(g.levelM)
	}
	e := v.edit()
	e.add("", copyWith(v.find(like.Pointer), with, "elevation", "level"), "fixtures")
	fed, cost, ok := v.feed(e, like, g.at, "", id, "")
	if !ok {
		return Candidate{}, false
	}
	text := fmt.Sprintf("Add a %s, %s, %s to light %s%s", like.Type.ID, id, at.words, g.name, fed)
	return Candidate{Kind: "add", Text: text, Cost: v.weight("fixture_added") + cost, Patch: e.patch()}, true
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
		for _, at := range v.placesLike(like, &g) {
			if like.Mount == "riser" || g.stair != nil {
				out = append(out, v.placedAt(like, at, &g))
			}
		}
		if like.Mount == "wall" || like.Mount == "rail" || like.Mount == "riser" {
			continue
		}
		to := r2.Sub(g.at, *like.At)
		far := r2.Norm(to) - g.halfM - 0.3
		r := v.roomFor(like)
		for _, share := range []float64{0.25, 0.5, 0.75} {
			if by := share * far; by > v.size(placeStep) && by < farthestMove {
				if c, ok := v.moveAbout(like, r2.Add(*like.At, r2.Scale(by/r2.Norm(to), to)), r.clear); ok {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

// placedAt moves a light to a place that is written out.
func (v *view) placedAt(f *plan.Fixture, at spotLike, g *ground) Candidate {
	e := v.edit()
	e.set(f.Pointer, at.value, "at")
	if v.find(f.Pointer, "elevation") != nil && f.Mount != "riser" {
		e.set(f.Pointer, v.length(f.Pointer+"/elevation", g.levelM), "elevation")
	}
	by := r2.Norm(r2.Sub(g.at, *f.At))
	return Candidate{Kind: "move", Text: fmt.Sprintf("Move %s to stand %s", f.ID, at.words),
		Cost: v.weight("fixture_moved") + by*(v.weight("fixture_moved_per_m")+v.weight("trench_per_m")), Patch: e.patch()}
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
