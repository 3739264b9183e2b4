package report

import (
	"fmt"
	"strings"
	"unicode"
)

// Clean makes control characters in text from a plan visible, so that no plan
// can steer a terminal or hide what it says: "\x1b" prints as "␛", marks that
// turn the direction of writing as "<U+202E>".
func Clean(text string) string {
	if !strings.ContainsFunc(text, unsafeRune) {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '\t':
			b.WriteByte(' ')
		case r < 0x20:
			b.WriteRune(0x2400 + r)
		case r == 0x7f:
			b.WriteRune(0x2421)
		case unsafeRune(r):
			fmt.Fprintf(&b, "<U+%04X>", r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// unsafeRune reports whether a character must not reach a terminal as it is:
// controls, and format characters such as direction marks.
func unsafeRune(r rune) bool {
	if r >= ' ' && r <= '~' {
		return false
	}
	return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == 0x2028 || r == 0x2029 || r == unicode.ReplacementChar
}
