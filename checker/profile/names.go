package profile

import (
	"maps"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
)

// Kind is what a limit holds.
type Kind string

// The kinds of limit.
const (
	Number Kind = "number"
	Text   Kind = "text"
	Flag   Kind = "flag"
	Table  Kind = "table"
)

// Meaning is what a limit's name means, whatever profile sets it.
type Meaning struct {
	// Name is "family.snake_name".
	Name string `json:"-"`
	// Kind is what it holds.
	Kind Kind `json:"kind"`
	// Unit is the SI unit of numbers and tables, "1" for ratios and counts.
	Unit string `json:"unit,omitempty"`
	// Choices are the words a text may be; empty when any will do.
	Choices []string `json:"choices,omitempty"`
	// Weaker says which way a change lets more pass: higher or lower, for
	// flags yes or no. Every limit that a rule of a danger reads has one.
	Weaker string `json:"weaker,omitempty"`
	// Feeds lists rules of dangers that do not read it, but what is computed
	// with it.
	Feeds []string `json:"feeds,omitempty"`
	// Note is one line: what it limits, and how.
	Note string `json:"note"`
}

// Meanings returns what every known limit means, in order of name. Names that
// begin with "house." are the user's own and are not listed.
func (s *Set) Meanings() []Meaning {
	meanings := s.meanings()
	list := make([]Meaning, 0, len(meanings))
	for _, name := range slices.Sorted(maps.Keys(meanings)) {
		list = append(list, meanings[name])
	}
	return list
}

// Meaning returns what one limit means.
func (s *Set) Meaning(name string) (Meaning, bool) {
	m, ok := s.meanings()[name]
	return m, ok
}

// Nearest returns the word most like name, or "" when none is near: at most
// two letters wrong and half of the name right, or a third of a long name wrong;
// else a word of which name is a part, such as nec-2020 of us-nec-2020. The first
// of equals wins.
func Nearest(name string, words []string) string {
	best, bestAt := "", min(max(2, len(name)/3), len(name)/2)+1
	for _, word := range words {
		if len(name) > 2 && best == "" && strings.Contains("-"+word+"-", "-"+strings.ToLower(name)+"-") {
			best = word
		}
		if d := levenshtein.ComputeDistance(name, word); d < bestAt {
			best, bestAt = word, d
		}
	}
	return best
}
