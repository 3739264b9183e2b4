package plan_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
)

// legNamed finds a leg.
func legNamed(t testing.TB, p *plan.Plan, id string) *plan.Leg {
	t.Helper()
	for _, run := range p.Runs {
		for _, l := range run.Legs {
			if l.ID == id {
				return l
			}
		}
	}
	t.Fatalf("no leg %q", id)
	return nil
}

// TestLegs checks the legs of the base plan, worked out by hand. h1 is at
// (3, 4), h2 at (6, 8), P1 at (1.5, 5), P2 at (10.45, 10.5). Every fixture has
// 0.5 m of slack.
func TestLegs(t *testing.T) {
	p := clean(t, readFile(t, "base.lighting.json"))
	for _, c := range []struct {
		id, from, to, cable, method string
		length, slack, cover        float64
		chained                     bool
	}{
		{"w1", "T1", "h1", "6mm", "buried", 5, 0, 0.45, false}, // 3-4-5
		{"w2", "h1", "P1", "4mm", "buried", math.Hypot(1.5, 1), 0.5, 0.45, false},
		{"w3", "h1", "h2", "4mm", "buried", 7.2, 1, 0.45, false},                    // stated; the route is 3 + 4
		{"w4", "h2", "P2", "4mm", "surface", math.Hypot(4.45, 2.5), 0.5, -1, false}, // no cover on the surface
		{"w5", "P2", "T1", "4mm", "buried", math.Hypot(10.45, 10.5), 0.5, 0.45, false},
		{"back/h3", "T2", "h3", "6mm", "buried", 5, 0, 0.45, true},
		{"back/row-1", "h3", "row-1", "6mm", "buried", 3, 0.5, 0.45, true},
		{"back/row-2", "row-1", "row-2", "6mm", "buried", 3, 1, 0.45, true}, // slack at both ends
		{"back/S1", "h3", "S1", "4mm", "buried", 4, 0.5, 0.45, true},
	} {
		l := legNamed(t, p, c.id)
		if l.From != c.from || l.To != c.to || l.Cable.ID != c.cable || l.Method != c.method || l.Chained != c.chained {
			t.Errorf("%s: %+v", c.id, l)
		}
		cover := -1.0
		if l.CoverM != nil {
			cover = *l.CoverM
		}
		if !alike(*l.LengthM, c.length) || !alike(l.SlackM, c.slack) || !alike(cover, c.cover) {
			t.Errorf("%s: length %v slack %v cover %v, want %v %v %v", c.id, *l.LengthM, l.SlackM, cover, c.length, c.slack, c.cover)
		}
	}
	w3 := legNamed(t, p, "w3")
	if !slices.EqualFunc(w3.Route, []r2.Vec{{X: 3, Y: 4}, {X: 6, Y: 4}, {X: 6, Y: 8}}, near) || !alike(*w3.RoutedM, 7) {
		t.Errorf("route %v of %v m", w3.Route, *w3.RoutedM)
	}
	if w3.Pointer != "/runs/0/legs/2" || legNamed(t, p, "back/S1").Pointer != "/runs/1/chain/3" {
		t.Errorf("pointers %s %s", w3.Pointer, legNamed(t, p, "back/S1").Pointer)
	}
	if l := legNamed(t, p, "back/h3"); l.Route != nil || l.RoutedM != nil {
		t.Errorf("a leg without places has the route %v", l.Route)
	}
	w5 := legNamed(t, p, "w5").Returns
	if w5 == nil || w5.Transformer.ID != "T1" || w5.Common != 1 || w5.TapVolts != 13 || w5.Swapped {
		t.Errorf("returns %+v", w5)
	}
}

// TestStatedLengths holds how far a stated length may stray from the route
// without a word: 15 cm or 2 % short; long by any amount where no bend is drawn.
func TestStatedLengths(t *testing.T) {
	for _, c := range []struct{ leg, length string }{
		{"0", `"4.86 m"`}, {"0", `"5 m"`}, {"0", `"40 m"`}, // straight, 5 m
		{"2", `"6.86 m"`}, {"2", `"9.9 m"`}, {"2", `"13.4 m"`}, // bent, 7 m: to 7 + 3 + 3.5
	} {
		p := clean(t, edited(t, edits{"/runs/0/legs/" + c.leg + "/length": c.length}))
		if got := p.Runs[0].Legs[map[string]int{"0": 0, "2": 2}[c.leg]].LengthM; got == nil {
			t.Errorf("%v: no length", c)
		}
	}
}

