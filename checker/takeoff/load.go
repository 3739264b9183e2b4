package takeoff

import (
	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

func (b *builder) transformers() {
	for i := range b.facts.Transformers {
		t := &b.facts.Transformers[i]
		out := Transformer{
			ID: t.ID, Type: t.Type, RatingVA: t.RatingVA, VA: t.ConnectedVA + t.LossW, MostVA: t.LoadVA, MostCorner: t.LoadCorner,
			LossW: t.LossW, SpareVA: max(0, t.RatingVA-t.LoadVA), PrimaryAmps: t.PrimaryAmps, Branch: t.Branch, Receptacle: t.Receptacle,
		}
		if t.RatingVA > 0 {
			out.Loading = out.VA / t.RatingVA
		}
		b.out.Transformers = append(b.out.Transformers, out)
	}
	for i := range b.facts.Commons {
		c := &b.facts.Commons[i]
		b.out.Commons = append(b.out.Commons, Common{
			ID: c.ID, Transformer: c.Transformer, Number: c.Number, Amps: c.NominalAmps, MostAmps: c.Amps, MostVA: c.VA,
			DeviceAmps: c.DeviceAmps, Runs: some(c.Runs),
		})
	}
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
			LampVA: r.ConnectedVA, Amps: r.Amps, LengthM: r.LengthM, FarthestM: r.FarthestM,
		})
		if s, known := spare[r.ID]; known {
			last := &b.out.Runs[len(b.out.Runs)-1]
			last.SpareVA, last.SpareUntil = &s.VA, s.Until
		}
	}
}

func (b *builder) legs() {
	sleeves := map[string]string{}
	for _, run := range b.plan.Runs {
		for _, leg := range run.Legs {
			sleeves[leg.ID] = sleeveWords(leg.Sleeve)
		}
	}
	for i := range b.facts.Legs {
		l := &b.facts.Legs[i]
		b.out.Legs = append(b.out.Legs, Leg{
			ID: l.ID, Run: l.Run, From: l.From, To: l.To, Cable: l.Cable, Conductor: l.Conductor, LengthM: l.LengthM, SlackM: l.SlackM,
			Method: l.Method, CoverM: l.CoverM, Sleeve: sleeves[l.ID], Amps: l.NominalAmps, MostAmps: l.Amps, DropV: l.DropV,
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
	return &Volts{Nominal: *f.NominalVolts, Low: *f.LowVolts, LowCorner: f.LowCorner, High: *f.HighVolts, HighCorner: f.HighCorner}
}

// light lists each place once, in its darkest scene. An unknown light counts as
// darker than any.
func (b *builder) light() {
	for i := range b.facts.Treads {
		t := &b.facts.Treads[i]
		if !t.Unlit {
			b.out.Treads = darker(b.out.Treads, Lit{t.ID, t.Scene, t.LuxMin, t.LuxAvg, t.LuxCentre})
		}
	}
	for i := range b.facts.Paths {
		p := &b.facts.Paths[i]
		b.out.Paths = darker(b.out.Paths, Lit{ID: p.ID, Scene: p.Scene, LuxMin: p.LuxMin, LuxAvg: p.LuxAvg})
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
