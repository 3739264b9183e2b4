package wire

import (
	"fmt"
	"math"
	"testing"
)

// Filament exponents as published for lamp re-rating (0.55 for current, 1.6
// for power, 3.4 for light, -12 to -16 for life), with values derived from
// them for x = V/V_rated.
func TestFilamentTable(t *testing.T) {
	l := Load{ID: "l", Kind: Filament, Watts: 20, RatedVolts: 12}
	for _, row := range []struct{ x, amps, power, light, life12, life16 float64 }{
		{0.90, 0.9437, 0.8449, 0.6989, 3.541, 5.397},
		{0.95, 0.9722, 0.9212, 0.8400, 1.851, 2.272},
		{1.05, 1.0272, 1.0812, 1.1804, 0.557, 0.458},
		{1.10, 1.0538, 1.1647, 1.3827, 0.319, 0.218},
	} {
		name := fmt.Sprintf("at %g ", row.x)
		volts := 12 * row.x
		near(t, name+"current", l.AmpsAt(volts)/(20.0/12), row.amps, 1e-4)
		near(t, name+"light", l.LightFactor(volts), row.light, 1e-4)
		near(t, name+"power by its exponent", math.Pow(row.x, FilamentPowerExponent), row.power, 1e-4)
		// 1 + 0.55 = 1.55: the printed 1.6 is a rounding.
		near(t, name+"power by volts and amps", volts*l.AmpsAt(volts)/20, row.power, 0.006)
		low, high := l.LifeFactor(volts)
		near(t, name+"life, one end", min(row.life12, row.life16), low, 1e-3)
		near(t, name+"life, other end", max(row.life12, row.life16), high, 1e-3)
	}
}

// The binomial series near a point of evaluation is the power law itself.
func TestFilamentSeries(t *testing.T) {
	d := compileLoad(Load{Kind: Filament, Watts: 20, RatedVolts: 12}, 1)
	for _, from := range []float64{0.2, 3, 11.7} {
		d.refV = 0
		d.current(from)
		for i := -100; i <= 100; i++ {
			v := from * (1 + float64(i)/100*0.999*seriesWithin)
			amps, slope := d.current(v)
			want := 20.0 / 12 * math.Pow(v/12, 0.55)
			near(t, "amps", amps/want, 1, 1e-14)
			near(t, "slope", slope/(0.55*want/v), 1, 1e-14)
		}
	}
}

// Every law and its slope, by central differences, and continuity where a law
// changes.
func TestLoadLaws(t *testing.T) {
	for _, l := range []Load{
		{Kind: ConstantPower, Watts: 8, PowerFactor: 0.8, MinVolts: 9},
		{Kind: ConstantPower, Watts: 8},
		{Kind: ConstantCurrent, Amps: 0.7, MinVolts: 9, PowerFactor: 0.9},
		{Kind: Filament, Watts: 20, RatedVolts: 12},
		{Kind: Resistive, Watts: 20, RatedVolts: 12},
	} {
		for _, v := range []float64{0.03, 0.07, 1, 8.5, 9.5, 12, 14} {
			d := compileLoad(l, 1)
			d.dropped = v < d.dropOutV
			const h = 1e-6
			up, _ := d.current(v + h)
			down, _ := d.current(v - h)
			_, slope := d.current(v)
			near(t, fmt.Sprintf("%s slope at %g", l.Kind, v), slope, (up-down)/(2*h), 1e-4*(1+math.Abs(slope)))
		}
		for _, v := range []float64{9, 12 * coldFilament} {
			near(t, fmt.Sprintf("%s continuous at %g", l.Kind, v), l.AmpsAt(v*(1-1e-12)), l.AmpsAt(v*(1+1e-12)), 1e-8)
		}
		for _, v := range []float64{0, -1, math.NaN()} {
			if l.AmpsAt(v) != 0 || l.LightFactor(v) != 0 {
				t.Errorf("%s at %g: %g A, light %g", l.Kind, v, l.AmpsAt(v), l.LightFactor(v))
			}
		}
	}
	driver := Load{Kind: ConstantPower, Watts: 8, PowerFactor: 0.8, MinVolts: 9}
	near(t, "driver amps", driver.AmpsAt(12), 8/(0.8*12), 1e-12)
	near(t, "driver light", driver.LightFactor(12), 1, 0)
	near(t, "driver light below drop-out", driver.LightFactor(8.9), 0, 0)
	near(t, "resistor light", Load{Kind: Resistive, Watts: 1, RatedVolts: 12}.LightFactor(6), 0.25, 1e-12)
}

// Ampacity rows with the value of each public table, as facts (NEC editions as
// named in the rows).
func TestAmpacityTables(t *testing.T) {
	for _, row := range []struct {
		table AmpacityTable
		amps  map[string]float64
		want  Confidence
	}{
		{NEC310At60C, map[string]float64{"14 AWG": 15, "12 AWG": 20, "10 AWG": 30, "8 AWG": 40, "6 AWG": 55}, Confirmed},
		{NEC310At75C, map[string]float64{"14 AWG": 20, "12 AWG": 25, "10 AWG": 35, "8 AWG": 50, "6 AWG": 65}, Confirmed},
		{NEC310At90C, map[string]float64{"18 AWG": 14, "16 AWG": 18, "14 AWG": 25, "12 AWG": 30, "10 AWG": 40, "8 AWG": 55, "6 AWG": 75}, SingleSource},
		{NEC240Device, map[string]float64{"14 AWG": 15, "12 AWG": 20, "10 AWG": 30}, Confirmed},
		{NEC240Device, map[string]float64{"18 AWG": 7, "16 AWG": 10}, FromMemory},
		{NEC400TwoWire, map[string]float64{"18 AWG": 10, "16 AWG": 13, "14 AWG": 18, "12 AWG": 25}, SingleSource},
		{NEC402Fixture, map[string]float64{"18 AWG": 6, "16 AWG": 8, "14 AWG": 17, "12 AWG": 23, "10 AWG": 28}, FromMemory},
	} {
		for size, amps := range row.amps {
			got, ok := LookUpAmpacity(row.table, conductor(t, size, Stranded))
			if !ok || got.Amps != amps || got.Confidence != row.want || got.Source == "" {
				t.Errorf("%s %s: %+v", row.table, size, got)
			}
		}
	}
	if _, ok := LookUpAmpacity(NEC310At60C, conductor(t, "18 AWG", Stranded)); ok {
		t.Error("18 AWG has no 60 C ampacity")
	}
	al, _ := ParseConductor("12 AWG", Aluminium, Solid)
	if got, ok := LookUpAmpacity(NEC240Device, al); !ok || got.Amps != 15 {
		t.Errorf("12 AWG aluminium: %+v", got)
	}
}
