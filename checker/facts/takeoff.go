package facts

import (
	"cmp"
	"context"
	"math"
	"slices"

	"duskproof/checker/plan"
)

// tally is what the plan needs and what has been bought, by thing.
type tally map[thing]*TakeOff

// thing is one line of a purchase list.
type thing struct{ what, name string }

func (t tally) entry(what, name string) *TakeOff {
	key := thing{what, name}
	if t[key] == nil {
		t[key] = &TakeOff{ID: name, What: what, Index: -1, Unit: "1"}
		if what == "cable" || what == "sleeve" {
			t[key].Unit = "m"
		}
	}
	return t[key]
}

func (t tally) need(what, name string, amount float64) { t.entry(what, name).Needed += amount }

// takeOff compares what is needed with what was bought. Cable is its one-way
// length with all slack; factory leads come with their fixtures. The allowance
// for offcuts is a limit of the profile, and left to the rule.
func (j *join) takeOff(context.Context) error {
	t := tally{}
	for _, f := range j.plan.Fixtures {
		t.need("fixture", f.Type.ID, 1)
	}
	for _, unit := range j.plan.Transformers {
		t.need("transformer", unit.Type.ID, 1)
	}
	for _, joint := range j.doc.Joints {
		if joint.Connector != "" {
			t.need("connector", joint.Connector, float64(connectors(&joint)))
		}
	}
	j.cableNeeded(t)
	j.bought(t)
	for _, key := range sortedThings(t) {
		j.doc.TakeOff = append(j.doc.TakeOff, *t[key])
	}
	return nil
}

// connectors is how many connectors a joint needs. One that joins single
// conductors is needed for each pole of a two-core cable; a hub, a plug, a
// terminal block or a clip takes both poles. Where more conductors meet than
// one takes, each further connector spends two places on the link to the last:
// k connectors of m places join k(m-2)+2 conductors. Common practice, no source.
func connectors(joint *Joint) int {
	count := 1
	if m := joint.MostConductors; m != nil && *m > 2 && joint.Conductors > *m {
		count = int(math.Ceil(float64(joint.Conductors-2) / float64(*m-2)))
	}
	switch joint.Kind {
	case "screw-hub", "plug", "terminal", "piercing":
		return count
	}
	return 2 * count
}

// cableNeeded adds cable by type, and sleeve by size.
func (j *join) cableNeeded(t tally) {
	covered := map[string]float64{}
	for _, p := range j.doc.Pieces {
		if p.Sleeved {
			covered[p.ID] += p.ToM - p.FromM
		}
	}
	for _, run := range j.plan.Runs {
		for _, leg := range run.Legs {
			if leg.Cable.ID != "" {
				t.need("cable", leg.Cable.ID, lengthOf(leg))
				if leg.LengthM == nil {
					t.entry("cable", leg.Cable.ID).Unmeasured++
				}
			}
			sleeveNeeded(t, leg, covered[leg.ID])
		}
	}
}

// sleeveNeeded adds the sleeve of one leg: all of it, or the parts that lie in
// one. A sleeve without a size cannot be matched with what was bought.
func sleeveNeeded(t tally, leg *plan.Leg, coveredM float64) {
	if leg.Sleeve == nil || leg.Sleeve.Size == "" {
		return
	}
	entry := t.entry("sleeve", leg.Sleeve.Size)
	whole := leg.Sleeve.Where != "crossings"
	switch {
	case whole && leg.LengthM != nil:
		entry.Needed += *leg.LengthM
	case whole || len(leg.Route) < 2:
		entry.Unmeasured++
	default:
		entry.Needed += coveredM
	}
}

// bought adds up what has been bought. Something of a kind of which the list
// has other things, but not this, was not bought.
func (j *join) bought(t tally) {
	listed := map[string]bool{}
	for i, b := range j.plan.TakeOff {
		entry := t.entry(b.What, b.Name)
		if entry.Bought == nil {
			entry.Bought, entry.Index = ptr(0.0), i
		}
		*entry.Bought += b.Amount
		listed[b.What] = true
	}
	for key, entry := range t {
		if entry.Bought == nil && listed[key.what] {
			entry.Bought = ptr(0.0)
		}
	}
}

func sortedThings(t tally) []thing {
	keys := make([]thing, 0, len(t))
	for key := range t {
		keys = append(keys, key)
	}
	slices.SortFunc(keys, func(a, b thing) int { return cmp.Or(cmp.Compare(a.what, b.what), cmp.Compare(a.name, b.name)) })
	return keys
}
