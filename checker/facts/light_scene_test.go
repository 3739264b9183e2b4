package facts_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"duskproof/checker/facts"
)

func top(s facts.StairTop) string {
	out := s.Scene + ": "
	switch {
	case s.SourceM != nil:
		out += fmt.Sprintf("%s at %.2f m", s.Source, *s.SourceM)
	case s.Unknown:
		out += "unknown"
	default:
		out += "none"
	}
	if s.Lux != nil {
		out += fmt.Sprintf(", %.2f lx", *s.Lux)
	}
	return out
}

// The top of the flight of these tests is the line y = 0.9; people stand at
// y = 1.2, 0.6 m up. A globe 1 m above that place gives 100 lx there and stands
// 0.3 m from the head. A shaded light at the foot gives nothing up there.
func TestSourceNearTheTop(t *testing.T) {
	above := `{"id": "L1", "type": "globe", "at": [0.5, 1.2], "elevation": 0.6, "height": 1, "group": "top"}`
	below := `{"id": "L2", "type": "ring", "at": [-0.2, 0], "height": 0.4, "group": "foot"}`
	scenes := `"controls": [{"id": "C1", "kind": "timer", "scenes": [{"id": "evening", "on": ["top", "foot"]}, {"id": "late", "on": ["foot"]}]}]`
	for _, c := range []struct {
		name string
		more []string
		want string
	}{
		{"above", []string{lamps(above, below)}, "all: L1 at 0.30 m, 100.00 lx"},
		{"below", []string{lamps(below)}, "all: none, 0.00 lx"},
		{"scene by scene", []string{lamps(above, below), scenes}, "evening: L1 at 0.30 m, 100.00 lx; late: none, 0.00 lx"},
		{"of unknown light", []string{lamps(`{"id": "L3", "type": "mute", "at": [0.5, 1.9], "height": 1}`)}, "all: L3 at 1.00 m"},
		{"somewhere", []string{lamps(`{"id": "L3", "type": "globe", "height": 1}`)}, "all: unknown"},
	} {
		doc := lit(t, append([]string{stairs(flight)}, c.more...)...)
		if got := words(doc.Stairs[0].Tops, top); got != c.want {
			t.Errorf("%s: %s, by hand %s", c.name, got, c.want)
		}
	}
}

// A flight is at hand of a switch on it, on its landing, on a path that leads
// past it, or indoors; not of one at the far end of the garden.
func TestStairControls(t *testing.T) {
	site := `"site": {` + flight + `,
	  "paths": [{"id": "near", "centreline": [[0.5, -4], [0.5, 0]], "width": 1, "lit": false}, {"id": "far", "centreline": [[20, 0], [30, 0]], "width": 1, "lit": false}],
	  "landings": [{"id": "rest", "stair": "up", "end": "top", "lit": false, "outline": ` + box(0, 0.9, 1, 2) + `}],
	  "decks": [{"id": "deck", "lit": false, "outline": ` + box(40, 0, 42, 2) + `}],
	  "doors": [{"id": "door", "hinge": [50, 0], "leaf": 0.9, "closed_bearing": 90, "opens": {"towards": "left", "angle": 90}}],
	  "buildings": [{"id": "house", "outline": ` + box(50, 0, 60, 9) + `}]}`
	lamp := lamps(`{"id": "L1", "type": "globe", "at": [0.5, 1.2], "elevation": 0.6, "height": 1}`, `{"id": "L2", "type": "globe", "at": [90, 0], "height": 1}`)
	for _, c := range []struct{ name, control, want string }{
		{"a switch nowhere", `"kind": "switch"`, "[C1] automatic false reachable false"},
		{"on the flight", `"kind": "switch", "reachable_at": ["up"]`, "[C1] automatic false reachable true"},
		{"on its landing", `"kind": "switch", "reachable_at": ["rest"]`, "[C1] automatic false reachable true"},
		{"on the path to it", `"kind": "dimmer", "reachable_at": ["near"]`, "[C1] automatic false reachable true"},
		{"at the door", `"kind": "switch", "reachable_at": ["far", "door"]`, "[C1] automatic false reachable true"},
		{"in the house", `"kind": "switch", "reachable_at": ["house"]`, "[C1] automatic false reachable true"},
		{"far away", `"kind": "switch", "reachable_at": ["far", "deck"]`, "[C1] automatic false reachable false"},
		{"a photocell", `"kind": "photocell"`, "[C1] automatic true reachable false"},
		{"of another lamp", `"kind": "switch", "switches": ["L2"]`, "[] automatic false reachable false"},
	} {
		doc := lit(t, site, lamp, `"controls": [{"id": "C1", `+c.control+`}]`)
		s := doc.Stairs[0]
		if got := fmt.Sprintf("%v automatic %v reachable %v", s.Controls, s.Automatic, s.Reachable); got != c.want {
			t.Errorf("%s: %s, by hand %s", c.name, got, c.want)
		}
	}
}

