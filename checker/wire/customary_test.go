package wire

import (
	"fmt"
	"testing"
)

// solvedDrop is the drop at the last of n equal constant-current lamps spaced
// evenly along a cable at 20 C from a 12 V source, which the shortcut takes as
// watts/12 V.
func solvedDrop(t *testing.T, size string, watts, metres float64, n int) float64 {
	t.Helper()
	c := conductor(t, size, Solid)
	net := Network{Feeds: []Feed{{ID: "s", Node: "0000", Volts: 12}}}
	for i := range n {
		a, b := fmt.Sprintf("%04d", i), fmt.Sprintf("%04d", i+1)
		net.Legs = append(net.Legs, Leg{ID: b, From: a, To: b, LengthM: metres / float64(n), Conductor: c})
		net.Loads = append(net.Loads, ampLoad(b, b, watts/12/float64(n)))
	}
	a, err := Solve(net, nominal)
	if err != nil || a.Status != Solved {
		t.Fatal(err, a.Status)
	}
	return a.Lamps[n-1].DropVolts
}

// The trade's cable constants against the solved network, 100 W over 100 ft:
// right for an even load in 8, 10 and 12 AWG, about half for a load at the end,
// and in between for 14 and 16 AWG. Common practice, no source for the
// constants; the comparison is our arithmetic.
func TestCustomaryDrop(t *testing.T) {
	const watts, metres = 100, 100 * metresPerFoot
	for _, row := range []struct {
		size          string
		endOverCustom float64 // true drop of an end load over the shortcut
	}{
		{"8 AWG", 1.99}, {"10 AWG", 1.98}, {"12 AWG", 1.99}, {"14 AWG", 1.47}, {"16 AWG", 1.47},
	} {
		custom, ok := CustomaryDrop(row.size, watts, metres)
		if !ok {
			t.Fatalf("no constant for %s", row.size)
		}
		end := solvedDrop(t, row.size, watts, metres, 1)
		even := solvedDrop(t, row.size, watts, metres, 200)
		t.Logf("%s: shortcut %.2f V, even load %.2f V, end load %.2f V", row.size, custom, even, end)
		near(t, row.size+" end load over shortcut", end/custom, row.endOverCustom, 0.011)
		near(t, row.size+" even load over shortcut", even/custom, row.endOverCustom/2, 0.011)
	}
	if _, ok := CustomaryDrop("18 AWG", watts, metres); ok {
		t.Error("the trade has no constant for 18 AWG")
	}
}

// N equal lamps evenly spaced give (N+1)/(2N) of the drop of an end load.
func TestEvenSpacing(t *testing.T) {
	end := solvedDrop(t, "12 AWG", 100, 30, 1)
	for _, n := range []int{2, 3, 4, 5, 10} {
		near(t, fmt.Sprintf("%d lamps", n), solvedDrop(t, "12 AWG", 100, 30, n)/end, float64(n+1)/float64(2*n), 1e-9)
	}
}

// A published chart that is right for end loads: 100 W resistive at 12 V held
// to 10.5 V reaches 40 ft on 14 AWG, 65 ft on 12 AWG, 102 ft on 10 AWG and
// 158 ft on 8 AWG (trade chart, common practice).
func TestEndLoadChart(t *testing.T) {
	for size, feet := range map[string]float64{"14 AWG": 40, "12 AWG": 65, "10 AWG": 102, "8 AWG": 158} {
		n := Network{
			Feeds: []Feed{{ID: "s", Node: "a", Volts: 12}},
			Legs:  []Leg{{ID: "w", From: "a", To: "b", LengthM: feet * metresPerFoot, Conductor: conductor(t, size, Solid)}},
			Loads: []Load{{ID: "l", Node: "b", Kind: Resistive, Watts: 100, RatedVolts: 12}},
		}
		a, err := Solve(n, nominal)
		if err != nil {
			t.Fatal(err)
		}
		if v := a.Lamps[0].Volts; v < 10.49 || v > 10.56 {
			t.Errorf("%s at %g ft: %.3f V", size, feet, v)
		}
	}
}

// 100 W of constant power at 100 ft of 12 AWG settles at about 8.1 V from 12 V,
// a lamp taken as a resistor at about 9.8 V, a filament between the two. 200 ft
// of 10 AWG cannot carry 100 W of constant power at all (our arithmetic).
func TestConstantPowerOnALongRun(t *testing.T) {
	run := func(size string, feet float64, kind LoadKind) Solution {
		a, err := Solve(Network{
			Feeds: []Feed{{ID: "s", Node: "a", Volts: 12}},
			Legs:  []Leg{{ID: "w", From: "a", To: "b", LengthM: feet * metresPerFoot, Conductor: conductor(t, size, Solid)}},
			Loads: []Load{{ID: "l", Node: "b", Kind: kind, Watts: 100, RatedVolts: 12}},
		}, nominal)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	near(t, "driver", run("12 AWG", 100, ConstantPower).Lamps[0].Volts, 8.1, 0.1)
	near(t, "resistor", run("12 AWG", 100, Resistive).Lamps[0].Volts, 9.83, 0.01)
	// 12 V - 0.3176 ohm * 8.333 A * (9.65/12)^0.55 = 9.65 V.
	near(t, "filament", run("12 AWG", 100, Filament).Lamps[0].Volts, 9.65, 0.01)
	// 12 V and 0.4 ohm carry at most 90 W.
	a := run("10 AWG", 200, ConstantPower)
	if a.Status != NoSolution {
		t.Fatalf("200 ft of 10 AWG: %s", a.Status)
	}
	near(t, "share it could carry", a.Carry.Multiple, 0.9, 0.01)
}
