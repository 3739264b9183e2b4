package editor

import (
	"fmt"
	"strings"

	"duskproof/checker/facts"
	"duskproof/checker/measure"
)

// leg is amps, drop and cover of a leg, piece by piece.
func leg(doc *facts.Document, id string) string {
	for i := range doc.Legs {
		l := &doc.Legs[i]
		if l.ID != id {
			continue
		}
		words := []string{fmt.Sprintf("%.2f A at most (%s), of %s that the cable may carry", l.Amps, orDash(l.AmpsCorner), number(l.AmpacityA, "A"))}
		words = append(words, "drop "+volts(&l.DropV)+" at nominal supply")
		if l.LengthM != nil {
			words = append(words, measure.Length(*l.LengthM, doc.Units)+" long")
		}
		return fmt.Sprintf("**%s** %s to %s, %s\n\n%s\n%s", l.ID, l.From, l.To, orDash(l.Conductor), strings.Join(words, "; "), cover(doc, id))
	}
	return ""
}

// cover is the cover of each piece of a leg and the cover asked for there.
func cover(doc *facts.Document, id string) string {
	t, any := newTable("from", "to", "under", "cover", "asked for"), false
	for i := range doc.Pieces {
		p := &doc.Pieces[i]
		if p.ID != id {
			continue
		}
		any = true
		asked := lengthOf(p.RequiredM, doc.Units)
		if p.Exempt {
			asked = "nothing: not in the ground, or the short rise to an end"
		}
		t.row(measure.Length(p.FromM, doc.Units), measure.Length(p.ToM, doc.Units), above(p.Above), lengthOf(p.CoverM, doc.Units), asked)
	}
	if !any {
		return ""
	}
	return "\n" + t.String()
}

func lengthOf(m *float64, units string) string {
	if m == nil {
		return "–"
	}
	return measure.Length(*m, units)
}

func above(kinds []string) string {
	if len(kinds) == 0 {
		return "open ground"
	}
	return strings.Join(kinds, ", ")
}

// treads is the light on a tread or landing, or on every tread of a flight, and
// the fixtures that light it, the strongest first.
func treads(doc *facts.Document, id string) string {
	t, any := newTable("step", "scene", "middle", "least", "lit by"), false
	for i := range doc.Treads {
		if p := &doc.Treads[i]; p.ID == id || p.Stair == id {
			any = true
			t.row(p.ID, p.Scene, number(p.LuxCentre, "lx"), number(p.LuxMin, "lx"), litBy(p.Lamps))
		}
	}
	if !any {
		return ""
	}
	return fmt.Sprintf("**%s** direct light\n\n%s", id, t)
}

// paths is the light along a path, deck or terrace in every scene, and the
// fixtures that light it, the strongest first.
func paths(doc *facts.Document, id string) string {
	t, words := newTable("scene", "least", "mean", "most", "lit by"), ""
	for i := range doc.Paths {
		if p := &doc.Paths[i]; p.ID == id {
			words = fmt.Sprintf("**%s** %s, direct light, a point every %s", id, p.Kind, measure.Length(p.StepM, doc.Units))
			t.row(p.Scene, number(p.LuxMin, "lx"), number(p.LuxAvg, "lx"), number(p.LuxMax, "lx"), litBy(p.Lamps))
		}
	}
	if words == "" {
		return ""
	}
	return words + "\n\n" + t.String()
}

func litBy(lamps []string) string {
	if len(lamps) == 0 {
		return "nothing"
	}
	return strings.Join(lamps, ", ")
}