// A scene burns past the curfew when it ends later in the night, or when nobody
// says when it ends. Without a profile the curfew is 23:00 (common practice).
func TestCurfew(t *testing.T) {
	lamp := lamps(`{"id": "L1", "type": "globe", "at": [0, 0], "height": 1, "group": "g"}`)
	for _, c := range []struct {
		control, ends string
		after         bool
	}{
		{`"kind": "timer", "off": "22:30"`, "22:30", false},
		{`"kind": "timer", "off": "23:00"`, "23:00", false},
		{`"kind": "timer", "off": "00:30"`, "00:30", true},
		{`"kind": "timer", "off": "dawn"`, "dawn", true},
		{`"kind": "timer"`, "", true},
		{`"kind": "photocell"`, "dawn", true},
		{`"kind": "photocell-and-timer", "off": "21:15"`, "21:15", false},
		{`"kind": "timer", "off": "dawn", "scenes": [{"id": "s", "on": ["g"], "until": "22:00"}]`, "22:00", false},
		{`"kind": "timer", "off": "22:00", "scenes": [{"id": "s", "on": ["g"]}]`, "22:00", false},
		{`"kind": "timer", "off": "22:00"}, {"id": "C2", "kind": "timer", "off": "01:00"`, "01:00", true},
		{`"kind": "timer", "off": "22:00"}, {"id": "C2", "kind": "switch"`, "", true},
	} {
		doc := lit(t, lamp, `"controls": [{"id": "C1", `+c.control+`}]`)
		if s := doc.Scenes[0]; s.Ends != c.ends || s.AfterCurfew != c.after {
			t.Errorf("%s: ends %q, after the curfew %v", c.control, s.Ends, s.AfterCurfew)
		}
	}
	hour := []facts.Limit{{Name: "neighbour.curfew", Text: "22:00", Unit: "1", Source: "an invented town"}}
	doc := computeWith(t, hour, metric(lamp, `"controls": [{"id": "C1", "kind": "timer", "off": "22:30"}]`))
	if !doc.Scenes[0].AfterCurfew {
		t.Error("22:30 is not past a curfew of 22:00")
	}
	if doc := lit(t, lamp); doc.Scenes[0].Ends != "" || !doc.Scenes[0].AfterCurfew {
		t.Error("without controls the lamps end some time")
	}
}

