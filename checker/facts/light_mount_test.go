package facts_test

import (
	"fmt"
	"math"
	"testing"

	"duskproof/checker/facts"
)

// flight is a flight of four risers of 0.15 m and treads of 0.3 m, one metre
// wide, that climbs along +y from y = 0. Tread n lies at 0.15 n; the level at its
// head, number 4, at 0.6.
const flight = `"stairs": [{"id": "up", "foot": [[0, 0], [1, 0]], "head": [[0, 0.9], [1, 0.9]], "risers": 4, "rise": 0.15}]`

func stairs(of string) string { return `"site": {` + of + `}` }

// A globe in a riser, wherever on its tread the plan places it, shines from the
// face of the riser down the flight: 100 cd at 0.1 m above the tread and 0.148 m
// from the middle of it, since it stands 2 mm before the face. Its own riser
// keeps it from the treads behind. A stair named as host, or found, is the same.
func TestLightInARiser(t *testing.T) {
	for _, place := range []string{
		`"at": [0.5, 0.3]`,                             // on the line of the second riser
		`"at": {"of": "up", "tread": 1}`,               // by the tread in front
		`"at": [0.5, 0.29], "host": "up"`,              // a little before the face
		`"at": [0.5, 0.31], "elevation": 0.15`,         // a little behind it
		`"at": {"of": "up", "tread": 1}, "host": "up"`, // both
	} {
		doc := lit(t, stairs(flight), lamps(`{"id": "L1", "type": "globe", "height": 0.1, "mount": "riser", `+place+`}`))
		d := 0.15 - 0.002
		near(t, place, lux(t, doc, "up/1"), candela*0.1/math.Pow(0.01+d*d, 1.5), 1e-6)
		if got := lux(t, doc, "up/2"); got != 0 {
			t.Errorf("%s: %g lx behind the riser", place, got)
		}
	}
}

// A step wash in a riser faces down the flight by itself; the same when the plan
// says so. On the way up, towards 180 degrees, it would face the wrong way.
func TestStepWashFacesDown(t *testing.T) {
	light := func(aim string) float64 {
		doc := lit(t, stairs(flight), lamps(`{"id": "L1", "type": "step", "height": 0.1, "mount": "riser", "at": [0.5, 0.3]`+aim+`}`))
		return lux(t, doc, "up/1")
	}
	bare, stated, back := light(""), light(`, "aim": {"bearing": 180}`), light(`, "aim": {"bearing": 0}`)
	if bare <= 1 || bare != stated || back != 0 {
		t.Errorf("%g lx by itself, %g lx turned down the flight, %g lx turned into it", bare, stated, back)
	}
	// It keeps its own slope, whatever it is aimed at.
	if aimed := light(`, "aim": {"at": [0.5, 0.1]}`); math.Abs(aimed-bare) > 1e-9*bare {
		t.Errorf("%g lx when aimed at the tread", aimed)
	}
	// A flight of one riser has no way from foot to head; left and right say it.
	one := `"stairs": [{"id": "up", "foot": [[0, 0], [1, 0]], "head": [[0, 0], [1, 0]], "risers": 1, "rise": 0.15}],
	  "landings": [` + square("before", 0.5, -0.15) + `]`
	doc := lit(t, stairs(one), lamps(`{"id": "L1", "type": "step", "height": 0.1, "mount": "riser", "at": [0.5, 0]}`))
	if got := lux(t, doc, "before"); got <= 1 {
		t.Errorf("a single riser: %g lx before it", got)
	}
}

