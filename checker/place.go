package checker

import (
	"strings"

	"duskproof/checker/rule"
	"duskproof/checker/source"
)

// pointerField carries a ready pointer in a hit's field: the engine's own rules
// know the place better than element and field could say.
type pointerField struct {
	pointer string
	onKey   bool
}

func (p pointerField) field() []any { return []any{p} }

// pointerOf finds the place of a hit in the plan file. The element is an id, a
// part of one ("lower/2" is a tread of stair "lower"), a catalogue name, or the
// name of a section.
func (s *state) pointerOf(h *rule.Hit) (pointer string, onKey bool) {
	if len(h.Field) == 1 {
		if ready, ok := h.Field[0].(pointerField); ok {
			return ready.pointer, ready.onKey
		}
	}
	base := s.elementPointer(h.Element)
	if len(h.Field) > 0 {
		base += source.Pointer(h.Field...)
	}
	return base, false
}

func (s *state) elementPointer(id string) string {
	for name := id; ; {
		if e, ok := s.plan.Elements[name]; ok {
			return e.Pointer
		}
		cut := strings.LastIndexByte(name, '/')
		if cut < 0 {
			break
		}
		name = name[:cut]
	}
	if pointer, ok := catalogue(s.plan, id); ok {
		return pointer
	}
	return source.Pointer(id) // a section; a missing one shows its parent
}
