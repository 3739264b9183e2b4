package facts

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
)

// joints lists every place where conductors are joined: nodes, and fixtures
// that a leg reaches.
func (j *join) joints() {
	touching := j.touching()
	for _, run := range j.plan.Runs {
		for _, n := range run.Nodes {
			out := joint(n.ID, n.Connector, touching[n.ID])
			out.Place, out.Accessible = n.Place, n.Accessible
			out.Buried = out.Buried && !j.rises(n.ID) || n.Place == "buried"
			if n.At != nil {
				out.Under = j.under(*n.At)
			}
			j.doc.Joints = append(j.doc.Joints, out)
		}
	}
	for _, f := range j.plan.Fixtures {
		if len(touching[f.ID]) == 0 {
			continue
		}
		out := joint(f.ID, f.Connector, touching[f.ID])
		out.IsFixture = true
		out.Buried = out.Buried && j.stands(f)
		if f.Type.Lead != nil || f.Connector != nil {
			out.Conductors++ // the fixture's own lead
		}
		j.doc.Joints = append(j.doc.Joints, out)
	}
}

// touching lists the legs that begin or end at each end.
func (j *join) touching() map[string][]*plan.Leg {
	out := map[string][]*plan.Leg{}
	for _, run := range j.plan.Runs {
		for _, leg := range run.Legs {
			out[leg.From] = append(out[leg.From], leg)
			out[leg.To] = append(out[leg.To], leg)
		}
	}
	return out
}

func joint(id string, c *plan.ConnectorType, legs []*plan.Leg) Joint {
	out := Joint{ID: id, Conductors: len(legs)}
	for _, leg := range legs {
		out.Buried = out.Buried || inGround(leg.Method)
	}
	if c != nil {
		out.Connector, out.Kind, out.MostConductors = c.ID, c.Kind, c.MostConductors
		out.Listing = append([]string{}, c.Listing...)
	}
	return out
}

// under lists what lies above a joint and makes it hard to reach. A joint on
// the edge of paving, or on the wall of a building, is not under it.
func (j *join) under(at r2.Vec) []string {
	var out []string
	for _, s := range j.ground.surfaces.At(at, 0, 0) {
		c, word, depth := j.ground.covering[s.ID], "", edgeM
		switch {
		case c.kind == "building":
			word, depth = c.kind, drawnM
		case c.kind == "deck":
			word = c.kind
		case isDrive(c.kind):
			word = "drive"
		case c.paving == paved:
			word = "paving"
		}
		if word != "" && -s.DistanceM > depth && !slices.Contains(out, word) {
			out = append(out, word)
		}
	}
	slices.Sort(out)
	return out
}
