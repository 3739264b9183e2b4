package facts_test

import (
	"fmt"
	"math"
	"testing"
)

// A single driver at the end of a cable of resistance R gets at most V^2/4R
// volt-amperes, and PF*V^2/4R watts (maximum power transfer). Copper is of 1.588
// ohm/1000 ft in 12 AWG, solid, at 20 C (IEC 60028 and ASTM B258; NBS Handbook 100).
func TestRefusedRunSaysWhatItCouldCarry(t *testing.T) {
	const within = 0.01
	for _, c := range []struct {
		volts, feet float64
		pf          float64
	}{{12, 200, 1}, {12, 200, 0.8}, {15, 150, 0.6}, {24, 500, 0.9}} {
		t.Run(fmt.Sprintf("%g V, %g ft, PF %g", c.volts, c.feet, c.pf), func(t *testing.T) {
			most := c.volts * c.volts / (4 * 2 * c.feet * 1.588e-3)
			for _, share := range []float64{0.97, 1.03, 2} {
				doc := computeWith(t, oneTemperature(t), fmt.Sprintf(`{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft",
				  "catalogue": {
				    "fixtures": {"flood": {"kind": "flood", "load": "constant-power", "watts": %g, "power_factor": %g, "rated_volts": "%g V"}},
				    "cables": {"c": {"conductor": "12 AWG", "stranding": "solid", "ampacity": "1000 A"}},
				    "transformers": {"U": {"kind": "electronic", "rating": "2000 VA", "regulated": true, "taps": ["%g V"]}}
				  },
				  "transformers": [{"id": "T1", "type": "U"}],
				  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "c", "chain": [{"to": "L1", "length": %g}]}],
				  "fixtures": [{"id": "L1", "type": "flood"}]}`,
					share*most*c.pf, c.pf, c.volts, c.volts, c.feet))
				run := doc.Runs[0]
				if run.Solved != (share < 1) {
					t.Fatalf("%g of the most: solved %t at %q", share, run.Solved, run.Corner)
				}
				if share > 1 && (run.CouldCarryVA == nil || math.Abs(*run.CouldCarryVA/most-1) > within) {
					t.Errorf("could carry %v VA, by hand %g VA", run.CouldCarryVA, most)
				}
			}
		})
	}
}
