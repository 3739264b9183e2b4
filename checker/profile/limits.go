package profile

import (
	"maps"
	"slices"
	"strings"
)

// Limits are the limits in force: a stack of profiles, looked down on from
// above. They are not changed and may be used by many goroutines.
type Limits struct {
	profiles []string
	replaced []string
	// chains holds what every profile says of a limit, the effective one
	// first.
	chains   map[string][]*Limit
	all      []*Limit
	cautions []Caution
	// without are the limits without the local profiles of the stack, nil when
	// there are none; meanings are those of the set.
	without  *Limits
	meanings func() map[string]Meaning
}

// limits looks down on the stack.
func (b *builder) limits() *Limits {
	l := &Limits{replaced: b.replaced, meanings: b.set.meanings, chains: make(map[string][]*Limit, b.count())}
	for _, p := range slices.Backward(b.stack) {
		l.profiles = append(l.profiles, p.Name)
		for i := range p.Limits {
			limit := b.complete(p, &p.Limits[i])
			l.chains[limit.Name] = append(l.chains[limit.Name], limit)
		}
	}
	slices.Reverse(l.profiles)
	l.cautions = b.cautions()
	l.collect()
	return l
}

// count is how many limits the profiles of the stack have at most.
func (b *builder) count() (n int) {
	for _, p := range b.stack {
		n += len(p.Limits)
	}
	return n
}

// complete returns the limit with its profile and its unit, which settings
// leave out; words and flags have none.
func (b *builder) complete(p *Profile, limit *Limit) *Limit {
	hasUnit := limit.Unit != "" || limit.Flag != nil || limit.Text != ""
	if limit.Profile == p.Name && hasUnit {
		return limit
	}
	whole := *limit
	whole.Profile = p.Name
	if !hasUnit {
		whole.Unit = b.set.meanings()[limit.Name].Unit
	}
	return &whole
}

// collect lists the effective limits.
func (l *Limits) collect() {
	l.all = make([]*Limit, 0, len(l.chains))
	for _, chain := range l.chains {
		if !chain[0].Withdrawn {
			l.all = append(l.all, chain[0])
		}
	}
	slices.SortFunc(l.all, func(a, b *Limit) int { return strings.Compare(a.Name, b.Name) })
}

// In returns the limits for a plan drawn in units, "ft" or "m". Where a source
// prints a length both ways, a plan in feet is judged by its feet and inches:
// a cable 6 in deep is deep enough, and so is one 150 mm deep.
func (l *Limits) In(units string) *Limits {
	if units != "ft" {
		return l
	}
	next := *l
	next.chains = maps.Clone(l.chains)
	for name, chain := range l.chains {
		if slices.ContainsFunc(chain, (*Limit).printsFeet) {
			next.chains[name] = inFeet(chain)
		}
	}
	next.all = slices.Clone(l.all)
	for i, limit := range l.all {
		next.all[i] = next.chains[limit.Name][0]
	}
	if l.without != nil {
		next.without = l.without.In(units)
	}
	return &next
}

// printsFeet reports whether the source of a limit prints it in feet and inches too.
func (l *Limit) printsFeet() bool { return l.USValue != nil || l.USTable != nil }

// inFeet returns a chain with what its sources print in feet and inches.
func inFeet(chain []*Limit) []*Limit {
	changed := slices.Clone(chain)
	for i, limit := range chain {
		if !limit.printsFeet() {
			continue
		}
		feet := *limit
		if feet.USValue != nil {
			feet.Value = feet.USValue
		}
		if feet.USTable != nil {
			feet.Table = feet.USTable
		}
		changed[i] = &feet
	}
	return changed
}

// Profiles returns the names of the stacked profiles, the lowest first.
func (l *Limits) Profiles() []string { return slices.Clone(l.profiles) }

// Replaced returns the profiles that were asked for and then replaced by one of
// another code family, in the order in which that happened.
func (l *Limits) Replaced() []string { return slices.Clone(l.replaced) }

// All returns the effective limits in order of name.
func (l *Limits) All() []Limit {
	list := make([]Limit, len(l.all))
	for i, limit := range l.all {
		list[i] = *limit
	}
	return list
}

// Each yields the effective limits in order of name, for whoever only looks at
// them.
func (l *Limits) Each(yield func(*Limit) bool) {
	for _, limit := range l.all {
		if !yield(limit) {
			return
		}
	}
}

// Count is how many limits are in force.
func (l *Limits) Count() int { return len(l.all) }

// Cautions returns one caution for each rule, in order of rule, with what every
// stacked profile says on it, the lowest first. The profile common is heard only
// where no other profile speaks, and a profile that comes with the program speaks
// for those of its code family that it stands on.
func (l *Limits) Cautions() []Caution { return slices.Clone(l.cautions) }

// Get returns the effective limit with a name.
func (l *Limits) Get(name string) (Limit, bool) {
	i, found := slices.BinarySearchFunc(l.all, name, func(limit *Limit, name string) int {
		return strings.Compare(limit.Name, name)
	})
	if !found {
		return Limit{}, false
	}
	return *l.all[i], true
}

// Number returns a limit that is a number, in its SI unit.
func (l *Limits) Number(name string) (float64, bool) {
	limit, ok := l.Get(name)
	if !ok || limit.Value == nil {
		return 0, false
	}
	return *limit.Value, true
}

// Text returns a limit that is a word.
func (l *Limits) Text(name string) (string, bool) {
	limit, ok := l.Get(name)
	return limit.Text, ok && limit.Text != ""
}

// Flag returns a limit that is yes or no.
func (l *Limits) Flag(name string) (value, ok bool) {
	limit, ok := l.Get(name)
	if !ok || limit.Flag == nil {
		return false, false
	}
	return *limit.Flag, true
}

// Table returns the rows of a limit that is a table. Nobody may change them.
func (l *Limits) Table(name string) ([]Row, bool) {
	limit, ok := l.Get(name)
	return limit.Table, ok && limit.Table != nil
}

// Row returns one row of a limit that is a table.
func (l *Limits) Row(name, key string) (float64, bool) {
	rows, _ := l.Table(name)
	for _, row := range rows {
		if row.Key == key {
			return row.Value, true
		}
	}
	return 0, false
}

// Origin returns what each profile of the stack says of a limit: the effective
// one first, then what it overrode. It is empty when none says anything.
func (l *Limits) Origin(name string) []Limit {
	var list []Limit
	for _, limit := range l.chains[name] {
		list = append(list, *limit)
	}
	return list
}

// Names returns the name of every limit that a stacked profile mentions, those
// that were withdrawn included, sorted.
func (l *Limits) Names() []string { return slices.Sorted(maps.Keys(l.chains)) }
