package facts_test

import (
	"fmt"
	"strings"
	"testing"

	"duskproof/checker/facts"
)

// lamps is a list of fixtures, each "id type at" and more members.
func lamps(of ...string) string { return `"fixtures": [` + strings.Join(of, ", ") + `]` }

func lampAt(id, kind string, x, y float64, more string) string {
	return fmt.Sprintf(`{"id": %q, "type": %q, "at": [%g, %g]%s}`, id, kind, x, y, more)
}

func standing(s facts.Standing) string {
	return fmt.Sprintf("%s in %s %s by %.1f in", s.ID, s.ZoneKind, s.Zone, s.IntoM/inch)
}

// The drive's edge is at x = 0, and 24 in of room are asked for beside it. A
// point is in by its depth; the body of "fat" is 12 in wide, so it reaches 6 in
// farther.
func TestStandingByADrive(t *testing.T) {
	site := `"site": {"drives": [{"id": "drive", "kind": "home", "outline": ` + box(0, -20, 10, 20) + `}],
	  "beds": [{"id": "island", "outline": ` + box(4, 10, 6, 14) + `}]}`
	for _, c := range []struct{ lamp, want string }{
		{lampAt("P1", "lamp", 2, 0, ""), "P1 in drive drive by 24.0 in"},
		{lampAt("P1", "fat", -0.25, 0, ""), "P1 in drive drive by 3.0 in"},
		{lampAt("P1", "lamp", -1, 0, ""), "P1 in drive drive by -12.0 in"},
		{lampAt("P1", "lamp", -2, 0, ""), ""},
		{lampAt("P1", "lamp", 5, 12, ""), ""}, // in an island bed
		{lampAt("P1", "step", 2, 0, ""), ""},  // fixed to something that stands
		{lampAt("P1", "lamp", 2, 0, `, "mount": "hanging"`), ""},
		{lampAt("P1", "lamp", 2, 0, `, "mount": "wall"`), ""},
	} {
		if got := words(compute(t, sketch(lamps(c.lamp), site)).Standings, standing); got != c.want {
			t.Errorf("%s: %q, by hand %q", c.lamp, got, c.want)
		}
	}
}

// A fixture mounted on something that stands does not stand in the path; one
// within 4 in of its edge does not leave the room asked for.
func TestStandingByAPath(t *testing.T) {
	site := `"site": {"paths": [{"id": "walk", "centreline": [[0, -20], [0, 20]], "width": 4}],
	  "walls": [{"id": "wall", "line": [[1, -20], [1, 20]], "height": 4}]}`
	for _, c := range []struct{ lamp, want string }{
		{lampAt("P1", "lamp", 1, 0, ""), "P1 in path walk by 12.0 in"},
		{lampAt("P1", "lamp", 1, 0, `, "mount": "surface", "host": "wall"`), ""},
		{lampAt("P1", "lamp", 2, 0, ""), "P1 in path walk by 0.0 in"},
		{lampAt("P1", "lamp", 2.25, 0, ""), "P1 in path walk by -3.0 in"},
		{lampAt("P1", "lamp", 2.5, 0, ""), ""},
	} {
		if got := strings.ReplaceAll(words(compute(t, sketch(lamps(c.lamp), site)).Standings, standing), "-0.0", "0.0"); got != c.want {
			t.Errorf("%s: %q, by hand %q", c.lamp, got, c.want)
		}
	}
}

