// Package measure prints quantities for people: fixed decimals for each unit,
// lengths in the plan's own unit, and enough decimals that a value and the
// limit it breaks never look equal.
package measure

import (
	"math"
	"strconv"
	"strings"
)

// decimals are the fixed decimals of each SI unit.
var decimals = map[string]int{
	"V": 1, "A": 1, "VA": 0, "W": 0, "ohm": 3, "lx": 1, "m": 2, "cd": 0, "lm": 0,
	"K": 0, "nm": 0, "degC": 0, "deg": 0, "mm2": 1, "1": 2, "%": 0,
}

// mostDecimals bounds how far a breach is chased.
const mostDecimals = 6

// unitWords are the units as people write them.
var unitWords = map[string]string{
	"degC": " °C", "deg": "°", "mm2": " mm²", "1": "", "%": " %", "ohm": " ohm",
}

// Text prints value, in the SI unit, with the unit's fixed decimals. Lengths
// ("m") print in planUnits: "ft" as feet and inches, "m" as metres or
// millimetres.
func Text(value float64, unit, planUnits string) string {
	if unit == "m" {
		return Length(value, planUnits)
	}
	return number(value, decimalsOf(unit)) + unitText(unit)
}

// Pair prints a value and its limit with the same decimals, as many as make
// them differ when they do differ.
func Pair(value, limit float64, unit, planUnits string) (string, string) {
	v, l := Text(value, unit, planUnits), Text(limit, unit, planUnits)
	for extra := 1; v == l && value != limit && extra <= mostDecimals; extra++ {
		v, l = finer(value, unit, planUnits, extra), finer(limit, unit, planUnits, extra)
	}
	return v, l
}

// Share prints a ratio as a percentage: 0.053 is "5.3 %".
func Share(ratio float64) string { return number(100*ratio, 1) + " %" }

// SharePair prints two ratios as percentages that differ when they do.
func SharePair(value, limit float64) (string, string) {
	for d := 0; ; d++ {
		v, l := number(100*value, d)+" %", number(100*limit, d)+" %"
		if v != l || value == limit || d >= mostDecimals {
			return v, l
		}
	}
}

func finer(value float64, unit, planUnits string, extra int) string {
	if unit != "m" {
		return number(value, decimalsOf(unit)+extra) + unitText(unit)
	}
	if planUnits == "ft" {
		return number(value/metresPerInch, extra) + " in"
	}
	return number(value, 2+extra) + " m"
}

const (
	metresPerInch = 0.0254
	inchesPerFoot = 12
	shortFeet     = 2.0 // below this, feet plans speak of inches
	shortMetres   = 1.0 // below this, metre plans speak of millimetres
)

// Length prints metres in the plan's unit: feet and inches ("12 ft 6 in"), or
// metres and millimetres ("1.80 m", "450 mm").
func Length(m float64, planUnits string) string {
	if math.IsNaN(m) || math.IsInf(m, 0) {
		return strconv.FormatFloat(m, 'g', -1, 64) + " m"
	}
	if planUnits == "ft" {
		return feet(m / metresPerInch)
	}
	if math.Abs(m) < shortMetres {
		return number(1000*m, 0) + " mm"
	}
	return number(m, 2) + " m"
}

func feet(inches float64) string {
	if math.Abs(inches) < shortFeet*inchesPerFoot {
		return trimmed(inches, 1) + " in"
	}
	whole := math.Round(inches)
	sign := ""
	if whole < 0 {
		sign, whole = "-", -whole
	}
	ft, in := math.Floor(whole/inchesPerFoot), math.Mod(whole, inchesPerFoot)
	if in == 0 {
		return sign + number(ft, 0) + " ft"
	}
	return sign + number(ft, 0) + " ft " + number(in, 0) + " in"
}

func decimalsOf(unit string) int {
	if d, ok := decimals[unit]; ok {
		return d
	}
	return 2
}

func unitText(unit string) string {
	if w, ok := unitWords[unit]; ok {
		return w
	}
	return " " + unit
}

// number prints with fixed decimals and never "-0".
func number(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if s[0] == '-' && strings.Trim(s[1:], "0.") == "" {
		return s[1:]
	}
	return s
}

// trimmed is number without trailing noughts after the point.
func trimmed(v float64, places int) string {
	s := number(v, places)
	for places > 0 && len(s) > 1 && s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	if s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	return s
}
