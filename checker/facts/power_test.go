package facts_test

import (
	"math"
	"testing"

	"duskproof/checker/facts"
)

// onePowerPlan is one lamp at the terminals of one unit.
func onePowerPlan(t *testing.T, unit, lamp string) *facts.Document {
	t.Helper()
	return compute(t, `{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft", "supply": {"volts": 120},
	  "catalogue": {
	    "fixtures": {"lamp": {"kind": "spot", `+lamp+`}},
	    "cables": {"c": {"conductor": "10 AWG"}},
	    "transformers": {"U": {"rating": "300 VA", `+unit+`}}
	  },
	  "transformers": [{"id": "T1", "type": "U"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "c", "chain": [{"to": "L1", "length": 0.01}]}],
	  "fixtures": [{"id": "L1", "type": "lamp"}]}`)
}

// On direct current P = U*I, so a power factor says nothing there; on alternating
// current the lamp draws P/(U*PF) (definition of the power factor, IEC 60050-131;
// 0.7 is assumed where the plan states none, common practice).
func TestPowerFactorOnDirectCurrent(t *testing.T) {
	const (
		direct      = `"kind": "electronic", "output": "dc", "regulated": true, "on_overload": "hiccup", "taps": ["24 V"]`
		alternating = `"kind": "magnetic", "impedance": "4 %", "taps": ["24 V"]`
	)
	for _, c := range []struct {
		name, unit, lamp string
		va               float64
		assumed          bool
	}{
		{"dc, watts alone", direct, `"load": "constant-power", "watts": 12, "rated_volts": "24 V"`, 12, false},
		{"dc, watts and VA", direct, `"load": "constant-power", "watts": 12, "va": 16, "rated_volts": "24 V"`, 12, false},
		{"dc, watts and power factor", direct, `"load": "constant-current", "watts": 12, "power_factor": 0.6, "rated_volts": "24 V"`, 12, false},
		{"dc, VA alone", direct, `"load": "constant-power", "va": 16, "rated_volts": "24 V"`, 16, false},
		{"dc, VA and power factor", direct, `"load": "constant-power", "va": 16, "power_factor": 0.75, "rated_volts": "24 V"`, 12, false},
		{"ac, watts alone", alternating, `"load": "constant-power", "watts": 12, "rated_volts": "24 V"`, 12 / 0.7, true},
		{"ac, watts and VA", alternating, `"load": "constant-power", "watts": 12, "va": 16, "rated_volts": "24 V"`, 16, false},
		{"ac, watts and power factor", alternating, `"load": "constant-current", "watts": 12, "power_factor": 0.6, "rated_volts": "24 V"`, 20, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := onePowerPlan(t, c.unit, c.lamp).Fixtures[0]
			if math.Abs(f.VAUsed-c.va) > 1e-9 || f.VAAssumed != c.assumed {
				t.Errorf("%g VA, assumed %t; by hand %g VA, %t", f.VAUsed, f.VAAssumed, c.va, c.assumed)
			}
		})
	}
}

// The amps of a primary are those of the secondary over the turns ratio, whatever
// the mains: 10 A at a tap of 12 V from 120 V are 1 A. Taps stated at rated load
// have so many more turns as the winding loses volts. The no-load loss is drawn
// at the mains volts, most amps at low supply.
func TestPrimaryAmps(t *testing.T) {
	const linear = `"load": "constant-current", "watts": 120, "va": 120, "rated_volts": "12 V"`
	for _, c := range []struct {
		name, unit string
		amps       float64
	}{
		{"taps at no load", `"kind": "magnetic", "impedance": "4 %", "regulation": "3 %", "taps": ["12 V"], "taps_stated_at": "no-load"`, 1},
		{"taps at rated load", `"kind": "magnetic", "impedance": "4 %", "regulation": "3 %", "taps": ["12 V"], "taps_stated_at": "rated-load"`, 1.03},
		{"with a no-load loss", `"kind": "magnetic", "impedance": "4 %", "taps": ["12 V"], "no_load_loss": "5.7 W"`, 1 + 5.7/114},
	} {
		t.Run(c.name, func(t *testing.T) {
			unit := onePowerPlan(t, c.unit, linear).Transformers[0]
			if unit.PrimaryAmps == nil || math.Abs(*unit.PrimaryAmps-c.amps) > 1e-9 {
				t.Errorf("%g A, by hand %g A", *unit.PrimaryAmps, c.amps)
			}
		})
	}
}

// A lamp that keeps its watts draws most at low supply: 120 VA at a tap of 11.4 V,
// less 3 % in the winding, from 114 V.
func TestPrimaryAmpsOfADriver(t *testing.T) {
	unit := onePowerPlan(t, `"kind": "magnetic", "impedance": "3 %", "regulation": "3 %", "taps": ["12 V"], "taps_stated_at": "no-load"`,
		`"load": "constant-power", "watts": 120, "va": 120, "rated_volts": "12 V"`).Transformers[0]
	// E - R*I = 120/I with E = 11.4 V and R = 0.03/1.03*12*12/300 ohm, so I; then a tenth.
	const emf, ohms = 11.4, 0.03 / 1.03 * 144 / 300
	amps := (emf - math.Sqrt(emf*emf-4*ohms*120)) / (2 * ohms)
	if math.Abs(*unit.PrimaryAmps/(amps/10)-1) > 1e-3 { // some cable of 0.01 ft
		t.Errorf("%g A, by hand %g A", *unit.PrimaryAmps, amps/10)
	}
}

