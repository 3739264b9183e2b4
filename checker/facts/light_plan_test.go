package facts_test

import (
	"context"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// lights is an invented catalogue of lights, most of them with one candela for
// each 4 pi lumens in every direction, so that their light is easily worked out
// by hand.
const lights = `"catalogue": {
  "fixtures": {
    "globe": {"kind": "path", "load": "constant-power", "va": 5, "lumens": 1256.6370614359173, "light": {"shape": "isotropic"}},
    "mast": {"kind": "post", "load": "constant-power", "va": 5, "lumens": 30159.289474462014, "light": {"shape": "isotropic"}},
    "spot": {"kind": "spot", "load": "constant-power", "va": 5, "lumens": 300, "light": {"shape": "beam", "beam_angle": 60}},
    "ring": {"kind": "path", "load": "constant-power", "va": 5, "lumens": 190, "light": {"shape": "downward-ring"}},
    "step": {"kind": "step", "load": "constant-power", "va": 2, "lumens": 60, "light": {"shape": "step-wash"}},
    "well": {"kind": "well", "load": "constant-power", "va": 5, "lumens": 300, "light": {"shape": "beam", "beam_angle": 36}},
    "warm": {"kind": "path", "load": "filament", "watts": 20, "rated_volts": 12, "lumens": 1256.6370614359173, "light": {"shape": "isotropic"}},
    "mute": {"kind": "path", "load": "constant-power", "va": 5, "light": {"shape": "isotropic"}}
  },
  "cables": {"2.5": {"conductor": "2.5 mm2"}},
  "transformers": {"T300": {"kind": "magnetic", "rating": "300 VA", "impedance": "4 %", "taps": ["12 V"], "commons": [{"breaker": "25 A"}]}}
}`

// candela is what a globe of the catalogue gives in every direction.
const candela = 100.0

// metric joins sections into a plan in metres.
func metric(sections ...string) string {
	head := `{"format": "1.0", "plan": {"title": "Invented"}, "units": "m", ` + lights
	return head + ", " + strings.Join(sections, ", ") + "}"
}

// lit computes the facts of a plan in metres without any profile: lamps are new
// and clean, and only the fallbacks of the join hold.
func lit(t *testing.T, sections ...string) *facts.Document {
	t.Helper()
	return computeWith(t, nil, metric(sections...))
}

// litWith is lit with photometric files beside the plan.
func litWith(t *testing.T, files fs.FS, text string) *facts.Document {
	t.Helper()
	document, err := plan.Decode([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	p, issues := plan.Resolve(document)
	for _, issue := range issues {
		t.Errorf("the plan of the test: %s at %s", issue.Message, issue.Pointer)
	}
	doc, err := facts.Compute(context.Background(), facts.Input{Plan: p, Files: files, Today: "2026-06-01"})
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// square is a landing whose middle is at a point, one decimetre wide.
func square(id string, x, y float64) string {
	r := strings.NewReplacer("ID", id, "X0", text(x-0.05), "X1", text(x+0.05), "Y0", text(y-0.05), "Y1", text(y+0.05))
	return r.Replace(`{"id": "ID", "outline": [[X0, Y0], [X1, Y0], [X1, Y1], [X0, Y1]]}`)
}

// tread finds a tread or landing in a scene.
func tread(t *testing.T, doc *facts.Document, id, scene string) facts.Tread {
	t.Helper()
	for _, p := range doc.Treads {
		if p.ID == id && p.Scene == scene {
			return p
		}
	}
	t.Fatalf("no place %s in scene %s", id, scene)
	return facts.Tread{}
}

// lux is the light in the middle of a place with everything on.
func lux(t *testing.T, doc *facts.Document, id string) float64 {
	t.Helper()
	p := tread(t, doc, id, "all")
	if p.LuxCentre == nil {
		t.Fatalf("the light on %s is not known", id)
	}
	return *p.LuxCentre
}

// near compares with a relative tolerance; nought wants nought.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within*math.Abs(want)) {
		t.Errorf("%s: %.6g, by hand %.6g", what, got, want)
	}
}

// fixture finds a fixture.
func fixture(t *testing.T, doc *facts.Document, id string) facts.Fixture {
	t.Helper()
	i := slices.IndexFunc(doc.Fixtures, func(f facts.Fixture) bool { return f.ID == id })
	if i < 0 {
		t.Fatalf("no fixture %s", id)
	}
	return doc.Fixtures[i]
}

// exact is the tolerance for point sources: rounding alone.
const exact = 1e-9

// printed is the tolerance for answers that the worked examples print with
// three decimals.
const printed = 5e-5

// Worked example 17 of the lighting facts, from a textbook exercise: four lamps
// in a line, 10 m apart and 5 m high, 200 cd each. Midway between the second and
// the third: 2 (200*5/250^1.5 + 200*5/50^1.5) = 6.163 lx. The globe has 100 cd,
// so two of them hang at each place.
func TestFourLampsInALine(t *testing.T) {
	var fixtures []string
	for i, x := range []string{"0", "10", "20", "30"} {
		for _, twin := range []string{"a", "b"} {
			fixtures = append(fixtures, `{"id": "L`+string(rune('1'+i))+twin+`", "type": "globe", "at": [`+x+`, 0], "height": 5}`)
		}
	}
	doc := lit(t, `"site": {"landings": [`+square("M", 15, 0)+`]}`, lamps(fixtures...))
	want := 2 * (200*5/math.Pow(250, 1.5) + 200*5/math.Pow(50, 1.5))
	near(t, "midway", lux(t, doc, "M"), want, exact)
	near(t, "printed", want, 6.163, printed)
}

// Worked example 18: two lamps of 2,400 cd, 6 m high and 20 m apart. Below one
// 66.667 + 1.582 = 68.248 lx, midway 18.159 lx, 4 m from one towards the other
// 41.288 lx.
func TestTwoMasts(t *testing.T) {
	doc := lit(t, `"site": {"landings": [`+square("A", 0, 0)+`, `+square("B", 10, 0)+`, `+square("C", 4, 0)+`]}`,
		lamps(`{"id": "L1", "type": "mast", "at": [0, 0], "height": 6}`, `{"id": "L2", "type": "mast", "at": [20, 0], "height": 6}`))
	for _, c := range []struct {
		id      string
		x, book float64
	}{{"A", 0, 68.248}, {"B", 10, 18.159}, {"C", 4, 41.288}} {
		want := 2400*6/math.Pow(36+c.x*c.x, 1.5) + 2400*6/math.Pow(36+(20-c.x)*(20-c.x), 1.5)
		near(t, c.id, lux(t, doc, c.id), want, exact)
		near(t, c.id+" printed", want, c.book, printed)
	}
	if got := tread(t, doc, "C", "all").Lamps; !slices.Equal(got, []string{"L1", "L2"}) {
		t.Errorf("the strongest lamp comes first: %v", got)
	}
}

// Worked example 22: 300 lm in a cos^n beam of 60 degrees, 3 m up, aimed 30
// degrees from straight down towards +x, which is east. Points at x = 0, 1,
// 1.7321, 3 and 5 m: 15.435, 23.877, 20.051, 9.235 and 2.201 lx.
func TestTiltedBeam(t *testing.T) {
	doc := lit(t, `"site": {"landings": [`+strings.Join([]string{
		square("A", 0, 0), square("B", 1, 0), square("C", 1.7321, 0), square("D", 3, 0), square("E", 5, 0)}, ", ")+`]}`,
		lamps(`{"id": "L1", "type": "spot", "at": [0, 0], "height": 3, "aim": {"bearing": 90, "tilt": 30}}`))
	for id, want := range map[string]float64{"A": 15.435, "B": 23.877, "C": 20.051, "D": 9.235, "E": 2.201} {
		near(t, id, lux(t, doc, id), want, 2e-4)
	}
	near(t, "tilt", *fixture(t, doc, "L1").AimTiltDeg, 30, 0)
}

// The same beam aimed at the point where its axis meets the ground, x = 3 tan 30
// = 1.7321 m, gives the same light.
func TestAimedAtAPoint(t *testing.T) {
	doc := lit(t, `"site": {"landings": [`+square("C", 3*math.Tan(math.Pi/6), 0)+`, `+square("D", 3, 0)+`]}`,
		lamps(`{"id": "L1", "type": "spot", "at": [0, 0], "height": 3, "aim": {"at": [1.7320508075688772, 0]}}`))
	near(t, "C", lux(t, doc, "C"), 20.051, 2e-4)
	near(t, "D", lux(t, doc, "D"), 9.235, 2e-4)
}

// A level counts once: a fixture set to half, in a scene at half, gives a
// quarter. 100 cd 1 m above a point give 100 lx.
func TestLevelsCountOnce(t *testing.T) {
	doc := lit(t, `"site": {"landings": [`+square("A", 0, 0)+`]}`,
		lamps(`{"id": "L1", "type": "globe", "at": [0, 0], "height": 1, "level": "50 %", "group": "g"}`),
		`"controls": [{"id": "C1", "kind": "timer", "scenes": [{"id": "evening", "on": ["g"]}, {"id": "late", "on": [{"group": "g", "level": "50 %"}]}, {"id": "off", "on": []}]}]`)
	for scene, want := range map[string]float64{"evening": 50, "late": 25} {
		near(t, scene, *tread(t, doc, "A", scene).LuxCentre, want, exact)
	}
	if n := len(doc.Treads); n != 2 {
		t.Errorf("%d places, a scene with nothing on is not in use", n)
	}
}

// The maintenance factor of the profile (0.8, common practice) takes a fifth.
func TestMaintained(t *testing.T) {
	doc := computeWith(t, limitsOf(t, "us-nec-2020"), metric(`"site": {"landings": [`+square("A", 0, 0)+`]}`,
		lamps(`{"id": "L1", "type": "globe", "at": [0, 0], "height": 1}`)))
	near(t, "100 cd at 1 m", lux(t, doc, "A"), 80, exact)
}

// A filament's light goes with the 3.4th power of its volts over the rating
// (lamp re-rating, published exponent). The volts are those that the network
// step found; 30 m of 2.5 mm2 take about 2 V from 20 W, so the difference is
// plain.
func TestFilamentAtItsVolts(t *testing.T) {
	doc := lit(t, `"site": {"landings": [`+square("A", 0, 0)+`]}`, `"transformers": [{"id": "T1", "type": "T300"}]`,
		`"runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "2.5", "chain": [{"to": "L1", "length": 60}]}]`,
		lamps(`{"id": "L1", "type": "warm", "at": [0, 0], "height": 1}`))
	lamp := fixture(t, doc, "L1")
	if *lamp.NominalVolts > 11.5 || *lamp.LowVolts >= *lamp.NominalVolts {
		t.Fatalf("%.3f V, low %.3f V", *lamp.NominalVolts, *lamp.LowVolts)
	}
	near(t, "nominal", lux(t, doc, "A"), candela*math.Pow(*lamp.NominalVolts/12, 3.4), 1e-6)
	near(t, "low supply", *tread(t, doc, "A", "all").LuxLow, candela*math.Pow(*lamp.LowVolts/12, 3.4), 1e-6)
}

// A fixture that no run reaches is dark when the plan has runs, and lit when the
// plan has none.
func TestFixtureWithoutARun(t *testing.T) {
	site := `"site": {"landings": [` + square("A", 0, 0) + `, ` + square("B", 20, 0) + `]}`
	two := lamps(`{"id": "L1", "type": "globe", "at": [0, 0], "height": 1}`, `{"id": "L2", "type": "globe", "at": [20, 0], "height": 1}`)
	doc := lit(t, site, two)
	near(t, "no runs at all", lux(t, doc, "B"), candela+candela/math.Pow(401, 1.5), exact)
	doc = lit(t, site, two, `"transformers": [{"id": "T1", "type": "T300"}]`,
		`"runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "2.5", "chain": [{"to": "L1", "length": 5}]}]`)
	near(t, "on the run", lux(t, doc, "A"), candela, exact)
	near(t, "on no run, lit from afar", lux(t, doc, "B"), candela/math.Pow(401, 1.5), exact)
	if l1, l2 := fixture(t, doc, "L1"), fixture(t, doc, "L2"); !l1.Wired || !l1.Fed || l2.Wired || l2.Fed {
		t.Errorf("wired and fed: L1 %v %v, L2 %v %v", l1.Wired, l1.Fed, l2.Wired, l2.Fed)
	}
}

// text writes a number as JSON.
func text(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
