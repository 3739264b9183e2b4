package mend

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// stretch is a part of a path that lacks light, by stations.
type stretch struct {
	path     *plan.Path
	from, to float64
}

// stretchOf finds the part of a path that a finding is about: the dark gap, or
// the widest gap between lights.
func (v *view) stretchOf(f *finding.Finding) (stretch, bool) {
	out := stretch{}
	if v.plan.Site == nil {
		return out, false
	}
	if out.path = find(v.plan.Site.Paths, func(p *plan.Path) bool { return p.ID == f.Element }); out.path == nil {
		return out, false
	}
	for i := range v.facts.Paths {
		p := &v.facts.Paths[i]
		if p.ID != f.Element || f.Case != "spacing" && p.Scene != caseScene(f.Case) {
			continue
		}
		if f.Case == "spacing" {
			return v.gapBetween(out, p)
		}
		if p.DarkFromM != nil && p.DarkToM != nil {
			out.from, out.to = *p.DarkFromM, *p.DarkToM
			return out, out.to > out.from
		}
	}
	return v.widestGap(out)
}

// widestGap is the longest part of a path without a light beside it: between two,
// or before the first, or after the last.
func (v *view) widestGap(out stretch) (stretch, bool) {
	long := site.Line(out.path.Centreline).Length()
	stations := v.stationsAlong(out.path)
	before := 0.0
	for _, station := range append(stations, long) {
		if station-before > out.to-out.from {
			out.from, out.to = before, station
		}
		before = station
	}
	return out, out.to > out.from
}

// stationsAlong are where the lights beside a path stand along it, in order.
func (v *view) stationsAlong(p *plan.Path) []float64 {
	var out []float64
	for _, f := range v.plan.Fixtures {
		if f.At == nil || f.Type.Light == nil {
			continue
		}
		if station, left := project(p.Centreline, *f.At); math.Abs(left) < p.WidthM/2+besideM {
			out = append(out, station)
		}
	}
	slices.Sort(out)
	return out
}

// evenOut offers to move the lights at both ends of the widest gap into it, and
// those that stand nearer to the path than the others back from it.
func evenOut(v *view, f *finding.Finding) []Candidate {
	s, ok := v.stretchOf(f)
	if !ok {
		return nil
	}
	var out []Candidate
	for _, fixture := range v.plan.Fixtures {
		if fixture.At == nil || v.isArray(fixture) || fixture.Mount == "wall" {
			continue
		}
		station, left := project(s.path.Centreline, *fixture.At)
		edge := math.Abs(left) - s.path.WidthM/2
		if edge > besideM {
			continue
		}
		r := v.roomFor(fixture)
		to := func(station, away float64) {
			if at, ok := beside(s.path.Centreline, station, math.Copysign(away, left)); ok {
				if c, ok := v.moveAbout(fixture, at, r.clear); ok {
					out = append(out, c)
				}
			}
		}
		if math.Abs(station-s.from) < nearGap || math.Abs(station-s.to) < nearGap {
			for _, share := range []float64{0.15, 0.3, 0.45} {
				into := share * (s.to - s.from)
				if math.Abs(station-s.to) < nearGap {
					into = -into
				}
				to(station+into, math.Abs(left))
			}
		}
		for _, back := range []float64{0.15, 0.3, 0.5, 0.8} {
			if edge < back-v.size(placeStep) {
				to(station, s.path.WidthM/2+back)
			}
		}
	}
	return out
}

// nearGap is how near to the end of a gap the light stands that ends it.
const nearGap = 0.05

// gapBetween is the widest gap between two lights.
func (v *view) gapBetween(out stretch, p *facts.Path) (stretch, bool) {
	a, okA := v.placeOf(p.GapFrom)
	b, okB := v.placeOf(p.GapTo)
	if !okA || !okB {
		return out, false
	}
	out.from, _ = project(out.path.Centreline, a)
	out.to, _ = project(out.path.Centreline, b)
	if out.from > out.to {
		out.from, out.to = out.to, out.from
	}
	return out, out.to > out.from
}

// mostAlong is how many lights are added along a path at most.
const mostAlong = 4

// lightStretch offers more lights along the stretch, spread evenly, of a kind that
// the path has.
func lightStretch(v *view, f *finding.Finding) []Candidate {
	s, ok := v.stretchOf(f)
	if !ok {
		return nil
	}
	like := v.patternAlong(s)
	if like == nil {
		return nil
	}
	var out []Candidate
	for n := 1; n <= mostAlong; n++ {
		for _, first := range []float64{1, -1} {
			if c, ok := v.addAlong(s, like, n, first); ok {
				out = append(out, c)
			}
		}
	}
	return out
}