// Transformers on one branch circuit see the same mains at the same time: a steady
// supply of 120 W takes 120 W / 114 V at low supply, a transformer behind which 10 A
// flow at 12 V takes 1 A at any.
func TestBranchAmpsTogether(t *testing.T) {
	doc := compute(t, `{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft",
	  "supply": {"volts": 120, "branch_circuits": [{"id": "B1", "breaker": "20 A", "other_load": "240 VA"}]},
	  "catalogue": {
	    "fixtures": {
	      "steady": {"kind": "spot", "load": "constant-power", "watts": 120},
	      "linear": {"kind": "spot", "load": "constant-current", "watts": 120, "va": 120}
	    },
	    "cables": {"c": {"conductor": "10 AWG"}},
	    "transformers": {
	      "E": {"rating": "300 VA", "kind": "electronic", "output": "dc", "regulated": true, "on_overload": "hiccup", "taps": ["12 V"]},
	      "M": {"rating": "300 VA", "kind": "magnetic", "impedance": "4 %", "taps": ["12 V"], "taps_stated_at": "no-load"}
	    }
	  },
	  "transformers": [{"id": "T1", "type": "E", "wired_to": "B1"}, {"id": "T2", "type": "M", "wired_to": "B1"}],
	  "runs": [
	    {"id": "R1", "from": {"transformer": "T1"}, "cable": "c", "chain": [{"to": "L1", "length": 0.01}]},
	    {"id": "R2", "from": {"transformer": "T2"}, "cable": "c", "chain": [{"to": "L2", "length": 0.01}]}
	  ],
	  "fixtures": [{"id": "L1", "type": "steady"}, {"id": "L2", "type": "linear"}]}`)
	b := doc.Branches[0]
	const want = 120.0/114 + 1
	if math.Abs(b.PrimaryAmps/want-1) > 1e-3 || b.PrimaryCorner != "low supply, hot cable" || len(b.Transformers) != 2 {
		t.Errorf("%g A at %q of %v, by hand %g A", b.PrimaryAmps, b.PrimaryCorner, b.Transformers, want)
	}
	if math.Abs(*b.TotalAmps-b.PrimaryAmps-2) > 1e-12 {
		t.Errorf("%g A in all", *b.TotalAmps)
	}
}

// Table 310.16 as the profile has it holds for copper, bare or tinned, however the
// size is written; a mark on the cable goes before it, and other metals have none
// (NFPA 70 gives them rows of their own).
func TestAmpacityFromTheTable(t *testing.T) {
	for cable, want := range map[string]float64{
		`"conductor": "12 AWG"`:                                                          20,
		`"conductor": "12AWG"`:                                                           20,
		`"conductor": "12 AWG", "material": "tinned-copper"`:                             20,
		`"conductor": "12 AWG", "material": "copper-clad-aluminium"`:                     0,
		`"conductor": "12 AWG", "material": "aluminium"`:                                 0,
		`"conductor": "12 AWG", "material": "copper-clad-aluminium", "ampacity": "15 A"`: 15,
		`"conductor": "12 AWG", "ampacity": "25 A"`:                                      25,
		`"conductor": "2.5 mm2"`:                                                         0,
	} {
		doc := compute(t, `{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft",
		  "catalogue": {"fixtures": {"l": {"kind": "spot", "load": "constant-power", "watts": 4, "va": 4}}, "cables": {"c": {`+cable+`}},
		    "transformers": {"U": {"kind": "magnetic", "rating": "300 VA", "taps": ["12 V"]}}},
		  "transformers": [{"id": "T1", "type": "U"}],
		  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "c", "chain": [{"to": "L1", "length": 10}]}],
		  "fixtures": [{"id": "L1", "type": "l"}]}`)
		got := doc.Legs[0].AmpacityA
		if (got == nil) != (want == 0) || got != nil && *got != want {
			t.Errorf("%s: %v, want %g A", cable, got, want)
		}
	}
}

// The least load counts the scenes in which a supply lights something: 10 W of 30 W,
// though in another scene it lights nothing.
func TestLeastLoadIsOfLitScenes(t *testing.T) {
	doc := compute(t, `{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft",
	  "catalogue": {"fixtures": {"ten": {"kind": "spot", "load": "constant-power", "watts": 10}, "twenty": {"kind": "spot", "load": "constant-power", "watts": 20}},
	    "cables": {"c": {"conductor": "10 AWG"}},
	    "transformers": {"E": {"rating": "60 VA", "kind": "electronic", "output": "dc", "regulated": true, "on_overload": "hiccup", "taps": ["12 V"], "minimum_load": "15 VA"}}},
	  "transformers": [{"id": "T1", "type": "E"}, {"id": "T2", "type": "E"}],
	  "runs": [
	    {"id": "R1", "from": {"transformer": "T1"}, "cable": "c", "chain": [{"to": "L1", "length": 0.01}, {"to": "L2", "length": 0.01}]},
	    {"id": "R2", "from": {"transformer": "T2"}, "cable": "c", "chain": [{"to": "L3", "length": 0.01}]}
	  ],
	  "fixtures": [{"id": "L1", "type": "ten"}, {"id": "L2", "type": "twenty"}, {"id": "L3", "type": "twenty"}],
	  "controls": [{"id": "C1", "kind": "timer", "scenes": [
	    {"id": "evening", "on": ["L1", "L2", "L3"]}, {"id": "late", "on": ["L1"]}, {"id": "guests", "on": ["L3"]}]}]}`)
	for i, want := range []float64{10, 20} {
		if got := doc.Transformers[i].LeastLoadVA; math.Abs(got/want-1) > 1e-3 {
			t.Errorf("%s carries %g VA at least, want %g VA", doc.Transformers[i].ID, got, want)
		}
	}
}
