package mend

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/source"
)

// mostSplits is how many places to split a run are offered for one finding.
const mostSplits = 3

// branch is a part of a run that could be fed by a cable of its own: what hangs
// on the leg feed, which comes after the legs before.
type branch struct {
	run    *plan.Run
	before []*plan.Leg // from the transformer to the near end of feed
	feed   *plan.Leg
	root   string // far end of feed
	ends   map[string]bool
	common int // that feeds it then; nought for the run's own
	// straight is true for a home run in a trench of its own, false for one
	// along the legs before.
	straight bool
}

// splitRun offers to feed part of a run by a second home run in the same trench:
// the far part, split where it takes about half of the load with it.
func splitRun(v *view, f *finding.Finding) []Candidate {
	c, ok := v.circuitOf(f)
	if !ok || len(c.path) < 2 {
		return nil
	}
	var branches []branch
	for i := 1; i < len(c.path); i++ {
		root := otherEnd(c.path[i], nearEnd(c.path[:i], c.run))
		branches = append(branches, branch{c.run, c.path[:i], c.path[i], root, downstream(c.run, c.path[i], root), 0, false})
	}
	half := v.loadOn(ends(c.run)) / 2
	off := func(b *branch) float64 { return absolute(v.loadOn(b.ends) - half) }
	slices.SortStableFunc(branches, func(a, b branch) int { return cmp.Compare(off(&a), off(&b)) })
	var out []Candidate
	for i := range branches[:min(len(branches), mostSplits)] {
		if candidate, ok := v.split(&branches[i]); ok {
			out = append(out, candidate)
		}
	}
	return out
}

// splitOff offers to split the runs of a crowded common and to land the new part on
// another common, or on the same one where that is enough.
func splitOff(v *view, f *finding.Finding) []Candidate {
	var out []Candidate
	for _, run := range v.plan.Runs {
		if run.Transformer == nil || !v.onCommon(run, f.Element) {
			continue
		}
		end := v.worstEnd(f, run)
		path := v.pathTo(run, end)
		for i := 1; i < len(path); i++ {
			root := otherEnd(path[i], nearEnd(path[:i], run))
			b := branch{run, path[:i], path[i], root, downstream(run, path[i], root), 0, false}
			for common := 1; common <= len(run.Transformer.Type.Commons); common++ {
				if b.common = common; common == run.Common {
					continue
				}
				if c, ok := v.split(&b); ok {
					out = append(out, c)
				}
			}
		}
	}
	return out
}

func absolute(x float64) float64 { return max(x, -x) }

// nearEnd is where a way from the transformer ends.
func nearEnd(path []*plan.Leg, run *plan.Run) string {
	at := run.Transformer.ID
	for _, leg := range path {
		at = otherEnd(leg, at)
	}
	return at
}

// ends are all ends of a run's legs.
func ends(run *plan.Run) map[string]bool {
	out := map[string]bool{}
	for _, leg := range run.Legs {
		out[leg.From], out[leg.To] = true, true
	}
	return out
}

// split moves a branch to a run of its own, fed from the same output.
func (v *view) split(b *branch) (Candidate, bool) {
	home, ok := v.homeCable(b)
	if !ok {
		return Candidate{}, false
	}
	s := splitting{view: v, branch: b, edit: v.edit(), id: v.freshID(b.run.ID), renamed: map[string]string{}}
	var run json.RawMessage
	if v.find(b.run.Pointer, "chain") != nil {
		run, ok = s.chain(home)
	} else {
		run, ok = s.legs(home)
	}
	if !ok {
		return Candidate{}, false
	}
	s.edit.add("", run, "runs")
	s.switchToo()
	cost := v.weight("run_split") + home.lengthM*areaOf(b.before[0].Cable)*v.weight("cable_per_m_mm2")
	trench := "in the same trench"
	if b.straight {
		trench = "straight, in a trench of its own"
		cost += home.lengthM * v.weight("trench_per_m")
	}
	output := b.run.Transformer.ID
	if b.common > 0 {
		output = fmt.Sprintf("common %d of %s", b.common, output)
	}
	return Candidate{
		Kind: "split",
		Text: fmt.Sprintf("Split run %s: feed %s by a second %s cable from %s, %s %s", b.run.ID, b.root,
			b.before[0].Cable.ID, output, v.say(home.lengthM), trench),
		Cost: cost, Patch: s.edit.patch(), Renamed: s.renamed,
	}, true
}

