package mend

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
	"duskproof/checker/source"
)

// higherUnit offers to mount a power unit as high as a finding asks.
func higherUnit(v *view, f *finding.Finding) []Candidate {
	t := v.transformers[f.Element]
	if t == nil || !slices.Contains([]string{"height", "snow", "flood water"}, f.Case) || f.Limit == nil || t.HeightM == nil || *t.HeightM >= *f.Limit {
		return nil
	}
	need := v.up(*f.Limit, heightStep)
	e := v.edit()
	e.set(t.Pointer, v.length(t.Pointer+"/height", need), "height")
	return []Candidate{{Kind: "height", Text: fmt.Sprintf("Mount %s %s above the ground", t.ID, v.say(need)),
		Cost: v.weight("setting_changed"), Patch: e.patch()}}
}

// moveUnit offers to move a power unit away from water, or nearer to its
// receptacle, as far as its cord lets it.
func moveUnit(v *view, f *finding.Finding) []Candidate {
	t := v.transformers[f.Element]
	if t == nil || t.At == nil || v.plan.Site == nil {
		return nil
	}
	r := &room{at: *t.At}
	setback := math.Max(v.limit("power.transformer_water_min_m", 0), v.limit("water.setback_m", 0))
	for _, w := range v.plan.Site.Water {
		edge := site.Polygon(w.Outline)
		r.keep(func(p r2.Vec) float64 { return edge.Distance(p) - setback })
	}
	if out := t.Receptacle; out != nil && out.At != nil {
		reach := v.reachOf(t)
		r.keep(func(p r2.Vec) float64 { return reach - r2.Norm(r2.Sub(p, *out.At)) })
	}
	for _, b := range v.plan.Site.Buildings {
		outline := site.Polygon(b.Outline)
		r.keep(outline.Distance)
	}
	if line := site.Polygon(v.plan.Site.PropertyLine); len(line) > 2 {
		r.keep(func(p r2.Vec) float64 { return -line.Distance(p) })
	}
	if len(r.harsh) == 0 {
		return nil
	}
	return v.relocate(t.Pointer, t.ID, *t.At, r, v.weight("fixture_moved"))
}

// reachOf is how far on the ground the cord of a power unit reaches.
func (v *view) reachOf(t *plan.Transformer) float64 {
	reach := v.limit("power.cord_max_m", farthestMove)
	if t.CordM != nil {
		reach = math.Min(reach, *t.CordM)
	}
	if t.HeightM != nil && t.Receptacle != nil && t.Receptacle.HeightM != nil {
		rise := *t.HeightM - *t.Receptacle.HeightM
		reach = math.Sqrt(math.Max(0, reach*reach-rise*rise))
	}
	return reach
}

// otherReceptacle offers to plug power units into other receptacles that their
// cords reach.
func otherReceptacle(v *view, f *finding.Finding) []Candidate {
	if v.plan.Supply == nil {
		return nil
	}
	var out []Candidate
	for _, t := range v.plan.Transformers {
		onBranch := t.Branch != nil && t.Branch.ID == f.Element
		if t.Receptacle == nil || t.ID != f.Element && !onBranch {
			continue
		}
		for _, r := range v.plan.Supply.Receptacles {
			if r == t.Receptacle || onBranch && r.Branch == t.Branch || r.FedBy == "extension-cord" {
				continue
			}
			e := v.edit()
			e.set(t.Pointer, r.ID, "plugged_into")
			out = append(out, Candidate{Kind: "receptacle", Text: fmt.Sprintf("Plug %s into %s instead of %s", t.ID, r.ID, t.Receptacle.ID),
				Cost: v.weight("setting_changed"), Patch: e.patch()})
		}
	}
	return out
}

// otherRun offers to move the runs of a crowded common, or of a loaded power unit,
// to other commons and to other units that stand within reach.
func otherRun(v *view, f *finding.Finding) []Candidate {
	t := v.unitOf(f)
	if t == nil {
		return nil
	}
	var out []Candidate
	for _, run := range v.plan.Runs {
		if run.Transformer != t || v.transformers[f.Element] == nil && !v.onCommon(run, f.Element) && run.ID != f.Element {
			continue
		}
		out = append(out, v.otherCommons(run)...)
		for _, u := range v.plan.Transformers {
			if u != t {
				out = append(out, v.toUnit(run, u)...)
			}
		}
	}
	return out
}

// onCommon reports whether a run starts on a common, by the common's id.
func (v *view) onCommon(run *plan.Run, id string) bool {
	return fmt.Sprintf("%s/%d", run.Transformer.ID, run.Common) == id
}

