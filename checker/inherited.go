package checker

import (
	"strings"

	"duskproof/checker/rule"
	"duskproof/checker/source"
)

// section is where the plan's defaults for one kind of element are, by kind.
var section = map[string]string{"leg": "legs", "node": "nodes", "fixture": "fixtures"}

// written are the places where the value that a hit is about may be written,
// the nearest first: on the element, on its run, among the plan's defaults.
func (s *state) written(own string, h *rule.Hit) []string {
	places := []string{own}
	e, known := s.plan.Elements[h.Element]
	if !known || len(h.Field) != 1 || section[e.Kind] == "" {
		return places
	}
	field, named := h.Field[0].(string)
	if !named {
		return places
	}
	if run, ok := runOf(e.Pointer); ok {
		places = append(places, run+source.Pointer(field))
	}
	return append(places, source.Pointer("defaults", section[e.Kind], field))
}

// runOf cuts the pointer of a leg or node to that of its run.
func runOf(pointer string) (string, bool) {
	steps := strings.SplitN(pointer, "/", 4)
	if len(steps) < 4 || steps[1] != "runs" {
		return "", false
	}
	return strings.Join(steps[:3], "/"), true
}

// locate finds the places of hits: each where its value is written, or, when it
// is written nowhere, where it is missing.
func (s *state) locate(hits []rule.Hit) (places []source.Place, onKey []bool) {
	var pointers []string
	first := make([]int, len(hits)+1)
	onKey = make([]bool, len(hits))
	for i := range hits {
		own, key := s.pointerOf(&hits[i])
		onKey[i] = key
		pointers = append(pointers, s.written(own, &hits[i])...)
		first[i+1] = len(pointers)
	}
	all := s.doc.Locate(pointers...)
	places = make([]source.Place, len(hits))
	for i := range hits {
		own := all[first[i]:first[i+1]]
		places[i] = own[0]
		for _, place := range own {
			if place.Exists {
				places[i] = place
				break
			}
		}
	}
	return places, onKey
}
