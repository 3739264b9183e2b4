package facts_test

import (
	"fmt"
	"strings"
	"testing"

	"duskproof/checker/facts"
)

func joint(f facts.Joint) string {
	out := fmt.Sprintf("%s joins %d", f.ID, f.Conductors)
	if f.Buried {
		out += " buried"
	}
	if len(f.Under) > 0 {
		out += " under " + strings.Join(f.Under, " and ")
	}
	return out
}

// Two legs meet at the node, and one ends at the fixture, whose own lead or
// connector makes it two.
func TestJoints(t *testing.T) {
	text := func(node, lamp, method, site string) string {
		return sketch(`"transformers": [{"id": "T1", "type": "T300", "at": [0, 0]}], "fixtures": [`+lampAt("P1", lamp, 20, 0, "")+`],
		  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "method": "`+method+`", "nodes": [{"id": "n", "at": [10, 0]`+node+`}],
		    "legs": [{"id": "w1", "from": "T1", "to": "n"}, {"id": "w2", "from": "n", "to": "P1"}]}]`, `"site": {`+site+`}`)
	}
	slab := `"areas": [{"id": "pad", "kind": "slab", "outline": ` + box(8, -2, 22, 2) + `}]`
	for _, c := range []struct{ node, lamp, method, site, want string }{
		{"", "lamp", "buried", "", "n joins 2 buried; P1 joins 1 buried"},
		{"", "leaded", "buried", "", "n joins 2 buried; P1 joins 2 buried"},
		{"", "lamp", "surface", "", "n joins 2; P1 joins 1"},
		{`, "place": "buried"`, "lamp", "surface", "", "n joins 2 buried; P1 joins 1"},
		{`, "place": "box"`, "lamp", "buried", "", "n joins 2; P1 joins 1 buried"},
		{`, "kind": "hub"`, "lamp", "buried", "", "n joins 2; P1 joins 1 buried"}, // cable rises to a hub
		{`, "kind": "hub", "place": "buried"`, "lamp", "buried", "", "n joins 2 buried; P1 joins 1 buried"},
		{"", "step", "sleeved", "", "n joins 2 buried; P1 joins 1"}, // the step light is let into a riser
		{"", "lamp", "buried", slab, "n joins 2 buried under paving; P1 joins 1 buried"},
		{"", "lamp", "buried", `"paths": [{"id": "walk", "centreline": [[0, 2], [20, 2]], "width": 4, "surface": "brick"}]`, "n joins 2 buried; P1 joins 1 buried"}, // on its edge
		{"", "lamp", "buried", `"drives": [{"id": "d", "kind": "home", "surface": "gravel", "outline": ` + box(8, -2, 22, 2) + `}]`, "n joins 2 buried under drive; P1 joins 1 buried"},
		{"", "lamp", "buried", `"decks": [{"id": "d", "material": "timber", "outline": ` + box(8, -2, 22, 2) + `}]`, "n joins 2 buried under deck; P1 joins 1 buried"},
		{"", "lamp", "buried", `"buildings": [{"id": "b", "outline": ` + box(9.6, 0, 12, 9) + `}]`, "n joins 2 buried; P1 joins 1 buried"}, // on its wall
	} {
		if got := words(compute(t, text(c.node, c.lamp, c.method, c.site)).Joints, joint); got != c.want {
			t.Errorf("node%s, %s, %s, %s:\n%s, by hand\n%s", c.node, c.lamp, c.method, c.site, got, c.want)
		}
	}
}

// The pool's edge is at x = 0. Distances are level, to the body of a fixture
// (12 in wide), and nought inside.
func TestWaterDistances(t *testing.T) {
	wet := func(w facts.WaterDistance) string {
		d := "nobody knows"
		if w.DistanceM != nil {
			d = feet(*w.DistanceM)
		}
		return fmt.Sprintf("%s %s %s %s", w.Thing, w.ID, w.Kind, d)
	}
	text := func(kind string) string {
		return sketch(`"supply": {"volts": 120, "receptacles": [{"id": "RC1", "at": [21, 0]}]},
		  "transformers": [{"id": "T1", "type": "T300", "at": [15, 0], "plugged_into": "RC1"}],
		  "fixtures": [`+lampAt("P1", "fat", 5, 0, "")+`, `+lampAt("P2", "lamp", -3, 0, "")+`, `+lampAt("P3", "lamp", 40, 0, "")+`, {"id": "P4", "type": "lamp"}],
		  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "legs": [
		    {"id": "w1", "from": "T1", "to": "P1", "method": "buried", "route": [[8, 6]]}, {"id": "w2", "from": "T1", "to": "P4", "length": 9}]}]`,
			fmt.Sprintf(`"site": {"water": [{"id": "water", "kind": %q, "outline": %s}]}`, kind, box(-20, -20, 0, 20)))
	}
	doc := compute(t, text("pool"))
	want := "fixture P1 pool 4.50; fixture P2 pool 0.00; leg w1 pool 5.00; transformer T1 pool 15.00; receptacle RC1 pool 21.00; " +
		"fixture P4 pool nobody knows; leg w2 pool nobody knows"
	if got := words(doc.WaterDistances, wet); got != want {
		t.Errorf("%s, by hand\n%s", got, want)
	}
	first := doc.WaterDistances[0]
	if first.Output != "ac" || first.TapVolts == nil || *first.TapVolts != 12 || strings.Join(first.SupplyListing, " ") != "pool-spa" {
		t.Errorf("the supply of P1: %+v", first)
	}
	known(t, "transformer to water", doc.Transformers[0].WaterM, 15*foot)
	known(t, "receptacle to a pool", doc.Receptacles[0].WaterM, 21*foot)

	doc = compute(t, text("pond"))
	want = "fixture P1 pond 4.50; fixture P2 pond 0.00; leg w1 pond 5.00; transformer T1 pond 15.00; receptacle RC1 pond 21.00"
	if got := words(doc.WaterDistances, wet); got != want {
		t.Errorf("%s, by hand\n%s", got, want)
	}
	if doc.Transformers[0].WaterKind != "pond" || doc.Receptacles[0].WaterM != nil {
		t.Errorf("a pond: transformer by %s, receptacle %v", doc.Transformers[0].WaterKind, doc.Receptacles[0].WaterM)
	}
}

