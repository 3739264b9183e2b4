package facts_test

import (
	"math"
	"testing"
)

// globeAt is what a globe of the catalogue gives on a level place: 100 cd at a
// height of h and a level distance of d.
func globeAt(h, d float64) float64 { return candela * h / math.Pow(h*h+d*d, 1.5) }

// A lamp at the foot of a flight and one at its top see different treads. The
// flight has four risers of 0.15 m and treads of 0.3 m; its treads lie at 0.15,
// 0.30 and 0.45 m, their middles at y = 0.15, 0.45 and 0.75, its head at y = 0.9
// and 0.6 m.
func TestFootAndTopSeeOtherTreads(t *testing.T) {
	for _, c := range []struct {
		name, lamp string
		want       [3]float64
	}{
		// Half a metre before the foot: tread 1 is 0.25 m below the lamp and 0.65 m
		// away, tread 2 is 0.10 m below and 0.95 m away, tread 3 is above it.
		{"at the foot", `"height": 0.4, "at": [0.5, -0.5]`, [3]float64{globeAt(0.25, 0.65), globeAt(0.10, 0.95), 0}},
		// On the level at the head, half a metre beyond it: the lamp is at 1.0 m, and
		// its line to the middle of tread 3 passes y = 0.9 at 1.0 - 0.55*0.5/0.65 =
		// 0.577 m, below the edge of the head.
		{"low at the top", `"height": 0.4, "elevation": 0.6, "at": [0.5, 1.4]`, [3]float64{}},
		// At 1.6 m, 0.3 m beyond the head, it passes the edge at 0.83 m and sees all.
		{"high at the top", `"height": 1, "elevation": 0.6, "at": [0.5, 1.2]`,
			[3]float64{globeAt(1.45, 1.05), globeAt(1.30, 0.75), globeAt(1.15, 0.45)}},
		// From the side, level with tread 2, it lights tread 1 alone past no riser but
		// its own end: the line to its middle, 0.15 m below, stays over tread 1.
		{"beside tread 1", `"height": 0.3, "elevation": 0, "at": [-0.5, 0.15]`, [3]float64{globeAt(0.15, 1), 0, 0}},
	} {
		doc := lit(t, stairs(flight), lamps(`{"id": "L1", "type": "globe", `+c.lamp+`}`))
		for i, id := range []string{"up/1", "up/2", "up/3"} {
			near(t, c.name+", "+id, lux(t, doc, id), c.want[i], exact)
		}
	}
}

// A deck or terrace that is drawn over the flight which leads up to it is open above
// it: the light of a lamp on it falls on the treads, as beside it. It is not open
// above a flight that ends lower.
func TestStairwells(t *testing.T) {
	raised := `"lit": false, "elevation": 0.6, "outline": ` + box(-2, 0, 3, 4) + `}]`
	lamp := lamps(`{"id": "L1", "type": "globe", "height": 1, "elevation": 0.6, "at": [0.5, 1.2]}`)
	for _, kind := range []string{`"decks": [{"id": "d", `, `"areas": [{"id": "d", "kind": "terrace", `, `"landings": [{"id": "d", "stair": "up", "end": "top", `} {
		doc := lit(t, `"site": {`+flight+`, `+kind+raised+`}`, lamp)
		for id, want := range map[string]float64{"up/1": globeAt(1.45, 1.05), "up/2": globeAt(1.30, 0.75), "up/3": globeAt(1.15, 0.45)} {
			near(t, kind+id, lux(t, doc, id), want, exact)
		}
	}
	low := `"stairs": [{"id": "up", "foot": [[0, 0], [1, 0]], "head": [[0, 0.3], [1, 0.3]], "risers": 2, "rise": 0.15}]`
	near(t, "below a deck", lux(t, lit(t, `"site": {`+low+`, "decks": [{"id": "d", `+raised+`}`, lamp), "up/1"), 0, exact)
}

