package validate

import (
	"strings"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
)

// nearest returns the one of words that somebody who wrote text most likely
// meant, or "".
func nearest(text string, words []string) string {
	best, least := "", 1<<30
	for _, word := range words {
		if d, ok := distance(text, word); ok && d < least {
			best, least = word, d
		}
	}
	return best
}

// distance measures how far word is from text, in slips of the hand, and says
// whether that is near enough to suggest it. Capitals, spaces, hyphens and
// underscores cost nothing; two letters the wrong way round are one slip; a
// beginning of at least three letters counts as one slip more than allowed
// slips do.
func distance(text, word string) (int, bool) {
	a, b := plain(text), plain(word)
	if a == b {
		return 0, text != word
	}
	n := min(utf8.RuneCountInString(a), utf8.RuneCountInString(b))
	if n == 0 || max(len(a), len(b)) > 4*maxQuoted {
		return 0, false
	}
	slips := levenshtein.ComputeDistance(a, b)
	if slips == 2 && swapped([]rune(a), []rune(b)) {
		slips = 1
	}
	if slips <= allowedSlips(n) {
		return slips, true
	}
	if n >= 3 && (strings.HasPrefix(a, b) || strings.HasPrefix(b, a)) {
		return allowedSlips(n) + 1, true
	}
	return 0, false
}

// allowedSlips returns how many slips a word of n letters may hold: a short
// word with one slip is already another word.
func allowedSlips(n int) int {
	switch {
	case n <= 2:
		return 0
	case n <= 5:
		return 1
	case n <= 8:
		return 2
	}
	return 3
}

// separators are what stands between the parts of a name.
var separators = strings.NewReplacer("_", "", "-", "", " ", "")

// plain takes out of a word what people vary without meaning it.
func plain(word string) string { return separators.Replace(strings.ToLower(word)) }

// swapped says whether b is a with two neighbours exchanged.
func swapped(a, b []rune) bool {
	if len(a) != len(b) {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if i+1 >= len(a) || a[i] != b[i+1] || a[i+1] != b[i] {
		return false
	}
	return string(a[i+2:]) == string(b[i+2:])
}
