package plan

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

func (r *resolver) declareFixtures() {
	r.slots = make([][]*Fixture, len(r.doc.Fixtures))
	for i := range r.doc.Fixtures {
		e := &r.doc.Fixtures[i]
		pointer := fmt.Sprintf("/fixtures/%d", i)
		if e.Array != nil {
			r.declareArray(e, pointer, i)
			continue
		}
		f := &Fixture{}
		r.enter(&f.Element, "fixture", e.ID, pointer, f)
		r.anchorAt(&f.Element, "at", e.At)
		r.entries[f] = e
		r.slots[i] = []*Fixture{f}
	}
}

// resolveFixtures brings the fixtures into file order and computes all but what
// hangs on their runs.
func (r *resolver) resolveFixtures() {
	for i := range r.slots {
		for _, f := range r.slots[i] {
			r.plan.Fixtures = append(r.plan.Fixtures, f)
			r.resolveFixture(f, r.entries[f])
		}
	}
}

func (r *resolver) resolveFixture(f *Fixture, e *FixtureEntry) {
	s, d := spotOf(&f.Element), &r.doc.Defaults.Fixtures
	f.Type = findType(r, s.key("type"), "fixture type", e.Type, r.fixtureTypes)
	f.Lamp = r.fittedLamp(s, f.Type, e.Lamp)
	if f.At == nil && e.At != nil {
		f.At = r.pointOf(&f.Element, "at", e.At)
	}
	if f.HeightM = r.extent(s, "height", e.Height); !e.Height.Set {
		f.HeightM = r.defaults.fixtureHeightM
	}
	if f.SlackM = or(r.extent(s, "slack", e.Slack), 0); !e.Slack.Set {
		f.SlackM = r.defaults.fixtureSlackM
	}
	f.Mount, f.Group = orText(e.Mount, d.Mount), orText(e.Group, d.Group)
	f.Level = r.level(s, "level", e.Level, 1)
	f.Surround, f.TreeMount, f.Shield = e.Surround, e.TreeMount, e.Shield
	if f.Shield == "" && f.Type != nil {
		f.Shield = f.Type.Shield
	}
	f.LeadM = r.leadLeft(s, f.Type, e)
	if g := e.Drainage; g != nil {
		f.GravelM, f.Drain = r.extent(s, "drainage/gravel", g.Gravel), g.Drain
	}
	if t := e.TreeMount; t != nil {
		f.GrowthM = r.extent(s, "tree_mount/growth_slack", t.GrowthSlack)
	}
	r.host(f, s, e)
	f.GroundM, f.groundKnown = r.groundOf(f, s, e)
	r.aim(f, s, e.Aim)
	if f.Group != "" {
		r.groups[f.Group] = append(r.groups[f.Group], f)
	}
}

// fittedLamp is the type's lamp with what the fixture states instead. Watts,
// volt-amperes and power factor belong together: where the fixture states one
// of them, the type's power factor holds and the rest follows from it.
func (r *resolver) fittedLamp(s spot, t *FixtureType, e *LampEntry) Lamp {
	lamp := Lamp{RatedVolts: defaultLampVolts}
	if t != nil {
		lamp = t.Lamp
	}
	if e == nil {
		return lamp
	}
	factor := lamp.PowerFactor
	if factor == nil && lamp.Watts != nil && lamp.VA != nil && *lamp.VA > 0 {
		ratio := *lamp.Watts / *lamp.VA
		factor = &ratio
	}
	if e.PowerFactor != nil {
		factor = e.PowerFactor
	}
	switch {
	case e.Watts != nil && e.VA != nil:
		lamp.Watts, lamp.VA, lamp.PowerFactor = e.Watts, e.VA, e.PowerFactor
	case e.Watts != nil:
		lamp.Watts, lamp.VA, lamp.PowerFactor = e.Watts, nil, factor
	case e.VA != nil:
		lamp.VA, lamp.PowerFactor = e.VA, e.PowerFactor
	case e.PowerFactor != nil:
		lamp.VA, lamp.PowerFactor = nil, factor
	}
	lamp.Load = orText(e.Load, lamp.Load)
	if e.Lumens != nil {
		lamp.Lumens = e.Lumens
	}
	r.checkPowers(s.key("lamp"), lamp.Watts, lamp.VA, lamp.PowerFactor)
	return lamp
}

