package plan

import (
	"errors"
	"strconv"
	"strings"
)

// part is one number with its unit.
type part struct {
	number float64
	unit   string
}

var (
	errNoNumber = errors.New("it does not begin with a number")
	errNoUnit   = errors.New("a number stands without a unit")
	errFraction = errors.New("a fraction needs whole numbers, and not 0 below the line")
)

// scanQuantity splits "-12 ft 6 1/2 in" into its parts and its sign. A number
// is a decimal ("6", "0.5"), a fraction ("1/2") or a whole number and a fraction
// ("6 1/2"), as tapes are read. One space may stand between number and unit.
func scanQuantity(text string) (parts []part, sign float64, err error) {
	rest, sign := strings.TrimSpace(text), 1.0
	if after, found := strings.CutPrefix(rest, "-"); found {
		rest, sign = after, -1
	} else {
		rest = strings.TrimPrefix(rest, "+")
	}
	for rest != "" {
		var p part
		if p, rest, err = scanPart(rest); err != nil {
			return nil, 0, err
		}
		parts = append(parts, p)
	}
	if len(parts) == 0 {
		return nil, 0, errNoNumber
	}
	return parts, sign, nil
}

// scanPart takes one number and its unit off the front of text.
func scanPart(text string) (part, string, error) {
	number, rest, err := scanNumber(text)
	if err != nil {
		return part{}, "", err
	}
	if after, more, err := scanNumber(strings.TrimLeft(rest, " ")); err == nil && strings.HasPrefix(rest, " ") && after.fraction {
		if number.fraction || number.value != float64(int64(number.value)) {
			return part{}, "", errFraction
		}
		number.value += after.value
		rest = more
	}
	rest = strings.TrimLeft(rest, " ")
	end := strings.IndexAny(rest, " 0123456789.+-/")
	if end < 0 {
		end = len(rest)
	}
	if end == 0 {
		return part{}, "", errNoUnit
	}
	return part{number.value, rest[:end]}, strings.TrimLeft(rest[end:], " "), nil
}

// scanned is a number off the front of a text.
type scanned struct {
	value    float64
	fraction bool
}

// scanNumber takes a decimal or a fraction off the front of text.
func scanNumber(text string) (scanned, string, error) {
	digits, rest := spanOf(text, "0123456789.")
	if digits == "" {
		return scanned{}, "", errNoNumber
	}
	value, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return scanned{}, "", errNoNumber
	}
	below, found := strings.CutPrefix(rest, "/")
	if !found {
		return scanned{value: value}, rest, nil
	}
	bottom, rest := spanOf(below, "0123456789")
	divisor, err := strconv.ParseFloat(bottom, 64)
	if err != nil || divisor == 0 || strings.Contains(digits, ".") {
		return scanned{}, "", errFraction
	}
	return scanned{value / divisor, true}, rest, nil
}

// spanOf splits text after the leading characters that are in set.
func spanOf(text, set string) (head, tail string) {
	end := strings.IndexFunc(text, func(c rune) bool { return !strings.ContainsRune(set, c) })
	if end < 0 {
		return text, ""
	}
	return text[:end], text[end:]
}
