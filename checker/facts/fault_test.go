package facts_test

import (
	"fmt"
	"math"
	"testing"
)

// longRunPlan is 100 ft of 12 AWG behind a 300 VA unit of 4 %, whose protection is
// written out.
func longRunPlan(protection string) string { return runOfFeet(100, protection) }

// runOfFeet is the same of another length.
func runOfFeet(feet int, protection string) string {
	return fmt.Sprintf(`{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft",
	  "supply": {"volts": 120},
	  "catalogue": {
	    "fixtures": {"path": {"kind": "path", "load": "constant-power", "watts": 4, "va": 4, "window": ["9 V", "15 V"]}},
	    "cables": {"12/2": {"conductor": "12 AWG"}},
	    "transformers": {"T300": {"kind": "magnetic", "rating": "300 VA", "impedance": "4 %%", "taps": ["12 V"]%s}}
	  },
	  "transformers": [{"id": "T1", "type": "T300"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "L1", "length": %d}]}],
	  "fixtures": [{"id": "L1", "type": "path"}]}`, protection, feet)
}

// The least short at the far end by hand: 1.98 ohm/1000 ft at 75 C (NEC chapter 9,
// table 8) times 0.95155 for 60 C, both conductors of 100 ft, 0.0192 ohm of the
// unit, mains 5 % low: 28.8 A. A device on the primary counts ten times at 12 V,
// and the one that opens first is judged. The cable carries 20 A (table 310.16);
// it may carry 29 A behind a device of 20 A or less (IEC 60364-4-43, 433.1).
func TestFaultDevice(t *testing.T) {
	const hand = 0.95 * 12 / (0.0192 + 0.2*1.98*0.95155)
	for _, c := range []struct {
		name, protection, where string
		needed                  float64
		clears                  bool
		heated                  float64 // amps; nought for none
	}{
		{"a breaker of 20 A", `, "commons": [{"breaker": "20 A"}]`, "common", 27, true, 0},
		{"a breaker of 25 A", `, "commons": [{"breaker": "25 A"}]`, "common", 33.75, false, 33.75},
		{"a fuse on the tap as well", `, "commons": [{"breaker": "25 A"}], "protection": [{"kind": "fuse", "amps": "10 A", "protects": "tap", "tap": "12 V"}]`, "tap", 13.5, true, 0},
		{"a fuse on the primary alone", `, "protection": [{"kind": "fuse", "amps": "2 A", "protects": "primary"}]`, "primary", 27, true, 0},
		{"a large fuse on the primary alone", `, "protection": [{"kind": "fuse", "amps": "2.5 A", "protects": "primary"}]`, "primary", 33.75, false, 33.75},
		{"no device", ``, "", 0, true, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := compute(t, longRunPlan(c.protection)).Faults[0]
			if unknown := f.DeviceAmps == nil; unknown && f.Protection != "unknown" || f.SupplyReacts {
				t.Fatalf("protected %q, reacts %t", f.Protection, f.SupplyReacts)
			}
			if f.Clears != c.clears || f.DeviceWhere != c.where || f.At != "L1" || (f.HeatedLeg != "") != (c.heated > 0) {
				t.Fatalf("%+v", f)
			}
			if math.Abs(f.LeastAmps/hand-1) > 0.005 {
				t.Errorf("least short %.2f A, by hand %.2f A", f.LeastAmps, hand)
			}
			if c.needed > 0 && math.Abs(*f.NeededAmps-c.needed) > 1e-9 {
				t.Errorf("needed %g A, want %g A", *f.NeededAmps, c.needed)
			}
			if c.heated > 0 && (math.Abs(*f.HeatedAmps-c.heated) > 1e-9 || *f.HeatedAllowedA != 20) {
				t.Errorf("heated by %g A of %g A", *f.HeatedAmps, *f.HeatedAllowedA)
			}
		})
	}
}

// A breaker of 20 A on 12 AWG (20 A, table 310.16) is what NFPA 70, 240.4, accepts:
// whatever the length, and whether or not the short at the end opens it, no cable
// carries more than it may. Behind 25 A it does, as soon as the breaker may hold.
func TestTwentyAmpsOnTwelveGauge(t *testing.T) {
	for _, feet := range []int{20, 60, 100, 130, 200, 400} {
		least := 0.95 * 12 / (0.0192 + 2*float64(feet)/1000*1.98*0.95155) // as in TestFaultDevice
		f := compute(t, runOfFeet(feet, `, "commons": [{"breaker": "20 A"}]`)).Faults[0]
		if f.HeatedLeg != "" || f.Clears != (least >= 27) || math.Abs(f.LeastAmps/least-1) > 0.005 {
			t.Errorf("20 A, %d ft: %+v, by hand %.1f A", feet, f, least)
		}
		f = compute(t, runOfFeet(feet, `, "commons": [{"breaker": "25 A"}]`)).Faults[0]
		most := 1.05 * 12 / math.Hypot(0.0192/math.Sqrt2+2*float64(feet)/1000*1.98*0.75775, 0.0192/math.Sqrt2)
		if heats := least < 33.75 && most > 20; (f.HeatedLeg != "") != heats {
			t.Errorf("25 A, %d ft: %+v, by hand %.1f to %.1f A", feet, f, least, most)
		}
	}
}
