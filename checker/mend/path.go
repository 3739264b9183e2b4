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
		if p.ID != f.Element || f.Case != "spacing" && p.Scene != sceneOf(f.Case) {
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
	return out, false
}

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

// sceneOf is the scene in a finding's case: "late", or "public, late".
func sceneOf(name string) string {
	const public = "public, "
	if len(name) > len(public) && name[:len(public)] == public {
		return name[len(public):]
	}
	return name
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
		if d := r2.Norm(r2.Sub(*f.At, middle)); d < least && v.feedOf(f) != nil {
			best, least = f, d
		}
	}
	return best
}

// addAlong adds n lights along a stretch, on alternate sides, each fed from the
// one before.
func (v *view) addAlong(s stretch, like *plan.Fixture, n int, side float64) (Candidate, bool) {
	feed := v.feedOf(like)
	_, away := project(s.path.Centreline, *like.At)
	away = math.Max(math.Abs(away), s.path.WidthM/2+v.limit("site.path_edge_m", 0)+bodyRadius(like)+v.size(placeStep)/2)
	if away > s.path.WidthM/2+1.5 {
		away = s.path.WidthM/2 + 0.3 + bodyRadius(like)
	}
	e := v.edit()
	id, legID, from := like.ID, feed.ID, v.nearestFed(feed.Run, s)
	cost := 0.0
	var ids []string
	for i := range n {
		at, ok := beside(s.path.Centreline, s.from+(s.to-s.from)*(float64(i)+0.5)/float64(n), side*away)
		if !ok {
			return Candidate{}, false
		}
		side = -side
		id = v.freshIDAfter(id, ids)
		ids = append(ids, id)
		e.add("", copyWith(v.find(like.Pointer), map[string]any{"id": id, "at": v.pair(at)}, "elevation"), "fixtures")
		old := v.find(feed.Pointer)
		if feed.Chained {
			e.add(feed.Run.Pointer, copyWith(old, map[string]any{"to": id, "from": from}, "length"), "chain")
		} else {
			legID = v.freshID(legID)
			e.add(feed.Run.Pointer, copyWith(old, map[string]any{"id": legID, "from": from, "to": id}, "length", "route", "returns"), "legs")
		}
		from = id
		cost += v.weight("fixture_added") + v.weight("connector") + (s.to-s.from)/float64(n)*v.weight("trench_per_m")
	}
	text := fmt.Sprintf("Add %s like %s along %s, %s", counted(n, "light"), like.ID, s.path.ID, join(ids))
	return Candidate{Kind: "add", Text: text, Cost: cost, Patch: e.patch()}, true
}

// nearestFed is the end of a run nearest to the middle of a stretch.
func (v *view) nearestFed(run *plan.Run, s stretch) string {
	middle, _ := beside(s.path.Centreline, (s.from+s.to)/2, 0)
	type end struct {
		id string
		d  float64
	}
	var all []end
	for _, id := range sortedKeys(ends(run)) {
		if p, ok := v.placeOf(id); ok && id != run.Transformer.ID {
			all = append(all, end{id, r2.Norm(r2.Sub(p, middle))})
		}
	}
	if len(all) == 0 {
		return run.Transformer.ID
	}
	return slices.MinFunc(all, func(a, b end) int { return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.id, b.id)) }).id
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
