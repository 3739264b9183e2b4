package measure

import "math"

// tolerances of comparisons for each SI unit, about a tenth of what prints, so
// that a value that equals its limit but for rounding is no breach. The rules'
// own library has the same table; a test holds them equal.
var tolerances = map[string]float64{
	"%": 0.005, "1": 0.0005, "A": 0.005, "Hz": 0.05, "K": 0.05, "V": 0.005, "VA": 0.05, "W": 0.005,
	"cd": 0.05, "cd/klm": 0.05, "d": 0, "deg": 0.05, "degC": 0.05, "lm": 0.05, "lx": 0.005,
	"m": 0.0005, "mm2": 0.005, "nm": 0.05, "ohm": 0.00005,
}

// Tolerance returns by how much a value in an SI unit may break its limit before
// it counts, in that unit; false for a unit that is not known.
func Tolerance(unit string) (float64, bool) {
	t, ok := tolerances[unit]
	return t, ok
}

// Bounds returns the smallest value that does not break limit where it is a
// lower one, and the largest where it is an upper one, both rounded to a
// millionth of the SI unit; false for a unit that is not known.
func Bounds(limit float64, unit string) (least, most float64, ok bool) {
	t, ok := tolerances[unit]
	return millionths(limit - t), millionths(limit + t), ok
}

func millionths(v float64) float64 { return math.Round(v*1e6) / 1e6 }
