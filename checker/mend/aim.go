package mend

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// degree is how coarsely an aim is set by hand.
const degree = 5.0

// bestAim offers the aim that lands most light on a tree.
func bestAim(v *view, f *finding.Finding) []Candidate {
	fixture := v.fixtures[f.Element]
	if fixture == nil || v.isArray(fixture) {
		return nil
	}
	var out []Candidate
	for i := range v.facts.Beams {
		b := &v.facts.Beams[i]
		if b.ID == f.Element && b.BestTiltDeg != nil && b.BestBearingDeg != nil {
			for _, step := range []float64{degree, 1} {
				out = append(out, v.aimed(fixture, round(*b.BestBearingDeg, step), round(*b.BestTiltDeg, step), 1/step))
			}
		}
	}
	return out
}

func round(x, step float64) float64 { return math.Round(x/step) * step }

// aimed points a fixture. fine makes an aim that needs a finer scale dearer by a
// little.
func (v *view) aimed(f *plan.Fixture, bearing, tilt, fine float64) Candidate {
	e := v.edit()
	bearing = site.NormalBearing(bearing)
	e.set(f.Pointer, object("bearing", plainNumber(bearing, 0), "tilt", plainNumber(tilt, 0)), "aim")
	return Candidate{
		Kind:  "aim",
		Text:  fmt.Sprintf("Aim %s at bearing %g, tipped %g degrees from straight down", f.ID, bearing, tilt),
		Cost:  v.weight("setting_changed") + tapStep*fine,
		Patch: e.patch(),
	}
}

// lowerAim offers to tip a light down, by little first, and to turn it away.
func lowerAim(v *view, f *finding.Finding) []Candidate {
	var out []Candidate
	for _, id := range v.culprits(f) {
		fixture := v.fixtures[id]
		if fixture == nil || v.isArray(fixture) || v.find(fixture.Pointer, "aim") == nil {
			continue
		}
		fact := v.fixtureFacts[id]
		if fact.AimTiltDeg == nil {
			continue
		}
		bearing := v.bearingOf(fixture)
		for by := degree; *fact.AimTiltDeg-by >= 0; by = math.Max(by+degree, by*1.3) {
			out = append(out, v.aimed(fixture, bearing, round(*fact.AimTiltDeg-by, degree), by))
		}
		for _, turn := range []float64{-30, 30, -60, 60, -90, 90} {
			out = append(out, v.aimed(fixture, round(bearing+turn, degree), round(*fact.AimTiltDeg, degree), math.Abs(turn)))
		}
	}
	return out
}

// treeReachM is how far away a tree may stand that a light is aimed at.
const treeReachM = 8.0

// atTree offers to aim a light at the trees that stand near it, the nearest first.
func atTree(v *view, f *finding.Finding) []Candidate {
	if v.plan.Site == nil {
		return nil
	}
	var out []Candidate
	for _, id := range v.culprits(f) {
		fixture := v.fixtures[id]
		if fixture == nil || fixture.At == nil || v.isArray(fixture) || v.find(fixture.Pointer, "aim") == nil {
			continue
		}
		for _, t := range v.plan.Site.Trees {
			far := r2.Norm(r2.Sub(t.At, *fixture.At))
			if !t.HasCanopy || far > treeReachM || far < nothing {
				continue
			}
			e := v.edit()
			e.set(fixture.Pointer, object("tree", t.ID), "aim")
			out = append(out, Candidate{Kind: "aim", Text: fmt.Sprintf("Aim %s at tree %s", id, t.ID),
				Cost: v.weight("setting_changed") + tapStep*far, Patch: e.patch()})
		}
	}
	return out
}

// bearingOf is where a fixture points on the plan.
func (v *view) bearingOf(f *plan.Fixture) float64 {
	switch {
	case f.AimAt != nil && f.At != nil:
		return site.Bearing(*f.At, f.AimAt.At)
	case f.AimBearing != nil:
		return *f.AimBearing
	}
	return 0
}

