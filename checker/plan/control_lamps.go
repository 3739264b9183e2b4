package plan

import (
	"maps"
	"slices"
)

// lampsOf is the fixtures that a name in a control stands for: a group, or the
// id of a transformer, run, array or fixture. A name that is both is a
// contradiction when the two mean different fixtures; the group is taken.
func (r *resolver) lampsOf(s spot, name string) []*Fixture {
	group, isGroup := r.groups[name]
	byID, isThing := r.memberLamps(name)
	switch {
	case isGroup && isThing && !sameFixtures(group, byID):
		r.conflict(s, "%q is a group and also %s, and they mean different fixtures", name, aKind(r.plan.Elements[name].Kind))
		return group
	case isGroup:
		return group
	case isThing:
		return byID
	}
	known := func() []string {
		names := slices.AppendSeq(idsOf[switchable](r), maps.Keys(r.groups))
		slices.Sort(names)
		return slices.Compact(names)
	}
	r.gaps = true
	const what = "group, transformer, run or fixture"
	if e := r.plan.Elements[name]; e != nil {
		r.dangling(s, "%q is %s, not a %s%s", name, aKind(e.Kind), what, r.offer("", known, "the plan has"))
		return nil
	}
	r.dangling(s, "there is no %s %q%s", what, name, r.offer(name, known, "the plan has"))
	return nil
}

// switchable is what a control can switch by its id.
type switchable interface{ switchable() }

func (*Transformer) switchable() {}
func (*Run) switchable()         {}
func (*arrayOf) switchable()     {}
func (*Fixture) switchable()     {}

// memberLamps is lampsByID, remembered.
func (r *resolver) memberLamps(id string) ([]*Fixture, bool) {
	if lamps, known := r.lamps[id]; known {
		return lamps, true
	}
	lamps, isThing := r.lampsByID(id)
	if isThing {
		r.lamps[id] = lamps
	}
	return lamps, isThing
}

// lampsByID is the fixtures of a transformer, run, array or fixture.
func (r *resolver) lampsByID(id string) ([]*Fixture, bool) {
	switch thing := r.things[id].(type) {
	case *Fixture:
		return []*Fixture{thing}, true
	case *arrayOf:
		return thing.members, true
	case *Run:
		return r.lampsWhere(func(run *Run) bool { return run == thing }), true
	case *Transformer:
		return r.lampsWhere(func(run *Run) bool { return run.Transformer == thing }), true
	}
	return nil, false
}

// lampsWhere is the fixtures that a run of a certain kind reaches.
func (r *resolver) lampsWhere(wanted func(*Run) bool) []*Fixture {
	var lamps []*Fixture
	for _, f := range r.plan.Fixtures {
		if slices.ContainsFunc(f.Runs, wanted) {
			lamps = append(lamps, f)
		}
	}
	return lamps
}

func sameFixtures(a, b []*Fixture) bool {
	in := make(map[*Fixture]bool, len(a))
	for _, f := range a {
		in[f] = true
	}
	for _, f := range b {
		if !in[f] {
			return false
		}
	}
	return len(a) == len(b)
}
