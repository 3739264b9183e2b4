package facts_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// sparePlan is one lamp on one cable of a supply that holds 12 V, so that the
// volts at the lamp are 12 V less the drop in the cable.
func sparePlan(va int, window, conductor string, lengthFt, rating int, commons string) string {
	return fmt.Sprintf(`{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft",
	  "catalogue": {
	    "fixtures": {"flood": {"kind": "flood", "load": "constant-power", "watts": %d, "va": %d, "window": ["%s", "15 V"]}},
	    "cables": {"c": {"conductor": "%s", "stranding": "solid", "ampacity": "10 A"}},
	    "transformers": {"U": {"kind": "electronic", "rating": "%d VA", "regulated": true, "output": "dc", "taps": ["12 V"]%s}}
	  },
	  "transformers": [{"id": "T1", "type": "U"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "c", "chain": [{"to": "L1", "length": %d}]}],
	  "fixtures": [{"id": "L1", "type": "flood"}]}`, va, va, window, conductor, rating, commons, lengthFt)
}

// oneTemperature are limits that keep every cable at 20 degrees, so that the
// corners are alike.
func oneTemperature(t *testing.T) []facts.Limit {
	out := limitsOf(t, "us-nec-2020")
	for i := range out {
		switch out[i].Name {
		case "wire.hot_ground_c", "wire.cold_c":
			v := 20.0
			out[i].Value = &v
		case "wire.rise_k":
			v := 0.0
			out[i].Value = &v
		}
	}
	return out
}

// spareOf is the room of the one run of a plan.
func spareOf(t *testing.T, text string) (facts.Spare, bool) {
	t.Helper()
	document, err := plan.Decode([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	p, issues := plan.Resolve(document)
	for _, issue := range issues {
		t.Errorf("the plan of the test: %s at %s", issue.Message, issue.Pointer)
	}
	doc, err := facts.Compute(context.Background(), facts.Input{Plan: p, Limits: oneTemperature(t), Today: "2026-06-01"})
	if err != nil {
		t.Fatal(err)
	}
	all, err := facts.SpareVA(context.Background(), p, doc)
	if err != nil {
		t.Fatal(err)
	}
	spare, ok := all["R1"]
	return spare, ok
}

// TestSpareVA holds the search against closed forms: with the volts at the lamp
// at V = 12 - I*R, the load there is V*I. Resistances are of solid copper at 20
// degrees, in ohm for 1000 ft: 1.588 for 12 AWG, 6.385 for 18 AWG (National
// Bureau of Standards, Handbook 100, table 5; ASTM B258).
func TestSpareVA(t *testing.T) {
	const awg12, awg18, lampVA = 1.588e-3, 6.385e-3, 5.0
	loop := func(perFoot, ft float64) float64 { return 2 * perFoot * ft }
	cases := []struct {
		name, plan, until string
		wantVA            float64
	}{
		{"window", sparePlan(5, "10 V", "12 AWG", 100, 300, ""), "lamp L1 falls below its window at nominal supply",
			10*2/loop(awg12, 100) - lampVA},
		{"ampacity", sparePlan(5, "9 V", "18 AWG", 10, 300, ""), "the ampacity of R1/L1 at nominal supply",
			10*(12-10*loop(awg18, 10)) - lampVA},
		{"rating", sparePlan(5, "9 V", "12 AWG", 1, 60, ""), "the rating of the transformer at nominal supply",
			5*(12-5*loop(awg12, 1)) - lampVA},
		{"device", sparePlan(5, "9 V", "12 AWG", 1, 300, `, "commons": [{"breaker": "4 A"}]`), "the device of common T1/1 at nominal supply",
			4*(12-4*loop(awg12, 1)) - lampVA},
		{"listing", sparePlan(5, "9 V", "12 AWG", 1, 900, `, "commons": [{}], "largest_va_per_common": "50 VA"`), "the VA allowed on common T1/1 at nominal supply", 50 - lampVA},
		{"nothing left", sparePlan(5, "11.9 V", "12 AWG", 100, 300, ""), "lamp L1 falls below its window at nominal supply", 0},
	}
	const tolVA = 0.15 // 0.1 of the search, the rest for resistances of four figures
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, ok := spareOf(t, c.plan)
			if !ok || math.Abs(got.VA-c.wantVA) > tolVA || got.Until != c.until {
				t.Errorf("%+v (known: %t), want %.2f VA until %s", got, ok, c.wantVA, c.until)
			}
		})
	}
}

// TestNoSpareWithoutAnswer: 500 VA over 100 ft of 12 AWG have no answer, since
// 12*12/(4*0.3176) = 113 VA is the most that reaches the lamp.
func TestNoSpareWithoutAnswer(t *testing.T) {
	if got, ok := spareOf(t, sparePlan(500, "9 V", "12 AWG", 100, 1000, "")); ok {
		t.Errorf("%+v, want nothing", got)
	}
}

// TestSpareOfTwoCables: of a thin leg and a thick one, each is held against its
// own ampacity, whatever the order of their ids. Both are 1 ft long; the thin one
// is last, carries what the far lamp and the further load draw, and may carry 6 A.
func TestSpareOfTwoCables(t *testing.T) {
	text := `{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft",
	  "catalogue": {
	    "fixtures": {"flood": {"kind": "flood", "load": "constant-power", "watts": 5, "va": 5, "window": ["9 V", "15 V"]}},
	    "cables": {"thick": {"conductor": "12 AWG", "stranding": "solid", "ampacity": "20 A"}, "thin": {"conductor": "18 AWG", "stranding": "solid", "ampacity": "6 A"}},
	    "transformers": {"U": {"kind": "electronic", "rating": "300 VA", "regulated": true, "output": "dc", "taps": ["12 V"]}}
	  },
	  "transformers": [{"id": "T1", "type": "U"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "legs": [
	    {"id": "z", "from": "T1", "to": "L1", "cable": "thick", "length": 1}, {"id": "a", "from": "L1", "to": "L2", "cable": "thin", "length": 1}]}],
	  "fixtures": [{"id": "L1", "type": "flood"}, {"id": "L2", "type": "flood"}]}`
	const thick, thin, lampVA = 2 * 1.588e-3, 2 * 6.385e-3, 5.0 // ohm, as in TestSpareVA
	atL1 := 12 - thick*(6+lampVA/12)                            // L1 draws 5 VA at very nearly 12 V
	want := 6*(atL1-6*thin) - lampVA
	got, ok := spareOf(t, text)
	if !ok || math.Abs(got.VA-want) > 0.15 || got.Until != "the ampacity of a at nominal supply" {
		t.Errorf("%+v (known: %t), want %.2f VA until the ampacity of a", got, ok, want)
	}
}