// toUnit feeds a run from another power unit that has its tap, by a straight
// cable to where the run begins.
func (v *view) toUnit(run *plan.Run, u *plan.Transformer) []Candidate {
	if u.At == nil || !slices.ContainsFunc(u.Type.TapVolts, func(tap float64) bool { return math.Abs(tap-run.TapVolts) < voltsTolerance }) {
		return nil
	}
	var first *plan.Leg
	for _, leg := range run.Legs {
		if leg.From == run.Transformer.ID || leg.To == run.Transformer.ID {
			if first != nil {
				return nil // it begins in several places
			}
			first = leg
		}
	}
	if first == nil || first.Returns != nil || first.From != run.Transformer.ID || first.Chained || v.find(first.Pointer, "length") != nil {
		return nil
	}
	to, ok := v.placeOf(first.To)
	if !ok {
		return nil
	}
	var out []Candidate
	for common := 1; common <= max(1, len(u.Type.Commons)); common++ {
		e := v.edit()
		e.set(run.Pointer, u.ID, "from", "transformer")
		if v.find(run.Pointer, "from", "common") != nil || common > 1 {
			e.set(run.Pointer, common, "from", "common")
		}
		e.set(first.Pointer, u.ID, "from")
		if pointer := first.Pointer + "/route"; v.tree.Find(pointer) != nil {
			e.remove(pointer)
		}
		new := r2.Norm(r2.Sub(to, *u.At))
		cost := v.weight("run_split") + new*(v.weight("trench_per_m")+areaOf(first.Cable)*v.weight("cable_per_m_mm2"))
		out = append(out, Candidate{Kind: "unit", Text: fmt.Sprintf("Feed run %s from common %d of %s instead of %s", run.ID, common, u.ID, run.Transformer.ID),
			Cost: cost, Patch: e.patch()})
	}
	return out
}

// thriftier offers fixtures of the catalogue that draw less in place of those of a
// loaded power unit, one type for another.
func thriftier(v *view, f *finding.Finding) []Candidate {
	t := v.unitOf(f)
	if t == nil {
		return nil
	}
	byType := map[string][]*plan.Fixture{}
	for _, fixture := range v.plan.Fixtures {
		if run := v.runOf(fixture.ID); run != nil && run.Transformer == t && !v.isArray(fixture) {
			byType[fixture.Type.ID] = append(byType[fixture.Type.ID], fixture)
		}
	}
	var out []Candidate
	for _, name := range sortedKeys(byType) {
		fixtures := byType[name]
		for _, other := range v.plan.FixtureTypes {
			if other == fixtures[0].Type || !standsIn(other, fixtures[0].Type) || drawOf(&other.Lamp) >= drawOf(&fixtures[0].Lamp) {
				continue
			}
			out = append(out, v.retype(fixtures, other))
		}
	}
	return append(out, v.smallerLamps(t)...)
}

// drawOf is what a lamp draws, in VA or else in watts.
func drawOf(l *plan.Lamp) float64 {
	switch {
	case l.VA != nil:
		return *l.VA
	case l.Watts != nil:
		return *l.Watts
	}
	return 0
}

// smallerLamps offers to fit the lamps that the types come with where the plan
// has larger ones on a power unit.
func (v *view) smallerLamps(t *plan.Transformer) []Candidate {
	return v.ownLamps(func(run *plan.Run) bool { return run.Transformer == t })
}

// fittedLamps offers the same for the run that a finding is about.
func fittedLamps(v *view, f *finding.Finding) []Candidate {
	c, ok := v.circuitOf(f)
	if !ok {
		return nil
	}
	return v.ownLamps(func(run *plan.Run) bool { return run == c.run })
}

func (v *view) ownLamps(on func(*plan.Run) bool) []Candidate {
	e := v.edit()
	var ids []string
	for _, f := range v.plan.Fixtures {
		run := v.runOf(f.ID)
		if run == nil || !on(run) || v.find(f.Pointer, "lamp") == nil || drawOf(&f.Lamp) <= drawOf(&f.Type.Lamp) || v.isArray(f) {
			continue
		}
		e.remove(f.Pointer + "/lamp")
		ids = append(ids, f.ID)
	}
	if len(ids) == 0 {
		return nil
	}
	text := "Fit the lamp that " + ids[0] + " comes with instead of a larger one"
	if len(ids) > 1 {
		text = "Fit the lamps that " + join(ids) + " come with instead of larger ones"
	}
	return []Candidate{{Kind: "lamp", Text: text,
		Cost: float64(len(ids)) * v.weight("connector"), Patch: e.patch()}}
}

// curfew offers to end a control's evening at the hour that the profile sets.
func curfew(v *view, f *finding.Finding) []Candidate {
	limit := v.limits["neighbour.curfew"]
	if f.Case != "curfew" || limit == nil || limit.Text == "" {
		return nil
	}
	for i := range v.entry.Controls {
		if v.entry.Controls[i].ID != f.Element {
			continue
		}
		pointer := source.Pointer("controls", i)
		e := v.edit()
		e.set(pointer, limit.Text, "off")
		return []Candidate{{Kind: "time", Text: fmt.Sprintf("Switch off %s at %s", f.Element, limit.Text), Cost: v.weight("setting_changed"), Patch: e.patch()}}
	}
	return nil
}

// turnSensor offers to turn a photocell away from the lamps that it switches, or
// to shade it.
func turnSensor(v *view, f *finding.Finding) []Candidate {
	pointer := v.pointer(f.Element)
	if pointer == "" || v.find(pointer, "sensor") == nil {
		return nil
	}
	var out []Candidate
	for _, bearing := range []int{0, 45, 90, 135, 180, 225, 270, 315} {
		e := v.edit()
		e.set(pointer, bearing, "sensor", "bearing")
		out = append(out, Candidate{Kind: "sensor", Text: fmt.Sprintf("Turn the sensor of %s to bearing %d", f.Element, bearing),
			Cost: v.weight("setting_changed") + tapStep*float64(bearing)/1000, Patch: e.patch()})
	}
	e := v.edit()
	e.set(pointer, true, "sensor", "shaded")
	return append(out, Candidate{Kind: "shade", Text: fmt.Sprintf("Shade the sensor of %s from its lamps", f.Element),
		Cost: v.weight("connector"), Patch: e.patch()})
}
