package facts_test

import (
	"fmt"
	"math"
	"testing"

	"duskproof/checker/facts"
)

// What stands between a lamp and a tread takes its light: all of it, or the share
// that its transmission leaves. The globe stands 2 m south of the place at 1 m,
// the screens half way, so that the light crosses them at 0.5 m.
func TestScreensThrowShadows(t *testing.T) {
	bare := candela / math.Pow(5, 1.5)
	line := func(kind, more string) string {
		return `"` + kind + `": [{"id": "s", "line": [[-2, -1], [2, -1]]` + more + `}], `
	}
	for _, c := range []struct {
		name, site string
		share      float64
	}{
		{"nothing", "", 1},
		{"a wall", line("walls", `, "height": 0.6`), 0},
		{"a wall that is too low", line("walls", `, "height": 0.4`), 1},
		{"a thick wall", line("walls", `, "height": 0.6, "thickness": 0.3`), 0},
		{"a wall on lower ground", line("walls", `, "height": 0.6, "elevation": -0.2`), 1},
		{"a fence with gaps", line("fences", `, "height": 2, "transmission": 0.25`), 0.25},
		{"a hedge", line("hedges", `, "height": 2, "thickness": 0.6, "transmission": 0.1`), 0.1},
		{"a post", `"posts": [{"id": "s", "at": [0, -1], "diameter": 0.1, "height": 1}], `, 0},
		{"a house", `"buildings": [{"id": "s", "outline": ` + box(-1, -1.2, 1, -0.8) + `}], `, 0},
		{"a trunk", `"trees": [{"id": "s", "at": [0, -1], "trunk": 0.2, "canopy": {"base": 2, "top": 4, "radius": 1}}], `, 0},
		{"a raised terrace", `"areas": [{"id": "s", "kind": "terrace", "lit": false, "elevation": 0.5, "outline": ` + box(-1, -1.2, 1, -0.8) + `}], `, 0},
		{"a deck", `"decks": [{"id": "s", "lit": false, "elevation": 0.5, "outline": ` + box(-1, -1.2, 1, -0.8) + `}], `, 0},
		{"a deck with gaps", `"decks": [{"id": "s", "lit": false, "elevation": 0.5, "board_gap": 0.01, "outline": ` + box(-1, -1.2, 1, -0.8) + `}], `, 0.01 / 0.15},
	} {
		doc := lit(t, `"site": {`+c.site+`"landings": [`+square("A", 0, 0)+`]}`,
			lamps(`{"id": "L1", "type": "globe", "height": 1, "at": [0, -2], "elevation": 0}`))
		near(t, c.name, lux(t, doc, "A"), c.share*bare, exact)
	}
}

// A crown keeps the share of its transmission of the light that crosses its
// middle, and more of what crosses less of it (Beer and Lambert): 0.4 through the
// middle.
func TestCrownThrowsAShadow(t *testing.T) {
	doc := lit(t, `"site": {"landings": [`+square("A", 0, 0)+`],
	  "trees": [{"id": "s", "at": [0, -1], "trunk": 0.02, "canopy": {"base": 0.5, "top": 1.5, "radius": 0.5}, "transmission": 0.4}]}`,
		lamps(`{"id": "L1", "type": "globe", "height": 2, "at": [0, -2]}`))
	near(t, "through the middle", lux(t, doc, "A"), 0.4*candela*2/math.Pow(8, 1.5), exact)
}

// gate is a solid leaf of 2 m across the way from lamp to place, hinged at
// x = -1, with more fields; closed it lies along y = -1.
func gate(more string) string {
	return `"gates": [{"id": "gate", "hinge": [-1, -1], "leaf": 2, "closed_bearing": 90, "opens": {"towards": "left", "angle": 90}` + more + `}]`
}

func shadow(s facts.LeafShadow) string {
	return fmt.Sprintf("%s %s %.0f deg %.2f to %.2f lx", s.ID, s.Position, s.OpenDeg, s.LuxWithout, s.LuxWith)
}