// A control acts on the lamps that it names by id, group, array, run or
// transformer; on all when it names none.
func TestSwitches(t *testing.T) {
	sections := []string{
		`"site": {"paths": [{"id": "walk", "centreline": [[0, 0], [0, 10]], "width": 1, "lit": false}]}`,
		`"transformers": [{"id": "T1", "type": "T300"}]`,
		`"runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "2.5", "chain": [{"to": "row-1", "length": 15}, {"to": "L1", "length": 15}]},
		          {"id": "R2", "from": {"transformer": "T1"}, "cable": "2.5", "chain": [{"to": "row-2", "length": 15}]}]`,
		lamps(`{"id": "row", "type": "ring", "height": 0.4, "array": {"along": "walk", "count": 2, "side": "left"}}`,
			`{"id": "L1", "type": "globe", "at": [5, 0], "height": 1, "group": "g"}`, `{"id": "L2", "type": "globe", "at": [6, 0], "height": 1, "group": "g"}`),
	}
	for names, want := range map[string]string{
		`"L2"`: "L2", `"g"`: "L1 L2", `"row"`: "row-1 row-2", `"row-2", "L1"`: "row-2 L1", `"R1"`: "row-1 L1", `"T1"`: "row-1 row-2 L1",
	} {
		doc := lit(t, append(slices.Clone(sections), `"controls": [{"id": "C1", "kind": "switch", "switches": [`+names+`]}]`)...)
		if got := strings.Join(doc.Controls[0].Switches, " "); got != want {
			t.Errorf("%s acts on %s, by hand %s", names, got, want)
		}
	}
	doc := lit(t, append(slices.Clone(sections), `"controls": [{"id": "C1", "kind": "switch"}]`)...)
	if got := strings.Join(doc.Controls[0].Switches, " "); got != "row-1 row-2 L1 L2" {
		t.Errorf("without names it acts on %s", got)
	}
	if fixture(t, doc, "row-2").ArrayOf != "row" || fixture(t, doc, "L1").ArrayOf != "" {
		t.Error("the array of row-2 is not row")
	}
}

// The light on a sensor: 100 cd at 2 m give 25 lx on the face that is turned to
// the lamp, and 25 cos 60 = 12.5 lx on one that is turned 60 degrees away. A
// sensor stands on the ground below it. Lamps of other controls do not count.
func TestSensor(t *testing.T) {
	for _, c := range []struct {
		name, sensor, switches string
		want                   float64
	}{
		{"turned to it", `"at": [2, 0], "height": 1, "bearing": 270`, "L1", 25},
		{"turned aside", `"at": [2, 0], "height": 1, "bearing": 330`, "L1", 12.5},
		{"not said", `"at": [2, 0], "height": 1`, "L1", 25},
		{"on a terrace", `"at": [2, 5], "height": 0.5, "bearing": 270`, "L2", 25},
		{"another lamp", `"at": [2, 0], "height": 1, "bearing": 270`, "L3", 0},
		// Drawn a little inside the house and the wall that it is on, at x = 10 and 20:
		// it is 2 mm before the face, 2 m from the lamp.
		{"on a house", `"at": [10.05, 0], "height": 1, "bearing": 270`, "L4", 100 / (1.998 * 1.998)},
		{"on a wall", `"at": [20.05, 0], "height": 1, "bearing": 270`, "L5", 100 / (1.998 * 1.998)},
	} {
		doc := lit(t, `"site": {"buildings": [{"id": "house", "outline": `+box(10, -1, 12, 1)+`}],
		  "walls": [{"id": "wall", "line": [[20.1, -1], [20.1, 1]], "height": 2, "thickness": 0.2}], "areas": [{"id": "bank", "kind": "terrace", "lit": false, "elevation": 0.5, "outline": `+box(1, 4, 3, 6)+`}]}`,
			lamps(`{"id": "L1", "type": "globe", "at": [0, 0], "height": 1}`, `{"id": "L2", "type": "globe", "at": [0, 5], "height": 1}`,
				`{"id": "L3", "type": "ring", "at": [0, 0], "height": 0.4}`,
				`{"id": "L4", "type": "globe", "at": [8, 0], "height": 1}`, `{"id": "L5", "type": "globe", "at": [18, 0], "height": 1}`),
			`"controls": [{"id": "C1", "kind": "photocell", "switches": ["`+c.switches+`"], "sensor": {`+c.sensor+`}}]`)
		near(t, c.name, *doc.Controls[0].SensorLux, c.want, exact)
	}
	for switches, known := range map[string]bool{"M": false, "L1": true} {
		doc := lit(t, lamps(`{"id": "L1", "type": "ring", "at": [0, 0], "height": 0.4}`, `{"id": "M", "type": "mute", "at": [0, 0], "height": 1}`),
			`"controls": [{"id": "C1", "kind": "photocell", "switches": ["`+switches+`"], "sensor": {"at": [2, 0], "height": 1}}]`)
		if got := doc.Controls[0].SensorLux != nil; got != known {
			t.Errorf("%s near the sensor: its light is known %v", switches, got)
		}
	}
}

