package plan

import (
	"fmt"
	"math"
	"strings"
)

const (
	// mostInArray is how many fixtures one array may have.
	mostInArray = 2000
	// mostArrayed is how many fixtures all arrays of a plan may have.
	mostArrayed = 50_000
)

// arrayOf is an array of fixtures along a path.
type arrayOf struct {
	Element
	entry   *FixtureEntry
	slot    int
	members []*Fixture
}

// declareArray enters an array, and its fixtures where their number is stated.
func (r *resolver) declareArray(e *FixtureEntry, pointer string, slot int) {
	a := &arrayOf{entry: e, slot: slot}
	r.enter(&a.Element, "array", e.ID, pointer, a)
	r.arrays = append(r.arrays, a)
	if n := or(e.Array.Count, 0); n > 0 && r.hasRoom(a, n) {
		r.addMembers(a, n)
	}
}

// hasRoom says whether an array may have n fixtures.
func (r *resolver) hasRoom(a *arrayOf, n int) bool {
	if r.arrayed += n; n > mostInArray || r.arrayed > mostArrayed {
		r.conflict(spotOf(&a.Element).key("array"), "the array makes too many fixtures: an array can have %d, all arrays %d", mostInArray, mostArrayed)
		return false
	}
	return true
}

// addMembers makes the fixtures of an array, "<array>-1" the first. The element
// of each points at the array's entry.
func (r *resolver) addMembers(a *arrayOf, n int) {
	for i := range n {
		f := &Fixture{}
		f.Element = Element{ID: fmt.Sprintf("%s-%d", a.ID, i+1), Kind: "fixture", Pointer: a.Pointer}
		s := spotOf(&f.Element).key("id")
		r.claim(s, "", &f.Element, f)
		if r.plan.Elements[f.ID] == &f.Element {
			r.anchors[f.ID] = &anchor{spot: s, array: a}
		}
		r.entries[f] = a.entry
		a.members = append(a.members, f)
	}
	r.slots[a.slot] = a.members
}

// expandArrays gives the fixtures of every array their places.
func (r *resolver) expandArrays() {
	for _, a := range r.arrays {
		r.expand(a)
	}
}

// arrayNamed is the array that an id "<array>-<n>" belongs to, nil for other
// ids.
func (r *resolver) arrayNamed(id string) *arrayOf {
	i := strings.LastIndexByte(id, '-')
	if i <= 0 {
		return nil
	}
	a, _ := r.things[id[:i]].(*arrayOf)
	return a
}

// expand gives the fixtures of an array their places when one of them is first
// asked for. Where the path or the stations cannot be used, which is reported,
// they have none.
func (r *resolver) expand(a *arrayOf) {
	s := spotOf(&a.Element)
	r.once(r.nameOf(&a.Element), s, func() {
		if a.entry.At != nil {
			r.conflictOnKey(s.key("at"), "an array has no place of its own: its path says where it is")
		}
		array, e := s.key("array"), a.entry.Array
		line := r.lineOf(array.key("along"), e.Along)
		offset := r.length(array, "offset", e.Offset)
		if line == nil {
			return
		}
		for i, station := range r.stations(a, array, line) {
			f := a.members[i]
			f.At = r.beside(line, station, offset, sideOf(e.Side, i), array)
			if anchor := r.anchors[f.ID]; anchor != nil && anchor.array == a {
				anchor.at = f.At
			}
		}
	})
}

// sideOf is the side of fixture i: alternate begins on the left.
func sideOf(side string, i int) string {
	switch {
	case side != "alternate":
		return side
	case i%2 == 0:
		return "left"
	default:
		return "right"
	}
}

// stations are the places of an array's fixtures along its path: spread evenly
// from start to end, both included, or from the start at a spacing as far as
// the end. A single fixture by count stands half way.
func (r *resolver) stations(a *arrayOf, s spot, line *pathLine) []float64 {
	e := a.entry.Array
	start := or(r.extent(s, "start", e.Start), 0)
	end := or(r.extent(s, "end", e.End), line.length())
	spacing := r.size(s, "spacing", e.Spacing, Length)
	switch {
	case end > line.length()+levelSlackM:
		r.conflict(s.key("end"), "station %s is beyond the end of %q, which is %s long", r.text(end), e.Along, r.text(line.length()))
		return nil
	case start > end:
		r.conflict(s.key("start"), "the array starts at %s, beyond its end at %s", r.text(start), r.text(end))
		return nil
	case e.Count != nil:
		return spread(start, end, len(a.members))
	case spacing == nil:
		if !e.Spacing.Set {
			r.conflict(s, "an array needs a count or a spacing")
		}
		return nil
	}
	// Beyond the limit the number does not matter.
	count := int(math.Min((end-start)/(*spacing)+stationSlack, mostInArray)) + 1
	if !r.hasRoom(a, count) {
		return nil
	}
	r.addMembers(a, count)
	stations := make([]float64, count)
	for i := range stations {
		stations[i] = start + float64(i)*(*spacing)
	}
	return stations
}

// stationSlack is the part of a spacing by which the last fixture of an array
// may pass the end, so that rounding does not lose it.
const stationSlack = 1e-9

// spread places count stations evenly from start to end.
func spread(start, end float64, count int) []float64 {
	if count == 1 {
		return []float64{(start + end) / 2}
	}
	stations := make([]float64, count)
	for i := range stations {
		stations[i] = start + (end-start)*float64(i)/float64(count-1)
	}
	return stations
}
