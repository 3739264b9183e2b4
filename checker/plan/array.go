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

func (r *resolver) declareArray(e *FixtureEntry, pointer string, slot int) {
	a := &arrayOf{entry: e, slot: slot}
	r.enter(&a.Element, "array", e.ID, pointer, a)
	r.arrays = append(r.arrays, a)
}

// expandArrays makes the fixtures of every array.
func (r *resolver) expandArrays() {
	for _, a := range r.arrays {
		r.expand(a)
	}
}

// expandFor makes the fixtures of the array that an id "<array>-<n>" belongs
// to, so that they can be measured from.
func (r *resolver) expandFor(id string) {
	i := strings.LastIndexByte(id, '-')
	if i <= 0 {
		return
	}
	if a, isArray := r.things[id[:i]].(*arrayOf); isArray {
		r.expand(a)
	}
}

// expand makes the fixtures of an array, "<array>-1" the first, when they are
// first asked for. The element of each points at the array's entry.
func (r *resolver) expand(a *arrayOf) {
	s := spotOf(&a.Element)
	r.once(r.nameOf(&a.Element), s, func() {
		if a.entry.At != nil {
			r.conflictOnKey(s.key("at"), "an array has no place of its own: its path says where it is")
		}
		array := s.key("array")
		line := r.lineOf(array.key("along"), a.entry.Array.Along)
		offset := r.length(array, "offset", a.entry.Array.Offset)
		if line == nil {
			return
		}
		for i, station := range r.stations(a, array, line) {
			r.addMember(a, i, line, station, offset)
		}
		r.slots[a.slot] = a.members
	})
}

func (r *resolver) addMember(a *arrayOf, i int, line *pathLine, station float64, offset *float64) {
	f := &Fixture{}
	f.Element = Element{ID: fmt.Sprintf("%s-%d", a.ID, i+1), Kind: "fixture", Pointer: a.Pointer}
	s := spotOf(&f.Element).key("id")
	f.At = r.beside(line, station, offset, sideOf(a.entry.Array.Side, i), s)
	r.claim(s, &f.Element, f)
	if r.plan.Elements[f.ID] == &f.Element {
		r.anchors[f.ID] = &anchor{spot: s, at: f.At}
	}
	r.entries[f] = a.entry
	a.members = append(a.members, f)
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
	case e.Count == nil && spacing == nil:
		if !e.Spacing.Set {
			r.conflict(s, "an array needs a count or a spacing")
		}
		return nil
	}
	count := or(e.Count, 0)
	if e.Count == nil {
		count = int(math.Min((end-start)/(*spacing)+1e-9, mostInArray)) + 1
	}
	if r.arrayed += count; count > mostInArray || r.arrayed > mostArrayed {
		r.conflict(s, "the array makes too many fixtures: an array can have %d, all arrays %d", mostInArray, mostArrayed)
		return nil
	}
	return spread(start, end, count, spacing)
}

// spread places count stations from start: at a spacing, or evenly to end.
func spread(start, end float64, count int, spacing *float64) []float64 {
	stations := make([]float64, 0, max(count, 0))
	for i := range count {
		switch {
		case spacing != nil:
			stations = append(stations, start+float64(i)*(*spacing))
		case count == 1:
			stations = append(stations, (start+end)/2)
		default:
			stations = append(stations, start+(end-start)*float64(i)/float64(count-1))
		}
	}
	return stations
}
