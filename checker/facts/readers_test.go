package facts_test

import (
	"math"
	"slices"
	"testing"
)

// TestCornersScaleWithTheSupply holds the volts that readers see in each corner.
// A resistor on a cable of next to no length is a linear network, whose volts go
// with those of its source (Ohm's law), here 95 % and 105 % of nominal.
func TestCornersScaleWithTheSupply(t *testing.T) {
	doc := computeWith(t, nil, `{"format": "1.0", "plan": {"title": "Invented"}, "units": "m",
	  "supply": {"volts": 120, "tolerance": {"low": "-5 %", "high": "+5 %"}},
	  "catalogue": {
	    "fixtures": {"bar": {"kind": "strip", "load": "resistive", "watts": 12, "window": ["9 V", "15 V"]}},
	    "cables": {"8/2": {"conductor": "8 AWG"}},
	    "transformers": {"T150": {"kind": "magnetic", "rating": "150 VA", "impedance": "4 %", "taps": ["12 V"]}}
	  },
	  "transformers": [{"id": "T1", "type": "T150"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "8/2", "chain": [{"to": "B1", "length": 0.01}]}],
	  "fixtures": [{"id": "B1", "type": "bar", "group": "bar"}],
	  "controls": [{"id": "C1", "kind": "timer", "scenes": [{"id": "evening", "on": ["bar"]}, {"id": "off", "in_use": false, "on": []}]}]}`)
	lamp := doc.Fixtures[0]
	want := []struct {
		corner string
		factor float64
	}{{"nominal supply", 1}, {"low supply, hot cable", 0.95}, {"high supply, cold cable", 1.05}, {"high supply, cold cable, scene evening", 1.05}}
	if len(lamp.Corners) != len(want) {
		t.Fatalf("corners %v, want %v", lamp.Corners, want)
	}
	for i, c := range lamp.Corners {
		// What is left of cable and joints changes a little with temperature.
		if got := c.Volts / *lamp.NominalVolts; c.Corner != want[i].corner || math.Abs(got-want[i].factor) > 1e-3 {
			t.Errorf("%s: %.5f of nominal, want %.5f at %s", c.Corner, got, want[i].factor, want[i].corner)
		}
		if c.Volts < *lamp.LowVolts-1e-9 || c.Volts > *lamp.HighVolts+1e-9 {
			t.Errorf("%s: %.4f V lies outside least and most", c.Corner, c.Volts)
		}
	}
}

// TestLampsOfAPath names the fixtures that light a path. At 1 m height a lamp of
// 100 cd gives 100 lx below it, and at 30 m beside it 100/30^3 = 0.004 lx
// (inverse-square and cosine law), which is too little to be named.
func TestLampsOfAPath(t *testing.T) {
	doc := lit(t, `"site": {"paths": [{"id": "walk", "centreline": [[0, 0], [8, 0]], "width": 1}]}`,
		`"fixtures": [
		  {"id": "G1", "type": "globe", "at": [4, 3], "height": 1},
		  {"id": "G2", "type": "globe", "at": [4, 0.6], "height": 1},
		  {"id": "G3", "type": "globe", "at": [4, 30], "height": 1}]`)
	if got := doc.Paths[0].Lamps; !slices.Equal(got, []string{"G2", "G1"}) {
		t.Errorf("the path is lit by %v, want the nearer lamp, the farther one, and not the one 30 m away", got)
	}
}