// Least, mean and greatest, and the longest dark stretch, of a path of 4 m and
// 1 m width in steps of 1 m: points at 0.5, 1.5, 2.5 and 3.5 m. A globe 1 m above
// its start gives 100/(1+s^2)^1.5 at station s.
func TestPath(t *testing.T) {
	step, dark := 1.0, 5.0
	limits := []facts.Limit{{Name: "light.grid_step_m", Value: &step, Unit: "m"}, {Name: "light.path_dark_lx", Value: &dark, Unit: "lx"}}
	e := func(s float64) float64 { return candela / math.Pow(1+s*s, 1.5) }
	at := []float64{e(0.5), e(1.5), e(2.5), e(3.5)}
	avg := (at[0] + at[1] + at[2] + at[3]) / 4
	for name, site := range map[string]string{
		"level":    `{"id": "walk", "centreline": [[0, 0], [0, 4]], "width": 1}`,
		"climbing": `{"id": "walk", "centreline": [[0, 0], [0, 4]], "width": 1, "elevation": 7}`,
	} {
		doc := computeWith(t, limits, metric(`"site": {"paths": [`+site+`]}`, lamps(`{"id": "L1", "type": "globe", "at": [0, 0], "height": 1}`)))
		p := doc.Paths[0]
		near(t, name+" least", *p.LuxMin, at[3], exact)
		near(t, name+" mean", *p.LuxAvg, avg, exact)
		near(t, name+" greatest", *p.LuxMax, at[0], exact)
		near(t, name+" Uo", *p.Uo, at[3]/avg, exact)
		near(t, name+" avg to min", *p.AvgToMin, avg/at[3], exact)
		// Below 5 lx from between 1.5 m (17.1 lx) and 2.5 m (5.1 lx) and 3.5 m (2.1 lx).
		from := 2.5 + (at[2]-dark)/(at[2]-at[3])
		near(t, name+" dark from", *p.DarkFromM, from, exact)
		near(t, name+" dark for", *p.DarkM, 4-from, exact)
	}
}

// A path beside a fixture of unknown light has no sum; what lies beyond its reach
// of 5 m is dark all the same.
func TestPathBesideTheUnknown(t *testing.T) {
	doc := lit(t, `"site": {"paths": [{"id": "walk", "centreline": [[0, 0], [0, 20]], "width": 1}]}`,
		lamps(`{"id": "L1", "type": "mute", "at": [0, 0], "height": 1}`))
	p := doc.Paths[0]
	if p.LuxMin != nil || p.AvgToMin != nil {
		t.Error("its light is known")
	}
	near(t, "dark for", *p.DarkM, 15, 0.04) // by steps of 0.5 m
}

