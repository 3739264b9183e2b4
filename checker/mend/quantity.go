package mend

import (
	"encoding/json"
	"math"
	"strconv"
	"strings"

	"github.com/tailscale/hujson"

	"duskproof/checker/plan"
)

// step is how coarsely a length is rounded: on a tape in feet and inches, and
// on one in metres. Both are in metres.
type step struct{ feet, metric float64 }

const (
	metresPerInch = 0.0254
	metresPerFoot = 12 * metresPerInch
)

// Steps of a tape that people read and dig by.
var (
	depthStep  = step{metresPerInch, 0.01}      // of a trench
	placeStep  = step{metresPerInch, 0.05}      // of a place written in feet and inches
	wayStep    = step{metresPerInch, 0.01}      // of how far a thing is moved, as it is told
	tenthStep  = step{metresPerFoot / 10, 0.05} // of a place written as a number
	cableStep  = step{metresPerFoot, 0.1}       // of a cable
	spareStep  = step{3 * metresPerInch, 0.05}  // of spare cable
	heightStep = step{metresPerInch, 0.05}      // of a mounting height
	nothing    = 1e-6                           // m, what rounding may lose
)

// up rounds a length up to a step of the plan's tape.
func (v *view) up(m float64, s step) float64 {
	size := v.size(s)
	return math.Ceil((m-nothing)/size) * size
}

// about is how far a thing is moved, as it is told: to the nearest inch or
// centimetre, and never nothing.
func (v *view) about(m float64) float64 {
	size := v.size(wayStep)
	return math.Max(1, math.Round(m/size)) * size
}

// size is a step on the plan's own tape.
func (v *view) size(s step) float64 {
	if v.plan.Units == "ft" {
		return s.feet
	}
	return s.metric
}

// number writes a bare number in the plan's own unit of length.
func (v *view) number(m float64) json.RawMessage {
	if v.plan.Units == "ft" {
		m /= metresPerFoot
	}
	return plainNumber(m, 4)
}

// plainNumber writes a number with at most so many decimals.
func plainNumber(x float64, decimals int) json.RawMessage {
	scale := math.Pow(10, float64(decimals))
	return json.RawMessage(strconv.FormatFloat(math.Round(x*scale)/scale+0, 'f', -1, 64))
}

// length writes a length the way the place it goes to has it now: a bare
// number, or a string in the same unit. A place that has none yet gets what a
// tape in the plan's units reads.
func (v *view) length(pointer string, m float64) any {
	found := v.tree.Find(pointer)
	if found == nil {
		return plan.FormatLength(m, v.plan.Units)
	}
	return v.like(found, m)
}

// like writes a length in the spelling of a value.
func (v *view) like(found *hujson.Value, m float64) any {
	if found.Value.Kind() == '0' {
		return v.number(m)
	}
	literal, ok := found.Value.(hujson.Literal)
	if !ok {
		return plan.FormatLength(m, v.plan.Units)
	}
	return spelled(literal.String(), m)
}

// perUnit is how many metres the units of length have.
var perUnit = map[string]float64{"in": metresPerInch, "ft": metresPerFoot, "yd": 3 * metresPerFoot, "mm": 1e-3, "cm": 1e-2, "m": 1}

// spelled writes a length like an older one: in the same single unit where that
// needs no more than two decimals, else as a tape of that kind reads.
func spelled(old string, m float64) string {
	unit := old[strings.LastIndexAny(old, "0123456789 ")+1:]
	per, known := perUnit[unit]
	family := "m"
	if !known || unit == "in" || unit == "ft" || unit == "yd" {
		family = "ft"
	}
	parts := len(strings.Fields(old))
	whole := math.Abs(m/per*100-math.Round(m/per*100)) < 1e-4
	if known && whole && (parts <= 2 && !strings.Contains(old, "/")) {
		return string(plainNumber(m/per, 2)) + " " + unit
	}
	return plan.FormatLength(m, family)
}

// text says a length in a sentence, as the plan's tape reads.
func (v *view) say(m float64) string { return plan.FormatLength(m, v.plan.Units) }
