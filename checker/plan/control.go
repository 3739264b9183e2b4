package plan

import "fmt"

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
	// Ground without a single fixture is dark, unless nothing is designed yet.
	dark := r.plan.Site != nil && r.plan.Stage != "survey"
	if len(r.plan.Scenes) == 0 && (len(r.plan.Fixtures) > 0 || dark) {
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
	var switched map[*Fixture]bool
	if len(e.Switches) > 0 {
		switched = map[*Fixture]bool{}
	}
	for i, name := range e.Switches {
		for _, f := range r.lampsOf(s.at("switches", i), name) {
			switched[f] = true
		}
	}
	for i, scene := range c.Scenes {
		r.resolveScene(scene, &e.Scenes[i], switched)
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