// Path lights alternate at 2, 5 and 9 m; the widest gap is 4 m. Two that stand
// within 0.6 m of each other along the path on both sides face each other.
func TestRhythm(t *testing.T) {
	doc := lit(t, `"site": {"paths": [{"id": "walk", "centreline": [[0, 0], [0, 12]], "width": 1}],
	  "areas": [{"id": "patio", "kind": "terrace", "outline": `+box(5, 0, 9, 3)+`}, {"id": "slab", "kind": "slab", "outline": `+box(15, 0, 19, 3)+`}],
	  "decks": [{"id": "deck", "outline": `+box(25, 0, 29, 3)+`}]}`,
		lamps(`{"id": "A", "type": "ring", "at": [-0.7, 2], "height": 0.4}`, `{"id": "B", "type": "ring", "at": [0.7, 5], "height": 0.4}`,
			`{"id": "C", "type": "ring", "at": [-0.7, 9], "height": 0.4}`, `{"id": "D", "type": "ring", "at": [0.7, 9.3], "height": 0.4}`,
			`{"id": "S", "type": "spot", "at": [0.7, 7], "height": 0.4}`))
	p := doc.Paths[0]
	if got := fmt.Sprintf("%.1f m from %s to %s, %d left, %d right, %d facing", *p.WidestGapM, p.GapFrom, p.GapTo, p.LeftLights, p.RightLights, p.OppositePairs); got !=
		"4.0 m from B to C, 2 left, 2 right, 1 facing" {
		t.Error(got)
	}
	if got := words(doc.Paths, func(p facts.Path) string { return p.Kind + " " + p.ID }); got != "path walk; terrace patio; deck deck" {
		t.Errorf("meant to be lit: %s", got)
	}
}

// lm63 is a file of type C, one candela value in every direction, so that the
// flux is 4 pi times it; the lamp is stated to give the lumens.
func lm63(lumens, cd string) string {
	return "IESNA:LM-63-2002\n[TEST] INVENTED-2\n[TESTLAB] none\n[ISSUEDATE] 2026-06-01\n[MANUFAC] none, invented\nTILT=NONE\n" +
		"1 " + lumens + " 1 3 1 1 2 0 0 0\n1 1 10\n0 90 180\n0\n" + cd + " " + cd + " " + cd + "\n"
}

// A photometric file: 50 cd in every direction are 200 pi = 628.3 lm. Without
// lumens in the plan the file's own count; what the plan states that the fixture
// gives takes their place, whatever the lamp gives inside the fixture.
func TestPhotometricFile(t *testing.T) {
	files := fstest.MapFS{"a.ies": {Data: []byte(lm63("1000", "50"))}, "abs.ies": {Data: []byte(lm63("-1", "50"))}, "bad.ies": {Data: []byte("IESNA91\nTILT=NONE\n1 2 3\n")}}
	flux := 200 * math.Pi
	for _, c := range []struct {
		name, light, lumens string
		want                float64
	}{
		{"by the file", "a.ies", "", 50},
		{"absolute", "abs.ies", "", 50},
		{"stated", "a.ies", `, "lumens": 1256.6370614359173`, 100},
		{"absolute and stated", "abs.ies", `, "lumens": 1256.6370614359173`, 100},
	} {
		text := metric(`"site": {"landings": [`+square("A", 0, 0)+`]}`, lamps(`{"id": "L1", "type": "filed", "at": [0, 0], "height": 1}`))
		text = strings.Replace(text, `"globe":`, `"filed": {"kind": "path", "load": "constant-power", "va": 5`+c.lumens+`, "light": {"file": "`+c.light+`"}}, "globe":`, 1)
		doc := litWith(t, files, text)
		near(t, c.name, lux(t, doc, "A"), c.want, 1e-6)
		p := doc.Photometry[0]
		near(t, c.name+" flux", *p.FluxLm, flux, 1e-6)
		near(t, c.name+" emitted", *fixture(t, doc, "L1").EmittedLm, c.want*4*math.Pi, 1e-6)
		if absolute := p.LampLm == nil; absolute != strings.HasPrefix(c.light, "abs") {
			t.Errorf("%s: absolute %v", c.name, absolute)
		}
		if p.OutputRatio != nil {
			near(t, c.name+" output ratio", *p.OutputRatio, flux/1000, 1e-6)
		}
	}
}