// The lawn's edge is at x = 0. It asks for a strip of its own, or for the
// profile's 12 in. What is drawn on the lawn, a bed or a path, is not lawn.
func TestStandingByALawn(t *testing.T) {
	site := func(strip string) string {
		return `"site": {"lawns": [{"id": "lawn", "outline": ` + box(-30, -20, 0, 20) + strip + `}],
		  "beds": [{"id": "round-bed", "outline": ` + box(-12, -2, -8, 2) + `}, {"id": "edge-bed", "outline": ` + box(0, -20, 4, -10) + `}],
		  "areas": [{"id": "pad", "kind": "terrace", "outline": ` + box(-22, -2, -18, 2) + `}, {"id": "strip", "kind": "mower-strip", "outline": ` + box(10, 0, 11, 9) + `}]}`
	}
	for _, c := range []struct{ lamp, strip, want string }{
		{lampAt("P1", "lamp", -1, 0, ""), "", "P1 in lawn lawn by 12.0 in"},
		{lampAt("P1", "lamp", 0.5, 0, ""), "", "P1 in mower-strip lawn by 6.0 in"},
		{lampAt("P1", "lamp", 0.5, -15, ""), "", "P1 in mower-strip lawn by 6.0 in"},
		{lampAt("P1", "lamp", 1, 0, ""), "", ""},
		{lampAt("P1", "lamp", 1, 0, ""), `, "mower_strip": "18 in"`, "P1 in mower-strip lawn by 6.0 in"},
		{lampAt("P1", "lamp", 0.5, 0, ""), `, "mower_strip": 0`, ""},
		{lampAt("P1", "lamp", -10, 0, ""), "", ""},
		{lampAt("P1", "lamp", -20, 0, ""), "", ""},
		{lampAt("P1", "lamp", 10.5, 4, ""), "", "P1 in mower-strip strip by 6.0 in"},
	} {
		if got := words(compute(t, sketch(lamps(c.lamp), site(c.strip))).Standings, standing); got != c.want {
			t.Errorf("%s, lawn%s: %q, by hand %q", c.lamp, c.strip, got, c.want)
		}
	}
}

// Snow is piled over 24 in beside its store as well. What lies flush is listed
// with what it bears, on a terrace too.
func TestStandingInSnowAndUnderfoot(t *testing.T) {
	site := `"site": {"areas": [{"id": "heap", "kind": "snow-store", "outline": ` + box(0, 0, 10, 10) + `}, {"id": "patio", "kind": "terrace", "outline": ` + box(30, 0, 40, 10) + `}]}`
	doc := compute(t, sketch(lamps(
		lampAt("P1", "lamp", 11, 5, ""), lampAt("P2", "lamp", 35, 5, ""), lampAt("P3", "well", 35, 5, `, "mount": "flush"`),
	), site))
	want := "P1 in snow-store heap by -12.0 in; P3 in terrace patio by 60.0 in"
	if got := words(doc.Standings, standing); got != want {
		t.Errorf("%q, by hand %q", got, want)
	}
	if s := doc.Standings[1]; !s.Flush || s.LoadClass != "walk-over" {
		t.Errorf("flush %t, load class %q", s.Flush, s.LoadClass)
	}
}

// Six inches beyond the property line are drawn on it.
func TestBeyondThePropertyLine(t *testing.T) {
	site := `"site": {"property_line": ` + box(0, 0, 100, 100) + `}`
	doc := compute(t, sketch(lamps(
		lampAt("P1", "lamp", -3, 50, ""), lampAt("P2", "lamp", -0.4, 50, ""), lampAt("P3", "lamp", 50, 50, ""), lampAt("P4", "step", 102, 50, `, "mount": "wall"`),
	), site))
	want := "P1 in off-land property-line by 36.0 in; P4 in off-land property-line by 24.0 in"
	if got := words(doc.Standings, standing); got != want {
		t.Errorf("%q, by hand %q", got, want)
	}
	leg := `"transformers": [{"id": "T1", "type": "T300", "at": [10, 50]}], "fixtures": [{"id": "P1", "type": "lamp", "at": [10, 60]}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "legs": [{"id": "w1", "from": "T1", "to": "P1", "method": "buried", "route": [[-5, 50], [-5, 60]]}]}]`
	doc = compute(t, sketch(leg, site))
	// 5 ft out, 10 ft along, 5 ft back.
	same(t, "cable on other people's land", doc.Legs[0].OffLandM, 20*foot)
	if got := words(doc.Crossings, crossed); got != "w1 off-land property-line at 10.00 for 20.00" {
		t.Error(got)
	}
}

func crossed(c facts.Crossing) string {
	return fmt.Sprintf("%s %s %s at %s for %s", c.ID, c.Kind, c.What, feet(c.StationM), feet(c.LengthM))
}

func service(s facts.Crossing) string {
	out := fmt.Sprintf("%s %s", s.What, s.ServiceKind)
	switch {
	case s.SeparationM == nil:
		out += " nobody knows"
	case s.Crosses:
		out += " crossed at " + feet(s.StationM)
	default:
		out += fmt.Sprintf(" %.1f in away at %s", *s.SeparationM/inch, feet(s.StationM))
	}
	if s.BesideM != nil {
		out += fmt.Sprintf(", %s beside at %.1f in", feet(s.LengthM), *s.BesideM/inch)
	}
	return out
}

