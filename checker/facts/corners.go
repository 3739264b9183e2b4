package facts

import (
	"slices"
	"strings"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// setting is the corners of one transformer.
func (j *join) setting(n *network) wire.Setting {
	s := wire.Setting{
		LowFactor: j.doc.Supply.LowFactor, HighFactor: j.doc.Supply.HighFactor,
		NominalC: j.limit("wire.ground_c", wire.NominalC), HotGroundC: j.hotGround(),
		RiseK: j.limit("wire.rise_k", fallbackRiseK), ColdGroundC: j.limit("wire.cold_c", fallbackColdC),
		Zones: j.zones(n), LampsOut: true,
	}
	for _, scene := range j.plan.Scenes {
		if !scene.InUse {
			continue
		}
		levels := make(map[string]float64, len(n.net.Loads))
		for _, load := range n.net.Loads {
			levels[load.ID] = scene.Levels[load.ID]
		}
		s.Scenes = append(s.Scenes, wire.Scene{Name: scene.ID, Levels: levels})
	}
	return s
}

// hotGround is the temperature of the ground in summer: the plan's, else the
// profile's.
func (j *join) hotGround() float64 {
	if site := j.plan.Site; site != nil && site.GroundC != nil {
		return *site.GroundC
	}
	return j.limit("wire.hot_ground_c", fallbackHotGround)
}

// zones are the parts of a network that can be on while the rest is off: for
// each control, the lamps that burn when it is on and every other control off;
// and those that no control switches. A lamp that two controls switch, one
// behind the other, is in the zone of neither.
func (j *join) zones(n *network) []wire.Zone {
	acting := make(map[string][]string, len(n.net.Loads)) // controls that act on each lamp
	for _, c := range j.plan.Controls {
		for _, id := range j.switched(c) {
			acting[id] = append(acting[id], c.ID)
		}
	}
	var zones []wire.Zone
	add := func(name string, only []string) {
		zone := wire.Zone{Name: name}
		for _, load := range n.net.Loads {
			if !slices.ContainsFunc(acting[load.ID], func(id string) bool { return !slices.Contains(only, id) }) {
				zone.Loads = append(zone.Loads, load.ID)
			}
		}
		known := slices.ContainsFunc(zones, func(z wire.Zone) bool { return slices.Equal(z.Loads, zone.Loads) })
		if len(zone.Loads) > 0 && len(zone.Loads) < len(n.net.Loads) && !known {
			zones = append(zones, zone)
		}
	}
	for _, c := range j.plan.Controls {
		add("zone "+c.ID, []string{c.ID})
	}
	add("unswitched lamps", nil)
	return zones
}

// switched lists the fixtures that a control acts on: by their own name, their
// array, group, run or transformer, or all of them when it names none.
func (j *join) switched(c *plan.Control) []string {
	named := func(id string) bool { return id != "" && slices.Contains(c.Switches, id) }
	var out []string
	for _, f := range j.plan.Fixtures {
		acts := len(c.Switches) == 0 || named(f.ID) || named(f.Group) || named(j.arrayOf(f))
		for _, run := range f.Runs {
			acts = acts || named(run.ID) || named(run.Transformer.ID)
		}
		if acts {
			out = append(out, f.ID)
		}
	}
	return out
}

// arrayOf is the id of the array that a fixture belongs to: an array's fixtures
// share its place in the file and are called "<array>-<n>".
func (j *join) arrayOf(f *plan.Fixture) string {
	i := strings.LastIndexByte(f.ID, '-')
	if i <= 0 {
		return ""
	}
	if e := j.plan.Elements[f.ID[:i]]; e != nil && e.Pointer == f.Pointer {
		return e.ID
	}
	return ""
}
