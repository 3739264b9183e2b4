package facts

import (
	"strings"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// fixtureFacts writes what the plan states of one fixture; the later steps add
// what is computed.
func (j *join) fixtureFacts(f *plan.Fixture) Fixture {
	t := f.Type
	out := Fixture{
		ID: f.ID, Type: t.ID, Kind: t.Kind, Placed: f.At != nil, HeightM: f.HeightM, Mount: f.Mount, Host: f.Host,
		Mounting: t.Mounting, Group: f.Group, Load: f.Lamp.Load, Watts: f.Lamp.Watts, VA: f.Lamp.VA,
		MinVolts: f.Lamp.MinVolts, MaxVolts: f.Lamp.MaxVolts, DropOutV: f.Lamp.DropOutV, RatedVolts: f.Lamp.RatedVolts,
		Lumens: f.Lamp.Lumens, HasLight: t.Light != nil, Shield: f.Shield, CCT: t.CCT, PeakNM: t.PeakNM,
		ShortestNM: t.ShortestNM, PhosphorConverted: t.PhosphorConverted, Tunable: t.Tunable, Listing: t.Listing,
		SurfaceC: t.SurfaceC, CombustibleM: t.CombustibleM, ThermalCutOut: t.ThermalCutOut, Surround: f.Surround,
		GravelM: f.GravelM, Drain: f.Drain, SlackM: f.SlackM, LeadM: f.LeadM, LoadClass: t.LoadClass, Dimmable: t.Dimmable,
		Wired: len(f.Runs) > 0,
	}
	if out.Shield == "" {
		out.Shield = t.Shield
	}
	if f.At != nil {
		out.XM, out.YM = ptr(f.At.X), ptr(f.At.Y)
	}
	if t.DiameterM != nil {
		out.RadiusM = ptr(*t.DiameterM / 2)
	}
	if j.plan.Site != nil {
		out.SoilDrains = j.plan.Site.FreeDraining
	}
	out.IPSolid, out.IPWater, out.IPDual = readIP(t.IP)
	load, _ := j.loadOf(f)
	out.VAUsed = load.AmpsAt(f.Lamp.RatedVolts) * f.Lamp.RatedVolts
	out.LargestVA = j.largestVA(f)
	if m := f.TreeMount; m != nil {
		out.TreeFixing, out.TreeCableFixing, out.TreeProtected = m.Fixing, m.CableFixing, m.Protected
		out.TreeGrowthM = f.GrowthM
	}
	return out
}

// largestVA is the load of the largest lamp that the fixture accepts.
func (j *join) largestVA(f *plan.Fixture) *float64 {
	largest := f.Type.LargestLamp
	if largest == nil {
		return nil
	}
	lamp := plan.Lamp{Load: largest.Load, Watts: largest.Watts, VA: largest.VA, RatedVolts: f.Lamp.RatedVolts}
	if lamp.Load == "" {
		lamp.Load = f.Lamp.Load
	}
	watts, pf, _ := j.power(lamp, onDirectCurrent(f))
	if lamp.Load == string(wire.Filament) || lamp.Load == string(wire.Resistive) {
		pf = 1
	}
	if watts <= 0 || pf <= 0 {
		return nil
	}
	return ptr(watts / pf)
}

// readIP reads an IP code (IEC 60529), "IP65" or the dual "IP65/IP67", of which
// the higher water numeral counts.
func readIP(code string) (solid, water *int, dual bool) {
	count := 0
	for rest := strings.ToUpper(code); ; {
		_, after, found := strings.Cut(rest, "IP")
		if !found {
			return solid, water, count > 1
		}
		if rest = after; isIP(after) {
			solid, water, rest, count = larger(solid, after[0]), larger(water, after[1]), after[2:], count+1
		}
	}
}

// isIP reports whether the two numerals of a code come next, X for one that is
// not given.
func isIP(text string) bool {
	within := func(c, last byte) bool { return c == 'X' || c >= '0' && c <= last }
	return len(text) >= 2 && within(text[0], '6') && within(text[1], '9')
}

func larger(have *int, numeral byte) *int {
	n := int(numeral - '0')
	if numeral == 'X' || (have != nil && *have >= n) {
		return have
	}
	return &n
}