// TestRuns checks outputs, nodes and who is reached by what.
func TestRuns(t *testing.T) {
	p := clean(t, edited(t, edits{"/runs/1/connector": `"hub-block"`, "/runs/1/chain/-": `{"to": "row-2", "length": "9 m", "from": "S1"}`}))
	front, back := p.Runs[0], p.Runs[1]
	if front.Transformer.ID != "T1" || front.Common != 1 || front.TapVolts != 13 {
		t.Errorf("front: %s common %d tap %v", front.Transformer.ID, front.Common, front.TapVolts)
	}
	if back.Common != 1 || back.TapVolts != 12 {
		t.Errorf("back: the only tap and the first common, not %v and %d", back.TapVolts, back.Common)
	}
	if front.Nodes[0].Connector.ID != "hub-block" || front.Nodes[1].Connector.ID != "gel" || back.Nodes[0].Connector.ID != "hub-block" {
		t.Error("connectors of nodes: own, by default, of the run")
	}
	if fixtureNamed(t, p, "row-1").Connector.ID != "hub-block" || fixtureNamed(t, p, "P1").Connector.ID != "gel" {
		t.Error("connectors of fixtures: of the run, by default")
	}
	if l := legNamed(t, p, "back/row-2/2"); l.From != "S1" || l.To != "row-2" {
		t.Errorf("the second leg to one end: %+v", l)
	}
	if f := fixtureNamed(t, p, "row-2"); len(f.Runs) != 1 || f.Runs[0] != back {
		t.Errorf("row-2 is reached by %v", f.Runs)
	}
	if f := fixtureNamed(t, p, "S2"); f.Runs != nil {
		t.Errorf("S2 is reached by %v", f.Runs)
	}
	if t1, t2 := p.Transformers[0], p.Transformers[1]; !alike(*t1.GrowthVA, 60) || t1.HardWired || t1.Branch.ID != "B1" || !t2.HardWired || t2.Branch.ID != "B1" || t2.Receptacle != nil {
		t.Errorf("transformers %+v %+v", t1, t2) // 20 % of 300 VA
	}
	if r := p.Supply.Receptacles[0]; r.GFCI == nil || !*r.GFCI {
		t.Error("the receptacle is protected by its branch circuit")
	}
	if s := p.Supply; !alike(*s.LowFactor, 0.9) || !alike(*s.HighFactor, 1.1) {
		t.Errorf("supply %v %v", *s.LowFactor, *s.HighFactor)
	}
}

// TestFittedLamps checks what a fixture's own lamp changes. The type has 4 W and
// 5 VA, so a power factor of 0.8.
func TestFittedLamps(t *testing.T) {
	value := func(p *float64) float64 {
		if p == nil {
			return -1
		}
		return *p
	}
	for _, c := range []struct {
		lamp              string
		watts, va, factor float64 // -1 where unknown
	}{
		{`{}`, 4, 5, -1},
		{`{"watts": 8}`, 8, -1, 0.8},
		{`{"watts": 8, "va": 10}`, 8, 10, -1},
		{`{"va": 6}`, 4, 6, -1},
		{`{"power_factor": 0.5}`, 4, -1, 0.5},
		{`{"watts": 8, "power_factor": 0.9}`, 8, -1, 0.9},
	} {
		p := clean(t, edited(t, edits{"/fixtures/1/lamp": c.lamp}))
		lamp := fixtureNamed(t, p, "P2").Lamp
		if !alike(value(lamp.Watts), c.watts) || !alike(value(lamp.VA), c.va) || !alike(value(lamp.PowerFactor), c.factor) {
			t.Errorf("%s: %v W %v VA PF %v, want %v %v %v", c.lamp, value(lamp.Watts), value(lamp.VA), value(lamp.PowerFactor), c.watts, c.va, c.factor)
		}
		if *lamp.Lumens != 190 || lamp.Load != "constant-power" || *lamp.MinVolts != 9 || *lamp.MaxVolts != 15 || *lamp.DropOutV != 7 || lamp.RatedVolts != 12 {
			t.Errorf("%s: %+v", c.lamp, lamp)
		}
	}
}

