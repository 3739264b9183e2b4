package plan

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
)

// enter gives an element its id. The first element that has an id keeps it;
// the second is reported.
func (r *resolver) enter(e *Element, kind, id, pointer string, thing any) {
	*e = Element{ID: id, Kind: kind, Pointer: pointer}
	if id != "" {
		r.claim(spotOf(e), "id", e, thing)
	}
}

// claim enters an element under its id; s/key is where to report that it is taken.
func (r *resolver) claim(s spot, key string, e *Element, thing any) {
	if first, taken := r.plan.Elements[e.ID]; taken {
		r.conflict(s.key(key), "the id %q is taken: the %s at %s has it already", e.ID, first.Kind, first.Pointer)
		return
	}
	r.plan.Elements[e.ID] = e
	r.things[e.ID] = thing
}

// aKind puts the article before a kind or a measure.
func aKind(kind string) string {
	if strings.ContainsRune("aeiou", rune((kind + " ")[0])) {
		return "an " + kind
	}
	return "a " + kind
}

// find looks up what an id names. what is the kind that is wanted, as a message
// names it ("path", "transformer"). An empty id finds nothing and is no issue.
func find[T any](r *resolver, s spot, what, id string) (T, bool) {
	var none T
	if id == "" {
		return none, false
	}
	thing, known := r.things[id]
	if found, fits := thing.(T); fits {
		return found, true
	}
	r.gaps = true
	if array := r.arrayNamed(id); !known && array != nil && len(array.members) == 0 {
		return none, false // the array has no fixtures, which is reported there
	}
	exist := func() []string { return idsOf[T](r) }
	switch a, isArray := thing.(*arrayOf); {
	case isArray && len(a.members) > 0:
		r.dangling(s, "%q is an array, not %s: name one of its fixtures, %q to %q", id, aKind(what), a.members[0].ID, a.members[len(a.members)-1].ID)
	case known:
		r.dangling(s, "%q is %s, not %s%s", id, aKind(r.plan.Elements[id].Kind), aKind(what), r.offer("", exist, "the plan has"))
	default:
		r.dangling(s, "there is no %s %q%s", what, id, r.offer(id, exist, "the plan has"))
	}
	return none, false
}

// idsOf lists the ids that name a T, sorted.
func idsOf[T any](r *resolver) []string {
	var ids []string
	for id, thing := range r.things {
		if _, fits := thing.(T); fits {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return ids
}

// findType looks up a name of the catalogue.
func findType[T any](r *resolver, s spot, what, name string, types map[string]*T) *T {
	if name == "" {
		return nil
	}
	if found := types[name]; found != nil {
		return found
	}
	exist := func() []string { return slices.Sorted(maps.Keys(types)) }
	r.dangling(s, "there is no %s %q in the catalogue%s", what, name, r.offer(name, exist, "the catalogue has"))
	return nil
}

// mostListed is how many names a message lists.
const mostListed = 8

// mostOffers bounds the messages of one plan that suggest a name: comparing
// names takes time, and somebody with more wrong names than this has one cause
// to find, not many.
const mostOffers = 200

// offer is the end of a message about a wrong name: what was probably meant, and
// what there is. Of a name that is right but of the wrong kind, nothing is
// probably meant, so wrong is empty.
func (r *resolver) offer(wrong string, names func() []string, has string) string {
	if r.offers++; r.offers > mostOffers {
		return ""
	}
	return offer(wrong, names(), has)
}

func offer(wrong string, exist []string, has string) string {
	var b strings.Builder
	if near := nearest(wrong, exist); wrong != "" && near != "" {
		fmt.Fprintf(&b, "; did you mean %q?", near)
	}
	switch {
	case len(exist) == 0:
		fmt.Fprintf(&b, "; %s none", has)
	case len(exist) <= mostListed && b.Len() > 0:
		fmt.Fprintf(&b, " (%s %s)", has, join(exist, "and"))
	case len(exist) <= mostListed:
		fmt.Fprintf(&b, "; %s %s", has, join(exist, "and"))
	}
	return b.String()
}

// mostCompared bounds the names that are compared for one message.
const mostCompared = 2000

// reach is how many edits a misspelt name may lie from what was meant: one, two
// from four letters on, a third of them from nine on.
func reach(wrong string) int {
	if len(wrong) < 4 {
		return 1
	}
	return max(2, len(wrong)/3)
}

// swapped says whether two names differ by two neighbouring letters that have
// changed places.
func swapped(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := 0; i+1 < len(a); i++ {
		if a[i] != b[i] {
			return a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
		}
	}
	return false
}

// nearest returns the name that a misspelt one probably means: the same but
// for case, or within [reach] edits, two swapped letters counting as one. Ties
// go to the first in order.
func nearest(wrong string, names []string) string {
	best, least := "", reach(wrong)+1
	for _, name := range names[:min(len(names), mostCompared)] {
		if strings.EqualFold(name, wrong) {
			return name
		}
		if d := len(name) - len(wrong); max(d, -d) >= least {
			continue
		}
		d := levenshtein.ComputeDistance(wrong, name)
		if d == 2 && swapped(wrong, name) {
			d = 1
		}
		if d < least {
			best, least = name, d
		}
	}
	return best
}