// The leg runs along the x axis from 0 to 40 ft. Hand digging is asked for
// within 24 in of a line, and 12 in between mains and low voltage.
func TestServices(t *testing.T) {
	for _, c := range []struct{ kind, route, want string }{
		{"gas", `[[15, -5], [15, 5]]`, "s gas crossed at 15.00"},
		{"gas", `[[15, -5], [15, -1]]`, "s gas 12.0 in away at 15.00"}, // ends 12 in before it
		{"gas", `[[15, -5], [15, -3]]`, ""},
		{"gas", `[[10, 1], [20, 1]]`, "s gas 12.0 in away at 10.00, 13.46 beside at 12.0 in"},            // 10 ft, and sqrt(2*2 - 1*1) ft at each end
		{"mains", `[[10, 1.5], [20, 1.5]]`, "s mains 18.0 in away at 10.00"},                             // within 24 in, beyond 12 in
		{"mains", `[[10, 0.5], [20, 0.5]]`, "s mains 6.0 in away at 10.00, 11.73 beside at 6.0 in"},      // sqrt(1*1 - 0.5*0.5) ft at each end
		{"mains", `[[5, 0.5], [30, 0.5], [30, -5]]`, "s mains crossed at 30.00, 26.73 beside at 6.0 in"}, // 25 ft and the same at each end,
	} {
		doc := compute(t, sketch(straight(`, "method": "buried"`), fmt.Sprintf(`"site": {"services": [{"id": "s", "kind": %q, "route": %s}]}`, c.kind, c.route)))
		if got := words(doc.Crossings, service); got != c.want {
			t.Errorf("%s %s: %q, by hand %q", c.kind, c.route, got, c.want)
		}
		if doc.Services[0].Met != (c.want != "") {
			t.Errorf("%s %s: met %t", c.kind, c.route, doc.Services[0].Met)
		}
	}
}

// A surface cable is not dug in, so it meets nothing in the ground; a leg
// without a route may meet any line; private lines count as located when they
// were mapped.
func TestServicesKnownAndUnknown(t *testing.T) {
	site := `"site": {"services": [{"id": "s", "kind": "irrigation", "private": true, "route": [[15, -5], [15, 5]]}]}`
	doc := compute(t, sketch(straight(`, "method": "surface"`), site))
	if doc.Services[0].Met || doc.Crossings[0].InGround {
		t.Errorf("a surface cable: met %t, in ground %t", doc.Services[0].Met, doc.Crossings[0].InGround)
	}
	doc = compute(t, sketch(`"transformers": [{"id": "T1", "type": "T300"}], "fixtures": [{"id": "P1", "type": "lamp"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "P1", "length": 40}]}]`, site))
	if got := words(doc.Crossings, service); got != "s irrigation nobody knows" || !doc.Crossings[0].InGround {
		t.Error(got)
	}
	for permissions, want := range map[string]string{`{}`: "unknown", `{"locate": {"private_lines_mapped": true}}`: "yes", `{"locate": {"private_lines_mapped": false}}`: "unknown"} {
		doc := compute(t, sketch(straight(`, "method": "buried"`), site, `"permissions": `+permissions))
		if got := yesNo(doc.Services[0].Located); got != want || yesNo(doc.Crossings[0].Located) != want {
			t.Errorf("%s: located %s, by hand %s", permissions, got, want)
		}
	}
}

