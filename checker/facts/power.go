package facts

import (
	"math"
	"slices"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// power returns true watts and power factor from what the lamp states: any two
// of watts, VA and power factor, or one with the profile's power factor. On direct
// current volts times amperes are the watts, whatever the lamp's power factor on
// alternating current.
func (j *join) power(lamp plan.Lamp, direct bool) (watts, pf float64, assumed bool) {
	if direct {
		switch {
		case lamp.Watts != nil:
			return *lamp.Watts, 1, false
		case lamp.VA != nil && lamp.PowerFactor != nil:
			return *lamp.VA * *lamp.PowerFactor, 1, false
		case lamp.VA != nil:
			return *lamp.VA, 1, false
		}
		return 0, 1, false
	}
	led := lamp.Load == string(wire.ConstantPower) || lamp.Load == string(wire.ConstantCurrent)
	pf = 1
	if led {
		pf = j.limit("power.assumed_pf", fallbackPF)
	}
	if lamp.PowerFactor != nil {
		pf = *lamp.PowerFactor
	}
	switch {
	case lamp.Watts != nil && lamp.VA != nil && *lamp.VA > 0:
		return *lamp.Watts, min(1, *lamp.Watts / *lamp.VA), false
	case lamp.Watts != nil:
		return *lamp.Watts, pf, led && lamp.PowerFactor == nil
	case lamp.VA != nil:
		return *lamp.VA * pf, pf, false
	}
	return 0, pf, false
}

// onDirectCurrent reports whether every run that feeds a fixture has direct
// current.
func onDirectCurrent(f *plan.Fixture) bool {
	for _, run := range f.Runs {
		if run.Transformer.Type.Output != "dc" {
			return false
		}
	}
	return len(f.Runs) > 0
}

// atPrimary is the current of a transformer's primary in one corner.
type atPrimary struct {
	corner string
	amps   float64
}

// primaryAmps are the currents of a transformer's primary in the corners with
// everything on and in the scenes, each at its own mains volts; none when the plan
// states no mains volts. What the windings carry and the stated no-load loss count;
// magnetising current and the losses inside an electronic supply, which nobody
// states, do not.
func (j *join) primaryAmps(n *network, a *wire.Analysis) []atPrimary {
	supply := &j.doc.Supply
	if supply.Volts == nil || *supply.Volts <= 0 {
		return nil
	}
	idle := 0.0
	if w := n.transformer.Type.NoLoadLossW; w != nil {
		idle = *w
	}
	var list []atPrimary
	for i, s := range solvedCorners(a) {
		factor := supply.HighFactor
		switch i {
		case 0:
			factor = 1
		case 1:
			factor = supply.LowFactor
		}
		list = append(list, atPrimary{cornerWords(s.Corner), (s.Source.InternalVA + idle) / (*supply.Volts * factor)})
	}
	return list
}

// worstPrimary is the largest current of a list, and the first corner whose current
// prints the same.
func worstPrimary(list []atPrimary) (amps float64, corner string) {
	for _, at := range list {
		amps = math.Max(amps, at.amps)
	}
	for _, at := range list {
		if printsAs(amps, at.amps, "A", nil) {
			return amps, at.corner
		}
	}
	return amps, ""
}

// together adds the currents of several primaries corner by corner: they hang on the
// same mains. The corners of all transformers of a plan are alike.
func together(sum, more []atPrimary) []atPrimary {
	if sum == nil {
		return slices.Clone(more)
	}
	for i := range min(len(sum), len(more)) {
		sum[i].amps += more[i].amps
	}
	return sum
}
