package facts_test

import (
	"fmt"
	"strings"
	"testing"
)

// unitPlan is one flood of some volt-amperes on a short thick cable, on a 150 VA
// unit whose protection is written out.
func unitPlan(va int, protection string) string {
	return fmt.Sprintf(`{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft",
	  "supply": {"volts": 120},
	  "catalogue": {
	    "fixtures": {"flood": {"kind": "flood", "load": "constant-power", "watts": %d, "va": %d, "window": ["9 V", "15 V"]}},
	    "cables": {"8/2": {"conductor": "8 AWG"}},
	    "transformers": {"T150": {"kind": "magnetic", "rating": "150 VA", "impedance": "4 %%", "taps": ["12 V"]%s}}
	  },
	  "transformers": [{"id": "T1", "type": "T150"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "8/2", "chain": [{"to": "L1", "length": 2}]}],
	  "fixtures": [{"id": "L1", "type": "flood"}]}`, va, va, protection)
}

// 180 VA at 12 V are 15 A and more; at 120 V they are 1.5 A and more.
func TestOverloadEnds(t *testing.T) {
	cases := []struct {
		name, protection string
		ends, protected  bool
		common           string
	}{
		{"nothing described", ``, false, false, "unknown"},
		{"described, no device", `, "commons": [{}]`, false, false, "none"},
		{"a breaker that opens", `, "commons": [{"breaker": "10 A"}]`, true, true, "own"},
		{"a breaker that never opens", `, "commons": [{"breaker": "25 A"}]`, false, true, "own"},
		{"a unit that limits itself", `, "on_overload": "foldback"`, true, true, "elsewhere"},
		{"a primary fuse that opens", `, "protection": [{"kind": "fuse", "amps": "1.3 A", "protects": "primary"}]`, true, true, "elsewhere"},
		{"a primary fuse that holds", `, "protection": [{"kind": "fuse", "amps": "3 A", "protects": "primary"}]`, false, true, "elsewhere"},
		{"a fuse on the tap that opens", `, "protection": [{"kind": "fuse", "amps": "10 A", "protects": "tap", "tap": "12 V"}]`, true, true, "elsewhere"},
		{"a fuse on every tap that opens", `, "protection": [{"kind": "fuse", "amps": "10 A", "protects": "tap"}]`, true, true, "elsewhere"},
		{"a fuse on the tap that holds", `, "protection": [{"kind": "fuse", "amps": "25 A", "protects": "tap", "tap": "12 V"}]`, false, true, "elsewhere"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			doc := compute(t, unitPlan(180, c.protection))
			unit := doc.Transformers[0]
			if unit.OverloadEnds != c.ends || unit.HasProtection != c.protected {
				t.Errorf("ends %t, protected %t; want %t, %t", unit.OverloadEnds, unit.HasProtection, c.ends, c.protected)
			}
			if got := doc.Commons[0].Protection; got != c.common {
				t.Errorf("common protected %q, want %q", got, c.common)
			}
		})
	}
}

// TestOwnCord holds what a plan that says nothing of extension cords means.
func TestOwnCord(t *testing.T) {
	cases := []struct{ name, unit, want string }{
		{"a cord that reaches", `"at": [0, 0], "plugged_into": "RC1", "cord": 4`, "false"},
		{"a cord that is too short", `"at": [0, 0], "plugged_into": "RC1", "cord": 2`, "not known"},
		{"a cord, places not known", `"plugged_into": "RC1", "cord": 2`, "false"},
		{"no cord stated", `"at": [0, 0], "plugged_into": "RC1"`, "not known"},
		{"no receptacle", `"at": [0, 0], "cord": 4`, "not known"},
		{"stated", `"at": [0, 0], "plugged_into": "RC1", "cord": 4, "extension_cord": true`, "true"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			doc := compute(t, sketch(`"supply": {"volts": 120, "receptacles": [{"id": "RC1", "at": [3, 0]}]},
			  "transformers": [{"id": "T1", "type": "T300", `+c.unit+`}]`))
			got := "not known"
			if e := doc.Transformers[0].Extension; e != nil {
				got = fmt.Sprint(*e)
			}
			if got != c.want {
				t.Errorf("extension cord: %s, want %s", got, c.want)
			}
		})
	}
}

// TestDropsOut holds that a driver that cannot hold its volts is told apart from
// one that is merely dim. The lamp of 30 VA hangs
// on 100 ft of 12 AWG, 0.32 ohm both ways by ASTM B258 and IEC 60028: some 2.7 A take
// 0.9 V of 12 V, which leaves it below 11.5 V.
func TestDropsOut(t *testing.T) {
	text := unitPlan(30, `, "commons": [{"breaker": "15 A"}]`)
	text = strings.NewReplacer(`"8 AWG"`, `"12 AWG"`, `"length": 2`, `"length": 100`, `"window": ["9 V", "15 V"]`,
		`"window": ["11.6 V", "15 V"], "drop_out": "11.5 V"`).Replace(text)
	f := compute(t, text).Fixtures[0]
	if !f.DropsOut || f.DropsOutAt != "nominal supply" {
		t.Errorf("drops out %t at %q", f.DropsOut, f.DropsOutAt)
	}
	if f.NominalVolts == nil || *f.NominalVolts >= 11.5 {
		t.Error("the lamp has volts enough to stay on")
	}
	if !f.Wired || !f.Fed {
		t.Error("the lamp has a cable and a source")
	}
}
