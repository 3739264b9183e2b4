package takeoff

import (
	"slices"

	"duskproof/checker/facts"
)

// assumptions lists what was assumed: the plan as a whole, then transformers,
// then lamps by type.
func (b *builder) assumptions() {
	if b.facts.Supply.ToleranceAssumed {
		b.assume("", "mains volts over nominal", "1", "supply.low_factor", "supply.high_factor")
	}
	if site := b.plan.Site; site == nil || site.GroundC == nil {
		b.assume("", "ground in the hot corner", "degC", "wire.hot_ground_c", "wire.hot_ground_c")
	}
	b.assume("", "ground in the cold corners", "degC", "wire.cold_c", "wire.cold_c")
	b.assume("", "conductors in the nominal corner", "degC", "wire.ground_c", "wire.ground_c")
	b.assume("", "light that ageing and dirt leave", "1", "light.maintenance_factor", "light.maintenance_factor")
	for i := range b.facts.Transformers {
		if t := &b.facts.Transformers[i]; t.ImpedanceAssumed {
			b.assume(t.ID, "impedance", "%", "wire.assumed_impedance_low_pct", "wire.assumed_impedance_high_pct")
		}
	}
	var types []string
	for i := range b.facts.Fixtures {
		if f := &b.facts.Fixtures[i]; f.VAAssumed && !slices.Contains(types, f.Type) {
			types = append(types, f.Type)
		}
	}
	slices.Sort(types)
	for _, name := range types {
		b.assume(name, "power factor", "1", "power.assumed_pf", "power.assumed_pf")
	}
}

// assume lists one assumption by the limits that hold its ends; without them
// nothing was assumed that a profile answers for.
func (b *builder) assume(of, what, unit, from, to string) {
	low, high := b.limitNamed(from), b.limitNamed(to)
	if low == nil || high == nil {
		return
	}
	b.out.Assumed = append(b.out.Assumed, Assumption{
		Of: of, What: what, From: *low.Value, To: *high.Value, Unit: unit, Source: low.Source,
	})
}

// limitNamed is a numeric limit of the profile, or nil.
func (b *builder) limitNamed(name string) *facts.Limit {
	for i := range b.facts.Limits {
		if l := &b.facts.Limits[i]; l.Name == name && l.Value != nil {
			return l
		}
	}
	return nil
}

func (t *tables) assumed() Table {
	out := Table{Name: "assumed", Title: "What was assumed",
		Note:    "The plan does not state these numbers, so those of the profile were computed with. State them, and the rest is as good as what you state.",
		Columns: []Column{words("of"), words("what"), count("from"), count("to"), words("unit"), words("source")}}
	for _, x := range t.Assumed {
		places, unit := 0, x.Unit
		if unit == "1" {
			places, unit = 2, ""
		}
		out.Rows = append(out.Rows, []string{x.Of, x.What, fixed(x.From, places), fixed(x.To, places), unit, x.Source})
	}
	return out
}
