package plan

import (
	"fmt"
	"maps"
	"slices"
)

// everything is the id of the scene of a plan that has no scenes.
const everything = "all"

func (r *resolver) declareControls() {
	for i := range r.doc.Controls {
		e, c := &r.doc.Controls[i], &Control{}
		r.enter(&c.Element, "control", e.ID, fmt.Sprintf("/controls/%d", i), c)
		r.plan.Controls = append(r.plan.Controls, c)
		for j := range e.Scenes {
			scene := &Scene{Control: c}
			r.enter(&scene.Element, "scene", e.Scenes[j].ID, spotOf(&c.Element).at("scenes", j).pointer, scene)
			c.Scenes = append(c.Scenes, scene)
			r.plan.Scenes = append(r.plan.Scenes, scene)
		}
	}
}

func (r *resolver) resolveControls() {
	for i, c := range r.plan.Controls {
		r.resolveControl(c, &r.doc.Controls[i])
	}
	if len(r.plan.Scenes) == 0 && len(r.plan.Fixtures) > 0 {
		r.plan.Scenes = []*Scene{r.everythingOn()}
	}
}

// everythingOn is the scene of a plan that has no scenes: every fixture at its
// own level, in use.
func (r *resolver) everythingOn() *Scene {
	scene := &Scene{Element: Element{ID: everything, Kind: "scene"}, InUse: true, Levels: map[string]float64{}}
	for _, f := range r.plan.Fixtures {
		scene.Levels[f.ID] = f.Level
	}
	return scene
}

func (r *resolver) resolveControl(c *Control, e *ControlEntry) {
	s := spotOf(&c.Element)
	c.Kind, c.Switches, c.On, c.Off = e.Kind, e.Switches, e.On, e.Off
	c.LocationSet, c.Location, c.Rating, c.Dimmer = e.LocationSet, e.Location, e.Rating, e.Dimmer
	c.ReachableAt = e.ReachableAt
	if sensor := e.Sensor; sensor != nil {
		c.SensorAt = r.locate(&sensor.At, s.key("sensor/at"))
		c.SensorM = r.extent(s, "sensor/height", sensor.Height)
		c.SensorDeg, c.Shaded = sensor.Bearing, sensor.Shaded
	}
	for i, id := range e.ReachableAt {
		find[reachable](r, s.at("reachable_at", i), "place on the site", id)
	}
	switched := map[*Fixture]bool{}
	for i, name := range e.Switches {
		for _, f := range r.lampsOf(s.at("switches", i), name) {
			switched[f] = true
		}
	}
	for i, scene := range c.Scenes {
		r.resolveScene(scene, &e.Scenes[i], switched, len(e.Switches) > 0)
	}
}

// reachable is a place where a person can stand to work a control.
type reachable interface{ standsOnSite() }

func (*pathThing) standsOnSite()    {}
func (*stairThing) standsOnSite()   {}
func (*landingThing) standsOnSite() {}
func (*Deck) standsOnSite()         {}
func (*Area) standsOnSite()         {}
func (*Leaf) standsOnSite()         {}
func (*Building) standsOnSite()     {}

// lampsOf is the fixtures that a name in a control stands for: a group, or the
// id of a transformer, run, array or fixture. A name that is both is a
// contradiction when the two mean different fixtures; the group is taken.
func (r *resolver) lampsOf(s spot, name string) []*Fixture {
	group, isGroup := r.groups[name]
	byID, isThing := r.lampsByID(name)
	switch {
	case isGroup && isThing && !sameFixtures(group, byID):
		r.conflict(s, "%q is a group and also %s, and they mean different fixtures", name, aKind(r.plan.Elements[name].Kind))
		return group
	case isGroup:
		return group
	case isThing:
		return byID
	}
	known := slices.Sorted(maps.Keys(r.groups))
	known = append(known, idsOf[switchable](r)...)
	slices.Sort(known)
	what := "there is no group, transformer, run or fixture %q%s"
	if e := r.plan.Elements[name]; e != nil {
		what = "%q is " + aKind(e.Kind) + ", not a group, transformer, run or fixture%s"
	}
	r.dangling(s, what, name, offer(name, slices.Compact(known), "the plan has"))
	return nil
}

// switchable is what a control can switch by its id.
type switchable interface{ switchable() }

func (*Transformer) switchable() {}
func (*Run) switchable()         {}
func (*arrayOf) switchable()     {}
func (*Fixture) switchable()     {}

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

// resolveScene works out the level of every fixture in a scene: those that the
// scene names, at the scene's level of their own; those that its control
// switches but the scene does not name, off; all others, which this control has
// no hold on, at their own level.
func (r *resolver) resolveScene(scene *Scene, e *SceneEntry, switched map[*Fixture]bool, limited bool) {
	s := spotOf(&scene.Element)
	scene.From, scene.Until = e.From, e.Until
	scene.InUse = or(e.InUse, len(e.On) > 0)
	scene.Levels = map[string]float64{}
	if limited {
		for _, f := range r.plan.Fixtures {
			if !switched[f] {
				scene.Levels[f.ID] = f.Level
			}
		}
	}
	named := map[*Fixture]bool{}
	for i := range e.On {
		at := s.at("on", i)
		level := r.level(at, "level", e.On[i].Level, 1)
		name := at
		if e.On[i].Level.Set {
			name = at.key("group")
		}
		for _, f := range r.lampsOf(name, e.On[i].Group) {
			if limited && !switched[f] {
				r.conflict(name, "%q names fixture %q, which %q does not switch", e.On[i].Group, f.ID, scene.Control.ID)
				break
			}
			set := level * f.Level
			if named[f] && scene.Levels[f.ID] != set {
				r.conflict(name, "fixture %q is named twice in this scene, at %.0f %% and at %.0f %%", f.ID, scene.Levels[f.ID]*100, set*100)
				break
			}
			named[f] = true
			scene.Levels[f.ID] = set
		}
	}
	maps.DeleteFunc(scene.Levels, func(_ string, level float64) bool { return level == 0 })
}
