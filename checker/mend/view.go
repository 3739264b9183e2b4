package mend

import (
	"fmt"

	"github.com/tailscale/hujson"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
	"duskproof/checker/source"
)

// view is one plan as candidates are made from it: its text, what it resolves
// to, and what was computed from it. It is not changed once it is made.
type view struct {
	text  []byte
	tree  hujson.Value
	entry *plan.Document
	plan  *plan.Plan
	facts *facts.Document

	fixtures     map[string]*plan.Fixture
	legs         map[string]*plan.Leg
	nodes        map[string]*plan.Node
	runs         map[string]*plan.Run
	transformers map[string]*plan.Transformer

	fixtureFacts map[string]*facts.Fixture
	legFacts     map[string]*facts.Leg
	runFacts     map[string]*facts.Run
	limits       map[string]*facts.Limit
}

func newView(text []byte, out Outcome) (*view, error) {
	v := &view{text: text, plan: out.Plan, facts: out.Facts}
	var err error
	if v.tree, err = hujson.Parse(text); err != nil {
		return nil, fmt.Errorf("read the plan: %w", err)
	}
	if v.entry, err = plan.Decode(text); err != nil {
		return nil, fmt.Errorf("read the plan: %w", err)
	}
	v.fixtures = index(v.plan.Fixtures, func(f *plan.Fixture) string { return f.ID })
	v.transformers = index(v.plan.Transformers, func(t *plan.Transformer) string { return t.ID })
	v.runs = index(v.plan.Runs, func(r *plan.Run) string { return r.ID })
	v.legs, v.nodes = map[string]*plan.Leg{}, map[string]*plan.Node{}
	for _, run := range v.plan.Runs {
		for _, leg := range run.Legs {
			v.legs[leg.ID] = leg
		}
		for _, node := range run.Nodes {
			v.nodes[node.ID] = node
		}
	}
	v.fixtureFacts = indexed(v.facts.Fixtures, func(f *facts.Fixture) string { return f.ID })
	v.legFacts = indexed(v.facts.Legs, func(l *facts.Leg) string { return l.ID })
	v.runFacts = indexed(v.facts.Runs, func(r *facts.Run) string { return r.ID })
	v.limits = indexed(v.facts.Limits, func(l *facts.Limit) string { return l.Name })
	return v, nil
}

func index[T any](list []*T, id func(*T) string) map[string]*T {
	out := make(map[string]*T, len(list))
	for _, item := range list {
		out[id(item)] = item
	}
	return out
}

func indexed[T any](list []T, id func(*T) string) map[string]*T {
	out := make(map[string]*T, len(list))
	for i := range list {
		out[id(&list[i])] = &list[i]
	}
	return out
}

// limit returns a numeric limit, or fallback where no profile has it.
func (v *view) limit(name string, fallback float64) float64 {
	if l := v.limits[name]; l != nil && l.Value != nil {
		return *l.Value
	}
	return fallback
}

// weight is a cost of the profile; nought where no profile has it.
func (v *view) weight(name string) float64 { return v.limit("cost."+name, 0) }

// pointer is where an element stands in the file; empty for an unknown id.
func (v *view) pointer(id string) string {
	if e := v.plan.Elements[id]; e != nil {
		return e.Pointer
	}
	return ""
}

// find returns what the file has at a pointer, nil when nothing.
func (v *view) find(pointer string, keys ...any) *hujson.Value {
	return v.tree.Find(pointer + source.Pointer(keys...))
}

// runOf is the first run that reaches a fixture.
func (v *view) runOf(fixture string) *plan.Run {
	if f := v.fixtures[fixture]; f != nil && len(f.Runs) > 0 {
		return f.Runs[0]
	}
	return nil
}

// isArray reports whether a fixture belongs to an array, so that it cannot be
// changed alone.
func (v *view) isArray(f *plan.Fixture) bool { return v.find(f.Pointer, "array") != nil }
