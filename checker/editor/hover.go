package editor

import (
	"fmt"
	"slices"
	"strings"

	"duskproof/checker/facts"
	"duskproof/checker/measure"
)

// hover shows what was computed for the element under the pointer, or the page
// of the rule that is named there. Over a text that cannot be read it shows the
// last computation.
func (s *Server) hover(f *file, p placeParams) (any, error) {
	d := f.document()
	offset := d.offset(p.Position)
	m, at := d.book.pointed(offset)
	if m.role == ruleID {
		page, ok := s.options.Judge.Page(f.path, m.name)
		if !ok {
			return nil, nil
		}
		return s.hovering(harmless(page), d.span(at.start, at.end)), nil
	}
	if f.good == nil {
		return nil, nil
	}
	if m.role == defines {
		if text := f.good.describe(m.name); text != "" {
			return s.hovering(text, d.span(at.start, at.end)), nil
		}
	}
	for _, at := range d.book.around(d.tree.at(offset)) {
		if text := f.good.describe(at.id); text != "" {
			whole := d.tree.nodes[at.node].value
			return s.hovering(text, d.span(whole.start, whole.end)), nil
		}
	}
	return nil, nil
}

// hovering is a hover in the form that the editor shows.
func (s *Server) hovering(text string, at Range) Hover {
	kind := "plaintext"
	if s.client.markdown {
		kind = "markdown"
	}
	return Hover{MarkupContent{kind, clean(text)}, &at}
}

// harmless takes from the Markdown of somebody's rule what could fetch or run
// something: images and HTML.
func harmless(page string) string {
	return strings.NewReplacer("![", "!\\[", "<", "&lt;").Replace(page)
}

// describe says what was computed of an element; nothing where nothing was.
func (o *outcome) describe(id string) string {
	for _, describe := range []func(*facts.Document, string) string{lamps, leg, treads, paths, run, transformer, joint} {
		if text := describe(o.Facts, id); text != "" {
			return text
		}
	}
	return ""
}

// table is a Markdown table.
type table struct{ strings.Builder }

func newTable(head ...string) *table {
	t := &table{}
	t.row(head...)
	t.row(slices.Repeat([]string{"---"}, len(head))...)
	return t
}

func (t *table) row(cells ...string) {
	for i, cell := range cells {
		cells[i] = strings.ReplaceAll(cell, "|", "\\|")
	}
	fmt.Fprintf(t, "| %s |\n", strings.Join(cells, " | "))
}

// number is a value with its unit, or a dash where nobody knows it.
func number(v *float64, unit string) string {
	if v == nil {
		return "–"
	}
	return measure.Text(*v, unit, "")
}

// volts are printed finer than in reports, to be compared with a window.
func volts(v *float64) string {
	if v == nil {
		return "–"
	}
	return fmt.Sprintf("%.2f V", *v)
}

// lamps are the volts of a lamp in each corner against its window, or those of
// the lamps of an array.
func lamps(doc *facts.Document, id string) string {
	var of []*facts.Fixture
	for i := range doc.Fixtures {
		f := &doc.Fixtures[i]
		if f.ID == id {
			return lamp(f)
		}
		if f.ArrayOf == id {
			of = append(of, f)
		}
	}
	if len(of) == 0 {
		return ""
	}
	t := newTable("lamp", "nominal", "least", "most", "window")
	for _, f := range of {
		t.row(f.ID, volts(f.NominalVolts), volts(f.LowVolts), volts(f.HighVolts), window(f))
	}
	return fmt.Sprintf("**%s** array of %d lamps, %s\n\n%s", id, len(of), of[0].Type, t)
}

func window(f *facts.Fixture) string {
	if f.MinVolts == nil && f.MaxVolts == nil {
		return "not stated"
	}
	return volts(f.MinVolts) + " to " + volts(f.MaxVolts)
}

func lamp(f *facts.Fixture) string {
	t := newTable("corner", "volts")
	for _, c := range f.Corners {
		t.row(c.Corner, volts(&c.Volts))
	}
	t.row("least of all, "+orDash(f.LowCorner), volts(f.LowVolts))
	t.row("most of all, "+orDash(f.HighCorner), volts(f.HighVolts))
	t.row("**window**", window(f))
	words := []string{fmt.Sprintf("load %.1f VA", f.VAUsed)}
	if f.DropV != nil {
		words = append(words, "drop from the loaded tap "+volts(f.DropV))
	}
	if f.DropsOut {
		words = append(words, "goes out at "+f.DropsOutAt)
	}
	if f.UpShare != nil {
		words = append(words, measure.Share(*f.UpShare)+" of its light upwards")
	}
	return fmt.Sprintf("**%s** %s, %s, %s\n\n%s\n%s", f.ID, f.Type, f.Load, fedBy(f), t, strings.Join(words, "; "))
}

func fedBy(f *facts.Fixture) string {
	if f.Run == "" {
		return "not fed"
	}
	return "run " + f.Run
}

func orDash(text string) string {
	if text == "" {
		return "–"
	}
	return text
}

// run is what one run carries.
func run(doc *facts.Document, id string) string {
	for i := range doc.Runs {
		if r := &doc.Runs[i]; r.ID == id {
			return fmt.Sprintf("**%s** from %s common %d, %s tap: %d lamps, %s, %.2f A at most (%s), %s of cable",
				r.ID, r.Transformer, r.Common, measure.Text(r.TapVolts, "V", ""), len(r.Lamps), measure.Text(r.ConnectedVA, "VA", ""),
				r.Amps, orDash(r.AmpsCorner), measure.Length(r.LengthM, doc.Units))
		}
	}
	return ""
}

// transformer is how far one power unit is loaded.
func transformer(doc *facts.Document, id string) string {
	for i := range doc.Transformers {
		if t := &doc.Transformers[i]; t.ID == id {
			return fmt.Sprintf("**%s** %s: %s of %s, %s (%s); %s lost in cable",
				t.ID, t.Type, measure.Text(t.LoadVA, "VA", ""), measure.Text(t.RatingVA, "VA", ""), measure.Share(t.Loading),
				orDash(t.LoadCorner), measure.Text(t.LossW, "W", ""))
		}
	}
	return ""
}

// joint is the volts at a hub, tee or splice.
func joint(doc *facts.Document, id string) string {
	for i := range doc.Nodes {
		if n := &doc.Nodes[i]; n.ID == id {
			return fmt.Sprintf("**%s** %s on run %s: %s at nominal supply", n.ID, n.Kind, n.Run, volts(n.NominalVolts))
		}
	}
	return ""
}
