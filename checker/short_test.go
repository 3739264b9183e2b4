package checker

import (
	"context"
	"strings"
	"testing"
)

// A short is judged against the device that ends it. Where a unit says that it trips,
// and not at how many amperes, that cannot be judged, and is said; an electronic supply
// that reacts to a short by itself needs no device. Invented.
func TestShortWithoutAStatedDevice(t *testing.T) {
	const text = `{
	  "format": "1.0", "plan": {"title": "Invented: a unit that trips", "stage": "design"}, "units": "ft", "profiles": ["us-nec-2020"],
	  "catalogue": {
	    "fixtures": {"lamp": {"kind": "path", "load": "constant-power", "watts": 4, "va": 5, "window": ["9 V", "15 V"]}},
	    "cables": {"12/2": {"conductor": "12 AWG", "ampacity": "25 A"}},
	    "transformers": {"U": {"rating": "150 VA", "taps": ["12 V"], UNIT}}
	  },
	  "transformers": [{"id": "T1", "type": "U"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "P1", "length": 20}]}],
	  "fixtures": [{"id": "P1", "type": "lamp"}]
	}`
	c, err := New(Options{Today: today, Only: []string{"plan.cannot-judge", "wire.fault-not-cleared"}})
	if err != nil {
		t.Fatal(err)
	}
	for unit, want := range map[string]bool{
		`"kind": "magnetic", "impedance": "4 %", "on_overload": "trip"`:                                                                              true,
		`"kind": "magnetic", "impedance": "4 %"`:                                                                                                     true,
		`"kind": "magnetic", "impedance": "4 %", "on_overload": "trip", "commons": [{"breaker": "15 A"}]`:                                            false,
		`"kind": "magnetic", "impedance": "4 %", "protection": [{"kind": "fuse", "amps": "1.5 A", "protects": "primary"}], "primary_volts": "120 V"`: false,
		`"kind": "electronic", "regulated": true, "on_overload": "hiccup"`:                                                                           false,
	} {
		result, err := c.Check(context.Background(), Input{Name: "short.lighting.json", Bytes: []byte(strings.Replace(text, "UNIT", unit, 1))})
		if err != nil || len(result.Problems) > 0 {
			t.Fatal(err, result.Problems)
		}
		said := false
		for _, f := range result.Findings {
			said = said || f.Rule == cannotJudge && strings.Contains(f.Message, "wire.fault-not-cleared") && strings.Contains(f.Message, "R1 (device amps)")
		}
		if said != want {
			t.Errorf("%s: said %t, want %t: %+v", unit, said, want, result.Findings)
		}
	}
}