// A light on a wall beside a path faces away from the wall on the side where it
// stands; on the middle line of a thin wall nobody can say which side that is,
// and its light is not known.
func TestLightOnAWall(t *testing.T) {
	site := `"site": {"walls": [{"id": "wall", "line": [[0, 0], [4, 0]], "height": 1, "thickness": 0.2}],
	  "landings": [` + square("south", 2, -0.5) + `, ` + square("north", 2, 0.5) + `]}`
	on := func(y, mount string) *facts.Document {
		return lit(t, site, lamps(`{"id": "L1", "type": "step", "height": 0.5, "at": [2, `+y+`], "mount": "`+mount+`"}`))
	}
	for _, y := range []string{"-0.1", "-0.09", "-0.15"} { // at the face, let in, on a bracket
		doc := on(y, "wall")
		if south, north := lux(t, doc, "south"), lux(t, doc, "north"); south <= 1 || north != 0 {
			t.Errorf("at y = %s: %g lx in front, %g lx behind", y, south, north)
		}
	}
	doc := on("0", "wall")
	if p := tread(t, doc, "south", "all"); p.LuxCentre != nil || fixture(t, doc, "L1").HasLight {
		t.Error("in the middle of the wall: its way is known")
	}
	doc = lit(t, site, lamps(`{"id": "L1", "type": "step", "height": 0.5, "at": [2, 0], "mount": "wall", "aim": {"bearing": 180}}`))
	if south, north := lux(t, doc, "south"), lux(t, doc, "north"); south <= 1 || north != 0 {
		t.Errorf("turned south: %g lx in front, %g lx behind", south, north)
	}
	// The same light beside nothing at all: nothing says where it faces.
	doc = lit(t, `"site": {"landings": [`+square("south", 2, -0.5)+`]}`,
		lamps(`{"id": "L1", "type": "step", "height": 0.5, "at": [2, 0]}`))
	if tread(t, doc, "south", "all").LuxCentre != nil {
		t.Error("beside nothing: its way is known")
	}
}

// A light on a house shines out of it, and a globe drawn a little inside a
// post, a wall or a house is on it: it is not dark.
func TestLightInsideWhatItIsOn(t *testing.T) {
	house := `"buildings": [{"id": "house", "outline": [[-3, 0], [3, 0], [3, 5], [-3, 5]], "height": 4}]`
	for _, c := range []struct{ name, site, at, more string }{
		{"in the face of a house", house, "[0, 0.04]", ""},
		{"in a thick wall", `"walls": [{"id": "wall", "line": [[-3, 0.1], [3, 0.1]], "height": 3, "thickness": 0.2}]`, "[0, 0.03]", ""},
		{"in a post", `"posts": [{"id": "post", "at": [0, 0], "diameter": 0.1, "height": 3}]`, "[0, 0]", ""},
		{"on the side of a post", `"posts": [{"id": "post", "at": [0, 0.06], "diameter": 0.1, "height": 3}]`, "[0, 0]", `, "mount": "post"`},
		{"on the post of a gate", `"gates": [{"id": "gate", "hinge": [0, 0], "leaf": 1, "closed_bearing": 90, "opens": {"towards": "left", "angle": 90}, "height": 3, "post_diameter": 0.1, "solid": false}]`, "[0, 0]", `, "host": "gate"`},
	} {
		doc := lit(t, `"site": {`+c.site+`, "landings": [`+square("A", 0, -1)+`]}`,
			lamps(`{"id": "L1", "type": "globe", "height": 1, "at": `+c.at+c.more+`}`))
		if got := lux(t, doc, "A"); got < candela/math.Pow(2, 1.5)*0.8 {
			t.Errorf("%s: %g lx in front", c.name, got)
		}
	}
	doc := lit(t, `"site": {`+house+`, "landings": [`+square("A", 0, -1)+`]}`,
		lamps(`{"id": "L1", "type": "step", "height": 1, "at": [0, 0], "mount": "wall"}`))
	if got := lux(t, doc, "A"); got <= 0 {
		t.Errorf("a step wash on a house: %g lx in front", got)
	}
}

// What is not known is not dark: a tread near a fixture without lumens cannot be
// judged, unless it is bright enough without it, or the fixture is off in that
// scene, beyond reach, or on no run.
func TestLightThatIsNotKnown(t *testing.T) {
	mute := func(x float64, more string) string {
		return fmt.Sprintf(`{"id": "M", "type": "mute", "height": 1, "at": [%g, 0.5], "group": "m"%s}`, x, more)
	}
	step := func(name string, want bool, sections ...string) {
		t.Helper()
		doc := lit(t, append([]string{stairs(flight)}, sections...)...)
		for _, p := range doc.Treads {
			if got := p.LuxCentre != nil && p.LuxMin != nil; got != want {
				t.Errorf("%s: %s known %v", name, p.ID, got)
			}
		}
	}
	step("beside it", false, lamps(mute(1.5, "")))
	step("beyond reach", true, lamps(mute(6.5, "")))
	step("without a height", false, lamps(`{"id": "G", "type": "globe", "at": [1.5, 0.5]}`))
	step("without a place", false, lamps(`{"id": "G", "type": "globe", "height": 1}`))
	step("set to nothing", true, lamps(mute(1.5, `, "level": 0`)))
	step("bright without it", true, lamps(mute(1.5, ""), `{"id": "G", "type": "mast", "height": 2, "at": [0.5, 0.5]}`))
	step("off in the scene", true, lamps(mute(1.5, ""), `{"id": "G", "type": "globe", "height": 1, "at": [9, 9], "group": "g"}`),
		`"controls": [{"id": "C1", "kind": "timer", "scenes": [{"id": "s", "on": ["g"]}]}]`)
	step("on no run", true, lamps(mute(1.5, ""), `{"id": "G", "type": "globe", "height": 1, "at": [9, 9]}`),
		`"transformers": [{"id": "T1", "type": "T300"}]`,
		`"runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "2.5", "chain": [{"to": "G", "length": 5}]}]`)
}

