package facts_test

import (
	"fmt"
	"strings"
	"testing"

	"duskproof/checker/facts"
)

// measuredPlan is an invented run of six lamps and one of three, whose system is
// read after it was built. Each %s is a place of the plan where something may have
// been built otherwise.
const measuredPlan = `{"format": "1.0", "plan": {"title": "Invented", "stage": "as-built"}, "units": "ft",
"supply": {"volts": 120},
"catalogue": {
  "fixtures": {
    "lamp": {"kind": "path", "load": "constant-power", "watts": 6, "va": 7, "window": ["9 V", "15 V"]},
    "leaded": {"kind": "path", "load": "constant-power", "watts": 6, "va": 7, "window": ["9 V", "15 V"], "lead": {"conductor": "18 AWG", "length": "23.5 ft"}},
    "pump": {"kind": "path", "load": "resistive", "watts": 22, "window": ["9 V", "15 V"]}
  },
  "cables": {"12/2": {"conductor": "12 AWG"}, "16/2": {"conductor": "16 AWG"}},
  "connectors": {"lug": {"kind": "gel-lug", "resistance": "2 mohm"}},
  "transformers": {"unit": {"kind": "magnetic", "rating": "300 VA", "primary_volts": "120 V", "impedance": "4 %%", "output": "%s", "taps": ["12 V", "13 V"],
    "commons": [{"breaker": "25 A"}, {"breaker": "25 A"}]}}
},
"transformers": [{"id": "T1", "type": "unit"}],
"runs": [
  {"id": "front", "from": {"transformer": "T1", "common": 1, "tap": "%s"}, "cable": "12/2", "connector": "lug", "legs": [
    {"id": "a", "from": "T1", "to": "F1", "length": "30 ft"}, {"id": "b", "from": "F1", "to": "F2", "length": "%s"}, {"id": "c", "from": "F2", "to": "F3", "length": "15 ft"},
    {"id": "d", "from": "F3", "to": "F4", "length": "15 ft", "cable": "%s"}, {"id": "e", "from": "F4", "to": "F5", "length": "15 ft"}, {"id": "f", "from": "F5", "to": "F6", "length": "15 ft"}%s]},
  {"id": "back", "from": {"transformer": "T1", "common": 2, "tap": "12 V"}, "cable": "16/2", "connector": "lug", "legs": [
    {"id": "g", "from": "T1", "to": "B1", "length": "20 ft"}, {"id": "h", "from": "B1", "to": "B2", "length": "15 ft"}, {"id": "i", "from": "B2", "to": "B3", "length": "15 ft"}]}
],
"fixtures": [
  {"id": "F1", "type": "lamp", "connector": "lug"}, {"id": "F2", "type": "lamp", "connector": "lug"}, {"id": "F3", "type": "%s", "connector": "lug"},
  {"id": "F4", "type": "lamp", "connector": "lug", "level": "%s"}, {"id": "F5", "type": "lamp", "connector": "lug"%s}, {"id": "F6", "type": "lamp", "connector": "lug"},
  {"id": "B1", "type": "lamp", "connector": "lug", "group": "back"}, {"id": "B2", "type": "lamp", "connector": "lug", "group": "back"}, {"id": "B3", "type": "lamp", "connector": "lug", "group": "back"}%s]%s
}`

// built says what of measuredPlan was built otherwise; empty means as drawn.
type built struct{ output, tap, b, d, leg, third, level, lamp, fixture, rest string }

func (b built) plan() string {
	or := func(v, otherwise string) string {
		if v == "" {
			return otherwise
		}
		return v
	}
	return fmt.Sprintf(measuredPlan, or(b.output, "ac"), or(b.tap, "12 V"), or(b.b, "15 ft"), or(b.d, "12/2"), b.leg,
		or(b.third, "lamp"), or(b.level, "100 %"), b.lamp, b.fixture, b.rest)
}