// A file that cannot be used is noted with its place; what it should light is not
// known. Files come from the plan's own folder.
func TestPhotometricFileOfNoUse(t *testing.T) {
	files := fstest.MapFS{"bad.ies": {Data: []byte("IESNA91\nTILT=NONE\n1 2 3\n")}, "large.ies": {Data: make([]byte, 5<<20)}}
	for name, want := range map[string]string{
		"bad.ies": "line ", "missing.ies": "it cannot be opened beside the plan", "../other.ies": "plan's own folder only",
		"/etc/hosts": "plan's own folder only", "large.ies": "it is larger than 4 MiB",
	} {
		text := metric(`"site": {"landings": [`+square("A", 0, 0)+`]}`, lamps(`{"id": "L1", "type": "filed", "at": [0, 0], "height": 1}`))
		text = strings.Replace(text, `"globe":`, `"filed": {"kind": "path", "load": "constant-power", "va": 5, "lumens": 100, "light": {"file": "`+name+`"}}, "globe":`, 1)
		doc := litWith(t, files, text)
		if p := doc.Photometry[0]; !strings.Contains(p.Problem, want) || p.FluxLm != nil {
			t.Errorf("%s: %q", name, p.Problem)
		}
		if fixture(t, doc, "L1").HasLight || tread(t, doc, "A", "all").LuxCentre != nil {
			t.Errorf("%s: its light is known", name)
		}
	}
	text := strings.Replace(metric(lamps(`{"id": "L1", "type": "filed", "at": [0, 0], "height": 1}`)), `"globe":`,
		`"filed": {"kind": "path", "load": "constant-power", "va": 5, "light": {"file": "a.ies"}}, "globe":`, 1)
	if doc := litWith(t, nil, text); !strings.Contains(doc.Photometry[0].Problem, "no folder") {
		t.Errorf("no folder: %q", doc.Photometry[0].Problem)
	}
}

// A file of type A has its axis level along the 0 plane: aimed at a point it is
// turned so that the axis meets that point. The file of these tests has 400 cd on
// its axis, so from 2 m up at a point 2 m away 400 cos 45 / 8 = 35.36 lx.
func TestFileOfTypeA(t *testing.T) {
	text := metric(`"site": {"landings": [`+square("A", 2, 0)+`, `+square("B", -2, 0)+`]}`,
		lamps(`{"id": "L1", "type": "filed", "at": [0, 0], "height": 2, "aim": {"at": [2, 0]}}`))
	text = strings.Replace(text, `"globe":`, `"filed": {"kind": "flood", "load": "constant-power", "va": 5, "light": {"file": "flood-a-2002.ies"}}, "globe":`, 1)
	doc := litWith(t, os.DirFS("../../testdata/light"), text)
	near(t, "at the point", lux(t, doc, "A"), 400*math.Cos(math.Pi/4)/8, 1e-3)
	near(t, "tilt", *fixture(t, doc, "L1").AimTiltDeg, 45, exact)
	if got := lux(t, doc, "B"); got > 1 {
		t.Errorf("behind it: %g lx", got)
	}
	// Aimed level at the eyes of walkers, 3 m away, it is seen on its axis.
	text = metric(`"site": {"paths": [{"id": "walk", "centreline": [[3, -0.5], [3, 0.5]], "width": 1}]}`,
		lamps(`{"id": "L1", "type": "filed", "at": [0, 0], "height": 1.6, "shield": "shrouded", "aim": {"bearing": 90, "tilt": 90}}`))
	text = strings.Replace(text, `"globe":`, `"filed": {"kind": "flood", "load": "constant-power", "va": 5, "light": {"file": "flood-a-2002.ies"}}, "globe":`, 1)
	doc = litWith(t, os.DirFS("../../testdata/light"), text)
	if s := doc.Sightlines; len(s) != 1 || s[0].OffAxisDeg > 1e-6 || math.Abs(s[0].Candela-400) > 1e-6 {
		t.Errorf("seen on its axis: %+v", s)
	}
}

