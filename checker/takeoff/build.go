package takeoff

import (
	"context"
	"fmt"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// builder makes the schedules of one plan.
type builder struct {
	plan  *plan.Plan
	facts *facts.Document
	out   *Schedule
}

// Of makes the schedules of a resolved plan and its facts. The caution is
// printed with them. The same plan gives the same schedules. It fails when the
// room left on a run cannot be worked out, or with the context's error.
func Of(ctx context.Context, p *plan.Plan, doc *facts.Document, caution string) (*Schedule, error) {
	spare, err := facts.SpareVA(ctx, p, doc)
	if err != nil {
		return nil, fmt.Errorf("schedules: %w", err)
	}
	b := &builder{plan: p, facts: doc, out: &Schedule{
		Format: Format, Title: p.Title, Stage: p.Stage, Today: doc.Today, Units: p.Units, Caution: caution,
		Transformers: []Transformer{}, Commons: []Common{}, Runs: []Run{}, Legs: []Leg{}, Lamps: []Lamp{},
		Treads: []Lit{}, Paths: []Lit{}, FixtureTypes: []FixtureType{}, Joints: []Joint{}, Trenches: []Trench{},
		Purchases: []Purchase{}, Scenes: []Scene{}, Aims: []Aim{}, Assumed: []Assumption{}, Readings: []Expected{}, OneLines: []OneLine{},
	}}
	b.transformers()
	b.runs(spare)
	b.legs()
	b.lamps()
	b.light()
	b.fixtureTypes()
	b.joints()
	b.trenches()
	b.purchases()
	b.scenes()
	b.aims()
	b.assumptions()
	b.readings()
	b.oneLines()
	return b.out, nil
}

// limit is a numeric limit of the profile; nought where there is none.
func (b *builder) limit(name string) float64 {
	if l := b.limitNamed(name); l != nil {
		return *l.Value
	}
	return 0
}

// some is a list that is never null.
func some(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}
