package profile

import (
	"cmp"
	"maps"
	"slices"

	"duskproof/checker/finding"
)

// Change is a limit that a local profile or somebody's settings set otherwise
// than the profiles that come with the program.
type Change struct {
	// Name is the limit's name.
	Name string
	// Was is what the profiles that come with the program say.
	Was Limit
	// Now is what is in force; withdrawn, with the profile that took it away,
	// or without one where a local profile replaced what gave it.
	Now Limit
}

// Weakened returns the limits of rules of dangers that local profiles changed so
// that more passes, in order of name: another number, no number, or one that
// carries less weight.
func (l *Limits) Weakened() []Change {
	if l.without == nil {
		return nil
	}
	var changes []Change
	meanings := l.meanings()
	for _, name := range slices.Sorted(maps.Keys(meanings)) {
		was, had := l.without.Get(name)
		if weaker := meanings[name].Weaker; weaker == "" || !had {
			continue
		} else if now := l.inForce(name); now.weakerThan(was, weaker) {
			changes = append(changes, Change{Name: name, Was: was, Now: now})
		}
	}
	return changes
}

// inForce returns the topmost word on a limit, which may take it away.
func (l *Limits) inForce(name string) Limit {
	if chain := l.chains[name]; len(chain) > 0 {
		return *chain[0]
	}
	return Limit{Name: name, Withdrawn: true}
}

// weakerThan reports whether more passes under a limit than under another one.
func (l Limit) weakerThan(was Limit, weaker string) bool {
	switch {
	case l.Withdrawn || l.Kind() != was.Kind():
		return true
	case l.Confidence == Memory && was.Confidence != Memory:
		return true // advice at most
	case was.Basis == finding.Code && l.Basis != finding.Code:
		return true // no code any more
	case was.Flag != nil:
		return *l.Flag != *was.Flag && *l.Flag == (weaker == "yes")
	case was.Value != nil:
		return further(*l.Value, *was.Value, weaker)
	}
	rows := map[string]float64{}
	for _, row := range l.Table {
		rows[row.Key] = row.Value
	}
	return slices.ContainsFunc(was.Table, func(row Row) bool {
		value, found := rows[row.Key]
		return !found || further(value, row.Value, weaker)
	})
}

// further reports whether a number lies on the weaker side of another one.
func further(now, was float64, weaker string) bool {
	if weaker == "higher" {
		return cmp.Compare(now, was) > 0
	}
	return cmp.Compare(now, was) < 0
}
