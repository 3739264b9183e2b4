package mend

import (
	"cmp"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
)

// newKind offers a light of the catalogue that the plan does not use yet, on a
// stake beside a dark place.
func newKind(v *view, f *finding.Finding) []Candidate {
	g, ok := v.groundOf(f)
	if !ok {
		return nil
	}
	used := map[string]bool{}
	var near *plan.Fixture
	for _, fixture := range v.plan.Fixtures {
		used[fixture.Type.ID] = true
		if fixture.At != nil && (near == nil || r2.Norm(r2.Sub(*fixture.At, g.at)) < r2.Norm(r2.Sub(*near.At, g.at))) {
			near = fixture
		}
	}
	if near == nil {
		return nil
	}
	var out []Candidate
	for _, t := range v.plan.FixtureTypes {
		if used[t.ID] || t.Kind != "path" && t.Kind != "bollard" || t.Light == nil {
			continue
		}
		stood := &plan.Fixture{Element: near.Element, Type: t, At: near.At, Mount: "stake"}
		for _, at := range v.placesLike(stood, &g) {
			if c, ok := v.staked(near, t, at, &g); ok {
				out = append(out, c)
			}
		}
	}
	return out
}

// stakeHeightM is how high a path light shines that nobody has set yet, 18 in;
// common practice, no source.
const stakeHeightM = 18 * metresPerInch

// staked adds a light of a type, wired like the nearest fixture.
func (v *view) staked(near *plan.Fixture, t *plan.FixtureType, at spotLike, g *ground) (Candidate, bool) {
	id := v.freshID("P0")
	var group, level any
	if near.Group != "" {
		group = near.Group
	}
	if g.levelM > nothing {
		level = v.say(g.levelM)
	}
	e := v.edit()
	e.add("", object("id", id, "type", t.ID, "at", at.value, "elevation", level,
		"height", v.say(v.up(stakeHeightM, heightStep)), "mount", "stake", "group", group), "fixtures")
	fed, cost, ok := v.feed(e, near, g.at, "", id, "")
	text := fmt.Sprintf("Add a %s, %s, %s to light %s%s", t.ID, id, at.words, g.name, fed)
	return Candidate{Kind: "add", Text: text, Cost: v.weight("fixture_added") + cost + tapStep, Patch: e.patch()}, ok
}

// feed adds a cable to a new fixture like the one that feeds another, from an end
// that is given or the nearest of the same run, with an id after that of another
// leg. A plan without runs has no cables. It returns words for where it is fed
// from, and what the cable costs.
func (v *view) feed(e *edit, like *plan.Fixture, at r2.Vec, from, to, legLike string) (words string, cost float64, ok bool) {
	leg := v.feedOf(like)
	if leg == nil {
		return "", 0, len(v.plan.Runs) == 0
	}
	end, way := v.nearestEnd(leg.Run, at)
	if from != "" {
		end = from
	}
	old := v.find(leg.Pointer)
	if leg.Chained {
		e.add(leg.Run.Pointer, copyWith(old, map[string]any{"to": to, "from": end}, "length"), "chain")
	} else {
		id := v.freshID(cmp.Or(legLike, leg.ID))
		e.add(leg.Run.Pointer, copyWith(old, map[string]any{"id": id, "from": end, "to": to}, "length", "route", "returns"), "legs")
	}
	cost = v.weight("connector") + way*(v.weight("trench_per_m")+areaOf(leg.Cable)*v.weight("cable_per_m_mm2"))
	return ", fed from " + end, cost, true
}

// nearestEnd is the end of a run that is nearest to a place, and how far it is
// away. Its transformer counts only when nothing else has a place.
func (v *view) nearestEnd(run *plan.Run, to r2.Vec) (id string, away float64) {
	id, away = run.Transformer.ID, math.Inf(1)
	for _, end := range sortedKeys(ends(run)) {
		p, ok := v.placeOf(end)
		if d := r2.Norm(r2.Sub(p, to)); ok && end != run.Transformer.ID && d < away {
			id, away = end, d
		}
	}
	if math.IsInf(away, 1) {
		away = 0
	}
	return id, away
}

// feedOf is the leg that feeds a fixture.
func (v *view) feedOf(f *plan.Fixture) *plan.Leg {
	run := v.runOf(f.ID)
	if run == nil || run.Transformer == nil {
		return nil
	}
	path := v.pathTo(run, f.ID)
	if len(path) == 0 {
		return nil
	}
	return path[len(path)-1]
}
