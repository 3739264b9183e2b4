package profile

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"duskproof/checker/finding"
	"duskproof/checker/source"
)

// housePrefix begins the names of limits that users make up for their own
// rules.
const housePrefix = "house."

// checkMeanings holds a profile's limits against what their names mean.
func (s *Set) checkMeanings(doc *source.Document, p Profile) []source.Problem {
	var problems []source.Problem
	for _, l := range p.Limits {
		if message := s.Misfit(l); message != "" {
			pointer := source.Pointer("limits", l.Name)
			problems = append(problems, doc.NewProblem(doc.Locate(pointer)[0].Key, pointer, message))
		}
	}
	return problems
}

// Misfit says what is wrong with a limit of a profile or of somebody's settings, or
// "": a name that means nothing, another kind or unit than the name means, a basis
// that its confidence does not carry.
func (s *Set) Misfit(l Limit) string {
	m, known := s.meanings()[l.Name]
	if message := l.unsure(); message != "" {
		return message
	}
	switch {
	case !known && strings.HasPrefix(l.Name, housePrefix):
		return ""
	case !known:
		return s.unknownLimit(l.Name)
	case l.Withdrawn:
		return ""
	case l.Kind() != m.Kind:
		return fmt.Sprintf("%s is a %s, not a %s: %s", l.Name, m.Kind, l.Kind(), m.Note)
	case l.Unit != "" && l.Unit != m.Unit:
		return fmt.Sprintf("the unit of %s is %s, not %s", l.Name, unitWords(m.Unit), unitWords(l.Unit))
	case m.Kind == Text && len(m.Choices) > 0 && !slices.Contains(m.Choices, l.Text):
		return fmt.Sprintf("%s cannot be %q; it is one of %s", l.Name, l.Text, strings.Join(m.Choices, ", "))
	}
	return ""
}

// unitWords writes a unit so that "1" is understood.
func unitWords(unit string) string {
	switch unit {
	case "1":
		return `"1" (a ratio or a count)`
	case "":
		return "none"
	}
	return unit
}

// unknownLimit says that no limit has a name, with the nearest that one has.
func (s *Set) unknownLimit(name string) string {
	message := fmt.Sprintf("there is no limit %q", name)
	if near := Nearest(name, slices.Sorted(maps.Keys(s.meanings()))); near != "" {
		message += fmt.Sprintf("; did you mean %q?", near)
	}
	return message + fmt.Sprintf(" A limit of your own for a house rule begins with %q", housePrefix)
}

// unsure says what does not fit between a limit's basis and how sure its source
// is, or "".
func (l Limit) unsure() string {
	switch {
	case l.Confidence == Memory && l.Basis == finding.Code:
		return l.Name + " is from memory, so its basis cannot be code; look the clause up, or say standard or practice"
	case l.Confidence == Practice && l.Basis != finding.Practice && l.Basis != finding.House:
		return fmt.Sprintf("%s rests on practice, so its basis cannot be %s; say practice or house, or how sure its source is", l.Name, l.Basis)
	case (l.Basis == finding.Code || l.Basis == finding.Standard) && (l.Edition == "" || l.Clause == "" && l.Topic == ""):
		return fmt.Sprintf("%s has the basis %s, so it needs an edition, and a clause or a topic", l.Name, l.Basis)
	}
	return ""
}
