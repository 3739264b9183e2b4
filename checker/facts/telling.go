package facts

import (
	"math"

	"duskproof/checker/measure"
	"duskproof/checker/wire"
)

// solvedCorners are the corners that are solved with every detail: nominal, low
// and high supply with everything on, then the scenes.
func solvedCorners(a *wire.Analysis) []*wire.Solution {
	list := []*wire.Solution{&a.Nominal, &a.Low, &a.High}
	for i := range a.Scenes {
		list = append(list, &a.Scenes[i])
	}
	return list
}

// telling names the corner of a worst value. Where the value of a plainer corner
// prints the same, the first of those is named: a difference that nobody can read
// is no reason to speak of a lamp that is out. The limit, where there is one,
// decides how finely both print.
func telling(worst float64, corner, unit string, limit *float64, corners []*wire.Solution, value func(*wire.Solution) float64) string {
	for _, c := range corners {
		if c.Corner == corner || printsAs(worst, math.Abs(value(c)), unit, limit) {
			return cornerWords(c.Corner)
		}
	}
	return cornerWords(corner)
}

// printsAs reports whether two values print the same beside a limit.
func printsAs(a, b float64, unit string, limit *float64) bool {
	if a == b {
		return true
	}
	if limit == nil {
		return measure.Text(a, unit, "") == measure.Text(b, unit, "")
	}
	one, _ := measure.Pair(a, *limit, unit, "")
	two, _ := measure.Pair(b, *limit, unit, "")
	return one == two
}