// TestAims checks targets. The oak stands at (0, 4), its crown from 2 to 8 m.
func TestAims(t *testing.T) {
	for _, c := range []struct {
		aim  string
		want plan.Target
	}{
		{`{"tree": "oak"}`, plan.Target{At: r2.Vec{Y: 4}, HeightM: 5, Tree: "oak"}},
		{`{"tree": "oak", "height": "3 m"}`, plan.Target{At: r2.Vec{Y: 4}, HeightM: 3, Tree: "oak"}},
		{`{"at": [5, 5], "height": "2 m"}`, plan.Target{At: r2.Vec{X: 5, Y: 5}, HeightM: 2}},
		{`{"at": [1, 22], "height": "2 m"}`, plan.Target{At: r2.Vec{X: 1, Y: 22}, HeightM: 2.6}}, // on the deck at 0.6
		{`{"at": {"of": "lower", "tread": 2}}`, plan.Target{At: r2.Vec{X: 10.45, Y: 10}, HeightM: 0.3}},
	} {
		p := clean(t, edited(t, edits{"/fixtures/4/aim": c.aim}))
		got := fixtureNamed(t, p, "S2").AimAt
		if got == nil || !near(got.At, c.want.At) || !alike(got.HeightM, c.want.HeightM) || got.Tree != c.want.Tree {
			t.Errorf("%s: %+v, want %+v", c.aim, got, c.want)
		}
	}
}

// TestWiringOnly holds that a plan without a site or a place resolves.
func TestWiringOnly(t *testing.T) {
	data := []byte(`{"format": "1.0", "units": "ft",
		"catalogue": {"fixtures": {"ring": {"kind": "path", "load": "constant-power", "va": 5}}, "cables": {"12/2": {"conductor": "12 AWG"}},
			"transformers": {"T300": {"rating": "300 VA", "kind": "magnetic", "taps": [12]}}},
		"transformers": [{"id": "T1", "type": "T300"}],
		"runs": [{"id": "r", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "a", "length": 50}, {"to": "b", "length": "10 ft"}]}],
		"fixtures": [{"id": "a", "type": "ring"}, {"id": "b", "type": "ring"}]}`)
	mustValidate(t, data)
	p := clean(t, data)
	if p.Site != nil || p.Supply != nil || p.Stage != "design" || fixtureNamed(t, p, "a").At != nil {
		t.Errorf("plan %+v", p)
	}
	if l := legNamed(t, p, "r/a"); !alike(*l.LengthM, 15.24) || l.From != "T1" || l.SlackM != 0 { // 50 x 0.3048
		t.Errorf("leg %+v", l)
	}
	if p.Transformers[0].Type.Output != "ac" {
		t.Error("a magnetic transformer gives AC")
	}
	if len(p.Scenes) != 1 || p.Scenes[0].ID != "all" || !p.Scenes[0].InUse || p.Scenes[0].Levels["a"] != 1 || p.Scenes[0].Levels["b"] != 1 {
		t.Errorf("scenes %+v", p.Scenes)
	}
}

func TestEmptyPlans(t *testing.T) {
	for _, doc := range []*plan.Document{nil, {}} {
		p, issues := plan.Resolve(doc)
		if p == nil || len(issues) != 0 || len(p.Scenes) != 0 || len(p.Elements) != 0 {
			t.Errorf("an empty plan: %+v %v", p, issues)
		}
	}
}

// TestClimb holds that a cable whose length is measured climbs from one known
// level to the other, and that a level nobody states is none: 4 m on the plan and
// 3 m up are 5 m.
func TestClimb(t *testing.T) {
	p := clean(t, []byte(`{"format": "1.0", "units": "m",
	  "site": {"decks": [{"id": "deck", "outline": [[3, -1], [5, -1], [5, 1], [3, 1]], "elevation": 3}]},
	  "catalogue": {
	    "fixtures": {"lamp": {"kind": "post", "load": "constant-power", "va": 5}},
	    "cables": {"c": {"conductor": "4 mm2"}},
	    "transformers": {"unit": {"kind": "magnetic", "rating": "100 VA", "taps": ["12 V"]}}
	  },
	  "transformers": [{"id": "T1", "type": "unit", "at": [0, 4]}],
	  "runs": [{"id": "R", "from": {"transformer": "T1", "tap": "12 V"}, "cable": "c", "legs": [
	    {"id": "unknown", "from": "T1", "to": "low"}, {"id": "up", "from": "low", "to": "high"}, {"id": "stated", "from": "low", "to": "far", "length": 9}]}],
	  "fixtures": [
	    {"id": "low", "type": "lamp", "at": [0, 0], "elevation": 0},
	    {"id": "high", "type": "lamp", "at": [4, 0]},
	    {"id": "far", "type": "lamp", "at": [0, -8], "elevation": 1}]}`))
	for id, want := range map[string]float64{"unknown": 4, "up": 5, "stated": 9} {
		if l := legNamed(t, p, id); !alike(*l.LengthM, want) {
			t.Errorf("%s: %v m, by hand %v m", id, *l.LengthM, want)
		}
	}
}