// culprits are the fixtures that a finding on light is due to: the one it is
// about, or those that give most where it is.
func (v *view) culprits(f *finding.Finding) []string {
	if v.fixtures[f.Element] != nil {
		return []string{f.Element}
	}
	var out []string
	for i := range v.facts.Boundary {
		if b := &v.facts.Boundary[i]; b.ID == f.Element && b.Worst != "" {
			out = append(out, missing(out, []string{b.Worst})...)
		}
	}
	for i := range v.facts.Controls {
		if c := &v.facts.Controls[i]; c.ID == f.Element && c.SensorWorst != "" {
			out = append(out, c.SensorWorst)
		}
	}
	return out
}

// dimmed offers to run a light at less than full level.
func dimmed(v *view, f *finding.Finding) []Candidate {
	var out []Candidate
	for _, id := range v.culprits(f) {
		fixture := v.fixtures[id]
		if fixture == nil || v.isArray(fixture) || fixture.Type.Dimmable == nil || !*fixture.Type.Dimmable {
			continue
		}
		for _, level := range []float64{80, 60, 40, 20} {
			if level/100 >= fixture.Level {
				continue
			}
			e := v.edit()
			e.set(fixture.Pointer, fmt.Sprintf("%g %%", level), "level")
			out = append(out, Candidate{Kind: "level", Text: fmt.Sprintf("Run %s at %g %% of its light", id, level),
				Cost: v.weight("setting_changed") + tapStep*(100-level), Patch: e.patch()})
		}
	}
	return out
}

// lessLight offers fixtures of the catalogue that give less light, or are better
// shielded, for those that a finding is due to.
func lessLight(v *view, f *finding.Finding) []Candidate {
	var out []Candidate
	for _, id := range v.culprits(f) {
		fixture := v.fixtures[id]
		if fixture == nil || v.isArray(fixture) {
			continue
		}
		for _, t := range v.plan.FixtureTypes {
			if t != fixture.Type && standsIn(t, fixture.Type) {
				out = append(out, v.retype([]*plan.Fixture{fixture}, t))
			}
		}
	}
	return out
}

// ownLamp offers to fit the lamps that the fixtures come with which a finding is
// due to, where the plan has larger ones.
func ownLamp(v *view, f *finding.Finding) []Candidate {
	var out []Candidate
	for _, id := range v.culprits(f) {
		fixture := v.fixtures[id]
		if fixture == nil || v.isArray(fixture) || v.find(fixture.Pointer, "lamp") == nil {
			continue
		}
		e := v.edit()
		e.remove(fixture.Pointer + "/lamp")
		out = append(out, Candidate{Kind: "lamp", Text: fmt.Sprintf("Fit the lamp that %s comes with", id), Cost: v.weight("connector"), Patch: e.patch()})
	}
	return out
}

// fartherIn offers to move a light away from the property line that it shines
// over.
func fartherIn(v *view, f *finding.Finding) []Candidate {
	if v.plan.Site == nil || len(v.plan.Site.PropertyLine) < 3 {
		return nil
	}
	land := site.Polygon(v.plan.Site.PropertyLine)
	var out []Candidate
	for _, id := range v.culprits(f) {
		fixture := v.fixtures[id]
		if fixture == nil || fixture.At == nil || v.isArray(fixture) {
			continue
		}
		for _, by := range []float64{0.5, 1, 1.5, 2, 3} {
			r := v.roomFor(fixture)
			far := by - land.Distance(*fixture.At)
			r.keep(func(p r2.Vec) float64 { return -land.Distance(p) - far })
			if at, ok := site.LeastMove(r.at, r.clear, farthestMove); ok {
				if c, ok := v.moveTo(fixture, at, r.clear); ok {
					out = append(out, c)
				}
			}
		}
	}
	return out
}