// homeRun is the cable that would feed a branch from the transformer.
type homeRun struct {
	lengthM float64
	bends   []r2.Vec
	routed  bool
}

// homeCable lays a cable along the legs that lead to a branch, or straight to it.
func (v *view) homeCable(b *branch) (homeRun, bool) {
	if b.straight {
		return v.straightTo(b.run.Transformer, b.root)
	}
	out := homeRun{routed: true}
	at := b.run.Transformer.ID
	for _, leg := range append(slices.Clone(b.before), b.feed) {
		if leg.LengthM == nil || leg.Returns != nil {
			return out, false
		}
		out.lengthM += *leg.LengthM
		out.routed = out.routed && len(leg.Route) > 1 && leg.RoutedM != nil && absolute(*leg.RoutedM-*leg.LengthM) < nothing
		points := slices.Clone(leg.Route)
		if leg.From != at {
			slices.Reverse(points)
		}
		out.bends = append(out.bends, points...)
		at = otherEnd(leg, at)
	}
	out.lengthM = v.up(out.lengthM, cableStep)
	if out.routed {
		out.bends = withoutRepeats(out.bends[1 : len(out.bends)-1])
	}
	return out, true
}

// withoutRepeats drops points that repeat the one before.
func withoutRepeats(points []r2.Vec) []r2.Vec {
	var out []r2.Vec
	for _, p := range points {
		if len(out) == 0 || r2.Norm(r2.Sub(p, out[len(out)-1])) > nothing {
			out = append(out, p)
		}
	}
	return out
}

// freshID makes an id that the plan does not have, after the pattern of another:
// "R2" after "R1", "walk-run-2" after "walk-run".
func (v *view) freshID(like string) string {
	stem := like
	for len(stem) > 0 && stem[len(stem)-1] >= '0' && stem[len(stem)-1] <= '9' {
		stem = stem[:len(stem)-1]
	}
	n, err := strconv.Atoi(like[len(stem):])
	if err != nil || stem == "" {
		stem, n = like+"-", 1
	}
	for n++; v.taken(stem + strconv.Itoa(n)); n++ {
	}
	return stem + strconv.Itoa(n)
}

// taken reports whether the plan has an id, or the name of a group.
func (v *view) taken(id string) bool {
	if v.plan.Elements[id] != nil {
		return true
	}
	return slices.ContainsFunc(v.plan.Fixtures, func(f *plan.Fixture) bool { return f.Group == id })
}

// splitting is one split under way.
type splitting struct {
	view    *view
	branch  *branch
	edit    *edit
	id      string // of the new run
	renamed map[string]string
}

// runHead is what the new run has from the old one, member by member.
func (s *splitting) runHead() []any {
	old := s.branch.run.Pointer
	pairs := []any{"id", s.id}
	for _, name := range []string{"from", "cable", "method", "cover", "connector"} {
		found := s.view.find(old, name)
		switch {
		case found == nil:
		case name == "from" && s.branch.common > 0:
			pairs = append(pairs, name, copyWith(found, map[string]any{"common": s.branch.common}))
		default:
			pairs = append(pairs, name, raw(found))
		}
	}
	return pairs
}

// moved reports whether a leg goes to the new run with the branch.
func (s *splitting) moved(leg *plan.Leg) bool {
	return leg != s.branch.feed && s.branch.ends[leg.From] && s.branch.ends[leg.To]
}