// A closed gate takes all the light of a lamp behind it; one that opens to 90
// degrees leaves the way free. 100 cd 2 m away and 1 m up give 100/5^1.5 = 8.94
// lx on tread and path.
func TestLeafShadow(t *testing.T) {
	tread := `"stairs": [{"id": "up", "foot": [[-0.5, -0.15], [0.5, -0.15]], "head": [[-0.5, 0.15], [0.5, 0.15]], "risers": 2, "rise": 0.001}], "landings": [{"id": "top", "stair": "up", "end": "top", "lit": false, "outline": ` + box(-0.5, 0.15, 0.5, 1) + `}]`
	path := `"paths": [{"id": "walk", "centreline": [[0, -0.25], [0, 0.25]], "width": 1}]`
	lamp := lamps(`{"id": "L1", "type": "globe", "height": 1, "at": [0, -2]}`)
	closed := "8.94 to 0.00 lx"
	for _, c := range []struct{ name, site, gate, want string }{
		// The free end goes pi m, in 13 steps of 6.9 degrees; the leaf still crosses the
		// light at the first of them.
		{"a tread", tread, `, "height": 1.2`, "up/1 closed 0 deg 8.94 to 0.00 lx; up/1 swing 7 deg 8.94 to 0.00 lx"},
		{"a path", path, `, "height": 1.2`, "walk closed 0 deg " + closed},
		{"bars", path, `, "height": 1.2, "solid": false`, ""},
		{"no height", path, ``, ""},
		{"a gap below", path, `, "height": 1.2, "ground_gap": 0.8`, ""},
	} {
		doc := lit(t, `"site": {`+c.site+`, `+gate(c.gate)+`}`, lamp)
		if got := words(doc.LeafShadows, shadow); got != c.want {
			t.Errorf("%s:\n%s, by hand\n%s", c.name, got, c.want)
		}
	}
}

// A leaf that is left open rests there and throws its shadow on a path; one that
// is not only passes.
func TestLeafLeftOpen(t *testing.T) {
	// Open, the leaf lies along x = -1 from y = -1 to 1, between the lamp at
	// x = -2 and the path at x = 0.
	site := `"paths": [{"id": "walk", "centreline": [[0, -0.25], [0, 0.25]], "width": 1}]`
	lamp := lamps(`{"id": "L1", "type": "globe", "height": 1, "at": [-2, 0]}`)
	for more, want := range map[string]string{
		`, "height": 1.2, "held_open": true`: "walk open 90 deg 8.94 to 0.00 lx",
		`, "height": 1.2`:                    "",
	} {
		doc := lit(t, `"site": {`+site+`, `+gate(more)+`}`, lamp)
		if got := words(doc.LeafShadows, shadow); got != want {
			t.Errorf("%s:\n%s, by hand\n%s", more, got, want)
		}
	}
}

// A shadow matters only where there is light without it, below 0.4 lx on a path
// it is dark anyway; and the elevation of a path that climbs counts: 1 m up the
// light passes over a leaf of 0.6 m that stands at 0.
func TestLeafShadowOnAPathThatClimbs(t *testing.T) {
	path := func(elevations string) string {
		return `"site": {"paths": [{"id": "walk", "centreline": [[0, -0.9], [0, 0.9]], "width": 1, "elevations": ` + elevations + `}], ` + gate(`, "height": 0.6, "elevation": 0`) + `}`
	}
	lamp := lamps(`{"id": "L1", "type": "globe", "height": 1, "at": [0, -2], "elevation": 0}`)
	if doc := lit(t, path("[0, 0]"), lamp); len(doc.LeafShadows) != 1 {
		t.Errorf("level: %v", doc.LeafShadows)
	}
	if doc := lit(t, path("[0.5, 0.9]"), lamp); len(doc.LeafShadows) != 0 {
		t.Errorf("climbing: %v", doc.LeafShadows)
	}
	dim := lamps(`{"id": "L1", "type": "globe", "height": 1, "at": [0, -2], "elevation": 0, "level": "1 %"}`)
	if doc := lit(t, path("[0, 0]"), dim); len(doc.LeafShadows) != 0 {
		t.Errorf("dark anyway: %v", doc.LeafShadows)
	}
}

// n is the exponent of the beam of 60 degrees, ln 0.5 / ln cos 30.
var n = math.Log(0.5) / math.Log(math.Cos(math.Pi/6))

