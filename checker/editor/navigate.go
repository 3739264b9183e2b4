package editor

import (
	"cmp"
	"slices"
	"strings"

	"duskproof/checker/plan"
	"duskproof/checker/source"
)

// definition goes from a name to what it names: an element, or an entry of the
// catalogue.
func (s *Server) definition(f *file, p placeParams) any {
	lines := source.NewLines(f.text)
	w, ok := wordAt(f.text, offsetOf(lines, p.Position))
	if !ok {
		return nil
	}
	if slices.Contains(typeNames, w.name) {
		return s.catalogueEntry(f, w.text)
	}
	for _, r := range references(f.text, w.text) {
		if r.name == "id" {
			return Location{f.uri, r.span(lines)}
		}
	}
	return nil
}

// catalogueEntry finds an entry by its name, in the last good text.
func (s *Server) catalogueEntry(f *file, name string) any {
	if f.good == nil {
		return nil
	}
	doc := f.good.Document
	for _, section := range []string{"fixtures", "cables", "connectors", "transformers"} {
		place := doc.Locate(source.Pointer("catalogue", section, name))[0]
		if place.Exists && place.HasKey {
			return Location{f.uri, offsets(doc.Lines(), place.Key.Start, place.Key.End)}
		}
	}
	return nil
}

// references goes from an element to every place that names it.
func (s *Server) references(f *file, p placeParams) any {
	lines := source.NewLines(f.text)
	w, ok := wordAt(f.text, offsetOf(lines, p.Position))
	if !ok {
		return nil
	}
	out := []Location{}
	for _, r := range references(f.text, w.text) {
		out = append(out, Location{f.uri, r.span(lines)})
	}
	return out
}

// rename changes an element's id everywhere. A name that another element has
// is refused by changing nothing.
func (s *Server) rename(f *file, p placeParams) any {
	lines := source.NewLines(f.text)
	w, ok := wordAt(f.text, offsetOf(lines, p.Position))
	if !ok || f.good == nil || p.NewName == "" {
		return nil
	}
	_, known := f.good.Model.Elements[w.text]
	_, taken := f.good.Model.Elements[p.NewName]
	if !known || taken {
		return nil
	}
	edits := []TextEdit{}
	for _, r := range references(f.text, w.text) {
		edits = append(edits, TextEdit{r.span(lines), quoted(p.NewName)})
	}
	return WorkspaceEdit{Changes: map[string][]TextEdit{f.uri: edits}}
}

// symbols is the outline: elements by section, in the order of the file.
func (s *Server) symbols(f *file) any {
	out := []DocumentSymbol{}
	if f.good == nil {
		return out
	}
	elements := slices.Collect(func(yield func(*plan.Element) bool) {
		for _, e := range f.good.Model.Elements {
			if !yield(e) {
				return
			}
		}
	})
	slices.SortFunc(elements, func(a, b *plan.Element) int {
		return cmp.Or(cmp.Compare(a.Pointer, b.Pointer), cmp.Compare(a.ID, b.ID))
	})
	sections := map[string]int{}
	for _, e := range elements {
		tokens := source.Tokens(e.Pointer)
		if len(tokens) == 0 {
			continue
		}
		i, seen := sections[tokens[0]]
		if !seen {
			i = len(out)
			sections[tokens[0]] = i
			span := s.spanOf(f, source.Pointer(tokens[0]))
			out = append(out, DocumentSymbol{Name: tokens[0], Kind: symbolNamespace, Range: span, SelectionRange: span})
		}
		span := s.spanOf(f, e.Pointer)
		out[i].Children = append(out[i].Children, DocumentSymbol{Name: e.ID, Detail: e.Kind, Kind: symbolObject, Range: span, SelectionRange: span})
	}
	slices.SortFunc(out, func(a, b DocumentSymbol) int {
		return cmp.Or(cmp.Compare(a.Range.Start.Line, b.Range.Start.Line), strings.Compare(a.Name, b.Name))
	})
	return out
}
