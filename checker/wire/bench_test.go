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
var everyCorner = Setting{LowFactor: 0.95, HighFactor: 1.05, NominalC: NominalC, HotGroundC: 30, RiseK: 30, ColdGroundC: 0, LampsOut: true}

func allDrivers(int) LoadKind   { return ConstantPower }
func allFilaments(int) LoadKind { return Filament }
func mixedKinds(i int) LoadKind {
	return []LoadKind{ConstantPower, Filament, ConstantCurrent, Resistive}[i%4]
}

// Every corner with each lamp out in turn. On one core of a shared two-core
// machine: 50 lamps 0.8 ms, 100 lamps 2 ms, 200 lamps 6 ms, 300 lamps 13 ms,
// 400 lamps 22 ms; the work is n solutions of n lamps.
func BenchmarkAnalyse(b *testing.B) {
	for _, n := range []int{50, 100, 200, 300, 400} {
		for _, kind := range []struct {
			name string
			of   func(int) LoadKind
		}{{"drivers", allDrivers}, {"filaments", allFilaments}, {"mixed", mixedKinds}} {
			benchAnalyse(b, fmt.Sprintf("%s/%d", kind.name, n), gardenRun(n, kind.of, true))
		}
	}
}

// The same with the far end brought back to the start, and with hubs meshed.
func BenchmarkAnalyseLoops(b *testing.B) {
	for _, n := range []int{50, 100, 200, 400} {
		net := gardenRun(n, mixedKinds, true)
		far := net.Legs[len(net.Legs)-1]
		back := far
		back.ID, back.From, back.To = "back", far.To, "T"
		net.Legs = append(net.Legs, back)
		benchAnalyse(b, fmt.Sprintf("ring/%d", n), net)
		for i := range 8 {
			cross := far
			cross.ID, cross.From, cross.To = fmt.Sprintf("x%d", i), fmt.Sprintf("n%04d", i*n/10), fmt.Sprintf("n%04d", (i+2)*n/10)
			net.Legs = append(net.Legs, cross)
		}
		benchAnalyse(b, fmt.Sprintf("mesh/%d", n), net)
	}
}

func benchAnalyse(b *testing.B, name string, net Network) {
	b.Run(name, func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if a, err := Analyse(net, everyCorner); err != nil || a.Nominal.Status != Solved {
				b.Fatal(err, a.Nominal.Status)
			}
		}
	})
}

// One solution, and the faults at every node.
func BenchmarkSolve(b *testing.B) {
	net := gardenRun(300, mixedKinds, true)
	b.Run("solve", func(b *testing.B) {
		for b.Loop() {
			if _, err := Solve(net, nominal); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("faults", func(b *testing.B) {
		for b.Loop() {
			if _, err := Faults(net, still(20)); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// Solving with a lamp out allocates nothing; the whole analysis allocates in
// proportion to the lamps.
func TestAllocations(t *testing.T) {
	c, err := Compile(gardenRun(100, mixedKinds, true))
	if err != nil {
		t.Fatal(err)
	}
	s := newSolver(c)
	s.set(nominal)
	if s.run(false) != Solved {
		t.Fatal("no solution")
	}
	if n := testing.AllocsPerRun(10, func() {
		s.setLevel(3, 0)
		s.run(true)
		s.setLevel(3, 1)
	}); n != 0 {
		t.Errorf("%g allocations for a lamp out", n)
	}
	var per [2]float64
	for i, lamps := range []int{100, 400} {
		net := gardenRun(lamps, mixedKinds, true)
		per[i] = testing.AllocsPerRun(2, func() {
			if _, err := Analyse(net, everyCorner); err != nil {
				t.Fatal(err)
			}
		}) / float64(lamps)
	}
	if per[0] > 25 || per[1] > 1.2*per[0] {
		t.Errorf("allocations per lamp: %g at 100, %g at 400", per[0], per[1])
	}
}