// What lies under a flight of steps, in a post or in a wall, is no part of the
// path: a point there does not make the least light nought.
func TestPathUnderOtherThings(t *testing.T) {
	step := 0.5
	limits := []facts.Limit{{Name: "light.grid_step_m", Value: &step, Unit: "m"}}
	for _, c := range []struct {
		name, site string
		points     int
	}{
		{"nothing", "", 8},
		{"a flight", `, "stairs": [{"id": "up", "lit": false, "foot": [[-1, 3], [1, 3]], "head": [[-1, 5], [1, 5]], "risers": 4, "rise": 0.15}]`, 6},
		{"a post", `, "posts": [{"id": "post", "at": [0, 1.25], "diameter": 0.2, "height": 1}]`, 7},
		{"a wall", `, "walls": [{"id": "wall", "line": [[-2, 3.9], [2, 3.9]], "thickness": 0.5, "height": 1}]`, 7},
	} {
		doc := computeWith(t, limits, metric(`"site": {"paths": [{"id": "walk", "centreline": [[0, 0], [0, 4]], "width": 1}]`+c.site+`}`,
			lamps(`{"id": "L1", "type": "mast", "at": [1, 2], "elevation": 0, "height": 3}`)))
		p := doc.Paths[0]
		if p.Points != c.points || *p.LuxMin <= 0 || *p.DarkM != 0 {
			t.Errorf("%s: %d points, by hand %d; least %g lx, dark for %g m", c.name, p.Points, c.points, *p.LuxMin, *p.DarkM)
		}
	}
}

// A spot that is turned up at a wall is not meant for the tree behind it.
func TestSpotOnAWall(t *testing.T) {
	tree := `"trees": [{"id": "thorn", "at": [4, 0], "trunk": 0.2, "canopy": {"base": 2, "top": 6, "radius": 1}}]`
	spot := lamps(`{"id": "L1", "type": "spot", "height": 0, "at": [0, 0], "aim": {"bearing": 90, "tilt": 135}}`)
	if doc := lit(t, `"site": {`+tree+`, "buildings": [{"id": "house", "outline": `+box(1, -9, 2, 9)+`}]}`, spot); len(doc.Beams) != 0 {
		t.Errorf("%v", doc.Beams)
	}
	if doc := lit(t, `"site": {`+tree+`}`, spot); len(doc.Beams) != 1 {
		t.Error("without the house the tree is meant")
	}
}

// Two surfaces that are drawn a little apart are one to walk on: the higher does
// not darken the lower. What lies higher by a step does.
func TestSurfacesDrawnApart(t *testing.T) {
	for elevation, want := range map[string]bool{"0.02": true, "0.05": true, "0.2": false} {
		doc := lit(t, `"site": {"landings": [`+square("A", 0, 0)+`], "areas": [{"id": "patio", "kind": "terrace", "lit": false, "elevation": `+elevation+`, "outline": `+box(-1, -1, 1, 1)+`}]}`,
			lamps(`{"id": "L1", "type": "globe", "at": [0, 0], "elevation": 0, "height": 2}`))
		if got := lux(t, doc, "A") > 0; got != want {
			t.Errorf("a terrace %s m above the landing: lit %v", elevation, got)
		}
	}
}

// A light that is let into a raised terrace shines out of it.
func TestLetIntoATerrace(t *testing.T) {
	doc := lit(t, `"site": {"areas": [{"id": "patio", "kind": "terrace", "lit": false, "elevation": 0.37, "outline": `+box(-2, -2, 2, 2)+`}],
	  "trees": [{"id": "thorn", "at": [1, 0], "trunk": 0.1, "canopy": {"base": 2, "top": 5, "radius": 1.5}}]}`,
		lamps(`{"id": "W1", "type": "well", "mount": "flush", "at": [0, 0], "aim": {"tree": "thorn"}}`))
	if b := doc.Beams[0]; *b.OnTree < 0.5 || *b.Blocked > 0.01 {
		t.Errorf("%.3f on the tree, %.3f blocked", *b.OnTree, *b.Blocked)
	}
}