// patternAlong is the path light nearest to the middle of a stretch.
func (v *view) patternAlong(s stretch) *plan.Fixture {
	middle, ok := beside(s.path.Centreline, (s.from+s.to)/2, 0)
	if !ok {
		return nil
	}
	var best *plan.Fixture
	least := math.Inf(1)
	for _, f := range v.plan.Fixtures {
		if f.At == nil || v.isArray(f) || f.Type.Kind != "path" && f.Type.Kind != "bollard" || f.Type.Light == nil || f.HeightM == nil {
			continue
		}
		if d := r2.Norm(r2.Sub(*f.At, middle)); d < least && (v.feedOf(f) != nil || len(v.plan.Runs) == 0) {
			best, least = f, d
		}
	}
	return best
}

// addAlong adds n lights along a stretch, on alternate sides, each fed from the
// one before.
func (v *view) addAlong(s stretch, like *plan.Fixture, n int, side float64) (Candidate, bool) {
	_, away := project(s.path.Centreline, *like.At)
	away = math.Max(math.Abs(away), s.path.WidthM/2+v.limit("site.path_edge_m", 0)+bodyRadius(like)+v.size(placeStep)/2)
	if away > s.path.WidthM/2+besideM {
		away = s.path.WidthM/2 + 0.3 + bodyRadius(like)
	}
	e := v.edit()
	id, legID, from, cost := like.ID, "", "", 0.0
	var ids []string
	for i := range n {
		at, ok := beside(s.path.Centreline, s.from+(s.to-s.from)*(float64(i)+0.5)/float64(n), side*away)
		if !ok {
			return Candidate{}, false
		}
		side = -side
		id = v.freshIDAfter(id, ids)
		ids = append(ids, id)
		e.add("", copyWith(v.find(like.Pointer), map[string]any{"id": id, "at": v.pair(at)}, "elevation", "level"), "fixtures")
		_, more, ok := v.feed(e, like, at, from, id, legID)
		if !ok {
			return Candidate{}, false
		}
		if leg := v.feedOf(like); leg != nil && !leg.Chained {
			legID = v.freshID(cmp.Or(legID, leg.ID))
		}
		from = id
		cost += v.weight("fixture_added") + more
	}
	text := fmt.Sprintf("Add %s like %s along %s, %s", counted(n, "light"), like.ID, s.path.ID, join(ids))
	return Candidate{Kind: "add", Text: text, Cost: cost, Patch: e.patch()}, true
}

// freshIDAfter is a new id that is not among some that are new as well.
func (v *view) freshIDAfter(like string, made []string) string {
	id := v.freshID(like)
	for slices.Contains(made, id) {
		id = v.freshID(id)
	}
	return id
}

// join lists words: "a", "a and b", "a, b and c".
func join(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	out := words[0]
	for _, w := range words[1 : len(words)-1] {
		out += ", " + w
	}
	return out + " and " + words[len(words)-1]
}

// denserArray offers more lights in the arrays along a path, and lights on
// alternate sides.
func denserArray(v *view, f *finding.Finding) []Candidate {
	var out []Candidate
	for i := range v.entry.Fixtures {
		e := &v.entry.Fixtures[i]
		if e.Array == nil || e.Array.Along != f.Element {
			continue
		}
		pointer := fmt.Sprintf("/fixtures/%d", i)
		if e.Array.Count != nil && !v.inChainOrLegs(e.ID) {
			out = append(out, v.moreOf(e, pointer)...)
		}
		if e.Array.Side == "left" || e.Array.Side == "right" {
			edit := v.edit()
			edit.set(pointer, "alternate", "array", "side")
			n := float64(v.membersOf(pointer))
			out = append(out, Candidate{Kind: "side", Text: fmt.Sprintf("Set the lights of array %s on alternate sides", e.ID),
				Cost: n / 2 * v.weight("fixture_moved"), Patch: edit.patch()})
		}
	}
	return out
}

// inChainOrLegs reports whether a run names the fixtures of an array one by one,
// so that more of them would have no cable.
func (v *view) inChainOrLegs(id string) bool {
	return slices.ContainsFunc(v.plan.Fixtures, func(f *plan.Fixture) bool { return f.ID == id+"-1" && len(f.Runs) > 0 })
}

// moreOf raises the count of an array.
func (v *view) moreOf(e *plan.FixtureEntry, pointer string) []Candidate {
	var out []Candidate
	for more := 1; more <= mostAlong; more++ {
		edit := v.edit()
		edit.set(pointer, *e.Array.Count+more, "array", "count")
		out = append(out, Candidate{Kind: "count", Text: fmt.Sprintf("Set %d lights in array %s instead of %d", *e.Array.Count+more, e.ID, *e.Array.Count),
			Cost: float64(more) * v.weight("fixture_added"), Patch: edit.patch()})
	}
	return out
}