// legs makes the new run from legs and nodes of the old one.
func (s *splitting) legs(home homeRun) (json.RawMessage, bool) {
	var nodes, legs []any
	legs = append(legs, s.homeLeg(home))
	gone := []string{s.branch.feed.Pointer}
	for _, leg := range s.branch.run.Legs {
		if s.moved(leg) {
			legs = append(legs, raw(s.view.find(leg.Pointer)))
			gone = append(gone, leg.Pointer)
		}
	}
	var goneNodes []string
	for _, node := range s.branch.run.Nodes {
		if s.branch.ends[node.ID] {
			nodes = append(nodes, raw(s.view.find(node.Pointer)))
			goneNodes = append(goneNodes, node.Pointer)
		}
	}
	s.removeAll(gone)
	s.removeAll(goneNodes)
	pairs := s.runHead()
	if len(nodes) > 0 {
		pairs = append(pairs, "nodes", list(nodes...))
	}
	return object(append(pairs, "legs", list(legs...))...), true
}

// removeAll takes elements of one array out, from the last to the first.
func (s *splitting) removeAll(pointers []string) {
	slices.SortFunc(pointers, func(a, b string) int { return cmp.Or(len(b)-len(a), cmp.Compare(b, a)) })
	for _, p := range pointers {
		s.edit.remove(p)
	}
}

// homeLeg is the leg from the transformer to the branch, laid as the legs along
// which it lies.
func (s *splitting) homeLeg(home homeRun) json.RawMessage {
	first := s.branch.before[0]
	pairs := []any{"id", s.view.freshID(first.ID), "from", s.branch.run.Transformer.ID, "to", s.branch.root}
	for _, name := range []string{"cable", "method", "cover", "sleeve"} {
		if found := s.view.find(first.Pointer, name); found != nil {
			pairs = append(pairs, name, raw(found))
		}
	}
	if !home.routed {
		return object(append(pairs, "length", s.view.say(home.lengthM))...)
	}
	var route []any
	for _, p := range home.bends {
		route = append(route, list(s.view.number(p.X), s.view.number(p.Y)))
	}
	if len(route) > 0 {
		pairs = append(pairs, "route", list(route...))
	}
	return object(pairs...)
}

// chain makes the new run from steps of the old one's chain. It is false when
// the steps that stay, or those that go, would no longer follow one another.
func (s *splitting) chain(home homeRun) (json.RawMessage, bool) {
	run := s.branch.run
	if v := s.view; v.find(run.Pointer, "legs") != nil || v.find(run.Pointer, "nodes") != nil {
		return nil, false
	}
	steps := []any{object("to", s.branch.root, "length", s.view.say(home.lengthM))}
	gone := []string{s.branch.feed.Pointer}
	lastStays, lastGoes := run.Transformer.ID, s.branch.root
	for _, leg := range run.Legs {
		follows := s.view.find(leg.Pointer, "from") == nil
		switch {
		case leg == s.branch.feed:
			s.rename(leg)
		case s.moved(leg):
			if follows && leg.From != lastGoes {
				return nil, false
			}
			lastGoes = leg.To
			steps = append(steps, raw(s.view.find(leg.Pointer)))
			gone = append(gone, leg.Pointer)
			s.rename(leg)
		default:
			if follows && leg.From != lastStays {
				return nil, false
			}
			lastStays = leg.To
		}
	}
	s.removeAll(gone)
	return object(append(s.runHead(), "chain", list(steps...))...), true
}

// rename notes the new id of a leg of a chain, which comes from its run's.
func (s *splitting) rename(leg *plan.Leg) { s.renamed[leg.ID] = s.id + leg.ID[len(s.branch.run.ID):] }

// switchToo lets whatever names the old run name the new one as well.
func (s *splitting) switchToo() {
	name := func(element string, list []string, keys ...any) {
		if slices.Contains(list, s.branch.run.ID) {
			s.edit.add(element, s.id, keys...)
		}
	}
	for i := range s.view.entry.Controls {
		c := &s.view.entry.Controls[i]
		at := source.Pointer("controls", i)
		name(at, c.Switches, "switches")
		for j := range c.Scenes {
			var on []string
			for _, g := range c.Scenes[j].On {
				if !g.Level.Set {
					on = append(on, g.Group)
				}
			}
			name(at+source.Pointer("scenes", j), on, "on")
		}
	}
}
