package wire

import (
	"errors"
	"fmt"
	"math"
)

// ErrInput is wrapped by every error about a network that cannot be solved
// because its numbers or ids make no sense.
var ErrInput = errors.New("bad network")

// The numbers taken: none above heaviest, no divisor below lightest, so that
// no product or quotient of them leaves the range of a float64.
const (
	heaviest = 1e9
	lightest = 1e-6
)

// divisor reports whether x may stand below a line: 0 (not stated) or at
// least the lightest taken.
func divisor(x float64) bool { return x == 0 || sane(x, lightest) }

// sane reports whether x is a number from low to the heaviest taken.
func sane(x, low float64) bool {
	return !math.IsNaN(x) && x >= low && x <= heaviest
}

// validate refuses numbers and references that make no sense.
func validate(n Network) error {
	s := n.Source
	if !divisor(s.RatedVA) || !sane(s.CurrentLimitAmps, 0) {
		return fmt.Errorf("%w: source %q: rated VA or current limit", ErrInput, s.ID)
	}
	for _, z := range []Impedance{s.Impedance.Low, s.Impedance.High} {
		if !sane(z.R, 0) || !sane(z.X, 0) || z.R > 1 || z.X > 1 {
			return fmt.Errorf("%w: source %q: impedance outside 0 to 1 per unit", ErrInput, s.ID)
		}
		if (z.R > 0 || z.X > 0) && s.RatedVA == 0 {
			return fmt.Errorf("%w: source %q: impedance without rated VA", ErrInput, s.ID)
		}
	}
	if err := validateFeeds(n.Feeds); err != nil {
		return err
	}
	if err := validateLegs(n.Legs); err != nil {
		return err
	}
	return validateLoads(n.Loads)
}

// cornerError names a corner that cannot be solved.
func cornerError(name string) error {
	return fmt.Errorf("%w: corner %q: supply factor, temperature or level", ErrInput, name)
}

// deviceError names a device with bad numbers.
func deviceError(id string) error {
	return fmt.Errorf("%w: device %q: rating, multiple or primary volts", ErrInput, id)
}

// validateFeeds checks ids, volts and that no two feeds share a node.
func validateFeeds(feeds []Feed) error {
	ids, nodes := map[string]bool{}, map[string]bool{}
	for _, f := range feeds {
		if ids[f.ID] || nodes[f.Node] {
			return fmt.Errorf("%w: feed %q: id or node used twice", ErrInput, f.ID)
		}
		ids[f.ID], nodes[f.Node] = true, true
		if !sane(f.Volts, lightest) {
			return fmt.Errorf("%w: feed %q: volts", ErrInput, f.ID)
		}
	}
	return nil
}

// validateLegs checks ids, lengths, conductors and joints.
func validateLegs(legs []Leg) error {
	ids := map[string]bool{}
	for _, l := range legs {
		if ids[l.ID] {
			return fmt.Errorf("%w: leg %q: id used twice", ErrInput, l.ID)
		}
		ids[l.ID] = true
		for _, x := range []float64{l.LengthM, l.SlackM, l.FromJointOhms, l.ToJointOhms, l.AmpacityAmps,
			l.Conductor.OhmPerM20, l.Conductor.PerKelvin20} {
			if !sane(x, 0) {
				return fmt.Errorf("%w: leg %q: a length, resistance or ampacity", ErrInput, l.ID)
			}
		}
	}
	return nil
}

// validateLoads checks ids, kinds and the numbers each kind needs.
func validateLoads(loads []Load) error {
	ids := map[string]bool{}
	for _, l := range loads {
		if ids[l.ID] {
			return fmt.Errorf("%w: load %q: id used twice", ErrInput, l.ID)
		}
		ids[l.ID] = true
		if !divisor(l.PowerFactor) || !divisor(l.RatedVolts) || !divisor(l.MinVolts) {
			return fmt.Errorf("%w: load %q: power factor, rated volts or drop-out", ErrInput, l.ID)
		}
		numbers := []float64{l.Watts, l.Amps, l.Level, l.JointOhms}
		if l.Lead != nil {
			numbers = append(numbers, l.Lead.LengthM, l.Lead.Conductor.OhmPerM20, l.Lead.Conductor.PerKelvin20)
		}
		for _, x := range numbers {
			if !sane(x, 0) {
				return fmt.Errorf("%w: load %q: a number is out of range", ErrInput, l.ID)
			}
		}
		if l.PowerFactor > 1 || l.Level > 1 {
			return fmt.Errorf("%w: load %q: power factor or level above 1", ErrInput, l.ID)
		}
		switch l.Kind {
		case ConstantPower, ConstantCurrent:
		case Filament, Resistive:
			if l.RatedVolts == 0 {
				return fmt.Errorf("%w: load %q: %s needs rated volts", ErrInput, l.ID, l.Kind)
			}
		default:
			return fmt.Errorf("%w: load %q: unknown kind %q", ErrInput, l.ID, l.Kind)
		}
	}
	return nil
}

// validateCorner refuses numbers that make no sense.
func validateCorner(corner Corner) error {
	ok := divisor(corner.SupplyFactor) && corner.SupplyFactor <= 10 &&
		math.Abs(corner.GroundC) <= 300 && math.Abs(corner.RiseK) <= 300
	if corner.Scene != nil {
		for _, level := range corner.Scene.Levels {
			ok = ok && sane(level, 0)
		}
	}
	if !ok {
		return cornerError(corner.Name)
	}
	return nil
}
