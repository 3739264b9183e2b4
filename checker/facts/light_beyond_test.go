package facts_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"duskproof/checker/facts"
)

// landLimits are the profile values that the join itself uses.
func landLimits(maintenance float64) []facts.Limit {
	return []facts.Limit{
		{Name: "light.maintenance_factor", Value: &maintenance, Unit: "1", Source: "common practice"},
	}
}

// Vertical light at the property line, at 1.5 m: a globe of 100 cd at that height
// and 4 m from the line gives 100/4^2 = 6.25 lx straight across, 100/6^2 = 2.78 on
// the far side. It is taken with new lamps and clean lenses, whatever the
// maintenance factor, and on the side that faces the land, whichever way round
// the line is drawn.
func TestPropertyLine(t *testing.T) {
	for name, line := range map[string]string{
		"anticlockwise": `[[0, -10], [10, -10], [10, 10], [0, 10]]`,
		"clockwise":     `[[0, 10], [10, 10], [10, -10], [0, -10]]`,
	} {
		doc := computeWith(t, landLimits(0.8), metric(`"site": {"property_line": `+line+`}`,
			lamps(`{"id": "L1", "type": "globe", "at": [4, 0.25], "height": 1.5}`)))
		got := map[string]string{}
		for _, b := range doc.Boundary {
			got[fmt.Sprintf("%.0f", b.XM)] = fmt.Sprintf("%.3f lx at %.2f from %s", b.Lux, b.YM, b.Worst)
		}
		if got["0"] != "6.250 lx at 0.25 from L1" || got["10"] != "2.778 lx at 0.25 from L1" {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// The ground at the line counts: where it lies 1 m higher the point is 2.5 m up,
// and 1 m above the globe: 100*4/17^1.5 = 5.71 lx.
func TestPropertyLineOnAnEmbankment(t *testing.T) {
	doc := lit(t, `"site": {"property_line": `+box(0, -10, 10, 10)+`,
	  "areas": [{"id": "bank", "kind": "planting", "elevation": 1, "outline": `+box(-1, -10, 1, 10)+`}]}`,
		lamps(`{"id": "L1", "type": "globe", "at": [4, 0.25], "height": 1.5}`))
	for _, b := range doc.Boundary {
		if b.XM == 0 {
			near(t, "on the bank", b.Lux, candela*4/math.Pow(17, 1.5), exact)
		}
	}
}

// A neighbour's window 6 m away gets 100 cd / 36 m2 = 2.78 lx in its middle, and
// less at its corners. It is judged on the outside of its wall, however deep in
// the wall it is drawn; a lamp behind the house gives it nothing.
func TestNeighboursWindow(t *testing.T) {
	site := func(y string) string {
		return `"site": {"buildings": [{"id": "house", "outline": ` + box(-4, 6, 4, 12) + `, "height": 6}],
		  "windows": [{"id": "pane", "line": [[-0.5, ` + y + `], [0.5, ` + y + `]], "sill": 1, "head": 2, "whose": "neighbour"}]}`
	}
	for _, y := range []string{"6", "6.1", "6.4"} {
		doc := lit(t, site(y), lamps(`{"id": "L1", "type": "globe", "at": [0, 0], "height": 1.5}`,
			`{"id": "L2", "type": "globe", "at": [0, 14], "height": 1.5}`))
		if len(doc.Boundary) != 1 {
			t.Fatalf("window at %s: %v", y, doc.Boundary)
		}
		b := doc.Boundary[0]
		if b.Kind != "neighbour-window" || b.Worst != "L1" || len(b.Lamps) != 1 {
			t.Errorf("window at %s: %+v", y, b)
		}
		near(t, y, b.Lux, candela/36, 0.01) // the point lies 20 mm before the wall
	}
	// Without a house the plan does not say which side is out: the worse counts.
	doc := lit(t, `"site": {"windows": [{"id": "pane", "line": [[0.5, 6], [-0.5, 6]], "sill": 1, "head": 2, "whose": "own"}]}`,
		lamps(`{"id": "L1", "type": "globe", "at": [0, 0], "height": 1.5}`))
	if b := doc.Boundary[0]; b.Kind != "own-window" || math.Abs(b.Lux-candela/36) > exact {
		t.Errorf("no house: %+v", b)
	}
}

func sight(s facts.Sightline) string {
	return fmt.Sprintf("%s from %s %s %.2f m %.1f lx", s.ID, s.FromKind, s.From, s.DistanceM, s.Lux)
}

// A path climbs from 0 to 5 m in 10 m. A globe stands 2.5 m beyond the last pace
// (station 9.5, 4.75 m up), level with the eyes of a walker there (1.6 m): 100 cd
// at 2.5 m give 16 lx to his eye. With eyes at the level of the first point of the
// path it would be far below.
func TestEyesClimbWithThePath(t *testing.T) {
	doc := lit(t, `"site": {"paths": [{"id": "walk", "centreline": [[0, 0], [0, 10]], "width": 1, "elevations": [0, 5]}]}`,
		lamps(`{"id": "L1", "type": "globe", "at": [0, 12], "elevation": 4.75, "height": 1.6}`))
	if got, want := words(doc.Sightlines, sight), "L1 from path walk 2.50 m 16.0 lx"; got != want {
		t.Errorf("%s, by hand %s", got, want)
	}
	near(t, "cd/klm", doc.Sightlines[0].CandelaPerKlm, 1000/(4*math.Pi), exact)
}

// A shaded path light shows a walker no source: not beside it, not from the steps
// below. Nor does one that the plan calls full cut-off, whatever its shape. A bare
// globe does, unless it is right underfoot or overhead, off, or behind a wall.
func TestGlareNeedsASource(t *testing.T) {
	walk := `"paths": [{"id": "walk", "centreline": [[0, 0], [0, 10]], "width": 1}]`
	for _, c := range []struct{ name, site, fixture, want string }{
		{"a shaded path light", walk, `"type": "ring", "at": [0.7, 5.5], "height": 0.45`, ""},
		{"a globe called full cut-off", walk, `"type": "globe", "at": [0.7, 5.5], "height": 0.45, "shield": "full-cutoff"`, ""},
		{"a globe", walk, `"type": "globe", "at": [2, 5.5], "height": 1.6`, "L1 from path walk 2.00 m 25.0 lx"},
		{"a globe at half", walk, `"type": "globe", "at": [2, 5.5], "height": 1.6, "level": "50 %"`, "L1 from path walk 2.00 m 12.5 lx"},
		// From 0.5 m it is 73 degrees down; the next eye, at 1.5 m, sees it 47 degrees down.
		{"underfoot", walk, `"type": "globe", "at": [0, 0], "height": 0`, "L1 from path walk 2.19 m 20.8 lx"},
		{"off", walk, `"type": "globe", "at": [2, 5.5], "height": 1.6, "level": 0`, ""},
		{"far away", walk, `"type": "globe", "at": [30, 5.5], "height": 1.6`, ""},
		{"behind a wall", walk + `, "walls": [{"id": "w", "line": [[1, -20], [1, 30]], "height": 2}]`, `"type": "globe", "at": [2, 5.5], "height": 1.6`, ""},
		{"an uplight, aside", walk, `"type": "spot", "at": [1, 5.5], "height": 0, "aim": {"bearing": 90, "tilt": 120}`, ""},
		{"a spot at the eye", walk, `"type": "spot", "at": [4, 5.5], "height": 1.6, "aim": {"bearing": 270, "tilt": 90}`, "L1 from path walk 4.00 m 17.4 lx"},
		{"the same with a shroud", walk, `"type": "spot", "at": [4, 5.5], "height": 1.6, "shield": "shrouded", "aim": {"bearing": 270, "tilt": 90}`, "L1 from path walk 4.00 m 17.4 lx"},
	} {
		doc := lit(t, `"site": {`+c.site+`}`, lamps(`{"id": "L1", `+c.fixture+`}`))
		if got := words(doc.Sightlines, sight); got != c.want {
			t.Errorf("%s: %q, by hand %q", c.name, got, c.want)
		}
	}
}

// A shroud hides the source from an eye that is more than 45 degrees off its
// axis.
func TestShroudHides(t *testing.T) {
	site := `"site": {"paths": [{"id": "walk", "centreline": [[0, -0.5], [0, 0.5]], "width": 1}]}`
	spot := func(bearing, shield string) string {
		doc := lit(t, site, lamps(`{"id": "L1", "type": "spot", "at": [1, 0], "height": 1.6, "shield": "`+shield+`", "aim": {"bearing": `+bearing+`, "tilt": 90}}`))
		return words(doc.Sightlines, func(s facts.Sightline) string { return fmt.Sprintf("%.0f", s.OffAxisDeg) })
	}
	for _, c := range []struct{ bearing, shield, want string }{
		{"230", "none", "40"}, {"230", "shrouded", "40"}, {"220", "none", "50"}, {"220", "shrouded", ""}, {"220", "louvred", ""},
	} {
		if got := spot(c.bearing, c.shield); got != c.want {
			t.Errorf("aimed at %s, %s: off its axis by %q, by hand %q", c.bearing, c.shield, got, c.want)
		}
	}
}

// A source that shows beyond the land is listed from there: from a neighbour's
// window and from the property line.
func TestSeenFromBeyond(t *testing.T) {
	doc := lit(t, `"site": {"property_line": `+box(0, -10, 10, 10)+`,
	  "windows": [{"id": "pane", "line": [[-20, -0.5], [-20, 0.5]], "sill": 1, "head": 2, "whose": "neighbour"}]}`,
		lamps(`{"id": "L1", "type": "mast", "at": [5, 0.5], "height": 1.6}`))
	var got []string
	for _, s := range doc.Sightlines {
		got = append(got, fmt.Sprintf("%s %s %.1f m %.0f cd", s.FromKind, s.From, s.DistanceM, s.Candela))
	}
	want := "neighbour-window pane 25.0 m 2400 cd; boundary property-line 5.0 m 2400 cd"
	if strings.Join(got, "; ") != want {
		t.Errorf("%s, by hand %s", strings.Join(got, "; "), want)
	}
}