// Steps, a landing and a terrace are solid: no light passes through their bodies
// from one side to the other. The lamp is 0.2 m high on one side, the place 2.5 m
// away on the other. Open steps with their landing and a deck let it pass below.
func TestBodiesThrowShadows(t *testing.T) {
	free := globeAt(0.2, 2.5)
	stair := func(more string) string {
		return `"stairs": [{"id": "s", "foot": [[0, 0], [1, 0]], "head": [[0, 0.9], [1, 0.9]], "risers": 4, "rise": 0.15` + more + `}]`
	}
	raised := `"lit": false, "elevation": 0.6, "outline": ` + box(-0.2, 0, 1, 2)
	for _, c := range []struct {
		name, site, landings string
		want                 float64
	}{
		{"nothing", "", "", free},
		{"steps", stair("") + ", ", "", 0},
		{"open steps", stair(`, "open_risers": true`) + ", ", "", free},
		{"a terrace", `"areas": [{"id": "s", "kind": "terrace", ` + raised + `}], `, "", 0},
		{"a deck", `"decks": [{"id": "s", ` + raised + `}], `, "", free},
		{"a landing", "", `{"id": "l", ` + raised + `}, `, 0},
		{"a landing of open steps", stair(`, "open_risers": true`) + ", ", `{"id": "l", "stair": "s", "end": "top", "lit": false, "outline": ` + box(0, 0.9, 1, 2) + `}, `, free},
	} {
		doc := lit(t, `"site": {`+c.site+`"landings": [`+c.landings+square("A", 2, 0.75)+`]}`,
			lamps(`{"id": "L1", "type": "globe", "height": 0.2, "at": [-0.5, 0.75]}`))
		near(t, c.name, lux(t, doc, "A"), c.want, exact)
	}
}

// A light let into the side of a terrace or landing shines out of it, drawn at its
// face or a little inside, and a wash faces away from it by itself.
func TestLightInTheSideOfATerrace(t *testing.T) {
	raised := `"lit": false, "elevation": 0.6, "outline": ` + box(-2, 0, 2, 3)
	for _, body := range []string{`"areas": [{"id": "s", "kind": "terrace", ` + raised + `}], "landings": [`, `"landings": [{"id": "s", ` + raised + `}, `} {
		site := `"site": {` + body + square("A", 0, -1) + `, ` + square("B", 0, 4) + `]}`
		for _, y := range []string{"0", "0.05"} {
			place := `"elevation": 0, "height": 0.3, "at": [0, ` + y + `]`
			doc := lit(t, site, lamps(`{"id": "L1", "type": "globe", `+place+`}`))
			if front, behind := lux(t, doc, "A"), lux(t, doc, "B"); front < globeAt(0.3, 1.06) || behind != 0 {
				t.Errorf("at y = %s: %.2f lx in front, %.2f lx behind", y, front, behind)
			}
		}
		doc := lit(t, site, lamps(`{"id": "L1", "type": "step", "elevation": 0, "height": 0.3, "at": [0, 0.05]}`))
		if front, behind := lux(t, doc, "A"), lux(t, doc, "B"); front < 1 || behind != 0 {
			t.Errorf("a wash: %.2f lx in front, %.2f lx behind", front, behind)
		}
	}
}

// Winders turn about their inner end: foot along +x, head along +y, treads that
// are wedges. The middle of the first of four steps of a right angle about the
// origin, 1 m wide: risers from the pivot to points on the line between the outer
// ends, so that tread 1 has corners (0,0), (1,0), (2/3,1/3), (0,0). The place judged
// is the middle of its four named corners, ((1+2/3)/4, (1/3)/4).
func TestWedgeTreads(t *testing.T) {
	wedge := `"stairs": [{"id": "up", "foot": [[0, 0], [1, 0]], "head": [[0, 0], [0, 1]], "risers": 4, "rise": 0.15}]`
	doc := lit(t, stairs(wedge), lamps(`{"id": "L1", "type": "globe", "height": 2, "elevation": 0, "at": [2, 1]}`))
	for i, id := range []string{"up/1", "up/2", "up/3"} {
		x := (1 - float64(i)/3 + 1 - float64(i+1)/3) / 4
		y := (float64(i)/3 + float64(i+1)/3) / 4
		near(t, id, lux(t, doc, id), globeAt(2-0.15*float64(i+1), math.Hypot(2-x, 1-y)), exact)
	}
}

