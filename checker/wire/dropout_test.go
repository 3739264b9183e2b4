package wire

import (
	"math"
	"testing"
)

// driver is one constant-power lamp on a cable.
func driver(watts, minVolts, ohms float64) Network {
	return Network{
		Feeds: []Feed{{ID: "s", Node: "a", Volts: 12}},
		Legs:  []Leg{loopLeg("w", "a", "b", ohms)},
		Loads: []Load{{ID: "l", Node: "b", Kind: ConstantPower, Watts: watts, MinVolts: minVolts}},
	}
}

// Above its drop-out a driver holds its power; below, its current falls with
// the volts: V = E/(1 + R*P/Vd^2).
func TestDropOut(t *testing.T) {
	a, err := Solve(driver(30, 9, 0.5), nominal) // upper answer 10.58 V
	if err != nil || a.Status != Solved || a.Lamps[0].Dropped {
		t.Fatal(err, a.Status)
	}
	near(t, "holding", a.Lamps[0].Volts, 6+math.Sqrt(36-15), 1e-9)

	a, _ = Solve(driver(60, 9, 0.5), nominal) // upper answer 8.45 V: below 9
	if a.Status != DroppedOut || !a.Lamps[0].Dropped {
		t.Fatal(a.Status)
	}
	near(t, "dropped", a.Lamps[0].Volts, 12/(1+0.5*60/81), 1e-9)
	near(t, "law", a.Lamps[0].Amps, 60.0/81*a.Lamps[0].Volts, 1e-9)

	a, _ = Solve(driver(100, 9, 0.5), nominal) // beyond 72 W: no upper answer
	if a.Status != NoSolution || !a.Lamps[0].Dropped {
		t.Fatal(a.Status)
	}
	near(t, "dropped beyond the nose", a.Lamps[0].Volts, 12/(1+0.5*100/81), 1e-9)
	near(t, "could carry", a.Carry.Multiple, 0.72, 0.001)

	a, _ = Solve(driver(100, 0, 0.5), nominal)
	if a.Status != NoSolution || a.Lamps[0].Volts != 0 {
		t.Errorf("no drop-out known: %s %g V", a.Status, a.Lamps[0].Volts)
	}
}

// A linear driver (constant current) cannot be fed through so much cable that
// nothing is left; with a drop-out it dims instead.
func TestConstantCurrentCollapse(t *testing.T) {
	n := driver(0, 0, 0.5)
	n.Loads[0].Kind, n.Loads[0].Amps = ConstantCurrent, 30 // 15 V of drop from 12 V
	a, err := Solve(n, nominal)
	if err != nil || a.Status != NoSolution {
		t.Fatal(err, a.Status)
	}
	near(t, "could carry", a.Carry.Multiple, 0.8, 0.001)
	n.Loads[0].MinVolts = 6
	a, _ = Solve(n, nominal)
	near(t, "dims", a.Lamps[0].Volts, 12/(1+0.5*30/6), 1e-9)
}

// With many drivers at the edge the far ones drop out and so keep the near
// ones alive; the state is consistent and does not depend on the way there.
func TestDropOutSpares(t *testing.T) {
	n := gardenRun(60, allDrivers, false)
	scaleLoads(&n, 3.6)
	for i := range n.Loads {
		n.Loads[i].MinVolts = 9.5
	}
	a, err := Solve(n, nominal)
	if err != nil || a.Status == Solved {
		t.Fatal(err, a.Status)
	}
	dropped := 0
	for i, l := range a.Lamps {
		if l.Dropped {
			dropped++
			if l.Volts > 9.5*backInWindow {
				t.Errorf("%s dropped at %g V", l.ID, l.Volts)
			}
		} else if l.Volts < 9.5 {
			t.Errorf("%s holds at %g V", l.ID, l.Volts)
		}
		if i > 0 && l.Volts > a.Lamps[i-1].Volts+0.1 {
			t.Errorf("%s higher than the lamp before", l.ID)
		}
	}
	if dropped == 0 || dropped == len(a.Lamps) {
		t.Errorf("%d of %d dropped", dropped, len(a.Lamps))
	}
}
