package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"duskproof/checker/source"
)

// The rules that resolving can break.
const (
	// Dangling is a reference to something that does not exist, or a value
	// that cannot be read. The plan cannot be judged.
	Dangling = "plan.dangling"
	// Conflict is a contradiction inside the plan. The rest is judged.
	Conflict = "plan.conflict"
)

// Issue is something wrong with a plan that its schema cannot see.
type Issue struct {
	// Rule is [Dangling] or [Conflict].
	Rule string
	// Element is the id of the element, or the name of a section.
	Element string
	// Pointer is the RFC 6901 JSON Pointer of the place.
	Pointer string
	// OnKey is true when the place is the name of the member at Pointer, not
	// its value.
	OnKey bool
	// Message says what is wrong, with numbers in the plan's unit, and what
	// was expected.
	Message string
	// Case tells apart issues of one rule on one element: the place inside
	// the element ("type", "route/2"), numbered where that is not enough.
	Case string
}

// spot is a place in the file, and the element it belongs to.
type spot struct {
	element string
	base    string // pointer of the element
	pointer string
}

// spotOf is the place of a whole element.
func spotOf(e *Element) spot { return spot{e.ID, e.Pointer, e.Pointer} }

// sectionSpot is the place of a part of the plan that has no id.
func sectionSpot(element, pointer string) spot { return spot{element, pointer, pointer} }

// key is the member of an object, which may be a path of plain names
// ("from/tap"). An empty name is the spot itself.
func (s spot) key(name string) spot {
	if name == "" {
		return s
	}
	s.pointer += "/" + name
	return s
}

// name is the member of an object with free names.
func (s spot) name(name string) spot {
	s.pointer += "/" + source.Escape(name)
	return s
}

// index is an item of a list.
func (s spot) index(i int) spot {
	s.pointer += "/" + strconv.Itoa(i)
	return s
}

// at is an item of a list that is a member of an object.
func (s spot) at(list string, i int) spot { return s.key(list).index(i) }

// issue makes an issue at a spot.
func (s spot) issue(rule, message string) Issue {
	within := strings.TrimPrefix(strings.TrimPrefix(s.pointer, s.base), "/")
	if s.element == "" { // the schema asks for an id
		s.element = s.base
	}
	return Issue{Rule: rule, Element: s.element, Pointer: s.pointer, Message: message, Case: within}
}

// dangling reports a reference that leads nowhere.
func (r *resolver) dangling(s spot, format string, args ...any) {
	r.issues = append(r.issues, s.issue(Dangling, fmt.Sprintf(format, args...)))
}

// conflict reports a contradiction.
func (r *resolver) conflict(s spot, format string, args ...any) {
	r.issues = append(r.issues, s.issue(Conflict, fmt.Sprintf(format, args...)))
}

// conflictOnKey reports a contradiction that lies in a member being there.
func (r *resolver) conflictOnKey(s spot, format string, args ...any) {
	r.conflict(s, format, args...)
	r.issues[len(r.issues)-1].OnKey = true
}

// sortIssues brings issues into the order of their pointers, then of their
// messages, drops repeats, and numbers the cases that would not be unique.
func sortIssues(issues []Issue) []Issue {
	slices.SortStableFunc(issues, compareIssues)
	issues = slices.Compact(issues)
	seen := map[[3]string]int{}
	for i := range issues {
		is := &issues[i]
		identity := [3]string{is.Rule, is.Element, is.Case}
		seen[identity]++
		if n := seen[identity]; n > 1 {
			is.Case = strings.TrimSpace(is.Case + " " + strconv.Itoa(n))
		}
	}
	return issues
}

func compareIssues(a, b Issue) int {
	return cmp.Or(
		comparePointers(a.Pointer, b.Pointer),
		cmp.Compare(a.Rule, b.Rule),
		cmp.Compare(a.Element, b.Element),
		cmp.Compare(a.Message, b.Message),
	)
}

// comparePointers orders pointers by their tokens, list indices as numbers.
func comparePointers(a, b string) int {
	return slices.CompareFunc(strings.Split(a, "/"), strings.Split(b, "/"), func(x, y string) int {
		i, errX := strconv.Atoi(x)
		j, errY := strconv.Atoi(y)
		if errX == nil && errY == nil {
			return cmp.Compare(i, j)
		}
		return cmp.Compare(x, y)
	})
}
