package mend

import (
	"fmt"
	"math"
	"slices"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
)

// deeper offers to lay a leg as deep as a finding asks: the leg alone, or, where
// several are too shallow, all that have their cover from the same run.
func deeper(v *view, f *finding.Finding) []Candidate {
	leg := v.legs[f.Element]
	if leg == nil || f.Limit == nil || f.Unit != "m" {
		return nil
	}
	need := v.up(v.deepestNeed(leg.ID, *f.Limit), depthStep)
	out := []Candidate{v.deepen([]*plan.Leg{leg}, leg.Pointer, need)}
	run := leg.Run
	own := v.find(leg.Pointer, "cover") != nil
	if own || v.find(run.Pointer, "cover") == nil {
		return out
	}
	var all []*plan.Leg
	shallow := 0
	for _, l := range run.Legs {
		if v.find(l.Pointer, "cover") != nil {
			continue
		}
		all = append(all, l)
		if l.CoverM != nil && v.deepestNeed(l.ID, 0) > *l.CoverM+nothing {
			shallow++
		}
		need = math.Max(need, v.up(v.deepestNeed(l.ID, need), depthStep))
	}
	if shallow > 1 {
		whole := v.deepen(all, run.Pointer, need)
		whole.Kind, whole.Wide = "run's cover", true
		whole.Text = fmt.Sprintf("Lay run %s with %s of cover", run.ID, v.say(need))
		if leg.CoverM != nil {
			whole.Text += " instead of " + v.say(*leg.CoverM)
		}
		if len(all) < len(run.Legs) {
			whole.Text += ", but for the legs that state their own"
		}
		out = append(out, whole)
	}
	return out
}

// deepestNeed is the deepest cover that anything above a leg asks for, and a
// least one.
func (v *view) deepestNeed(leg string, least float64) float64 {
	for i := range v.facts.Pieces {
		p := &v.facts.Pieces[i]
		if p.ID == leg && !p.Exempt && p.RequiredM != nil {
			least = math.Max(least, *p.RequiredM)
		}
	}
	return least
}

// deepen states a cover on a leg or a run.
func (v *view) deepen(legs []*plan.Leg, element string, need float64) Candidate {
	e := v.edit()
	e.set(element, v.length(element+"/cover", need), "cover")
	cost := 0.0
	var names []string
	for _, leg := range legs {
		cost += legLength(leg) * v.weight("deeper_per_m")
		names = append(names, leg.ID)
	}
	text := fmt.Sprintf("Lay %s with %s of cover", theLegs(names), v.say(need))
	if leg := legs[0]; len(legs) == 1 && leg.CoverM != nil {
		text += " instead of " + v.say(*leg.CoverM)
	}
	return Candidate{Kind: "cover", Text: text, Cost: cost, Patch: e.patch()}
}

// sleeved offers to draw a leg through a sleeve: where it crosses something, or
// all along.
func sleeved(v *view, f *finding.Finding) []Candidate {
	leg := v.legs[f.Element]
	if leg == nil || leg.Chained {
		return nil // a step of a chain has no sleeve
	}
	crossing := 0.0
	if f.Value != nil && f.Unit == "m" {
		crossing = *f.Value
	}
	return []Candidate{v.sleeve(leg, "crossings", crossing), v.sleeve(leg, "whole", legLength(leg))}
}

// sleeve puts a leg into a sleeve like those that the plan has.
func (v *view) sleeve(leg *plan.Leg, where string, lengthM float64) Candidate {
	e := v.edit()
	like := v.usualSleeve()
	text := fmt.Sprintf("Draw leg %s through a %s where it crosses", leg.ID, like.words)
	value := object("material", like.material, "size", like.size, "where", where)
	if where == "whole" {
		text = fmt.Sprintf("Draw leg %s through a %s all along", leg.ID, like.words)
		value = object("material", like.material, "size", like.size)
	}
	e.set(leg.Pointer, value, "sleeve")
	return Candidate{Kind: "sleeve", Text: text, Cost: lengthM * v.weight("sleeve_per_m"), Patch: e.patch()}
}

// pipe is a sleeve to use.
type pipe struct{ material, size, words string }

