package mend

import (
	"fmt"
	"math"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
)

// hungWell offers to hang a fixture in a tree as the trade does.
func hungWell(v *view, f *finding.Finding) []Candidate {
	fixture := v.fixtures[f.Element]
	if fixture == nil || v.find(fixture.Pointer, "tree_mount") == nil {
		return nil
	}
	e := v.edit()
	var text string
	switch f.Case {
	case "fixing":
		e.set(fixture.Pointer, "stand-off", "tree_mount", "fixing")
		text = "Hang %s on stand-off bolts"
	case "cable":
		e.set(fixture.Pointer, "stand-off", "tree_mount", "cable_fixing")
		text = "Hold the cable of %s with stand-off clips"
	case "foot":
		e.set(fixture.Pointer, true, "tree_mount", "protected")
		text = "Sleeve the cable of %s at the foot of the trunk"
	case "growth":
		need := v.up(v.limit("site.tree_growth_min_m", 0), spareStep)
		e.set(fixture.Pointer, v.length(fixture.Pointer+"/tree_mount/growth_slack", need), "tree_mount", "growth_slack")
		text = "Leave " + v.say(need) + " of spare cable on the trunk for %s"
	default:
		return nil
	}
	return []Candidate{{Kind: "hang", Text: fmt.Sprintf(text, fixture.ID), Cost: v.weight("connector"), Patch: e.patch()}}
}

// closeLoop offers to land the far end of a loop on the terminals that its run
// starts from.
func closeLoop(v *view, f *finding.Finding) []Candidate {
	leg := v.legs[f.Element]
	if leg == nil || leg.Returns == nil || leg.Returns.Transformer != leg.Run.Transformer {
		return nil
	}
	e := v.edit()
	r, run := leg.Returns, leg.Run
	if r.Common != run.Common {
		e.set(leg.Pointer, run.Common, "returns", "common")
	}
	if math.Abs(r.TapVolts-run.TapVolts) > voltsTolerance {
		e.set(leg.Pointer, v.volts(leg.Pointer+"/returns/tap", run.TapVolts), "returns", "tap")
	}
	if r.Swapped {
		e.set(leg.Pointer, "same", "returns", "conductor")
	}
	return []Candidate{{Kind: "loop", Text: fmt.Sprintf("Land the far end of leg %s on common %d and the %g V tap of %s, conductor to conductor",
		leg.ID, run.Common, run.TapVolts, run.Transformer.ID), Cost: v.weight("tap_changed"), Patch: e.patch()}}
}

// lampKinds offers to give the filament lamps of a run, or the others, a run of
// their own, where one cable feeds just these.
func lampKinds(v *view, f *finding.Finding) []Candidate {
	run := v.runs[f.Element]
	if run == nil || run.Transformer == nil {
		return nil
	}
	var out []Candidate
	for _, leg := range run.Legs {
		path := v.pathTo(run, leg.To)
		if len(path) < 2 || path[len(path)-1] != leg {
			continue
		}
		b := branch{run, path[:len(path)-1], leg, leg.To, downstream(run, leg, leg.To), 0, false}
		inside, outside := v.kinds(run, b.ends)
		if inside != "" && outside != "" && inside != outside {
			if c, ok := v.split(&b); ok {
				out = append(out, c)
			}
		}
	}
	return out
}

// kinds are the kinds of lamp among some ends of a run, and among the others:
// "filament" or "led", and empty where there is none or both.
func (v *view) kinds(run *plan.Run, in map[string]bool) (inside, outside string) {
	const both = "both"
	note := func(kind *string, name string) {
		switch *kind {
		case "":
			*kind = name
		case name:
		default:
			*kind = both
		}
	}
	for _, id := range sortedKeys(ends(run)) {
		f := v.fixtures[id]
		if f == nil || f.Lamp.Load == "resistive" {
			continue
		}
		name := "led"
		if f.Lamp.Load == "filament" {
			name = "filament"
		}
		if in[id] {
			note(&inside, name)
		} else {
			note(&outside, name)
		}
	}
	if inside == both {
		inside = ""
	}
	if outside == both {
		outside = ""
	}
	return inside, outside
}

// oneKind offers to use lamps of one kind on a run, from the catalogue.
func oneKind(v *view, f *finding.Finding) []Candidate {
	run := v.runs[f.Element]
	if run == nil {
		return nil
	}
	byType := map[string][]*plan.Fixture{}
	for _, fixture := range v.plan.Fixtures {
		if v.runOf(fixture.ID) == run && fixture.Lamp.Load == "filament" {
			byType[fixture.Type.ID] = append(byType[fixture.Type.ID], fixture)
		}
	}
	if len(byType) != 1 {
		return nil
	}
	var out []Candidate
	for _, name := range sortedKeys(byType) {
		fixtures := byType[name]
		for _, t := range v.plan.FixtureTypes {
			if t.Lamp.Load != "filament" && t.Lamp.Load != "resistive" && standsIn(t, fixtures[0].Type) {
				out = append(out, v.retype(fixtures, t))
			}
		}
	}
	return out
}

// equalLeads offers to drop the claim that the leads of a hub are equal. It is
// what the plan means to build, so to mean otherwise is a choice of design.
func equalLeads(v *view, f *finding.Finding) []Candidate {
	run := v.runs[f.Element]
	if run == nil || f.Case != "leads" {
		return nil
	}
	e := v.edit()
	e.set(run.Pointer, false, "equal_leads")
	return []Candidate{{Kind: "leads", Text: fmt.Sprintf("Do not ask for equal leads on run %s", run.ID), Cost: v.weight("setting_changed"), Patch: e.patch()}}
}
