package plan_test

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"duskproof/checker/plan"
	"duskproof/schema"
)

// readSlack is the relative error allowed in reading a quantity: a few roundings.
const readSlack = 1e-12

// TestParse reads what the schema lets people write. An inch is 25.4 mm and a
// yard 0.9144 m exactly (international yard and pound agreement, 1959); degrees
// Fahrenheit are (t - 32) / 1.8 (NIST SP 811, appendix B.8).
func TestParse(t *testing.T) {
	for _, c := range []struct {
		measure plan.Measure
		text    string
		want    float64
	}{
		{plan.Length, "6 in", 0.1524},
		{plan.Length, "6in", 0.1524},
		{plan.Length, "12 ft 6 in", 3.81},
		{plan.Length, "12ft 6in", 3.81},
		{plan.Length, "1/2 in", 0.0127},
		{plan.Length, "6 1/2 in", 0.1651},
		{plan.Length, "12 ft 6 1/2 in", 3.8227},
		{plan.Length, "2 ft 3/4 in", 0.62865},
		{plan.Length, "1 3/8 in", 0.034925},
		{plan.Length, "-6 in", -0.1524},
		{plan.Length, "-1 ft 6 in", -0.4572},
		{plan.Length, "+0.5 ft", 0.1524},
		{plan.Length, "3 yd", 2.7432},
		{plan.Length, "450 mm", 0.45},
		{plan.Length, "45 cm", 0.45},
		{plan.Length, "1.8 m", 1.8},
		{plan.Length, "0 m", 0},
		{plan.Length, "1/3 m", 1.0 / 3},
		{plan.Voltage, "12 V", 12},
		{plan.Voltage, "10.8V", 10.8},
		{plan.Voltage, "500 mV", 0.5},
		{plan.Current, "25 A", 25},
		{plan.Current, "350 mA", 0.35},
		{plan.Power, "6 W", 6},
		{plan.ApparentPower, "300 VA", 300},
		{plan.ApparentPower, "1.2 kVA", 1200},
		{plan.Resistance, "2 mohm", 0.002},
		{plan.Resistance, "0.01 ohm", 0.01},
		{plan.Percent, "5 %", 0.05},
		{plan.Percent, "-10 %", -0.1},
		{plan.Percent, "+10%", 0.1},
		{plan.Colour, "2700 K", 2700},
		{plan.Wavelength, "590 nm", 590},
		{plan.Temperature, "15 C", 15},
		{plan.Temperature, "59 F", 15},
		{plan.Temperature, "-40 F", -40},
		{plan.Temperature, "-5 C", -5},
	} {
		got, err := plan.Parse(c.measure, c.text)
		if err != nil || math.Abs(got-c.want) > readSlack*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s %q = %.15g, %v; want %.15g", c.measure, c.text, got, err, c.want)
		}
	}
}

func TestParseErrors(t *testing.T) {
	for _, c := range []struct {
		measure    plan.Measure
		text, want string
	}{
		{plan.Length, "", `cannot read "" as a length: it does not begin with a number; write it like "6 in", "12 ft 6 in" or "450 mm"`},
		{plan.Length, "six in", `cannot read "six in" as a length: it does not begin with a number; write it like "6 in", "12 ft 6 in" or "450 mm"`},
		{plan.Length, "6", `cannot read "6" as a length: a number stands without a unit; write it like "6 in", "12 ft 6 in" or "450 mm"`},
		{plan.Length, "12 ft 6", `cannot read "12 ft 6" as a length: a number stands without a unit; write it like "6 in", "12 ft 6 in" or "450 mm"`},
		{plan.Length, "6 inches", `cannot read "6 inches" as a length: there is no unit "inches" for it; use in, ft, yd, mm, cm or m`},
		{plan.Length, "6 in 2 ft", `cannot read "6 in 2 ft" as a length: in and ft cannot stand together`},
		{plan.Length, "1 m 20 cm", `cannot read "1 m 20 cm" as a length: m and cm cannot stand together`},
		{plan.Length, "1 ft 2 in 3 in", `cannot read "1 ft 2 in 3 in" as a length: ft and in cannot stand together`},
		{plan.Length, "1/0 in", `cannot read "1/0 in" as a length: a fraction needs whole numbers, and not 0 below the line; write it like "6 in", "12 ft 6 in" or "450 mm"`},
		{plan.Length, "1.5/2 in", `cannot read "1.5/2 in" as a length: a fraction needs whole numbers, and not 0 below the line; write it like "6 in", "12 ft 6 in" or "450 mm"`},
		{plan.Length, "1.2.3 m", `cannot read "1.2.3 m" as a length: it does not begin with a number; write it like "6 in", "12 ft 6 in" or "450 mm"`},
		{plan.Length, "200000 m", `200000 m is too large a length for a plan`},
		{plan.Voltage, "12 A", `cannot read "12 A" as a voltage: there is no unit "A" for it; use mV or V`},
		{plan.ApparentPower, "300 W", `cannot read "300 W" as an apparent power: there is no unit "W" for it; use VA or kVA`},
		{plan.Temperature, "15", `cannot read "15" as a temperature: a number stands without a unit; write it like "15 C" or "59 F"`},
	} {
		if got, err := plan.Parse(c.measure, c.text); err == nil || err.Error() != c.want {
			t.Errorf("%s %q = %v, %v\nwant %s", c.measure, c.text, got, err, c.want)
		}
	}
}

