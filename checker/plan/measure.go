package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Measure is a kind of quantity: it says which units a string may have, what a
// bare number means, and which unit the value comes out in.
type Measure int

// The kinds of quantity, with the unit that values come out in.
const (
	Length        Measure = iota // metre
	Voltage                      // volt
	Current                      // ampere
	Power                        // watt
	ApparentPower                // volt-ampere
	Resistance                   // ohm
	Percent                      // fraction: 0.05 for "5 %"
	Colour                       // kelvin, of a colour temperature
	Wavelength                   // nanometre
	Temperature                  // degree Celsius
)

// Metres per unit of length. The international yard and pound agreement of
// 1959 defines the yard as 0.9144 m exactly.
const (
	metresPerFoot = 0.3048
	metresPerInch = 0.0254
	metresPerYard = 0.9144
)

// unit is one unit of a measure: value = number * factor + offset.
type unit struct {
	name   string
	factor float64
	offset float64
}

// measure describes a Measure.
type measure struct {
	what    string // "length"
	units   []unit // in the order messages list them
	bare    string // unit of a bare number; empty means the plan's
	largest float64
	example string
}

// LargestM is the largest length or coordinate, in metres, that a plan can
// use. A hundred kilometres is beyond any garden.
const LargestM = 1e5

var measures = [...]measure{
	Length: {"length", []unit{
		{"in", metresPerInch, 0}, {"ft", metresPerFoot, 0}, {"yd", metresPerYard, 0},
		{"mm", 1e-3, 0}, {"cm", 1e-2, 0}, {"m", 1, 0},
	}, "", LargestM, `"6 in", "12 ft 6 in" or "450 mm"`},
	Voltage:       {"voltage", []unit{{"mV", 1e-3, 0}, {"V", 1, 0}}, "V", 1e6, `"12 V"`},
	Current:       {"current", []unit{{"mA", 1e-3, 0}, {"A", 1, 0}}, "A", 1e6, `"20 A" or "350 mA"`},
	Power:         {"power", []unit{{"W", 1, 0}}, "W", 1e9, `"4 W"`},
	ApparentPower: {"apparent power", []unit{{"VA", 1, 0}, {"kVA", 1e3, 0}}, "VA", 1e9, `"300 VA"`},
	Resistance:    {"resistance", []unit{{"mohm", 1e-3, 0}, {"ohm", 1, 0}}, "ohm", 1e9, `"2 mohm"`},
	Percent:       {"percentage", []unit{{"%", 1e-2, 0}}, "%", 1e4, `"5 %"`},
	Colour:        {"colour temperature", []unit{{"K", 1, 0}}, "K", 1e6, `"2700 K"`},
	Wavelength:    {"wavelength", []unit{{"nm", 1, 0}}, "nm", 1e6, `"590 nm"`},
	Temperature:   {"temperature", []unit{{"C", 1, 0}, {"F", 5.0 / 9, -160.0 / 9}}, "C", 1e4, `"15 C" or "59 F"`},
}

// String returns what the measure is called: "length", "voltage".
func (m Measure) String() string { return m.about().what }

func (m Measure) about() *measure {
	if m < 0 || int(m) >= len(measures) {
		return &measures[Length]
	}
	return &measures[m]
}

// Value reads a quantity of a measure. units is the plan's own unit of length,
// "ft" or "m", and is used for bare lengths only. The error says what cannot be
// read and gives an example.
func (q Quantity) Value(m Measure, units string) (float64, error) {
	about := m.about()
	if !q.Numeric {
		value, err := Parse(m, q.Text)
		return value, err
	}
	name := about.bare
	if name == "" {
		name = units
	}
	u := about.unit(name)
	if u == nil {
		return 0, fmt.Errorf("a bare number is no %s here: the plan's unit is %q", about.what, units)
	}
	value := q.Number*u.factor + u.offset
	if about.holds(value) {
		return value, nil
	}
	return about.bounded(value, fmt.Sprint(q.Number))
}

// Parse reads text with a unit as a measure: "6 in", "12 ft 6 in", "6 1/2 in",
// "-5 %". The value is in the unit that the measure's constant names.
func Parse(m Measure, text string) (float64, error) {
	about := m.about()
	parts, sign, err := scanQuantity(text)
	if err != nil {
		return 0, fmt.Errorf("cannot read %q as %s: %w; write it like %s", text, aKind(about.what), err, about.example)
	}
	value, err := about.sum(parts)
	if err != nil {
		return 0, fmt.Errorf("cannot read %q as %s: %w", text, aKind(about.what), err)
	}
	if sign < 0 {
		value = about.negate(value, parts)
	}
	return about.bounded(value, text)
}

// negate turns the sign of a value round zero of its unit.
func (a *measure) negate(value float64, parts []part) float64 {
	offset := a.unit(parts[0].unit).offset
	return offset - (value - offset)
}

// sum adds the parts. Only feet and inches may stand together, feet first.
func (a *measure) sum(parts []part) (float64, error) {
	total := 0.0
	for i, p := range parts {
		u := a.unit(p.unit)
		if u == nil {
			return 0, fmt.Errorf("there is no unit %q for it; use %s", p.unit, a.unitList())
		}
		if i > 0 && (parts[0].unit != "ft" || p.unit != "in" || len(parts) > 2) {
			return 0, fmt.Errorf("%s and %s cannot stand together", parts[0].unit, p.unit)
		}
		total += p.number*u.factor + u.offset
	}
	return total, nil
}

func (a *measure) bounded(value float64, text string) (float64, error) {
	if !a.holds(value) {
		return 0, fmt.Errorf("%s is too large a %s for a plan", text, a.what)
	}
	return value, nil
}

// holds reports whether a plan can use a value.
func (a *measure) holds(value float64) bool { return math.Abs(value) <= a.largest }

func (a *measure) unit(name string) *unit {
	i := slices.IndexFunc(a.units, func(u unit) bool { return u.name == name })
	if i < 0 {
		return nil
	}
	return &a.units[i]
}

func (a *measure) unitList() string {
	names := make([]string, len(a.units))
	for i, u := range a.units {
		names[i] = u.name
	}
	return joinOr(names)
}

// joinOr lists words: "a", "a or b", "a, b or c".
func joinOr(words []string) string { return join(words, "or") }

// join lists words with a conjunction before the last.
func join(words []string, conjunction string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " " + conjunction + " " + words[last]
}