// Chords by Pythagoras: 3 ft from the middle of a circle of 5 ft the chord is
// 8 ft. A root radius that the plan states is used as it is.
func TestRootZones(t *testing.T) {
	for tree, want := range map[string]string{
		`"at": [20, 3], "canopy": {"base": 5, "top": 17, "radius": 5}`:                   "w1 root-zone tree at 16.00 for 8.00",
		`"at": [20, 3], "canopy": {"base": 5, "top": 17, "radius": 9}, "root_radius": 5`: "w1 root-zone tree at 16.00 for 8.00",
		`"at": [20, 3], "canopy": {"base": 5, "top": 17, "radius": 2}`:                   "",
		`"at": [20, 11], "trunk": "8 in"`:                                                "",
		`"at": [40, 0], "canopy": {"base": 5, "top": 17, "radius": 5}`:                   "w1 root-zone tree at 35.00 for 5.00",
	} {
		doc := compute(t, sketch(straight(`, "method": "buried"`), `"site": {"trees": [{"id": "tree", `+tree+`}]}`))
		if got := words(doc.Crossings, crossed); got != want {
			t.Errorf("%s: %q, by hand %q", tree, got, want)
		}
	}
	doc := compute(t, sketch(straight(`, "method": "buried"`), `"site": {"trees": [{"id": "tree", "at": [20, 9], "trunk": "8 in"}]}`))
	if got := words(doc.Crossings, crossed); got != "w1 root-zone tree at 20.00 for 0.00" || doc.Crossings[0].ZoneM != nil || doc.Crossings[0].Crosses {
		t.Errorf("a tree 9 ft away of which only the trunk is known: %s", got)
	}
	wide := append(limitsOf(t), facts.Limit{})
	for i := range wide {
		if wide[i].Name == "earth.root_zone_factor" {
			wide[i].Value = new(float64)
			*wide[i].Value = 5.0 / 3
		}
	}
	doc = computeWith(t, wide, sketch(straight(`, "method": "buried"`), `"site": {"trees": [{"id": "a", "at": [20, 3], "canopy": {"base": 5, "top": 17, "radius": 3}}, {"id": "b", "at": [10, 3], "canopy": {"base": 5, "top": 17, "radius": 9}, "root_radius": 3.5}]}`))
	known(t, "root zone by the factor", doc.Crossings[0].ZoneM, 5*foot)
	known(t, "root zone as stated", doc.Crossings[1].ZoneM, 3.5*foot)
	if n := len(compute(t, sketch(straight(`, "method": "surface"`), `"site": {"trees": [{"id": "tree", "at": [20, 0], "root_radius": 5}]}`)).Crossings); n != 0 {
		t.Errorf("a surface cable meets %d root zones", n)
	}
}

// Buildings count from six inches inside their wall, so that a transformer on
// the wall is not in the house; walls only where the leg passes through.
func TestBuildingsAndWalls(t *testing.T) {
	for _, c := range []struct{ site, want string }{
		{`"buildings": [{"id": "house", "outline": ` + box(10, -5, 22, 5) + `}]`, "w1 building house at 10.00 for 12.00"},
		{`"buildings": [{"id": "house", "outline": ` + box(-8, -5, 0, 5) + `}]`, ""},
		{`"buildings": [{"id": "house", "outline": ` + box(-8, -5, 0.4, 5) + `}]`, ""},
		{`"buildings": [{"id": "house", "outline": ` + box(5, 0, 30, 20) + `}]`, ""}, // along its face
		{`"walls": [{"id": "w", "line": [[15, -5], [15, 5]], "height": 3, "material": "brick"}]`, "w1 wall w at 15.00 for 0.00"},
		{`"walls": [{"id": "w", "line": [[40, -5], [40, 5]], "height": 3, "material": "brick"}]`, ""},
		{`"fences": [{"id": "w", "line": [[15, -5], [15, 5]], "height": 3, "material": "metal"}]`, ""},
		{`"decks": [{"id": "deck", "outline": ` + box(10, -5, 22, 5) + `, "material": "timber"}]`, "w1 deck deck at 10.00 for 12.00"},
		{`"beds": [{"id": "bed", "outline": ` + box(10, -5, 22, 5) + `, "annuals": true}]`, "w1 annual-bed bed at 10.00 for 12.00"},
		{`"beds": [{"id": "bed", "outline": ` + box(10, -5, 22, 5) + `}]`, ""},
		{`"lawns": [{"id": "lawn", "outline": ` + box(10, -5, 22, 5) + `, "aerated": true}]`, "w1 aerated-lawn lawn at 10.00 for 12.00"},
	} {
		doc := compute(t, sketch(straight(`, "method": "buried"`), `"site": {`+c.site+`}`))
		if got := words(doc.Crossings, crossed); got != c.want {
			t.Errorf("%s: %q, by hand %q", c.site, got, c.want)
		}
	}
}
