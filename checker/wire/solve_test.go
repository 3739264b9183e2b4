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
