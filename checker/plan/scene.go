package plan

// mostLevels is how many levels all scenes of a plan may set.
const mostLevels = 2_000_000

// sceneLevels works out one scene.
type sceneLevels struct {
	r        *resolver
	scene    *Scene
	switched map[*Fixture]bool // by the control; nil when it says nothing
	named    map[*Fixture]bool // by the scene
}

// resolveScene works out the level of every fixture in a scene: those that the
// scene names, at the scene's level of their own; those that its control
// switches but the scene does not name, off; all others, which this control has
// no hold on, at their own level. A scene with nothing on is in use only when it
// says so.
func (r *resolver) resolveScene(scene *Scene, e *SceneEntry, switched map[*Fixture]bool) {
	s := spotOf(&scene.Element)
	scene.From, scene.Until = e.From, e.Until
	scene.InUse = or(e.InUse, len(e.On) > 0)
	scene.Levels = map[string]float64{}
	if r.levels += len(r.plan.Fixtures); r.levels > mostLevels {
		r.conflict(s, "the scenes set more than %d levels; this one is left dark", mostLevels)
		return
	}
	l := sceneLevels{r, scene, switched, map[*Fixture]bool{}}
	if switched != nil {
		for _, f := range r.plan.Fixtures {
			if !switched[f] && f.Level > 0 {
				scene.Levels[f.ID] = f.Level
			}
		}
	}
	seen := map[GroupLevel]bool{}
	for i := range e.On {
		if !seen[e.On[i]] {
			l.turnOn(s.at("on", i), &e.On[i])
		}
		seen[e.On[i]] = true
	}
}

// turnOn sets the fixtures that one entry of a scene names.
func (l *sceneLevels) turnOn(s spot, e *GroupLevel) {
	level := l.r.level(s, "level", e.Level, 1)
	if e.Level.Set {
		s = s.key("group")
	}
	for _, f := range l.r.lampsOf(s, e.Group) {
		if l.switched != nil && !l.switched[f] {
			if l.r.gaps {
				return // the network has gaps, so who switches what is not known
			}
			l.r.conflict(s, "%q names fixture %q, which %q does not switch", e.Group, f.ID, l.scene.Control.ID)
			return
		}
		set := level * f.Level
		if l.named[f] && l.scene.Levels[f.ID] != set {
			l.r.conflict(s, "fixture %q is named twice in this scene, at %.0f %% and at %.0f %% of full light",
				f.ID, l.scene.Levels[f.ID]*100, set*100)
			return
		}
		l.named[f] = true
		if set > 0 {
			l.scene.Levels[f.ID] = set
		}
	}
}
