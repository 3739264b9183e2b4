package editor

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"duskproof/checker/facts"
	"duskproof/checker/measure"
	"duskproof/checker/plan"
	"duskproof/checker/report"
	"duskproof/checker/source"
)

// hover shows what was computed for the element under the pointer, or the page
// of the rule that is named there. Over a text that cannot be read it shows the
// last computation.
func (s *Server) hover(f *file, p placeParams) any {
	lines := source.NewLines(f.text)
	offset := offsetOf(lines, p.Position)
	if w, ok := wordAt(f.text, offset); ok {
		span := w.span(lines)
		if text := s.describeWord(f, w); text != "" {
			return Hover{MarkupContent{"markdown", text}, &span}
		}
	}
	if e := s.enclosing(f, offset); e != nil {
		if text := element(f.good.Facts, e.ID); text != "" {
			return Hover{Contents: MarkupContent{"markdown", text}}
		}
	}
	return nil
}

// describeWord is the text for a word: a rule's page, or an element.
func (s *Server) describeWord(f *file, w word) string {
	if w.name == "rule" && s.options.Page != nil {
		if page, ok := s.options.Page(w.text); ok {
			return page
		}
	}
	if f.good == nil || f.good.Facts == nil {
		return ""
	}
	return element(f.good.Facts, w.text)
}

// enclosing is the smallest element whose text holds an offset; only when the
// present text is the one that was computed.
func (s *Server) enclosing(f *file, offset int) *plan.Element {
	if f.good == nil || string(f.goodText) != string(f.text) {
		return nil
	}
	var best *plan.Element
	size := len(f.text) + 1
	for _, id := range elementIDs(f.good) {
		e := f.good.Model.Elements[id]
		place := f.good.Document.Locate(e.Pointer)[0]
		if n := place.Value.End - place.Value.Start; place.Value.Start <= offset && offset < place.Value.End && n < size {
			best, size = e, n
		}
	}
	return best
}

// elementIDs lists the elements of a result in order.
func elementIDs(p *report.Plan) []string {
	return slices.Sorted(maps.Keys(p.Model.Elements))
}

// element describes an element by its id; empty when nothing is computed of it.
func element(doc *facts.Document, id string) string {
	for _, describe := range []func(*facts.Document, string) string{lamp, leg, treads, path, run, transformer} {
		if text := describe(doc, id); text != "" {
			return clean(text)
		}
	}
	return ""
}

// clean makes control characters visible, line by line.
func clean(text string) string {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = report.Clean(lines[i])
	}
	return strings.Join(lines, "\n")
}

// lamp is the volts of a lamp in each corner against its window.
func lamp(doc *facts.Document, id string) string {
	for i := range doc.Fixtures {
		f := &doc.Fixtures[i]
		if f.ID != id {
			continue
		}
		var b strings.Builder
		fmt.Fprintf(&b, "**%s** %s, %s, run %s\n\n", f.ID, f.Type, f.Load, f.Run)
		fmt.Fprintf(&b, "| | volts |\n| --- | --- |\n| nominal | %s |\n", describe(f.NominalVolts, "V"))
		fmt.Fprintf(&b, "| least (%s) | %s |\n| most (%s) | %s |\n", f.LowCorner, describe(f.LowVolts, "V"), f.HighCorner, describe(f.HighVolts, "V"))
		fmt.Fprintf(&b, "| window | %s to %s |\n", describe(f.MinVolts, "V"), describe(f.MaxVolts, "V"))
		fmt.Fprintf(&b, "\ndrop %s, load %.1f VA", describe(f.DropV, "V"), f.VAUsed)
		if f.UpShare != nil {
			fmt.Fprintf(&b, ", %s of its light upwards", measure.Share(*f.UpShare))
		}
		return b.String()
	}
	return ""
}

// leg is amps, drop and cover of a leg, piece by piece.
func leg(doc *facts.Document, id string) string {
	for i := range doc.Legs {
		l := &doc.Legs[i]
		if l.ID != id {
			continue
		}
		var b strings.Builder
		fmt.Fprintf(&b, "**%s** %s to %s, %s\n\n", l.ID, l.From, l.To, l.Conductor)
		if l.LengthM != nil {
			fmt.Fprintf(&b, "length %s, ", measure.Length(*l.LengthM, doc.Units))
		}
		fmt.Fprintf(&b, "%.1f A at most (%s), may carry %s, drop %.2f V\n", l.Amps, l.AmpsCorner, describe(l.AmpacityA, "A"), l.DropV)
		for k := range doc.Pieces {
			p := &doc.Pieces[k]
			if p.ID == id && p.RequiredM != nil && !p.Exempt {
				fmt.Fprintf(&b, "\n- %s to %s under %s: cover %s asked for", measure.Length(p.FromM, doc.Units), measure.Length(p.ToM, doc.Units),
					above(p.Above), measure.Length(*p.RequiredM, doc.Units))
			}
		}
		return b.String()
	}
	return ""
}

func above(kinds []string) string {
	if len(kinds) == 0 {
		return "open ground"
	}
	return strings.Join(kinds, ", ")
}

// treads is the light on a tread or landing, or on every tread of a flight.
func treads(doc *facts.Document, id string) string {
	var b strings.Builder
	for i := range doc.Treads {
		t := &doc.Treads[i]
		if t.ID != id && t.Stair != id {
			continue
		}
		if b.Len() == 0 {
			fmt.Fprintf(&b, "**%s**\n\n| tread | scene | centre | least | lit by |\n| --- | --- | --- | --- | --- |\n", id)
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", t.ID, t.Scene, describe(t.LuxCentre, "lx"), describe(t.LuxMin, "lx"), strings.Join(t.Lamps, ", "))
	}
	return b.String()
}

// path is the light along a path in every scene.
func path(doc *facts.Document, id string) string {
	var b strings.Builder
	for i := range doc.Paths {
		p := &doc.Paths[i]
		if p.ID != id {
			continue
		}
		if b.Len() == 0 {
			fmt.Fprintf(&b, "**%s** %s, grid step %s\n\n| scene | least | mean | most |\n| --- | --- | --- | --- |\n", id, p.Kind, measure.Length(p.StepM, doc.Units))
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", p.Scene, describe(p.LuxMin, "lx"), describe(p.LuxAvg, "lx"), describe(p.LuxMax, "lx"))
	}
	return b.String()
}

func run(doc *facts.Document, id string) string {
	for i := range doc.Runs {
		if r := &doc.Runs[i]; r.ID == id {
			return fmt.Sprintf("**%s** from %s common %d at %.1f V: %d lamps, %.1f VA, %.1f A at most (%s), %s of cable",
				r.ID, r.Transformer, r.Common, r.TapVolts, len(r.Lamps), r.ConnectedVA, r.Amps, r.AmpsCorner, measure.Length(r.LengthM, doc.Units))
		}
	}
	return ""
}

func transformer(doc *facts.Document, id string) string {
	for i := range doc.Transformers {
		if t := &doc.Transformers[i]; t.ID == id {
			return fmt.Sprintf("**%s** %s: %.0f of %.0f VA, %s (%s); %.1f W lost in cable",
				t.ID, t.Type, t.LoadVA, t.RatingVA, measure.Share(t.Loading), t.LoadCorner, t.LossW)
		}
	}
	return ""
}
