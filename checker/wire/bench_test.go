package wire

import (
	"fmt"
	"testing"
)

// gardenRun builds a power unit with one long run of n lamps: a home run to a
// chain of lamps, every tenth of which starts a short branch. Volts and cable
// grow with n so that the drop stays about the same, and with it the work per
// lamp.
func gardenRun(n int, kind func(i int) LoadKind, leads bool) Network {
	cable, _ := ParseConductor("12 AWG", Copper, Stranded)
	lead, _ := ParseConductor("18 AWG", Copper, Stranded)
	net := Network{
		Source: Source{ID: "T", RatedVA: float64(n) * 6, Impedance: ImpedanceOf(4, 1)},
		Feeds:  []Feed{{ID: "run", Node: "T", Common: "1", Tap: "13 V", Volts: 13}},
	}
	metres := 240.0 / float64(n*n)
	at := "T"
	for i := range n {
		node := fmt.Sprintf("n%04d", i)
		from := at
		if i%10 != 5 {
			at = node
		}
		net.Legs = append(net.Legs, Leg{ID: fmt.Sprintf("w%04d", i), From: from, To: node, LengthM: metres,
			Conductor: cable, AmpacityAmps: 25 + 4*float64(n)})
		l := Load{ID: fmt.Sprintf("L%04d", i), Node: node, Kind: kind(i), Watts: 4, PowerFactor: 0.8, RatedVolts: 12, Amps: 0.4, MinVolts: 8}
		if leads {
			l.Lead = &Lead{LengthM: 0.5, Conductor: lead}
		}
		net.Loads = append(net.Loads, l)
	}
	return net
}

// everyCorner is the setting of the benchmarks.
var everyCorner = Setting{LowFactor: 0.95, HighFactor: 1.05, HotGroundC: 30, RiseK: 30, ColdGroundC: 0, LampsOut: true}

func allDrivers(int) LoadKind   { return ConstantPower }
func allFilaments(int) LoadKind { return Filament }
func mixedKinds(i int) LoadKind {
	return []LoadKind{ConstantPower, Filament, ConstantCurrent, Resistive}[i%4]
}

// Every corner with each lamp out in turn.
func BenchmarkAnalyse(b *testing.B) {
	for _, n := range []int{50, 100, 200, 300, 400} {
		for _, kind := range []struct {
			name string
			of   func(int) LoadKind
		}{{"drivers", allDrivers}, {"filaments", allFilaments}, {"mixed", mixedKinds}} {
			net := gardenRun(n, kind.of, true)
			b.Run(fmt.Sprintf("%s/%d", kind.name, n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if a, err := Analyse(net, everyCorner); err != nil || a.Nominal.Status != Solved {
						b.Fatal(err, a.Nominal.Status)
					}
				}
			})
		}
	}
}