// The cord's way is the straight line: 3 ft level and 4 ft up make 5 ft. Where a
// height is not stated, the level distance counts.
func TestCordAndFlood(t *testing.T) {
	text := func(height, site string) string {
		return sketch(`"supply": {"volts": 120, "receptacles": [{"id": "RC1", "at": [3, 0], "height": 5}]},
		  "transformers": [{"id": "T1", "type": "T300", "at": [0, 0], "plugged_into": "RC1"`+height+`}]`, site)
	}
	known(t, "cord", compute(t, text(`, "height": 1`, `"site": {}`)).Transformers[0].CordNeededM, 5*foot)
	known(t, "cord, height unknown", compute(t, text("", `"site": {}`)).Transformers[0].CordNeededM, 3*foot)
	known(t, "cord without a site", compute(t, text(`, "height": 1`, `"notes": []`)).Transformers[0].CordNeededM, 5*foot)
	// Water may rise to 3 ft, and the transformer stands on a terrace at 2 ft.
	doc := compute(t, text("", `"site": {"ground": {"flood_level": "3 ft", "snow_depth": "10 in"},
	  "areas": [{"id": "terrace", "kind": "terrace", "elevation": 2, "outline": `+box(-1, -1, 1, 1)+`}]}`))
	known(t, "flood above the ground", doc.Transformers[0].FloodM, 1*foot)
	known(t, "snow", doc.Transformers[0].SnowM, 10*inch)
}

func burning(f facts.Fixture) string {
	out := "nothing"
	if f.NearestCombustibleM != nil {
		out = fmt.Sprintf("%s at %.1f in", f.NearestCombustible, *f.NearestCombustibleM/inch)
	}
	if f.HostBurns != "" {
		out += ", on " + f.HostBurns
	}
	if f.UnderDeck != "" {
		out += ", under " + f.UnderDeck
	}
	return out
}

// Distances run from the light's centre, height counted: 3 in away and 4 in up
// make 5 in. What the fixture is mounted on is named and does not count.
func TestCombustibles(t *testing.T) {
	bed := `"beds": [{"id": "bed", "cover": "mulch", "outline": ` + box(-10, -10, 0, 10) + `}]`
	deck := `"decks": [{"id": "deck", "material": "timber", "elevation": 3, "outline": ` + box(-10, -10, 0, 10) + `}]`
	fence := `"fences": [{"id": "f", "material": "timber", "height": 4, "line": [[0, -10], [0, 10]]}]`
	for _, c := range []struct{ lamp, site, want string }{
		{lampAt("S", "spot", -5, 0, `, "height": "8 in"`), bed, "mulch at 8.0 in"},
		{lampAt("S", "spot", 0.25, 0, `, "height": "4 in"`), bed, "mulch in bed at 5.0 in"},
		{lampAt("S", "spot", -5, 0, ""), bed, "mulch at 0.0 in"},
		{lampAt("S", "spot", -5, 0, `, "height": "8 in", "surround": "gravel"`), bed, "nothing"},
		{lampAt("S", "spot", 5, 0, `, "height": "8 in", "surround": "leaves"`), "", "leaves at 8.0 in"},
		{lampAt("S", "spot", 30, 0, `, "height": "8 in"`), bed, "nothing"},
		{lampAt("S", "spot", 1, 0, `, "height": "8 in"`), fence, "timber fence f at 12.0 in"},
		{lampAt("S", "spot", 0, 0, `, "height": "8 in", "mount": "wall", "host": "f"`), fence, "nothing, on timber fence f"},
		{lampAt("S", "spot", 0.25, 0, `, "height": "52 in", "mount": "hanging"`), fence, "timber fence f at 5.0 in"}, // 4 in above it
		{lampAt("S", "spot", -5, 0, `, "height": "8 in"`), deck, "nothing, on timber deck"},
		{lampAt("S", "spot", -5, 0, `, "height": "24 in", "mount": "under-deck"`), deck, "timber deck at 12.0 in, under deck"},
		{lampAt("S", "spot", 1, 0, `, "height": "36 in"`), deck, "timber deck at 12.0 in"},
		{lampAt("S", "spot", 1, 0, `, "height": "8 in"`), `"trees": [{"id": "oak", "at": [0, 0], "trunk": "12 in"}]`, "trunk of oak at 6.0 in"},
		{lampAt("S", "spot", 0, 0, `, "height": "20 ft", "mount": "tree", "host": "oak"`), `"trees": [{"id": "oak", "at": [0, 0], "trunk": "12 in"}]`, "nothing, on trunk of oak"},
		{lampAt("S", "spot", 1, 0, `, "height": "8 in"`), `"buildings": [{"id": "shed", "cladding": "timber", "outline": ` + box(-9, -9, 0, 9) + `}]`, "timber cladding of shed at 12.0 in"},
		{lampAt("S", "spot", 1, 0, `, "height": "8 in"`), `"buildings": [{"id": "shed", "cladding": "masonry", "outline": ` + box(-9, -9, 0, 9) + `}]`, "nothing"},
		{lampAt("S", "spot", 0, 0, `, "height": "12 in"`), `"paths": [{"id": "walk", "surface": "bark", "width": 4, "centreline": [[0, -9], [0, 9]]}]`, "bark of walk at 12.0 in"},
	} {
		if got := words(compute(t, sketch(lamps(c.lamp), `"site": {`+c.site+`}`)).Fixtures, burning); got != c.want {
			t.Errorf("%s, %s:\n%s, by hand\n%s", c.lamp, c.site, got, c.want)
		}
	}
}

