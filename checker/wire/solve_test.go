package wire

import (
	"math"
	"testing"
)

// exactVolts is the tolerance against values recomputed by another nodal
// solver, which are quoted to a tenth of a millivolt or better.
const exactVolts = 1e-3

// loopLeg makes a leg of the given loop resistance in ohm.
func loopLeg(id, from, to string, ohms float64) Leg {
	return Leg{ID: id, From: from, To: to, LengthM: 1, Conductor: Conductor{Name: "test", OhmPerM20: ohms / 2}}
}

// ampLoad makes a constant-current load.
func ampLoad(id, node string, amps float64) Load {
	return Load{ID: id, Node: node, Kind: ConstantCurrent, Amps: amps}
}

// nominal is the corner without tolerance, at 20 C.
var nominal = Corner{Name: "nominal", SupplyFactor: 1, GroundC: 20}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.6f, want %.6f within %g", what, got, want, tolerance)
	}
}

// A radial distributor with four loads: Principles of Power System, ch. 13,
// ex. 13.1, p. 313.
func TestRadialFourLoads(t *testing.T) {
	n := Network{
		Feeds: []Feed{{ID: "s", Node: "A", Volts: 300}},
		Legs: []Leg{loopLeg("ac", "A", "C", 0.010), loopLeg("cd", "C", "D", 0.010),
			loopLeg("de", "D", "E", 0.012), loopLeg("eb", "E", "B", 0.008)},
		Loads: []Load{ampLoad("c", "C", 100), ampLoad("d", "D", 150), ampLoad("e", "E", 200), ampLoad("b", "B", 50)},
	}
	a, err := Solve(n, nominal)
	if err != nil || a.Status != Solved {
		t.Fatal(err, a.Status)
	}
	for i, want := range []float64{287.6, 295.0, 291.0, 288.0} {
		near(t, a.Lamps[i].ID, a.Lamps[i].Volts, want, exactVolts)
	}
	near(t, "loss", a.Source.CableWatts, 4870, 1e-6)
}

// One constant-power lamp: V = E/2 + sqrt(E^2/4 - R*P/PF), and no solution
// beyond P = PF*E^2/(4R).
func TestSingleLampNose(t *testing.T) {
	for _, pf := range []float64{1, 0.9, 0.6} {
		const volts, ohms = 12.0, 0.5
		nose := pf * volts * volts / (4 * ohms)
		for _, share := range []float64{0.1, 0.5, 0.9, 0.99, 0.9999, 1.0001, 1.01, 2, 50} {
			n := Network{
				Feeds: []Feed{{ID: "s", Node: "A", Volts: volts}},
				Legs:  []Leg{loopLeg("ab", "A", "B", ohms)},
				Loads: []Load{{ID: "l", Node: "B", Kind: ConstantPower, Watts: share * nose, PowerFactor: pf}},
			}
			a, err := Solve(n, nominal)
			if err != nil {
				t.Fatal(err)
			}
			if share < 1 {
				want := volts/2 + math.Sqrt(volts*volts/4-ohms*share*nose/pf)
				near(t, "volts", a.Lamps[0].Volts, want, 1e-6)
				continue
			}
			if a.Status != NoSolution {
				t.Errorf("pf %g share %g: status %s", pf, share, a.Status)
				continue
			}
			near(t, "largest load over nose", a.Carry.Multiple*share, 1, 0.001)
		}
	}
}
