package profile

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Set is the profiles that plans may name. It is not changed after it was made
// and may be used by many goroutines. The profiles that come with the program, and
// what limits mean, are decoded when they are first asked for: a plan names few.
type Set struct {
	profiles map[string]decoded
	meanings func() map[string]Meaning
}

// decoded gives a profile. Only one that does not fit the schema has an error.
type decoded func() (*Profile, error)

// ready is a profile that was read already.
func ready(p *Profile) decoded { return func() (*Profile, error) { return p, nil } }

// newSet returns a set without profiles.
func newSet(meanings func() map[string]Meaning) *Set {
	return &Set{profiles: map[string]decoded{}, meanings: meanings}
}

// with returns a set with one more profile.
func (s *Set) with(p *Profile) *Set {
	next := &Set{profiles: maps.Clone(s.profiles), meanings: s.meanings}
	next.profiles[p.Name] = ready(p)
	return next
}

// Names returns the names of all profiles, sorted.
func (s *Set) Names() []string { return slices.Sorted(maps.Keys(s.profiles)) }

// Profile returns the profile with a name. Nobody may change its slices.
func (s *Set) Profile(name string) (Profile, bool) {
	read, known := s.profiles[name]
	if !known {
		return Profile{}, false
	}
	p, err := read()
	if err != nil {
		return Profile{}, false
	}
	return *p, true
}

// UnknownError says that there is no profile with a name.
type UnknownError struct {
	// Name is what was asked for, Index its place in the list.
	Name  string
	Index int
	// Near is the name that was probably meant, or "".
	Near string
	// Known are the names that there are.
	Known []string
	// Wanted is the profile that stands on Name, when no list asked for it.
	Wanted string
}

// Error says what is unknown and what was probably meant.
func (e *UnknownError) Error() string {
	message := fmt.Sprintf("there is no profile %q", e.Name)
	if e.Wanted != "" {
		message += fmt.Sprintf(", on which the profile %q stands", e.Wanted)
	}
	switch {
	case e.Near != "":
		message += fmt.Sprintf("; did you mean %q?", e.Near)
	case len(e.Known) > 0:
		message += "; the profiles are " + strings.Join(e.Known, ", ")
	}
	return message
}

// Fetch reads the profiles of the program that are named, so that [Set.Stack] finds
// them read. What is wrong with one is said there.
func (s *Set) Fetch(names []string) {
	for _, name := range names {
		if read, known := s.profiles[name]; known {
			_, _ = read()
		}
	}
}

// Stack puts the named profiles on top of each other, the first one lowest and
// the profile common below them all, then extra on top, and returns the limits
// in force. A profile named twice counts where it is named last. Errors are
// *[UnknownError], joined when there are several, or a ring of profiles that
// stand on each other.
func (s *Set) Stack(names []string, extra ...Profile) (*Limits, error) {
	b, err := s.build(&builder{set: s}, names, extra)
	if err != nil {
		return nil, err
	}
	limits := b.limits()
	if slices.ContainsFunc(b.stack, func(p *Profile) bool { return !p.Bundled }) {
		// What stands without the local profiles cannot fail where the whole did not.
		bundled, err := s.build(&builder{set: s, bundledOnly: true}, names, extra)
		if err != nil {
			return nil, err
		}
		limits.without = bundled.limits()
	}
	return limits, nil
}

// build puts the named profiles, and then the extra ones, on a stack.
func (s *Set) build(b *builder, names []string, extra []Profile) (*builder, error) {
	var errs []error
	if _, known := s.profiles[Common]; known {
		errs = append(errs, b.add(Common, 0, ""))
	}
	for i, name := range names {
		errs = append(errs, b.add(name, i, ""))
	}
	for i := range extra {
		errs = append(errs, b.put(&extra[i]))
	}
	return b, errors.Join(errs...)
}

// builder is a stack while it is built.
type builder struct {
	set   *Set
	stack []*Profile
	// climbing lists the profiles whose bases are being added.
	climbing []string
	replaced []string
	// bundledOnly leaves local profiles out, but not what they stand on.
	bundledOnly bool
}

// add puts a profile of the set on the stack, with what it stands on below it.
func (b *builder) add(name string, index int, wanted string) error {
	read, known := b.set.profiles[name]
	if !known {
		return &UnknownError{Name: name, Index: index, Near: Nearest(name, b.set.Names()), Known: b.set.Names(), Wanted: wanted}
	}
	if name == Common && b.has(Common) {
		return nil
	}
	p, err := read()
	if err != nil {
		return err
	}
	return b.put(p)
}

// put puts a profile on the stack.
func (b *builder) put(p *Profile) error {
	if slices.Contains(b.climbing, p.Name) {
		return fmt.Errorf("the profile %q stands on itself, through %q", p.Name, b.climbing[len(b.climbing)-1])
	}
	b.climbing = append(b.climbing, p.Name)
	defer func() { b.climbing = b.climbing[:len(b.climbing)-1] }()
	for i, base := range p.StandsOn {
		if b.has(base) {
			continue
		}
		if err := b.add(base, i, p.Name); err != nil {
			return err
		}
	}
	if b.bundledOnly && !p.Bundled {
		return nil
	}
	b.stack = slices.DeleteFunc(b.stack, func(q *Profile) bool {
		other := p.CodeFamily != "" && q.CodeFamily != "" && q.CodeFamily != p.CodeFamily
		if other {
			b.replaced = append(b.replaced, q.Name)
		}
		return other || q.Name == p.Name
	})
	b.stack = append(b.stack, p)
	return nil
}

// has says whether a profile is on the stack.
func (b *builder) has(name string) bool {
	return slices.ContainsFunc(b.stack, func(p *Profile) bool { return p.Name == name })
}