// The share of a cos^n beam within half an angle t of its axis is 1 - cos^(n+1) t.
// A crown of 1 m radius, 3 m from the spot that is aimed at its middle, takes
// all within asin(1/3). The trunk is a thread. Neither crown nor trunk shadows its
// own light.
func TestUplight(t *testing.T) {
	tree := `"site": {"trees": [{"id": "thorn", "at": [3, 0], "trunk": 0.002, "canopy": {"base": 0, "top": 2, "radius": 1}}]`
	aimed := lamps(`{"id": "L1", "type": "spot", "height": 1, "at": [0, 0], "aim": {"tree": "thorn"}}`)
	doc := lit(t, tree+`}`, aimed)
	want := 1 - math.Pow(math.Cos(math.Asin(1.0/3)), n+1)
	beam := doc.Beams[0]
	if !beam.Stated || beam.Tree != "thorn" || math.Abs(*beam.OnTree-want) > 0.01 || *beam.Blocked != 0 {
		t.Errorf("%+v: on the tree %.4f, by hand %.4f", beam, *beam.OnTree, want)
	}
	// Level with the middle of the crown, as much goes past above as below.
	if math.Abs(*beam.PastTree-(1-want)/2) > 0.01 {
		t.Errorf("past the tree %.4f, by hand %.4f", *beam.PastTree, (1-want)/2)
	}
	doc = lit(t, tree+`, "walls": [{"id": "w", "line": [[1, -9], [1, 9]], "height": 9}]}`, aimed)
	if b := doc.Beams[0]; *b.OnTree > 0.001 || *b.Blocked < 0.95 {
		t.Errorf("behind a wall: %.4f on the tree, %.4f blocked", *b.OnTree, *b.Blocked)
	}
	doc = lit(t, `"site": {"trees": [{"id": "thorn", "at": [3, 0], "trunk": 0.2}]}`,
		lamps(`{"id": "L1", "type": "spot", "height": 0.2, "at": [0, 0], "aim": {"tree": "thorn", "height": 2}}`))
	if b := doc.Beams[0]; b.OnTree != nil || b.BestTiltDeg != nil {
		t.Error("a tree without a crown is judged")
	}
}

// A spot that is turned up by hand is taken to be meant for the tree nearest to
// its aim, within 30 degrees and 12 m; one that points down, or is made to light a
// path, is not.
func TestUplightAimedByHand(t *testing.T) {
	site := `"site": {"trees": [
	  {"id": "thorn", "at": [4, 0], "trunk": 0.2, "canopy": {"base": 2, "top": 6, "radius": 1}},
	  {"id": "birch", "at": [0, 4], "trunk": 0.2, "canopy": {"base": 2, "top": 6, "radius": 1}}]}`
	for _, c := range []struct{ name, fixture, want string }{
		{"at one", `"type": "spot", "aim": {"bearing": 90, "tilt": 135}`, "thorn"},
		{"at the other", `"type": "spot", "aim": {"bearing": 0, "tilt": 135}`, "birch"},
		{"a little beside it", `"type": "spot", "aim": {"bearing": 70, "tilt": 135}`, "thorn"},
		{"between them", `"type": "spot", "aim": {"bearing": 45, "tilt": 135}`, ""},
		{"level", `"type": "spot", "aim": {"bearing": 90, "tilt": 90}`, ""},
		{"a path light", `"type": "ring", "aim": {"bearing": 90, "tilt": 135}`, ""},
	} {
		doc := lit(t, site, lamps(`{"id": "L1", "height": 0, "at": [0, 0], `+c.fixture+`}`))
		if got := words(doc.Beams, func(b facts.Beam) string { return b.Tree }); got != c.want {
			t.Errorf("%s: meant for %q", c.name, got)
		}
	}
}

// An uplight under a deck lights a tree through the gaps between the boards:
// 10 mm of every 150 mm. Without gaps nothing comes through. One that is let into
// the deck is above it.
func TestUplightUnderADeck(t *testing.T) {
	at := func(deck, fixture string) facts.Beam {
		doc := lit(t, `"site": {`+deck+`"trees": [{"id": "thorn", "at": [0.5, 0], "trunk": 0.002, "canopy": {"base": 2, "top": 4, "radius": 1}}]}`,
			lamps(`{"id": "L1", "type": "spot", "at": [0, 0], "aim": {"tree": "thorn"}, `+fixture+`}`))
		return doc.Beams[0]
	}
	deck := func(gap string) string {
		return `"decks": [{"id": "deck", "lit": false, "elevation": 0.5, "outline": ` + box(-9, -9, 9, 9) + gap + `}], `
	}
	under := `"height": 0.1, "mount": "under-deck"`
	free, solid, gaps := at("", `"height": 0.1`), at(deck(""), under), at(deck(`, "board_gap": 0.01`), under)
	if *solid.OnTree != 0 {
		t.Errorf("through solid boards: %.4f", *solid.OnTree)
	}
	near(t, "through the gaps", *gaps.OnTree, *free.OnTree*0.01/0.15, 1e-6)
	let := at(deck(""), `"height": 0, "mount": "deck"`)
	// 2.5 m below the middle of the crown and 0.5 m beside it.
	want := 1 - math.Pow(math.Cos(math.Asin(1/math.Hypot(2.5, 0.5))), n+1)
	if math.Abs(*let.OnTree-want) > 0.01 {
		t.Errorf("let into the deck: %.4f, by hand %.4f", *let.OnTree, want)
	}
}
