package takeoff

import (
	"cmp"
	"slices"

	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// scenes lists the states of the lights.
func (b *builder) scenes() {
	load := map[string]float64{}
	for i := range b.facts.Fixtures {
		load[b.facts.Fixtures[i].ID] = b.facts.Fixtures[i].VAUsed
	}
	for _, s := range b.plan.Scenes {
		out := Scene{ID: s.ID, InUse: s.InUse, From: s.From, Until: s.Until, Groups: []string{}}
		if s.Control != nil {
			out.Control, out.Kind = s.Control.ID, s.Control.Kind
		}
		for _, f := range b.plan.Fixtures {
			level := s.Levels[f.ID]
			if level <= 0 {
				continue
			}
			out.Lamps++
			out.VA += level * load[f.ID]
			if f.Group != "" && !slices.Contains(out.Groups, f.Group) {
				out.Groups = append(out.Groups, f.Group)
			}
		}
		slices.Sort(out.Groups)
		b.out.Scenes = append(b.out.Scenes, out)
	}
}

// aims lists the fixtures that are turned or tipped, or aimed at something.
func (b *builder) aims() {
	tilt := map[string]*float64{}
	for i := range b.facts.Fixtures {
		tilt[b.facts.Fixtures[i].ID] = b.facts.Fixtures[i].AimTiltDeg
	}
	for _, f := range b.plan.Fixtures {
		if f.AimBearing == nil && f.AimTilt == nil && f.AimAt == nil {
			continue
		}
		out := Aim{ID: f.ID, Type: f.Type.ID, Mount: f.Mount, Host: f.Host, HeightM: f.HeightM, BearingDeg: f.AimBearing, TiltDeg: tilt[f.ID]}
		if f.AimAt != nil {
			out.At = cmp.Or(f.AimAt.Tree, "a point")
			out.BearingDeg = towards(f)
		}
		if out.TiltDeg == nil {
			out.TiltDeg = f.AimTilt
		}
		b.out.Aims = append(b.out.Aims, out)
	}
}

// towards is the bearing from a fixture to its target; nil when one stands over
// the other or the fixture has no place.
func towards(f *plan.Fixture) *float64 {
	if f.At == nil {
		return nil
	}
	if bearing := site.Bearing(*f.At, f.AimAt.At); site.Known(bearing) {
		return &bearing
	}
	return nil
}

// readings makes the commissioning sheet: amps at each common, then volts at
// each lamp along its run.
func (b *builder) readings() {
	for i := range b.facts.Commons {
		c := &b.facts.Commons[i]
		b.out.Readings = append(b.out.Readings, Expected{At: c.Transformer, Common: c.Number, What: "all lamps on, clamp on common " + c.ID,
			Quantity: "amps", Expected: b.when(c.Transformer, c.NominalAmps), High: b.when(c.Transformer, c.Amps)})
	}
	for i := range b.facts.Runs {
		run := &b.facts.Runs[i]
		for k := range b.facts.Fixtures {
			f := &b.facts.Fixtures[k]
			if f.Run == run.ID {
				b.out.Readings = append(b.out.Readings, Expected{At: f.ID, What: "at the lamp, run " + run.ID, Quantity: "volts",
					Expected: f.NominalVolts, Low: f.LowVolts, High: f.HighVolts})
			}
		}
	}
}
