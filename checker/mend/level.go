package mend

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"strings"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/source"
)

// onInScene offers to switch on, in the scene in which a place is dark, the groups
// that light it in another, and to turn up those that are dimmed.
func onInScene(v *view, f *finding.Finding) []Candidate {
	scene := caseScene(f.Case)
	groups := map[string]bool{}
	for _, id := range v.lampsNear(f.Element) {
		if fixture := v.fixtures[id]; fixture != nil && fixture.Group != "" {
			groups[fixture.Group] = true
		}
	}
	var out []Candidate
	for i := range v.entry.Controls {
		for j := range v.entry.Controls[i].Scenes {
			if v.entry.Controls[i].Scenes[j].ID == scene {
				out = append(out, v.switchOn(source.Pointer("controls", i, "scenes", j), &v.entry.Controls[i].Scenes[j], groups)...)
			}
		}
	}
	return out
}

// caseScene is the scene in a finding's case: the last of its words.
func caseScene(words string) string {
	if i := strings.LastIndex(words, ", "); i >= 0 {
		return words[i+2:]
	}
	return words
}

// besideM is how far from the edge of a path a light belongs to it.
const besideM = 1.5

// nearM is how far away a fixture may stand to be thought of for a dark place.
const nearM = 3.0

// lampsNear are the fixtures that light a tread or landing in any scene, those
// that stand near it, and those beside a path.
func (v *view) lampsNear(id string) []string {
	out := v.lampsAt(id)
	if v.plan.Site == nil {
		return out
	}
	if g, ok := v.groundOf(&finding.Finding{Element: id}); ok {
		for _, f := range v.plan.Fixtures {
			if f.At != nil && r2.Norm(r2.Sub(*f.At, g.at)) < nearM+g.halfM {
				out = append(out, missing(out, []string{f.ID})...)
			}
		}
	}
	for _, p := range v.plan.Site.Paths {
		if p.ID != id {
			continue
		}
		for _, f := range v.plan.Fixtures {
			if f.At == nil {
				continue
			}
			if _, left := project(p.Centreline, *f.At); math.Abs(left) < p.WidthM/2+besideM {
				out = append(out, f.ID)
			}
		}
	}
	return out
}

// fullLevel offers to run lights at full level: those of a run, or those that
// light a place.
func fullLevel(v *view, f *finding.Finding) []Candidate {
	ids := v.lampsNear(f.Element)
	if c, ok := v.circuitOf(f); ok {
		ids = v.runFacts[c.run.ID].Lamps
	} else if t := v.unitOf(f); t != nil {
		for _, run := range v.plan.Runs {
			if run.Transformer == t {
				ids = append(ids, v.runFacts[run.ID].Lamps...)
			}
		}
	}
	e := v.edit()
	var turned []string
	for _, id := range ids {
		fixture := v.fixtures[id]
		if fixture == nil || fixture.Level >= 1 || v.isArray(fixture) || v.find(fixture.Pointer, "level") == nil {
			continue
		}
		e.set(fixture.Pointer, "100 %", "level")
		turned = append(turned, id)
	}
	if len(turned) == 0 {
		return nil
	}
	return []Candidate{{Kind: "level", Text: fmt.Sprintf("Run %s at full light", join(turned)),
		Cost: float64(len(turned)) * v.weight("setting_changed"), Patch: e.patch()}}
}

func (v *view) switchOn(pointer string, scene *plan.SceneEntry, groups map[string]bool) []Candidate {
	var out []Candidate
	for _, group := range sortedKeys(groups) {
		i := slices.IndexFunc(scene.On, func(g plan.GroupLevel) bool { return g.Group == group })
		e := v.edit()
		text := fmt.Sprintf("Switch on %s in scene %s too", group, scene.ID)
		switch {
		case i < 0:
			e.add(pointer, group, "on")
		case scene.On[i].Level.Set:
			e.set(pointer, "100 %", "on", i, "level")
			text = fmt.Sprintf("Leave %s at full light in scene %s", group, scene.ID)
		default:
			continue
		}
		out = append(out, Candidate{Kind: "scene", Text: text, Cost: v.weight("setting_changed"), Patch: e.patch()})
	}
	return out
}

// lampsAt are the fixtures that light a place in any scene, the strongest first.
func (v *view) lampsAt(id string) []string {
	var out []string
	for i := range v.facts.Treads {
		if t := &v.facts.Treads[i]; t.ID == id {
			out = append(out, missing(out, t.Lamps)...)
		}
	}
	return out
}

func missing(have, from []string) []string {
	var out []string
	for _, s := range from {
		if !slices.Contains(have, s) {
			out = append(out, s)
		}
	}
	return out
}

// brighter offers fixtures of the catalogue that give more light in place of
// those that light a place.
func brighter(v *view, f *finding.Finding) []Candidate {
	var out []Candidate
	lamps := v.lampsAt(f.Element)
	for _, id := range lamps[:min(2, len(lamps))] {
		fixture := v.fixtures[id]
		if fixture == nil || v.isArray(fixture) || fixture.Lamp.Lumens == nil {
			continue
		}
		for _, t := range v.plan.FixtureTypes {
			if t != fixture.Type && standsIn(t, fixture.Type) && t.Lamp.Lumens != nil && *t.Lamp.Lumens > *fixture.Lamp.Lumens {
				out = append(out, v.retype([]*plan.Fixture{fixture}, t))
			}
		}
	}
	return out
}