// A gate on a terrace stands on it, and strikes what stands there: neither says
// how high it is.
func TestGateOnATerrace(t *testing.T) {
	terrace := `"areas": [{"id": "top", "kind": "terrace", "elevation": 3, "outline": ` + box(-5, -5, 5, 5) + `}]`
	for more, clears := range map[string]bool{
		`, "height": 1.2`:                    false,
		`, "height": 1.2, "ground_gap": 0.5`: true, // over the lamp, 0.4 m high
		`, "height": 1.2, "elevation": 0`:    true, // far below it, as stated
	} {
		doc := lit(t, `"site": {`+terrace+`, `+gate(more)+`}`, lamps(`{"id": "L1", "type": "globe", "height": 0.4, "mount": "surface", "at": [-0.5, -0.5]}`))
		if len(doc.LeafClearances) != 1 || doc.LeafClearances[0].Clears != clears {
			t.Errorf("%s: %+v", more, doc.LeafClearances)
		}
	}
}

// Gates of other kinds. The leaf of 2 m lies closed along y = -1 between the lamp
// at (0, -2) and the place at the origin, which then gets nothing of 100/5^1.5 =
// 8.94 lx. One that slides east by its length is out of the way of the light when
// it has gone 1 m; left open it stands before a lamp at (4, -2), whose light crosses
// y = -1 at x = 2: 100/21^1.5 = 1.04 lx. One that opens both ways and is left open lies along x = -1 to
// the north, where it shadows a lamp at (-2, 0), or to the south, where it does not.
func TestLeafShadowOfOtherGates(t *testing.T) {
	path := `"paths": [{"id": "walk", "centreline": [[0, -0.25], [0, 0.25]], "width": 1}]`
	leaf := func(more string) string {
		return `"gates": [{"id": "gate", "hinge": [-1, -1], "leaf": 2, "closed_bearing": 90, "height": 1.2, ` + more + `}]`
	}
	for _, c := range []struct{ name, gate, at, want string }{
		{"sliding", `"slides": {"bearing": 90, "travel": 2}`, "[0, -2]", "walk closed 0 deg 8.94 to 0.00 lx"},
		{"sliding, left open", `"slides": {"bearing": 90, "travel": 2}, "held_open": true`, "[4, -2]", "walk open 0 deg 1.04 to 0.00 lx"},
		{"both ways", `"opens": {"towards": "both", "angle": 90}`, "[0, -2]", "walk closed 0 deg 8.94 to 0.00 lx"},
		{"both ways, left open", `"opens": {"towards": "both", "angle": 90}, "held_open": true`, "[-2, 0]", "walk open 90 deg 8.94 to 0.00 lx"},
		{"to the right, left open", `"opens": {"towards": "right", "angle": 90}, "held_open": true`, "[-2, 0]", ""},
	} {
		doc := lit(t, `"site": {`+path+`, `+leaf(c.gate)+`}`, lamps(`{"id": "L1", "type": "globe", "height": 1, "at": `+c.at+`}`))
		if got := words(doc.LeafShadows, shadow); got != c.want {
			t.Errorf("%s:\n%s, by hand\n%s", c.name, got, c.want)
		}
	}
	doc := lit(t, `"site": {`+leaf(`"slides": {"bearing": 90, "travel": 2}`)+`}`, lamps(`{"id": "L1", "type": "globe", "height": 1, "at": [2, -1.1]}`))
	if c := doc.LeafClearances; len(c) != 1 || !c[0].Slides || math.Abs(c[0].ClearanceM-0.1) > 1e-9 {
		t.Errorf("a lamp 0.1 m from the way of a sliding gate: %+v", c)
	}
}

// A luminaire close by is no point: a matt disc of radius r that gives F lumens
// lights a place d straight below with F / (pi (r^2 + d^2)) (view factor of a disc:
// pi L r^2/(r^2+d^2), L = F/(pi^2 r^2)). At twice its width the point would give 6 %
// more.
func TestGlowingPartsCloseBy(t *testing.T) {
	plan := func(body string) string {
		return `{"format": "1.0", "plan": {"title": "Invented"}, "units": "m",
		  "catalogue": {"fixtures": {"disc": {"kind": "hanging", "load": "constant-power", "va": 5, "lumens": 100, ` + body + `"light": {"shape": "lambert"}}}},
		  "site": {"landings": [` + square("A", 0, 0) + `]}, ` + lamps(`{"id": "L1", "type": "disc", "height": 0.4, "elevation": 0, "at": [0, 0]}`) + `}`
	}
	near(t, "a point", lux(t, computeWith(t, nil, plan("")), "A"), 100/(math.Pi*0.16), exact)
	got := lux(t, computeWith(t, nil, plan(`"body": {"luminous": 0.2}, `)), "A")
	near(t, "a disc", got, 100/(math.Pi*(0.01+0.16)), 0.005)
}
