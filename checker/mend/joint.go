package mend

import (
	"cmp"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// roomierConnector offers a connector that takes the conductors that meet at a
// joint.
func roomierConnector(v *view, f *finding.Finding) []Candidate {
	if f.Value == nil || f.Case != "joint" {
		return nil
	}
	pointer := v.pointer(f.Element)
	buried := true
	for i := range v.facts.Joints {
		if j := &v.facts.Joints[i]; j.ID == f.Element {
			buried = j.Buried
		}
	}
	var out []Candidate
	for _, c := range v.plan.ConnectorTypes {
		if c.MostConductors == nil || float64(*c.MostConductors) < *f.Value || buried && !slices.Contains(c.Listing, "direct-burial") {
			continue
		}
		e := v.edit()
		e.set(pointer, c.ID, "connector")
		out = append(out, Candidate{Kind: "connector", Text: fmt.Sprintf("Use connector %s at %s, which takes %d conductors", c.ID, f.Element, *c.MostConductors),
			Cost: v.weight("connector") + tapStep*float64(*c.MostConductors), Patch: e.patch()})
	}
	return out
}

// mostHangs is how many ways to hang a cable elsewhere are offered.
const mostHangs = 4

// hangElsewhere offers to feed one of the cables of a crowded joint from the
// nearest other place of its run.
func hangElsewhere(v *view, f *finding.Finding) []Candidate {
	if f.Case != "joint" {
		return nil
	}
	var out []Candidate
	for _, run := range v.plan.Runs {
		for _, leg := range run.Legs {
			if leg.From != f.Element || leg.Chained || leg.Returns != nil || len(leg.Route) != 2 || v.find(leg.Pointer, "length") != nil {
				continue
			}
			if c, ok := v.hang(leg); ok {
				out = append(out, c)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Candidate) int { return cmp.Compare(a.Cost, b.Cost) })
	return out[:min(len(out), mostHangs)]
}

// hang feeds a leg from the nearest other end of its run that does not hang on
// it.
func (v *view) hang(leg *plan.Leg) (Candidate, bool) {
	to := leg.Route[len(leg.Route)-1]
	below := downstream(leg.Run, leg, leg.To)
	best, at, least := "", r2.Vec{}, farthestMove*3
	for _, id := range sortedKeys(ends(leg.Run)) {
		p, ok := v.placeOf(id)
		if !ok || below[id] || id == leg.From || id == leg.Run.Transformer.ID {
			continue
		}
		if d := r2.Norm(r2.Sub(p, to)); d < least {
			best, at, least = id, p, d
		}
	}
	if best == "" {
		return Candidate{}, false
	}
	e := v.edit()
	e.set(leg.Pointer, best, "from")
	longer := max(0, r2.Norm(r2.Sub(at, to))-r2.Norm(r2.Sub(leg.Route[0], to)))
	return Candidate{Kind: "hang", Text: fmt.Sprintf("Feed %s from %s instead of %s", leg.To, best, leg.From),
		Cost:  v.weight("connector") + longer*(v.weight("trench_per_m")+areaOf(leg.Cable)*v.weight("cable_per_m_mm2")),
		Patch: e.patch()}, true
}

// moveNode offers to move a joint out from under what covers it.
func moveNode(v *view, f *finding.Finding) []Candidate {
	node := v.nodes[f.Element]
	if node == nil || node.At == nil || v.plan.Site == nil {
		return nil
	}
	r := &room{at: *node.At}
	s := v.plan.Site
	for _, p := range s.Paths {
		r.keep(site.Strip{Centreline: site.Line(p.Centreline), WidthM: p.WidthM}.Distance)
	}
	var outlines []site.Polygon
	for _, d := range s.Drives {
		outlines = append(outlines, d.Outline)
	}
	for _, d := range s.Decks {
		outlines = append(outlines, d.Outline)
	}
	for _, a := range s.Areas {
		outlines = append(outlines, a.Outline)
	}
	for _, l := range s.Landings {
		outlines = append(outlines, l.Outline)
	}
	for _, b := range s.Buildings {
		outlines = append(outlines, b.Outline)
	}
	for _, outline := range outlines {
		r.keep(outline.Distance)
	}
	if len(r.harsh) == 0 {
		return nil
	}
	return v.relocate(node.Pointer, node.ID, *node.At, r, v.weight("connector"))
}

// relocate offers the least moves of a thing that is not a fixture.
func (v *view) relocate(element, id string, from r2.Vec, r *room, cost float64) []Candidate {
	var out []Candidate
	for _, way := range r.ways() {
		for _, s := range v.spots(element, "at", from, way) {
			by := r2.Norm(r2.Sub(s.at, from))
			if r.clear(s.at) < 0 || by < nothing {
				continue
			}
			e := v.edit()
			s.set(e, element)
			more := v.stretch(e, id, from, s.at)
			out = append(out, Candidate{Kind: "move", Text: fmt.Sprintf("Move %s %s to the %s", id, v.say(v.about(by)), compass(site.Bearing(from, s.at))),
				Cost: cost + by*v.weight("fixture_moved_per_m") + more, Patch: e.patch()})
			break
		}
	}
	return out
}