// The facts of a fixture say what its light lacks, where the site has something
// for it to light.
func TestWhatALightLacks(t *testing.T) {
	doc := lit(t, stairs(flight), lamps(
		`{"id": "L1", "type": "mute", "height": 1, "at": [1.5, 0]}`,
		`{"id": "L2", "type": "globe", "at": [1.5, 0]}`,
		`{"id": "L3", "type": "well", "height": 0, "at": [1.5, 0]}`,
		`{"id": "L4", "type": "globe", "height": 1}`,
		`{"id": "L5", "type": "globe", "height": 1, "at": [30, 0]}`,
		`{"id": "L6", "type": "well", "mount": "flush", "at": [1.5, 0], "aim": {"tilt": 180}}`))
	for _, c := range []struct {
		id                                 string
		lights, known, lumens, high, aimed bool
	}{
		{"L1", true, false, false, true, true},
		{"L2", true, false, true, false, true},
		{"L3", true, false, true, true, false}, // it shines up, nobody says how
		{"L4", true, false, true, true, true},
		{"L5", false, true, true, true, true},
		{"L6", true, true, true, true, true}, // flush: its height is nought
	} {
		f := fixture(t, doc, c.id)
		if f.LightsSite != c.lights || f.HasLight != c.known || (f.EmittedLm != nil) != c.lumens ||
			(f.HeightM != nil) != c.high || (f.Aim != "") != c.aimed {
			t.Errorf("%s: lights the site %v, known %v, lumens %v, height %v, aim %v", c.id, f.LightsSite, f.HasLight,
				f.EmittedLm != nil, f.HeightM != nil, f.Aim != "")
		}
	}
	doc = lit(t, `"site": {"property_line": `+box(0, 0, 40, 40)+`, "windows": [{"id": "w", "line": [[20, 20], [21, 20]], "sill": 1, "head": 2, "whose": "neighbour"}]}`,
		lamps(`{"id": "A", "type": "mute", "at": [4, 20]}`, `{"id": "B", "type": "mute", "at": [10, 20]}`, `{"id": "C", "type": "mute", "at": [20, 17]}`, `{"id": "D", "type": "mute"}`))
	if got := words(doc.Fixtures, func(f facts.Fixture) string { return fmt.Sprint(f.ID, f.NearLine, f.NearWindow) }); got != "Atrue false; Bfalse false; Cfalse true; Dtrue true" {
		t.Errorf("near the neighbours: %s", got)
	}
	doc = lit(t, `"site": {}`, lamps(`{"id": "L1", "type": "mute", "at": [0, 0]}`))
	if fixture(t, doc, "L1").LightsSite {
		t.Error("nothing to light, and yet its light has to be known")
	}
}

// A fixture without a place is nowhere, whatever it is mounted on.
func TestMountedNowhere(t *testing.T) {
	walls := `"walls": [{"id": "wall", "line": [[0, 0], [4, 0]], "height": 1}]`
	for _, host := range []string{"up", "wall"} {
		for _, mount := range []string{"riser", "wall", "post", "rail"} {
			doc := lit(t, `"site": {`+flight+`, `+walls+`}`, lamps(`{"id": "L1", "type": "step", "height": 0.1, "mount": "`+mount+`", "host": "`+host+`"}`))
			if f := fixture(t, doc, "L1"); f.HasLight || !f.LightsSite {
				t.Errorf("%s on %s: %+v", mount, host, f)
			}
		}
	}
}
