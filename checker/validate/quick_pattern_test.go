package validate

import (
	"regexp"
	"strings"
	"testing"
)

// TestNamesMatchAsTheLibrarySays compares the expressions that are matched without
// the library of regular expressions with that library.
func TestNamesMatchAsTheLibrarySays(t *testing.T) {
	texts := []string{"", "a", "-", "a-b", "A1._-", "a b", "a/b", "a\n", "é", "aé", "a\x80", "a+b(c)", "_a", "1", "0.5", "a{b", "a]", "*", "~", "\x7f"}
	for c := range 128 {
		texts = append(texts, string(rune(c)), "a"+string(rune(c)))
	}
	for _, n := range []int{63, 64, 65, 79, 80, 81} {
		texts = append(texts, strings.Repeat("a", n), strings.Repeat("é", n))
	}
	known := 0
	for _, expression := range []string{
		"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$", "^[A-Za-z0-9][A-Za-z0-9._/-]{0,79}$", "^[A-Za-z0-9][A-Za-z0-9 ._/+()-]{0,79}$",
		"^[a-z0-9][a-z0-9._-]{0,63}$", "^[A-Za-z0-9*][A-Za-z0-9._/*-]{0,79}$", "^[-a][+--]{0,9}$", "^[a-c-e][a]{0,0}$", "^[a][b]{0,1000}$",
		"^[^a][b]{0,9}$", `^[\d][b]{0,9}$`, "^[[:alpha:]][b]{0,9}$", "^[a][b]{0,+9}$", "^[a][b]{0,09}$", "^[a][b]{1,9}$", "^[a][b]+$", "[a][b]{0,9}$", "^[a][b]{0,9}",
		"^[z-a][b]{0,9}$", "^[a][b]{0,9}c{0,9}$", "^[é][b]{0,9}$", "^[][b]{0,9}$",
	} {
		name := newNamePattern(expression)
		if name == nil {
			continue
		}
		known++
		library, err := regexp.Compile(expression)
		if err != nil {
			t.Errorf("%s is matched, but it is no expression: %v", expression, err)
			continue
		}
		for _, text := range texts {
			if got, want := name.matches(text), library.MatchString(text); got != want {
				t.Errorf("%s on %q: got %v, the library says %v", expression, text, got, want)
			}
		}
	}
	if known != 8 {
		t.Errorf("%d expressions are matched without the library, want the 8 first", known)
	}
}
