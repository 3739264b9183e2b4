package wire

import "math"

// LoadKind is how a load's current follows its volts.
type LoadKind string

// The kinds of load.
const (
	// ConstantPower: I = P/(V*PF), an LED lamp with a switching driver.
	ConstantPower LoadKind = "constant-power"
	// ConstantCurrent: I does not follow V, an LED lamp with a linear driver.
	ConstantCurrent LoadKind = "constant-current"
	// Filament: I = I_rated*(V/V_rated)^0.55.
	Filament LoadKind = "filament"
	// Resistive: I = I_rated*V/V_rated.
	Resistive LoadKind = "resistive"
)

// Published filament exponents of V/V_rated (lamp re-rating; confirmed for
// light and life, single source for current and power). Life is a range: -12
// is the common rule, -16 the other end. They hold near the rating, say 0.8 to
// 1.1; halogen lamps do not follow the life exponent when under-run. The
// solver takes power as volts times amps, so by the exponent 1.55, of which the
// published 1.6 is a rounding.
const (
	FilamentCurrentExponent = 0.55
	FilamentPowerExponent   = 1.6
	FilamentLightExponent   = 3.4
	FilamentLifeExponentLow = -16.0
	FilamentLifeExponent    = -12.0
)

// coldFilament is the fraction of rated volts below which a filament is taken
// as a plain resistor. There the power law has brought its resistance to 9 %
// of the hot value, about that of a cold filament (from memory).
const coldFilament = 0.005

// Load is one lamp or other consumer.
type Load struct {
	ID, Node string
	Kind     LoadKind
	// Watts is the true power at rated volts (constant-power: at any volts).
	// Not used for constant-current.
	Watts float64
	// PowerFactor of a constant-power load, 0 < PF <= 1; 0 means 1. For a
	// label that states watts without VA the caller gives the pessimistic
	// value and says so. For constant-current it only sets the watts.
	PowerFactor float64
	// Amps of a constant-current load.
	Amps float64
	// RatedVolts of a filament or resistive load.
	RatedVolts float64
	// MinVolts is the drop-out of a driver: below it the lamp no longer
	// holds its light, and its current is taken to fall in proportion to
	// the volts. 0 means unknown: the driver is assumed to hold on.
	MinVolts float64
	// Level is the standing dimming level 0..1; 0 means 1 (full). It scales
	// the current at given volts. Use Corner.Out for a load that is off.
	Level float64
	// Lead is the factory lead between node and lamp; nil when there is none.
	Lead *Lead
	// JointOhms is the resistance of one joint of one conductor between
	// node and lamp, ohm. Both conductors are counted.
	JointOhms float64
}

// Lead is a factory lead, length one way.
type Lead struct {
	LengthM   float64
	Conductor Conductor
}

// AmpsAt returns the current the load draws at the given volts, full level,
// with the driver below its drop-out when volts are below MinVolts. It is 0
// for volts that are not positive.
func (l Load) AmpsAt(volts float64) float64 {
	if !(volts > 0) {
		return 0
	}
	d := compileLoad(l, 1)
	d.dropped = volts < d.dropOutV
	amps, _ := d.current(volts)
	return amps
}

// LightFactor returns the light at the given volts and full level relative to
// rated light:
// the filament law for filaments, V^2 for resistive loads, and 1 for drivers,
// or 0 below their drop-out.
func (l Load) LightFactor(volts float64) float64 {
	if !(volts > 0) {
		return 0
	}
	switch l.Kind {
	case Filament:
		return math.Pow(volts/l.RatedVolts, FilamentLightExponent)
	case Resistive:
		return (volts / l.RatedVolts) * (volts / l.RatedVolts)
	}
	if volts < l.MinVolts {
		return 0
	}
	return 1
}

// LifeFactor returns the range of life at the given volts relative to rated
// life for a filament, low <= high, and 1, 1 for every other kind.
func (l Load) LifeFactor(volts float64) (low, high float64) {
	if l.Kind != Filament || !(volts > 0) {
		return 1, 1
	}
	x := volts / l.RatedVolts
	a, b := math.Pow(x, FilamentLifeExponent), math.Pow(x, FilamentLifeExponentLow)
	return min(a, b), max(a, b)
}

// draw is a load reduced to numbers.
type draw struct {
	kind      LoadKind
	scale     float64 // W/PF, A, A at rated, or S
	ratedV    float64
	dropOutV  float64
	dropSlope float64 // A/V below drop-out
	dropped   bool
	watts     float64 // true watts over VA
	// refV and refAmps are where a filament's law was last evaluated in
	// full; refV 0 makes the first test fail.
	refV, refAmps float64
}

// compileLoad reduces l at the given level.
func compileLoad(l Load, level float64) draw {
	d := draw{kind: l.Kind, watts: 1}
	pf := l.PowerFactor
	if pf == 0 {
		pf = 1
	}
	switch l.Kind {
	case ConstantPower:
		d.scale, d.dropOutV, d.watts = level*l.Watts/pf, l.MinVolts, pf
		if d.dropOutV > 0 {
			d.dropSlope = d.scale / (d.dropOutV * d.dropOutV)
		}
	case ConstantCurrent:
		d.scale, d.dropOutV, d.watts = level*l.Amps, l.MinVolts, pf
		if d.dropOutV > 0 {
			d.dropSlope = d.scale / d.dropOutV
		}
	case Filament:
		d.scale, d.ratedV = level*l.Watts/l.RatedVolts, l.RatedVolts
	case Resistive:
		d.scale = level * l.Watts / (l.RatedVolts * l.RatedVolts)
	}
	return d
}

// current returns amps and their derivative by volts, for volts > 0.
func (d *draw) current(volts float64) (amps, slope float64) {
	if d.dropped {
		return d.dropSlope * volts, d.dropSlope
	}
	switch d.kind {
	case ConstantPower:
		amps = d.scale / volts
		return amps, -amps / volts
	case ConstantCurrent:
		return d.scale, 0
	case Filament:
		return d.filament(volts)
	}
	return d.scale * volts, d.scale
}

// filament returns the filament law, a resistor when almost cold. Near the
// volts of the last full evaluation it uses the binomial series, which is
// several times quicker than a power and as exact.
func (d *draw) filament(volts float64) (amps, slope float64) {
	if rest := volts/d.refV - 1; math.Abs(rest) < seriesWithin {
		series := filamentSeries[len(filamentSeries)-1]
		for k := len(filamentSeries) - 2; k >= 0; k-- {
			series = series*rest + filamentSeries[k]
		}
		amps = d.refAmps * series
		return amps, FilamentCurrentExponent * amps / volts
	}
	x := volts / d.ratedV
	if x < coldFilament {
		slope = d.scale * math.Pow(coldFilament, FilamentCurrentExponent-1) / d.ratedV
		return slope * volts, slope
	}
	amps = d.scale * math.Exp(FilamentCurrentExponent*math.Log(x))
	if x > 2*coldFilament {
		d.refV, d.refAmps = volts, amps
	}
	return amps, FilamentCurrentExponent * amps / volts
}

// seriesWithin is how far, relative, the binomial series is used; its first
// term left out is there below 1e-17.
const seriesWithin = 1.0 / 64

// filamentSeries holds the binomial coefficients of the current exponent.
var filamentSeries = binomials(FilamentCurrentExponent)

// binomials returns the coefficients of (1+x)^p up to x^8.
func binomials(p float64) [9]float64 {
	c := [9]float64{1}
	for k := 1; k < len(c); k++ {
		c[k] = c[k-1] * (p - float64(k-1)) / float64(k)
	}
	return c
}
