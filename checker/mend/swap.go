package mend

import (
	"fmt"
	"slices"

	"github.com/tailscale/hujson"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/source"
)

// use is a place in the file that names a type of the catalogue.
type use struct {
	element string // pointer of what names it
	keys    []any
}

// uses lists the places that name a type by one of the members that can.
func (v *view) uses(name string, places []use) []use {
	var out []use
	for _, u := range places {
		if found := v.find(u.element, u.keys...); found != nil {
			if literal, ok := found.Value.(hujson.Literal); ok && literal.Kind() == '"' && literal.String() == name {
				out = append(out, u)
			}
		}
	}
	return out
}

// connectorPlaces are where a plan can name a connector.
func (v *view) connectorPlaces() []use {
	out := []use{{"/defaults/fixtures", []any{"connector"}}, {"/defaults/nodes", []any{"connector"}}}
	for i := range v.entry.Runs {
		run := source.Pointer("runs", i)
		out = append(out, use{run, []any{"connector"}})
		for j := range v.entry.Runs[i].Nodes {
			out = append(out, use{run + source.Pointer("nodes", j), []any{"connector"}})
		}
	}
	for i := range v.entry.Fixtures {
		out = append(out, use{source.Pointer("fixtures", i), []any{"connector"}})
	}
	return out
}

// cablePlaces are where a plan can name a cable.
func (v *view) cablePlaces() []use {
	out := []use{{"/defaults/legs", []any{"cable"}}}
	for i := range v.entry.Runs {
		run := source.Pointer("runs", i)
		out = append(out, use{run, []any{"cable"}})
		for j := range v.entry.Runs[i].Legs {
			out = append(out, use{run + source.Pointer("legs", j), []any{"cable"}})
		}
		for j := range v.entry.Runs[i].Chain {
			out = append(out, use{run + source.Pointer("chain", j), []any{"cable"}})
		}
	}
	return out
}

// replaceName writes another name in every place that has an old one.
func (v *view) replaceName(old, name string, places []use) *edit {
	e := v.edit()
	for _, u := range v.uses(old, places) {
		e.set(u.element, name, u.keys...)
	}
	return e
}

// otherConnector offers connectors in place of a type that is not fit for where
// it is used.
func otherConnector(v *view, f *finding.Finding) []Candidate {
	var out []Candidate
	joints := 0
	for i := range v.facts.Joints {
		if v.facts.Joints[i].Connector == f.Element {
			joints++
		}
	}
	for _, c := range v.plan.ConnectorTypes {
		if c.ID == f.Element || c.Kind == "tape" || c.Kind == "piercing" || !slices.Contains(c.Listing, "direct-burial") {
			continue
		}
		out = append(out, Candidate{
			Kind: "connector", Text: fmt.Sprintf("Use connector %s in place of %s, at %s", c.ID, f.Element, counted(joints, "joint")),
			Cost:  float64(joints) * v.weight("connector"),
			Patch: v.replaceName(f.Element, c.ID, v.connectorPlaces()).patch(),
		})
	}
	return out
}

func counted(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// otherCable offers cables that are marked for the ground and for sunlight in
// place of a type that is not marked for where it lies.
func otherCable(v *view, f *finding.Finding) []Candidate {
	old := find(v.plan.CableTypes, func(c *plan.CableType) bool { return c.ID == f.Element })
	if old == nil {
		return nil
	}
	lengthM := 0.0
	for _, run := range v.plan.Runs {
		for _, leg := range run.Legs {
			if leg.Cable == old {
				lengthM += legLength(leg)
			}
		}
	}
	var out []Candidate
	for _, c := range v.plan.CableTypes {
		if c == old || areaOf(c) < areaOf(old) || c.Cores != old.Cores {
			continue
		}
		out = append(out, Candidate{
			Kind: "cable", Text: fmt.Sprintf("Use %s cable in place of %s, %s of it", c.ID, old.ID, v.say(v.up(lengthM, cableStep))),
			Cost:  lengthM * areaOf(c) * v.weight("cable_per_m_mm2"),
			Patch: v.replaceName(old.ID, c.ID, v.cablePlaces()).patch(),
		})
	}
	return out
}

func find[T any](list []*T, is func(*T) bool) *T {
	if i := slices.IndexFunc(list, is); i >= 0 {
		return list[i]
	}
	return nil
}

// otherType offers other fixtures of the catalogue: for one fixture, or for all of
// a type when the finding is on the type.
func otherType(v *view, f *finding.Finding) []Candidate {
	var fixtures []*plan.Fixture
	for _, fixture := range v.plan.Fixtures {
		if fixture.ID == f.Element || fixture.Type.ID == f.Element {
			fixtures = append(fixtures, fixture)
		}
	}
	if len(fixtures) == 0 {
		return nil
	}
	old := fixtures[0].Type
	var out []Candidate
	for _, t := range v.plan.FixtureTypes {
		if t != old && standsIn(t, old) {
			out = append(out, v.retype(fixtures, t))
		}
	}
	return out
}

// standsIn reports whether a fixture type does the job of another: one kind, made
// for the same mounting, with light as the other has.
func standsIn(t, old *plan.FixtureType) bool {
	return t.Kind == old.Kind && t.Mounting == old.Mounting && (t.Light != nil || old.Light == nil) && (t.Lamp.Lumens != nil || old.Lamp.Lumens == nil)
}

func (v *view) retype(fixtures []*plan.Fixture, t *plan.FixtureType) Candidate {
	e := v.edit()
	done := map[string]bool{}
	var ids []string
	for _, f := range fixtures {
		ids = append(ids, f.ID)
		if done[f.Pointer] {
			continue
		}
		done[f.Pointer] = true
		e.set(f.Pointer, t.ID, "type")
		if v.find(f.Pointer, "lamp") != nil {
			e.remove(f.Pointer + "/lamp")
		}
	}
	n := 0
	for _, f := range v.plan.Fixtures {
		if done[f.Pointer] {
			n++
		}
	}
	what := "for " + ids[0]
	if len(ids) > 1 {
		what = fmt.Sprintf("for %s, %s to %s", counted(len(ids), "fixture"), ids[0], ids[len(ids)-1])
	}
	return Candidate{Kind: "type", Text: fmt.Sprintf("Use a %s %s instead of the %s", t.ID, what, fixtures[0].Type.ID),
		Cost: float64(n) * v.weight("fixture_changed"), Patch: e.patch()}
}
