package facts_test

import (
	"fmt"
	"math"
	"testing"

	"duskproof/checker/facts"
)

// mover turns a site clockwise about the origin, which adds to every bearing, and
// moves it.
type mover struct{ turnDeg, x, y float64 }

func (m mover) at(x, y float64) string {
	sin, cos := math.Sincos(m.turnDeg * math.Pi / 180)
	return fmt.Sprintf("[%.12f, %.12f]", m.x+x*cos+y*sin, m.y-x*sin+y*cos)
}

func (m mover) bearing(deg float64) string { return text(math.Mod(deg+m.turnDeg, 360)) }

func (m mover) line(xy ...float64) string {
	out := "["
	for i := 0; i < len(xy); i += 2 {
		if i > 0 {
			out += ", "
		}
		out += m.at(xy[i], xy[i+1])
	}
	return out + "]"
}

// garden is a site with something of every kind that has a direction.
func (m mover) garden() []string {
	site := `"site": {
	  "property_line": ` + m.line(-8, -8, 12, -8, 12, 14, -8, 14) + `,
	  "paths": [{"id": "walk", "centreline": ` + m.line(0, -6, 0, -2, 3, -0.5) + `, "width": 1.2, "elevations": [0, 0, 0.2]}],
	  "stairs": [{"id": "up", "foot": ` + m.line(0, 0, 1.5, 0) + `, "head": ` + m.line(0.2, 0.9, 1.3, 1) + `, "risers": 4, "rise": 0.15}],
	  "landings": [{"id": "top", "stair": "up", "end": "top", "outline": ` + m.line(0.2, 0.9, 1.3, 1, 1.3, 2.5, 0, 2.5) + `}],
	  "gates": [{"id": "gate", "hinge": ` + m.at(-0.6, -3) + `, "leaf": 1.2, "closed_bearing": ` + m.bearing(90) + `, "height": 1, "held_open": true, "opens": {"towards": "right", "angle": 95}}],
	  "walls": [{"id": "wall", "line": ` + m.line(-2, -5, -2, 1, -1, 2) + `, "height": 0.7, "thickness": 0.2}],
	  "hedges": [{"id": "hedge", "line": ` + m.line(3, -5, 3.5, -2) + `, "height": 1, "thickness": 0.5, "transmission": 0.2}],
	  "trees": [{"id": "thorn", "at": ` + m.at(5, 3) + `, "trunk": 0.2, "transmission": 0.3, "canopy": {"base": 1, "top": 4, "radius": 1.2}}],
	  "drives": [{"id": "drive", "kind": "home", "outline": ` + m.line(5, -7, 9, -7, 9, -2, 5, -2) + `}],
	  "buildings": [{"id": "house", "outline": ` + m.line(-7, 4, -2, 4, -2, 9, -7, 9) + `, "height": 5}],
	  "windows": [{"id": "pane", "line": ` + m.line(-5, 4, -4, 4) + `, "sill": 1, "head": 2, "whose": "own"}]}`
	step := func(id, at, more string) string {
		return `{"id": "` + id + `", "at": ` + at + `, ` + more + `}`
	}
	return []string{site, lamps(
		step("A", m.at(-0.8, -3.9), `"type": "ring", "height": 0.45`),
		step("B", m.at(0.9, -1.4), `"type": "globe", "height": 0.4`),
		step("C", m.at(0.7, 0.6), `"type": "step", "height": 0.1, "mount": "riser"`),
		step("D", m.at(3.2, 2.1), `"type": "spot", "height": 0.15, "aim": {"tree": "thorn"}`),
		step("E", m.at(-4, 3.95), `"type": "step", "height": 1.8, "mount": "wall"`),
		step("F", m.at(-1.9, -2), `"type": "step", "height": 0.4, "mount": "wall"`),
		step("G", m.at(1, -5), `"type": "spot", "height": 1.2, "aim": {"bearing": `+m.bearing(300)+`, "tilt": 50}`),
	), `"transformers": [{"id": "T1", "type": "T300"}]`,
		`"runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "2.5", "legs": [
		  {"id": "a", "from": "T1", "to": "A", "length": 3}, {"id": "b", "from": "A", "to": "B", "route": [` + m.at(7, -4) + `]}, {"id": "c", "from": "B", "to": "C"},
		  {"id": "d", "from": "C", "to": "D"}, {"id": "e", "from": "C", "to": "E"}, {"id": "f", "from": "A", "to": "F"}, {"id": "g", "from": "A", "to": "G"}]}]`}
}

// told writes what the facts say of places, in six figures.
func told(doc *facts.Document) map[string]float64 {
	out := map[string]float64{}
	put := func(v *float64, name ...any) {
		if v != nil {
			out[fmt.Sprint(name...)] = *v
		}
	}
	for _, p := range doc.Treads {
		put(p.LuxCentre, "tread ", p.ID)
		put(p.LuxAvg, "average of ", p.ID)
	}
	for _, p := range doc.Paths {
		put(p.LuxMin, "least on ", p.ID)
		put(p.LuxAvg, "average on ", p.ID)
		put(p.DarkM, "dark on ", p.ID)
	}
	for _, b := range doc.Boundary {
		put(&b.Lux, b.Kind, " ", b.ID, " ", b.Edge)
	}
	for _, s := range doc.Sightlines {
		put(&s.Lux, s.ID, " seen from ", s.From)
	}
	for _, s := range doc.LeafShadows {
		put(&s.LuxWith, s.ID, " behind ", s.Leaf, " ", s.Position)
	}
	for _, b := range doc.Beams {
		put(b.OnTree, "on ", b.Tree, " from ", b.ID)
		put(b.PastTree, "past ", b.Tree, " from ", b.ID)
	}
	for _, c := range doc.LeafClearances {
		put(&c.ClearanceM, c.ID, " from ", c.Leaf)
	}
	for _, p := range doc.Pieces {
		put(&p.ToM, "piece of ", p.ID, " ", p.Above, " ", int(math.Round(p.FromM*100)))
	}
	for _, c := range doc.Crossings {
		put(&c.LengthM, c.ID, " through ", c.What)
	}
	return out
}

// Turning and moving the whole site changes nothing that is measured on it, from
// the plan on: no part of the way takes one direction for another.
func TestTurnedSite(t *testing.T) {
	want := told(lit(t, mover{}.garden()...))
	if len(want) < 40 {
		t.Fatalf("only %d things are measured: %v", len(want), want)
	}
	for _, m := range []mover{{turnDeg: 90}, {turnDeg: 180, x: 40}, {turnDeg: 270, y: -25}, {turnDeg: 37, x: -12, y: 30}, {turnDeg: 301.5}} {
		got := told(lit(t, m.garden()...))
		for name, w := range want {
			if g, ok := got[name]; !ok || math.Abs(g-w) > 1e-6*math.Max(1, math.Abs(w)) {
				t.Errorf("turned by %g: %s is %.9g, was %.9g", m.turnDeg, name, g, w)
			}
		}
		if len(got) != len(want) {
			t.Errorf("turned by %g: %d things, were %d", m.turnDeg, len(got), len(want))
		}
	}
}
