package takeoff

import (
	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

func (b *builder) transformers() {
	for i := range b.facts.Transformers {
		b.out.Transformers = append(b.out.Transformers, b.transformer(&b.facts.Transformers[i]))
	}
	for i := range b.facts.Commons {
		c := &b.facts.Commons[i]
		b.out.Commons = append(b.out.Commons, Common{
			ID: c.ID, Transformer: c.Transformer, Number: c.Number, Amps: b.when(c.Transformer, c.NominalAmps), MostAmps: b.when(c.Transformer, c.Amps), MostVA: b.when(c.Transformer, c.VA),
			DeviceAmps: c.DeviceAmps, Runs: some(c.Runs),
		})
	}
}

func (b *builder) transformer(t *facts.Transformer) Transformer {
	out := Transformer{ID: t.ID, Type: t.Type, RatingVA: t.RatingVA, Solved: b.answered(t.ID), Branch: t.Branch, Receptacle: t.Receptacle}
	if !out.Solved {
		return out
	}
	va, spare := t.ConnectedVA+t.LossW, max(0, t.RatingVA-t.LoadVA)
	out.VA, out.MostVA, out.MostCorner, out.LossW, out.SpareVA, out.PrimaryAmps = &va, &t.LoadVA, t.LoadCorner, &t.LossW, &spare, t.PrimaryAmps
	if t.RatingVA > 0 {
		share := va / t.RatingVA
		out.Loading = &share
	}
	return out
}

func (b *builder) runs(spare map[string]facts.Spare) {
	titles := map[string]string{}
	for _, run := range b.plan.Runs {
		titles[run.ID] = run.Title
	}
	for i := range b.facts.Runs {
		r := &b.facts.Runs[i]
		b.out.Runs = append(b.out.Runs, Run{
			ID: r.ID, Title: titles[r.ID], Transformer: r.Transformer, Common: r.Common, TapVolts: r.TapVolts, Lamps: len(r.Lamps),
			LampVA: r.ConnectedVA, LengthM: r.LengthM, FarthestM: r.FarthestM, Amps: b.when(r.Transformer, b.startAmps(r)), MostAmps: b.when(r.Transformer, r.Amps),
			Solved: r.Solved, FailsAt: r.Corner, CouldCarryVA: r.CouldCarryVA,
		})
		if s, known := spare[r.ID]; known {
			last := &b.out.Runs[len(b.out.Runs)-1]
			last.SpareVA, last.SpareUntil = &s.VA, s.Until
		}
	}
}

// answered reports whether the load of a transformer has an answer at nominal
// supply.
func (b *builder) answered(transformer string) bool {
	for i := range b.facts.Runs {
		if r := &b.facts.Runs[i]; r.Transformer == transformer && !r.Solved && r.Corner == nominalCorner {
			return false
		}
	}
	return true
}

// nominalCorner is what facts call the corner at nominal supply.
const nominalCorner = "nominal supply"

// when is a value at nominal supply, or nil when a transformer has none.
func (b *builder) when(transformer string, v float64) *float64 {
	if !b.answered(transformer) {
		return nil
	}
	return &v
}

// startAmps is what a run takes from its transformer at nominal supply, by all
// legs that begin or end there.
func (b *builder) startAmps(r *facts.Run) float64 {
	sum := 0.0
	for i := range b.facts.Legs {
		if l := &b.facts.Legs[i]; l.Run == r.ID && (l.From == r.Transformer || l.To == r.Transformer) {
			sum += l.NominalAmps
		}
	}
	return sum
}

func (b *builder) legs() {
	sleeves, unit := map[string]string{}, map[string]string{}
	for _, run := range b.plan.Runs {
		unit[run.ID] = run.Transformer.ID
		for _, leg := range run.Legs {
			sleeves[leg.ID] = sleeveWords(leg.Sleeve)
		}
	}
	for i := range b.facts.Legs {
		l := &b.facts.Legs[i]
		b.out.Legs = append(b.out.Legs, Leg{
			ID: l.ID, Run: l.Run, From: l.From, To: l.To, Cable: l.Cable, Conductor: l.Conductor, LengthM: l.LengthM, SlackM: l.SlackM,
			Method: l.Method, CoverM: l.CoverM, Sleeve: sleeves[l.ID], Amps: b.when(unit[l.Run], l.NominalAmps), MostAmps: b.when(unit[l.Run], l.Amps), DropV: b.when(unit[l.Run], l.DropV),
		})
	}
}

// sleeveWords names a sleeve: "1 in pvc, at crossings".
func sleeveWords(s *plan.Sleeve) string {
	if s == nil {
		return ""
	}
	words := s.Material
	if s.Size != "" {
		words = s.Size + " " + words
	}
	if s.Where == "crossings" {
		words += ", at crossings"
	}
	return words
}

func (b *builder) lamps() {
	for i := range b.facts.Fixtures {
		f := &b.facts.Fixtures[i]
		b.out.Lamps = append(b.out.Lamps, Lamp{
			ID: f.ID, Type: f.Type, Run: f.Run, VA: f.VAUsed, Volts: voltsOf(f), MinVolts: f.MinVolts, MaxVolts: f.MaxVolts,
			DropV: f.DropV, DropShare: f.DropShare,
		})
	}
}

func voltsOf(f *facts.Fixture) *Volts {
	if f.NominalVolts == nil || f.LowVolts == nil || f.HighVolts == nil {
		return nil
	}
	out := &Volts{Nominal: *f.NominalVolts, Low: *f.LowVolts, LowCorner: f.LowCorner, High: *f.HighVolts, HighCorner: f.HighCorner, Corners: []CornerVolts{}}
	for _, c := range f.Corners {
		out.Corners = append(out.Corners, CornerVolts{c.Corner, c.Volts})
	}
	return out
}

// light lists each place once, in its darkest scene. An unknown light counts as
// darker than any.
func (b *builder) light() {
	for i := range b.facts.Treads {
		t := &b.facts.Treads[i]
		if !t.Unlit {
			b.out.Treads = darker(b.out.Treads, Lit{ID: t.ID, Scene: t.Scene, LuxMin: t.LuxMin, LuxAvg: t.LuxAvg, LuxCentre: t.LuxCentre})
		}
	}
	for i := range b.facts.Paths {
		p := &b.facts.Paths[i]
		b.out.Paths = darker(b.out.Paths, Lit{ID: p.ID, Scene: p.Scene, LuxMin: p.LuxMin, LuxAvg: p.LuxAvg, LuxMax: p.LuxMax,
			LeastToAverage: p.Uo, AverageToLeast: p.AvgToMin, MostToLeast: p.MaxToMin, GridStepM: &p.StepM, Points: p.Points})
	}
}

// darker adds a place to a list, or puts it in the place of its brighter self,
// which stands at the end of the list or does not stand in it.
func darker(list []Lit, lit Lit) []Lit {
	last := len(list) - 1
	if last < 0 || list[last].ID != lit.ID {
		return append(list, lit)
	}
	old := list[last]
	if old.LuxMin != nil && (lit.LuxMin == nil || *lit.LuxMin < *old.LuxMin) {
		list[last] = lit
	}
	return list
}
