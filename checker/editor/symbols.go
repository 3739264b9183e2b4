package editor

import "strings"

// symbols is the outline of a plan: its sections, the elements in them, and what
// is inside those; of the catalogue, the types.
func (s *Server) symbols(f *file, _ placeParams) (any, error) { return f.document().symbols(), nil }

func (d *document) symbols() []DocumentSymbol {
	out, children := []DocumentSymbol{}, d.tree.children()
	for _, i := range children[-1] {
		out = append(out, d.outline(children, i)...)
	}
	return out
}

// children lists the values inside each value.
func (t *tree) children() map[int][]int {
	out := map[int][]int{}
	for i := range t.nodes {
		if t.nodes[i].kind == object || t.nodes[i].kind == list {
			out[t.nodes[i].parent] = append(out[t.nodes[i].parent], i)
		}
	}
	return out
}

// outline is the symbols of a value: one of its own when it is an element, a type
// or a section with any of these inside, else those inside it.
func (d *document) outline(children map[int][]int, at int) []DocumentSymbol {
	var inside []DocumentSymbol
	for _, child := range children[at] {
		inside = append(inside, d.outline(children, child)...)
	}
	n := &d.tree.nodes[at]
	symbol := DocumentSymbol{Children: inside, Range: d.span(n.value.start, n.value.end)}
	if n.key != (span{}) {
		symbol.Range = d.span(n.key.start, n.value.end)
		symbol.SelectionRange = d.span(n.key.start, n.key.end)
	}
	entry, isType := d.book.entry(at)
	e, isElement := d.book.byNode[at]
	switch {
	case isElement:
		name := d.tree.nodes[e.name].value
		symbol.Name, symbol.Kind = e.id, symbolObject
		symbol.Detail = d.detail(e)
		symbol.SelectionRange = d.span(name.start, name.end)
	case isType:
		symbol.Name, symbol.Kind, symbol.Detail = entry.name, symbolClass, d.titleIn(at)
	case n.key != (span{}) && len(inside) > 0 && n.shape != nil:
		symbol.Name, symbol.Kind = n.name, symbolNamespace
	default:
		return inside
	}
	if strings.TrimSpace(symbol.Name) == "" {
		return inside // the protocol wants a name; somebody has not typed it yet
	}
	symbol.Name, symbol.Detail = clean(symbol.Name), clean(symbol.Detail)
	return []DocumentSymbol{symbol}
}

// detail says what an element is, and its title.
func (d *document) detail(e element) string {
	if title := d.titleIn(e.node); title != "" {
		return d.tree.kindOf(e) + ": " + title
	}
	return d.tree.kindOf(e)
}

// titleIn is the title that an object gives itself.
func (d *document) titleIn(at int) string {
	if i := d.tree.child(at, "title"); i >= 0 {
		return d.tree.nodes[i].text
	}
	return ""
}