// A fixture lies in the earth by its kind or its mounting, unless it is let
// into something else.
func TestInEarth(t *testing.T) {
	doc := compute(t, sketch(lamps(
		lampAt("A", "well", 0, 0, ""), lampAt("B", "spot", 0, 0, `, "mount": "flush"`), lampAt("C", "spot", 0, 0, `, "mount": "stake"`),
		lampAt("D", "step", 0, 0, `, "mount": "flush"`), lampAt("E", "well", 0, 0, `, "mount": "deck"`),
	), `"site": {}`))
	got := words(doc.Fixtures, func(f facts.Fixture) string { return f.ID + " " + yesNo(&f.InEarth) })
	if want := "A yes; B yes; C no; D no; E no"; got != want {
		t.Errorf("%s, by hand %s", got, want)
	}
}

// The gate's leaf hangs 2 in above the ground and is 4 ft high. It passes over
// what lies flush or lower than that, and under what hangs higher; a lamp on a
// post does not stand on the ground.
func TestWhatALeafPassesOver(t *testing.T) {
	site := `"site": {"gates": [{"id": "gate", "hinge": [0, 0], "leaf": 4, "closed_bearing": 90, "opens": {"towards": "left", "angle": 90}, "height": 4, "ground_gap": "2 in"}],
	  "posts": [{"id": "post", "at": [2, 2], "diameter": "4 in", "height": 5}]}`
	for _, c := range []struct {
		lamp string
		want bool
	}{
		{lampAt("P", "lamp", 2, 2, `, "height": "18 in", "mount": "stake"`), false},
		{lampAt("P", "lamp", 2, 2, `, "mount": "stake"`), false}, // height not stated
		{lampAt("P", "lamp", 2, 2, `, "height": "1 in", "mount": "stake"`), true},
		{lampAt("P", "well", 2, 2, `, "height": 0, "mount": "flush"`), true},
		{lampAt("P", "lamp", 2, 2, `, "height": "5 ft", "mount": "stake"`), false}, // its stem is in the way
		{lampAt("P", "lamp", 2, 2, `, "height": "5 ft", "mount": "post", "host": "post"`), true},
		{lampAt("P", "lamp", 2, 2, `, "height": "3 ft", "mount": "post", "host": "post"`), false},
		{lampAt("P", "lamp", 2, 2, `, "height": "5 ft", "mount": "hanging"`), true},
	} {
		doc := compute(t, sketch(lamps(c.lamp), site))
		if len(doc.LeafClearances) != 1 || doc.LeafClearances[0].Clears != c.want {
			t.Errorf("%s: %+v, by hand clears %t", c.lamp, doc.LeafClearances, c.want)
		}
	}
	doc := compute(t, sketch(lamps(lampAt("far", "lamp", 2, 8, ""), lampAt("near", "lamp", 2, 6, ""), lampAt("on", "lamp", 2, 2, `, "host": "gate"`)), site))
	// The corner (0, 4 ft) of the open leaf is nearest to neither: the arc of
	// 4 ft about the hinge is sqrt(2*2 + 6*6) - 4 = 2.3246 ft from (2, 6).
	if len(doc.LeafClearances) != 1 || doc.LeafClearances[0].ID != "near" {
		t.Fatalf("%+v", doc.LeafClearances)
	}
	same(t, "gap to the arc", doc.LeafClearances[0].ClearanceM, 2.3245553203*foot)
}
