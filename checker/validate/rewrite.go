package validate

import (
	"regexp"
	"strings"
	"sync"
	"unicode"
)

// units are the ways in which people write the units and words of a plan, in
// small letters, and how the plan writes them.
var units = map[string]string{
	"in": "in", "inch": "in", "inches": "in", "ins": "in", `"`: "in",
	"ft": "ft", "foot": "ft", "feet": "ft", "'": "ft",
	"yd": "yd", "yard": "yd", "yards": "yd",
	"mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
	"cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
	"m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
	"v": "V", "volt": "V", "volts": "V", "vac": "V", "vdc": "V", "ac": "", "dc": "",
	"w": "W", "watt": "W", "watts": "W", "va": "VA", "kva": "kVA",
	"a": "A", "amp": "A", "amps": "A", "ampere": "A", "amperes": "A",
	"ohm": "ohm", "ohms": "ohm", "ω": "ohm", "mohm": "mohm",
	"k": "K", "kelvin": "K", "nm": "nm", "c": "C", "°c": "C", "celsius": "C", "f": "F", "°f": "F", "fahrenheit": "F",
	"awg": "AWG", "ga": "AWG", "gauge": "AWG", "#": "#", "mm²": "mm2", "sqmm": "mm2", "mm^": "mm", "ip": "IP", "%": "%", "percent": "%", "pct": "%",
	"sunset": "dusk", "sunrise": "dawn", "dusk": "dusk", "dawn": "dawn",
}

// marks are characters that stand for others.
var marks = strings.NewReplacer("″", `"`, "”", `"`, "“", `"`, "′", "'", "’", "'", "''", `"`, "½", " 1/2", "¼", " 1/4", "¾", " 3/4", "Ω", "ω", "\u00a0", " ")

// part finds the numbers and the words of a quantity.
var part = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`[0-9]+(?:[.,][0-9]+)?(?:/[0-9]+)?|[\pL°²^]+|["'#%:]|[^\s]`)
})

// likely returns what somebody who wrote text most likely meant: the same numbers
// with the units as plans write them, if that fits the pattern; or "".
func likely(text, pattern string) string {
	expression, err := regexp.Compile(pattern)
	if err != nil || len(text) > maxQuoted {
		return ""
	}
	var words []string
	for _, word := range part().FindAllString(marks.Replace(text), -1) {
		first := []rune(word)[0]
		unit, known := units[strings.ToLower(word)]
		switch {
		case unicode.IsDigit(first):
			words = append(words, strings.ReplaceAll(word, ",", "."))
		case word == "-" && len(words) > 0: // 6-in
		case !known:
			return ""
		case unit != "":
			words = append(words, unit)
		}
	}
	if len(words) == 2 && words[0] == "#" {
		words = []string{words[1], "AWG"}
	}
	for _, candidate := range []string{strings.Join(words, " "), strings.Join(words, "")} {
		if candidate != text && expression.MatchString(candidate) {
			return candidate
		}
	}
	return ""
}
