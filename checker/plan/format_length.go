package plan

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// eighthsPerInch is the division of a tape measure that lengths are written
// to in feet and inches.
const eighthsPerInch = 8

// FormatLength writes metres the way a tape measure is read. units is the
// plan's own, "ft" or "m". In feet it gives feet and inches to the nearest
// eighth: "6 in", "12 ft 6 in", "3 1/2 in". In metres it gives whole
// millimetres below a metre and metres to the millimetre above: "450 mm",
// "1.8 m". What it writes, [Parse] reads back within half a division (1.6 mm
// or 0.5 mm).
func FormatLength(metres float64, units string) string {
	if !finite(metres) {
		return fmt.Sprint(metres)
	}
	if units == "ft" {
		return formatFeet(metres)
	}
	return formatMetric(metres)
}

func formatMetric(metres float64) string {
	mm := math.Round(metres * 1000)
	if math.Abs(mm) < 1000 {
		return plainNumber(mm) + " mm"
	}
	return plainNumber(mm/1000) + " m"
}

func formatFeet(metres float64) string {
	eighths := math.Round(math.Abs(metres) / metresPerInch * eighthsPerInch)
	feet := math.Floor(eighths / (12 * eighthsPerInch))
	eighths -= feet * 12 * eighthsPerInch
	var words []string
	if feet > 0 {
		words = append(words, plainNumber(feet)+" ft")
	}
	if eighths > 0 || feet == 0 {
		words = append(words, formatInches(int(eighths))+" in")
	}
	text := strings.Join(words, " ")
	if metres < 0 && text != "0 in" {
		return "-" + text
	}
	return text
}

// formatInches writes eighths of an inch as a mixed number.
func formatInches(eighths int) string {
	whole, top, bottom := eighths/eighthsPerInch, eighths%eighthsPerInch, eighthsPerInch
	for top > 0 && top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	switch {
	case top == 0:
		return strconv.Itoa(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", top, bottom)
	default:
		return fmt.Sprintf("%d %d/%d", whole, top, bottom)
	}
}

// plainNumber writes a number without an exponent or a negative zero.
func plainNumber(v float64) string {
	return strconv.FormatFloat(v+0, 'f', -1, 64)
}