// leadLeft is what is left of the factory lead: as stated, else all of it.
func (r *resolver) leadLeft(s spot, t *FixtureType, e *FixtureEntry) *float64 {
	left := r.extent(s, "lead", e.Lead)
	if t == nil || t.LeadM == nil {
		return left
	}
	if left == nil {
		return t.LeadM
	}
	if *left > *t.LeadM+levelSlackM {
		r.conflict(s.key("lead"), "%s of lead cannot be left of the %s that %s has", r.text(*left), r.text(*t.LeadM), t.ID)
	}
	return left
}

// host looks up what a fixture is mounted on.
func (r *resolver) host(f *Fixture, s spot, e *FixtureEntry) {
	f.Host = e.Host
	if e.Host == "" {
		return
	}
	host, known := r.plan.Elements[e.Host]
	if !known {
		find[any](r, s.key("host"), "element", e.Host)
		return
	}
	if f.Mount == "tree" && host.Kind != "tree" {
		r.conflict(s.key("host"), "the fixture is mounted on a tree, but %q is %s", e.Host, aKind(host.Kind))
	}
	if f.Mount == "under-deck" && host.Kind != "deck" {
		r.conflict(s.key("host"), "the fixture is mounted under a deck, but %q is %s", e.Host, aKind(host.Kind))
	}
}

// riserReachM is how near a riser's line a fixture mounted in it stands.
const riserReachM = 0.05

// groundOf is the level of what a fixture stands on: as stated; the tread that
// its position names; for a fixture in a riser the tread before it; under a
// deck the ground below it; else what is underfoot. It is 0 and not known where
// nothing there states a level.
func (r *resolver) groundOf(f *Fixture, s spot, e *FixtureEntry) (levelM float64, known bool) {
	if stated := r.length(s, "elevation", e.Elevation); stated != nil {
		return *stated, true
	}
	if e.At != nil && e.At.Of != "" {
		if t, ok := r.things[e.At.Of].(*stairThing); ok && e.At.Tread >= 1 && e.At.Tread <= t.Risers {
			return t.BaseM + float64(e.At.Tread)*t.RiseM, true
		}
	}
	if f.At == nil {
		return 0, false
	}
	at := *f.At
	switch f.Mount {
	case "riser":
		at = r2.Sub(at, r2.Scale(riserReachM, r.upAt(at)))
	case "under-deck":
		return r.groundAt(at, func(s *surface) bool { return s.rank == rankDeck })
	}
	return r.groundAt(at, nil)
}

// upAt is the way up, as a unit vector, of the stair at a point; 0 where there
// is none.
func (r *resolver) upAt(p r2.Vec) r2.Vec {
	for _, t := range r.site.stairs {
		if t.flight != nil && distanceTo(t.flight.outline(), p) <= riserReachM {
			return t.flight.up
		}
	}
	return r2.Vec{}
}

// finishFixtures fills in what hangs on the runs that reach a fixture: its
// connector, unless it names one. Of several runs the first by id decides.
func (r *resolver) finishFixtures() {
	for _, f := range r.plan.Fixtures {
		if name := r.entries[f].Connector; name != "" {
			f.Connector = r.connector(spotOf(&f.Element).key("connector"), name)
			continue
		}
		f.Connector = r.defaults.fixtureConnector
		if len(f.Runs) > 0 {
			first := slices.MinFunc(f.Runs, func(a, b *Run) int { return strings.Compare(a.ID, b.ID) })
			f.Connector = r.inherit[first].fixtureConnector
		}
	}
}