// usualSleeve is the first sleeve of the plan, else the trade's usual one.
func (v *view) usualSleeve() pipe {
	out := pipe{material: "pvc", size: "25 mm"}
	if v.plan.Units == "ft" {
		out.size = "1 in"
	}
	for _, run := range v.plan.Runs {
		for _, leg := range run.Legs {
			if s := leg.Sleeve; s != nil && s.Size != "" {
				out.material, out.size = s.Material, s.Size
				out.words = s.Size + " " + s.Material + " sleeve"
				return out
			}
		}
	}
	out.words = out.size + " " + out.material + " sleeve"
	return out
}

// moreSlack offers spare cable at a fixture, or at all fixtures of a run that
// have too little.
func moreSlack(v *view, f *finding.Finding) []Candidate {
	if f.Limit == nil {
		return nil
	}
	need := v.up(*f.Limit, spareStep)
	if fixture := v.fixtures[f.Element]; fixture != nil {
		return []Candidate{v.slacken([]*plan.Fixture{fixture}, need)}
	}
	run := v.runs[f.Element]
	if run == nil {
		return nil
	}
	var short []*plan.Fixture
	for _, fixture := range v.plan.Fixtures {
		if slices.Contains(fixture.Runs, run) && fixture.SlackM < need {
			short = append(short, fixture)
		}
	}
	if len(short) == 0 {
		return nil
	}
	return []Candidate{v.slacken(short, need), v.slackenAll(short, need)}
}

func (v *view) slacken(fixtures []*plan.Fixture, need float64) Candidate {
	e := v.edit()
	done := map[string]bool{}
	cost := 0.0
	for _, f := range fixtures {
		if !done[f.Pointer] {
			done[f.Pointer] = true
			e.set(f.Pointer, v.length(f.Pointer+"/slack", need), "slack")
		}
		cost += v.slackCost(f, need)
	}
	text := fmt.Sprintf("Leave %s of spare cable at %s", v.say(need), fixtures[0].ID)
	if len(fixtures) > 1 {
		text = fmt.Sprintf("Leave %s of spare cable at each of %d fixtures, %s to %s", v.say(need), len(fixtures), fixtures[0].ID, fixtures[len(fixtures)-1].ID)
	}
	return Candidate{Kind: "slack", Text: text, Cost: cost, Patch: e.patch()}
}

// slackenAll states the spare cable once, for every fixture that states none.
func (v *view) slackenAll(fixtures []*plan.Fixture, need float64) Candidate {
	e := v.edit()
	switch {
	case v.tree.Find("/defaults") == nil:
		e.set("", object("fixtures", object("slack", v.say(need))), "defaults")
	case v.tree.Find("/defaults/fixtures") == nil:
		e.set("/defaults", object("slack", v.say(need)), "fixtures")
	default:
		e.set("/defaults/fixtures", v.length("/defaults/fixtures/slack", need), "slack")
	}
	cost := 0.0
	for _, f := range v.plan.Fixtures {
		if v.find(f.Pointer, "slack") == nil {
			cost += v.slackCost(f, need)
		}
	}
	return Candidate{Kind: "slack", Text: fmt.Sprintf("Leave %s of spare cable at every fixture", v.say(need)), Cost: cost - tapStep, Patch: e.patch()}
}

func (v *view) slackCost(f *plan.Fixture, need float64) float64 {
	area := 0.0
	for _, run := range f.Runs {
		for _, leg := range run.Legs {
			if leg.To == f.ID || leg.From == f.ID {
				area += areaOf(leg.Cable)
			}
		}
	}
	return math.Max(0, need-f.SlackM) * area * v.weight("cable_per_m_mm2")
}

// onGravel offers a bed of gravel under a fixture that lies in the ground.
func onGravel(v *view, f *finding.Finding) []Candidate {
	fixture := v.fixtures[f.Element]
	if fixture == nil {
		return nil
	}
	need := v.up(v.limit("earth.gravel_m", 0), depthStep)
	e := v.edit()
	if v.find(fixture.Pointer, "drainage") == nil {
		e.set(fixture.Pointer, object("gravel", v.say(need)), "drainage")
	} else {
		e.set(fixture.Pointer, v.length(fixture.Pointer+"/drainage/gravel", need), "drainage", "gravel")
	}
	return []Candidate{{Kind: "gravel", Text: fmt.Sprintf("Set %s on %s of gravel", fixture.ID, v.say(need)),
		Cost: v.weight("setting_changed") + need*v.weight("deeper_per_m"), Patch: e.patch()}}
}