// TestBareNumbers reads numbers without a unit: lengths in the plan's unit,
// everything else in the one unit of its field.
func TestBareNumbers(t *testing.T) {
	for _, c := range []struct {
		measure plan.Measure
		units   string
		number  float64
		want    float64
	}{
		{plan.Length, "ft", 10, 3.048},
		{plan.Length, "m", 10, 10},
		{plan.Length, "ft", -1, -0.3048},
		{plan.Voltage, "ft", 12, 12},
		{plan.Current, "m", 20, 20},
		{plan.Percent, "m", 40, 0.4},
		{plan.Temperature, "ft", 15, 15},
	} {
		q := plan.Quantity{Set: true, Numeric: true, Number: c.number}
		got, err := q.Value(c.measure, c.units)
		if err != nil || math.Abs(got-c.want) > readSlack*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%v %s in %s = %v, %v; want %v", c.number, c.measure, c.units, got, err, c.want)
		}
	}
	q := plan.Quantity{Set: true, Numeric: true, Number: 1}
	if _, err := q.Value(plan.Length, "furlong"); err == nil {
		t.Error("a bare length in an unknown unit was read")
	}
	for _, number := range []float64{1e6, math.Inf(1), math.NaN()} {
		q.Number = number
		if got, err := q.Value(plan.Length, "m"); err == nil {
			t.Errorf("%v m was read as %v", number, got)
		}
	}
}

// schemaPattern is the pattern of one definition of the plan schema.
func schemaPattern(t *testing.T, name string) *regexp.Regexp {
	t.Helper()
	data, err := schema.Files.ReadFile(schema.Plan)
	if err != nil {
		t.Fatal(err)
	}
	var document struct {
		Defs map[string]struct {
			Pattern string `json:"pattern"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal(data, &document); err != nil {
		t.Fatal(err)
	}
	pattern := document.Defs[name].Pattern
	if pattern == "" {
		t.Fatalf("the schema has no pattern %q", name)
	}
	return regexp.MustCompile(pattern)
}

// TestSchemaAgrees holds that every text which the schema accepts can be read,
// over all combinations of signs, numbers, spaces and units.
func TestSchemaAgrees(t *testing.T) {
	numbers := []string{"0", "7", "12", "2700", "0.5", "10.25", "100", "1/2", "6 1/2", "15/16", "1/0", "1.2.3", "", ".5", "5."}
	units := []string{"in", "ft", "yd", "mm", "cm", "m", "V", "mV", "A", "mA", "VA", "kVA", "ohm", "mohm", "%", "K", "nm", "C", "F", "W", "inch", ""}
	var texts []string
	for _, sign := range []string{"", "-", "+"} {
		for _, number := range numbers {
			for _, space := range []string{"", " "} {
				for _, unit := range units {
					texts = append(texts, sign+number+space+unit)
				}
				for _, inches := range numbers {
					texts = append(texts, fmt.Sprintf("%s%s%sft %s%sin", sign, number, space, inches, space))
				}
			}
		}
	}
	for name, measure := range map[string]plan.Measure{
		"length": plan.Length, "signedLength": plan.Length, "volts": plan.Voltage, "amps": plan.Current,
		"voltAmperes": plan.ApparentPower, "ohms": plan.Resistance, "percent": plan.Percent,
		"kelvin": plan.Colour, "nanometres": plan.Wavelength, "temperature": plan.Temperature,
	} {
		pattern, accepted := schemaPattern(t, name), 0
		for _, text := range texts {
			if !pattern.MatchString(text) {
				continue
			}
			accepted++
			if _, err := plan.Parse(measure, text); err != nil {
				t.Errorf("the schema takes %q as %s: %v", text, name, err)
			}
		}
		if accepted < 2 {
			t.Errorf("only %d texts are a %s", accepted, name)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"6 in", "12 ft 6 1/2 in", "-1 ft 6 in", "5 %", "1/0 in", "9999999999999999999999 m", "1e5 m", "½ in", "6 ft6in"} {
		f.Add(0, text)
	}
	f.Fuzz(func(t *testing.T, measure int, text string) {
		value, err := plan.Parse(plan.Measure(measure), text)
		if err != nil {
			if !strings.Contains(err.Error(), fmt.Sprintf("%q", text)) && !strings.Contains(err.Error(), "too large") {
				t.Errorf("the message does not show %q: %v", text, err)
			}
			return
		}
		if math.IsNaN(value) || math.IsInf(value, 0) {
			t.Errorf("%q is %v", text, value)
		}
	})
}