// meterOf is what a good meter would show at every lamp and common of a system: what
// is expected there of readings that are as yet nought.
func meterOf(t *testing.T, b built) string {
	t.Helper()
	var places, values []string
	for _, id := range []string{"F1", "F2", "F3", "F4", "F5", "F6", "B1", "B2", "B3"} {
		places = append(places, fmt.Sprintf(`{"at": %q, "volts": 0}`, id))
	}
	for common := 1; common <= 2; common++ {
		places = append(places, fmt.Sprintf(`{"at": "T1", "common": %d, "amps": 0}`, common))
	}
	b.rest = visit("["+strings.Join(places, ", ")+"]", goodMeter)
	for _, r := range compute(t, b.plan()).Readings {
		where := fmt.Sprintf(`"at": %q`, r.At)
		if number, ok := strings.CutPrefix(r.ID, "visit/T1/"); ok {
			where += `, "common": ` + number
		}
		values = append(values, fmt.Sprintf(`{%s, %q: %.2f}`, where, r.Quantity, *r.Expected))
	}
	return "[" + strings.Join(values, ", ") + "]"
}

// visit is the section of a plan with one visit of readings.
func visit(values, more string) string {
	return `, "readings": [{"id": "visit", "date": "2026-06-01", "supply": "120 V"` + more + `, "values": ` + values + `}]`
}

const goodMeter = `, "meter": {"true_rms": true, "volt_resolution": "0.01 V", "amp_resolution": "0.01 A", "accuracy": "0.2 %"}`

// TestEachCauseIsNamed builds a system otherwise than drawn, in each way that a
// diagnosis knows, reads it, and asks what is wrong. The same solver makes the
// readings; what is held is the way from a plan to words. The figures against
// readings with noise are those of the simulation in package diagnose.
func TestEachCauseIsNamed(t *testing.T) {
	for name, c := range map[string]struct {
		built         built
		element, kind string
		words         string
	}{
		"bad joint":        {built{b: "78 ft"}, "b", "joint", "leg b, or a joint at its ends, has 0.20 ohm too much"},          // 63 ft more of 12 AWG: 2 x 63 ft x 1.588 mohm/ft (ASTM B258)
		"bad lamp joint":   {built{third: "leaded"}, "F3", "lamp-joint", "the joint or lead of lamp F3 has 0.30 ohm too much"}, // 2 x 23.5 ft x 6.385 mohm/ft (ASTM B258)
		"dead lamp":        {built{level: "0 %"}, "F4", "dead-lamp", "lamp F4 draws nothing"},
		"another lamp":     {built{lamp: `, "lamp": {"watts": 15, "va": 17.5}`}, "F5", "other-lamp", "lamp F5 draws 2.5 times its load"},
		"leak or load":     {built{leg: `, {"id": "x", "from": "F3", "to": "X", "length": "0.1 ft"}`, fixture: `, {"id": "X", "type": "pump"}`}, "F3", "leak", "leaks or is drawn by something else at F3"},
		"wrong tap":        {built{tap: "13 V"}, "front", "wrong-tap", "run front is on the 13 V tap"},
		"swapped cable":    {built{d: "16/2"}, "d", "other-cable", "leg d is 16 AWG"},
		"nothing is wrong": {built{}, "", "", ""},
	} {
		doc := compute(t, built{rest: visit(meterOf(t, c.built), goodMeter)}.plan())
		if len(doc.Diagnoses) != 1 {
			t.Fatalf("%s: %d diagnoses", name, len(doc.Diagnoses))
		}
		d := doc.Diagnoses[0]
		if c.kind == "" {
			if d.Outcome != "healthy" || len(doc.Suspects) > 0 {
				t.Errorf("%s: %s, %v", name, d.Outcome, doc.Suspects)
			}
			continue
		}
		found := false
		for _, s := range doc.Suspects {
			found = found || s.Group == 1 && s.ID == c.element && s.Kind == c.kind && strings.Contains(s.Words, c.words) && s.Confidence > 0 && s.Confidence <= 1
		}
		if !found || d.Outcome != "suspect" {
			t.Errorf("%s: outcome %s, and no suspect of the best group says %q: %+v", name, d.Outcome, c.words, doc.Suspects)
		}
	}
}

