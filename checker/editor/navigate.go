package editor

import (
	"regexp"
	"slices"
	"strings"
	"sync"
)

// definition goes from a name to what it names: an element, the first fixture of
// a group, or an entry of the catalogue.
func (s *Server) definition(f *file, p placeParams) (any, error) {
	d := f.document()
	m, _ := d.book.pointed(d.offset(p.Position))
	at, found := d.book.definition(m)
	if !found {
		return nil, nil
	}
	return Location{f.uri, d.span(at.start, at.end)}, nil
}

// definition is where a name is defined.
func (b *book) definition(m meaning) (span, bool) {
	switch m.role {
	case defines:
		e, rest, ok := b.owner(m.name)
		if !ok {
			return span{}, false
		}
		if step := b.chainStep(e, rest); rest != "" && step >= 0 {
			return b.tree.nodes[step].value, true
		}
		return b.tree.nodes[e.name].value, true
	case types:
		for i := range b.tree.nodes {
			if entry, is := b.entry(i); is && entry == m {
				return b.tree.nodes[i].key, true
			}
		}
	case groups:
		i := slices.IndexFunc(b.tree.nodes, func(n node) bool {
			return n.kind == word && n.shape != nil && n.shape.role == groups && n.text == m.name
		})
		if i >= 0 {
			return b.tree.nodes[i].value, true
		}
	}
	return span{}, false
}

// use is a place that names something, with what would stand there under another
// name.
type use struct {
	at       span
	text     string
	declares bool
}

// uses are the places that name a thing, its definition among them, with the
// text that would stand there if its name were another. Patterns in variances
// name nothing.
func (b *book) uses(m meaning, name string) []use {
	var out []use
	for i := range b.tree.nodes {
		n := &b.tree.nodes[i]
		if entry, is := b.entry(i); is && entry == m {
			out = append(out, use{n.key, name, true})
		}
		here := b.wordOf(i)
		switch {
		case here.role != m.role || here.section != m.section:
		case m.role == defines:
			if to := b.renamed(n.text, m.name, name); to != n.text {
				out = append(out, use{n.value, to, n.shape.role == defines})
			}
		case here.name == m.name:
			out = append(out, use{n.value, name, n.shape.role == groups})
		}
	}
	return out
}

// stranger is a name that nothing in a plan can have.
const stranger = "\x00"

// references goes from a thing to every place that names it.
func (s *Server) references(f *file, p placeParams) (any, error) {
	d := f.document()
	m, _ := d.book.pointed(d.offset(p.Position))
	out := []Location{}
	if m.role == none {
		return out, nil
	}
	if e, _, ok := d.book.owner(m.name); ok && m.role == defines {
		m.name = e.id // from a tread to its stair, and to all that names either
	}
	for _, u := range d.book.uses(m, stranger) {
		if p.Context.IncludeDeclaration || !u.declares {
			out = append(out, Location{f.uri, d.span(u.at.start, u.at.end)})
		}
	}
	return out, nil
}

// idPattern is what an id looks like; the plan's schema has the same.
var idPattern = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$`)
})

// renamable is the element or group at a place, and the word that names it. The
// error says why it cannot be renamed.
func (f *file) renamable(p placeParams) (meaning, span, error) {
	d := f.document()
	m, at := d.book.pointed(d.offset(p.Position))
	if !d.tree.sound {
		return m, at, failed("the plan cannot be read as it is now; put it right first")
	}
	switch m.role {
	case groups:
		return m, at, nil
	case defines:
		e, rest, known := d.book.owner(m.name)
		switch {
		case !known:
			return m, at, failed("nothing in the plan has the id %s", m.name)
		case rest != "":
			return m, at, failed("%s is part of the %s %s and is called after it; rename that", m.name, d.tree.kindOf(e), e.id)
		}
		return m, at, nil
	}
	return m, at, failed("only ids of elements and names of groups can be renamed here")
}

// prepareRename says what would be renamed at a place.
func (s *Server) prepareRename(f *file, p placeParams) (any, error) {
	m, at, err := f.renamable(p)
	if err != nil {
		return nil, err
	}
	return Renaming{f.document().span(at.start+1, at.end-1), m.name}, nil
}

// rename changes the id of an element, or the name of a group, everywhere.
func (s *Server) rename(f *file, p placeParams) (any, error) {
	m, _, err := f.renamable(p)
	if err != nil {
		return nil, err
	}
	d := f.document()
	if !idPattern().MatchString(p.NewName) {
		return nil, failed("%q cannot be an id: letters, digits, full stop, underscore and hyphen, beginning with a letter or a digit", p.NewName)
	}
	if taken := d.book.taken(m, p.NewName); taken != "" {
		return nil, failed("%s is taken already", taken)
	}
	edits := []TextEdit{}
	for _, u := range d.book.uses(m, p.NewName) {
		edits = append(edits, TextEdit{d.span(u.at.start, u.at.end), `"` + u.text + `"`})
	}
	return s.edit(f, edits), nil
}

// taken is the name that stands in the way of a new one, or nothing. An array
// takes the ids of its fixtures as well.
func (b *book) taken(m meaning, name string) string {
	if name == m.name {
		return ""
	}
	if m.role == groups {
		if b.groups[name] {
			return "the group " + name
		}
		return ""
	}
	if _, _, taken := b.owner(name); taken {
		return "the id " + name
	}
	if e := b.byID[m.name]; b.tree.kindOf(e) == "array" {
		for id := range b.byID {
			if number, cut := strings.CutPrefix(id, name+"-"); cut && isNumber(number) {
				return "the id " + id
			}
		}
	}
	return ""
}
