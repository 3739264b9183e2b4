package facts_test

import (
	"fmt"
	"testing"
)

// twoLampPlan is two lamps, one behind the other, on cable of a length in feet.
func twoLampPlan(unit, lamp, conductor string, feet int) string {
	return fmt.Sprintf(`{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft",
	  "supply": {"volts": 120},
	  "catalogue": {
	    "fixtures": {"lamp": {"kind": "spot", %s, "rated_volts": "12 V"}},
	    "cables": {"c": {"conductor": "%s"}},
	    "transformers": {"U": {"rating": "300 VA", "taps": ["12 V"], "commons": [{"breaker": "25 A"}], %s}}
	  },
	  "transformers": [{"id": "T1", "type": "U"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "c", "legs": [
	    {"id": "w1", "from": "T1", "to": "L1", "length": %d}, {"id": "w2", "from": "L1", "to": "L2", "length": 1}]}],
	  "fixtures": [{"id": "L1", "type": "lamp"}, {"id": "L2", "type": "lamp"}]}`, lamp, conductor, unit, feet)
}

// A corner is named for a difference that prints, and the plainest corner of those
// that print the same.
func TestTellingCorners(t *testing.T) {
	const (
		steady  = `"kind": "electronic", "regulated": true, "output": "dc", "on_overload": "foldback"`
		follows = `"kind": "magnetic", "impedance": "4 %"`
		linear  = `"load": "constant-current", "watts": 20, "va": 20`
		driver  = `"load": "constant-power", "watts": 20, "va": 20`
		halogen = `"load": "filament", "watts": 40`
	)
	const nominal, low, high = "nominal supply", "low supply, hot cable", "high supply, cold cable"
	for _, c := range []struct {
		name, text string
		leg, run   string // corners of the far leg and of the run
	}{
		{"nothing changes", twoLampPlan(steady, linear, "12 AWG", 20), nominal, nominal},
		{"less than prints", twoLampPlan(steady, driver, "10 AWG", 5), nominal, nominal},
		{"drivers want more at low supply", twoLampPlan(follows, driver, "12 AWG", 20), low, low},
		{"filaments take more at high supply, with a lamp out hardly more", twoLampPlan(follows, halogen, "10 AWG", 5), high, high},
		{"filaments take more with a lamp out, and it shows", twoLampPlan(follows, halogen, "16 AWG", 60), high + ", L1 out", high},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc := compute(t, c.text)
			if got := doc.Legs[1].AmpsCorner; got != c.leg {
				t.Errorf("leg w2: %g A at %q, want %q", doc.Legs[1].Amps, got, c.leg)
			}
			if run, common := doc.Runs[0].AmpsCorner, doc.Commons[0].Corner; run != c.run || common != c.run {
				t.Errorf("run at %q, common at %q, want %q", run, common, c.run)
			}
		})
	}
}