// TestMisreadOutputsAreRefused holds that readings of an ordinary meter are not used
// where it misreads, that they say why, and that nothing is expected there.
func TestMisreadOutputsAreRefused(t *testing.T) {
	values := `[{"at": "F1", "volts": "11.0 V"}, {"at": "T1", "common": 1, "amps": "3 A"}]`
	control := func(dimmer, level string) string {
		return `, "controls": [{"id": "C1", "kind": "timer", "switches": ["T1"]` + dimmer + `, "scenes": [{"id": "late", "on": [{"group": "back", "level": "` + level + `"}]}]}]`
	}
	const edge, digital = `, "dimmer": {"method": "trailing-edge"}`, `, "dimmer": {"method": "digital"}`
	const trueRMS, ordinary, late = `, "meter": {"true_rms": true}`, `, "meter": {"true_rms": false}`, `, "scene": "late"`
	for name, c := range map[string]struct {
		built built
		why   string
	}{
		"high frequency, meter not described": {built{output: "hf-ac", rest: visit(values, "")}, "high-frequency"},
		"high frequency, ordinary meter":      {built{output: "hf-ac", rest: visit(values, ordinary)}, "high-frequency"},
		"high frequency, true RMS":            {built{output: "hf-ac", rest: visit(values, trueRMS)}, ""},
		"chopped, ordinary meter":             {built{rest: control(edge, "40 %") + visit(values, ordinary+late)}, "a dimmer chops"},
		"chopped, true RMS":                   {built{rest: control(edge, "40 %") + visit(values, trueRMS+late)}, ""},
		"not dimmed in this scene":            {built{rest: control(edge, "100 %") + visit(values, ordinary+late)}, ""},
		"another scene was on":                {built{rest: control(edge, "40 %") + visit(values, ordinary)}, ""},
		"digital dimmer":                      {built{rest: control(digital, "40 %") + visit(values, ordinary+late)}, ""},
		"sine wave, ordinary meter":           {built{rest: visit(values, ordinary)}, ""},
	} {
		doc := compute(t, c.built.plan())
		if len(doc.Readings) != 2 {
			t.Fatalf("%s: %d readings, want 2", name, len(doc.Readings))
		}
		for _, r := range doc.Readings {
			used := r.Expected != nil && r.Tolerance != nil
			if c.why == "" && (!used || r.Refused != "") || c.why != "" && (used || !strings.Contains(r.Refused, c.why)) {
				t.Errorf("%s: %s: used %t, refused %q", name, r.ID, used, r.Refused)
			}
		}
		if refused := c.why != ""; refused == (len(doc.Diagnoses) > 0) {
			t.Errorf("%s: %d diagnoses", name, len(doc.Diagnoses))
		}
	}
}

// TestToleranceIsStated holds that what meter and model explain grows with the
// meter's step, and with a mains that was not measured.
func TestToleranceIsStated(t *testing.T) {
	values := `[{"at": "F6", "volts": "11.0 V"}]`
	tolerance := func(set string) float64 {
		doc := compute(t, built{rest: set}.plan())
		return *firstRead(t, doc.Readings).Tolerance
	}
	fine, coarse := tolerance(visit(values, goodMeter)), tolerance(visit(values, `, "meter": {"true_rms": true, "volt_resolution": "0.5 V"}`))
	unmeasured := tolerance(strings.Replace(visit(values, goodMeter), `, "supply": "120 V"`, "", 1))
	if !(fine > 0 && coarse > fine && unmeasured > fine) {
		t.Errorf("a fine meter %.3f V, a coarse one %.3f V, mains not measured %.3f V", fine, coarse, unmeasured)
	}
}

func firstRead(t *testing.T, readings []facts.Reading) *facts.Reading {
	t.Helper()
	if len(readings) == 0 || readings[0].Tolerance == nil {
		t.Fatal("no reading is used")
	}
	return &readings[0]
}
