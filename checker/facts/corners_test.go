package facts_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"duskproof/checker/facts"
)

// perKelvin is the temperature coefficient of annealed copper at 20 C, IEC 60028.
const perKelvin = 0.00393

// steadyPlan is one lamp of 2 A at the end of 100 ft of cable on a supply that
// follows neither mains nor load, so that its volts tell the cable's resistance.
func steadyPlan(site string) string {
	return fmt.Sprintf(`{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft", %s
	  "catalogue": {
	    "fixtures": {"bar": {"kind": "flood", "load": "constant-current", "watts": 24, "power_factor": 1, "window": ["9 V", "15 V"]}},
	    "cables": {"12/2": {"conductor": "12 AWG"}},
	    "transformers": {"S100": {"kind": "electronic", "output": "dc", "regulated": true, "rating": "100 VA", "taps": ["12 V"]}}
	  },
	  "transformers": [{"id": "T1", "type": "S100"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "L1", "length": 100}]}],
	  "fixtures": [{"id": "L1", "type": "bar"}]}`, site)
}

// TestConductorTemperatures holds at what temperature the copper is taken: at
// the profile's in the nominal corner, and in the hot one at the plan's own, or
// at the profile's where the plan states none.
func TestConductorTemperatures(t *testing.T) {
	drops := func(site string, limits ...facts.Limit) (nominal, low float64) {
		f := computeWith(t, limits, steadyPlan(site)).Fixtures[0]
		return 12 - *f.NominalVolts, 12 - *f.LowVolts
	}
	at20, at30 := drops("")
	for _, c := range []struct {
		name      string
		got, want float64 // drop over that at 20 C
	}{
		{"hot corner, nothing stated", at30, 1 + 10*perKelvin},
		{"hot corner, ground at 45 C", second(drops(`"site": {"ground": {"temperature": "45 C"}},`)), 1 + 25*perKelvin},
		{"hot corner, ground at 95 F", second(drops(`"site": {"ground": {"temperature": "95 F"}},`)), 1 + 15*perKelvin},
		{"hot corner, profile at 40 C", second(drops("", limitOf("wire.hot_ground_c", 40))), 1 + 20*perKelvin},
		{"nominal corner, profile at 0 C", first(drops("", limitOf("wire.ground_c", 0))), 1 - 20*perKelvin},
	} {
		if got := c.got / at20; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %.6f times the drop at 20 C, by IEC 60028 %.6f", c.name, got, c.want)
		}
	}
}

func first(a, _ float64) float64  { return a }
func second(_, b float64) float64 { return b }

func limitOf(name string, value float64) facts.Limit { return facts.Limit{Name: name, Value: &value} }

// TestZonesAlone holds that a lamp is at its highest volts when the control that
// switches it is on and every other one off, and that the corner is named. L0 is
// switched by nothing, L3 by two controls one behind the other.
func TestZonesAlone(t *testing.T) {
	text := sketch(`"transformers": [{"id": "T1", "type": "T300"}]`,
		`"runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [
		  {"to": "L0", "length": 60}, {"to": "L1", "length": 60}, {"to": "L2", "length": 60}, {"to": "L3", "length": 60}]}]`,
		`"fixtures": [{"id": "L0", "type": "lamp"}, {"id": "L1", "type": "lamp"}, {"id": "L2", "type": "lamp"}, {"id": "L3", "type": "lamp"}]`,
		`"controls": [{"id": "early", "kind": "timer", "switches": ["L1", "L3"]}, {"id": "late", "kind": "timer", "switches": ["L2", "L3"]}]`)
	doc := compute(t, text)
	got := words(doc.Fixtures, func(f facts.Fixture) string { return f.ID + " " + f.HighCorner })
	want := "L0 high supply, cold cable, unswitched lamps alone; L1 high supply, cold cable, zone early alone; " +
		"L2 high supply, cold cable, zone late alone; L3 high supply, cold cable, L2 out"
	if got != want {
		t.Errorf("highest volts:\n got %s\nwant %s", got, want)
	}
	one := compute(t, strings.Replace(text, `"switches": ["L1", "L3"]`, `"switches": ["T1"]`, 1))
	if got := one.Fixtures[1].HighCorner; got != "high supply, cold cable, zone early alone" {
		t.Errorf("L1 behind one control of two: %s", got)
	}
}

// TestCouldCarry holds that the load a run could carry is said of that run
// beside the others as they are: by maximum power transfer through a
// resistance, P = PF V²/4R, with the volts that the other run leaves.
func TestCouldCarry(t *testing.T) {
	const far = 1000 * foot
	text := sketch(`"transformers": [{"id": "T1", "type": "T300"}]`,
		`"runs": [
		  {"id": "far", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "L1", "length": 1000}]},
		  {"id": "near", "from": {"transformer": "T1"}, "cable": "10/2", "chain": [{"to": "L2", "length": 1}]}]`,
		`"fixtures": [{"id": "L1", "type": "big"}, {"id": "L2", "type": "big"}]`)
	text = strings.Replace(text, `"lamp": {`, `"big": {"kind": "flood", "load": "constant-power", "watts": 60, "va": 60}, "lamp": {`, 1)
	text = strings.Replace(text, `"impedance": "4 %"`, `"impedance": "0.001 %"`, 1)
	run := compute(t, text).Runs[0]
	if run.Solved || run.CouldCarryVA == nil {
		t.Fatalf("%+v", run)
	}
	// 12 AWG stranded: 1.98 ohm per 1,000 ft at 75 C, NEC chapter 9 table 8;
	// at 20 C that is 0.8224 of it.
	ohms := 2 * 1.98 * 0.82235 * far / (1000 * foot)
	if want := 12 * 12 / (4 * ohms); math.Abs(*run.CouldCarryVA-want) > 0.01*want {
		t.Errorf("could carry %.2f VA, by maximum power transfer %.2f VA", *run.CouldCarryVA, want)
	}
}
