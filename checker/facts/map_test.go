package facts_test

import (
	"context"
	"math"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// mapped lights a plan in metres for a drawing.
func mapped(t *testing.T, cells int, sections ...string) *facts.LightMap {
	t.Helper()
	text := metric(sections...)
	document, err := plan.Decode([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	p, issues := plan.Resolve(document)
	for _, issue := range issues {
		t.Errorf("the plan of the test: %s at %s", issue.Message, issue.Pointer)
	}
	doc, err := facts.Compute(context.Background(), facts.Input{Plan: p, Today: "2026-06-01"})
	if err != nil {
		t.Fatal(err)
	}
	m, err := facts.MapLight(context.Background(), p, doc, nil, cells)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

const (
	mapPath = `"site": {"paths": [{"id": "walk", "centreline": [[0, 0], [8, 0]], "width": 1}]}`
	mapLamp = `"fixtures": [{"id": "G1", "type": "globe", "at": [2, 0], "height": 1, "group": "early"}]`
)

// TestMapIsTheInverseSquareLaw compares each cell of a path with the
// inverse-square and cosine law, E = I h / (h^2 + d^2)^1.5, for a lamp that
// gives 100 cd in every direction from a height of 1 m.
func TestMapIsTheInverseSquareLaw(t *testing.T) {
	m := mapped(t, 500, mapPath, mapLamp)
	if len(m.Scenes) != 1 || len(m.Surfaces) != 1 || m.Surfaces[0].ID != "walk" {
		t.Fatalf("scenes %v, %d surfaces", m.Scenes, len(m.Surfaces))
	}
	s := m.Surfaces[0]
	// 8 m by 1 m in 500 cells: 0.126 m.
	if math.Abs(s.CellM-math.Sqrt(8.0/500)) > 1e-12 {
		t.Errorf("cells of %g m", s.CellM)
	}
	inside := 0
	for i, c := range s.Cells {
		x, y := (float64(c.Column)+0.5)*s.CellM, (float64(c.Row)+0.5)*s.CellM
		if x < 0 || x > 8 || math.Abs(y) > 0.5 {
			continue
		}
		inside++
		d2 := (x-2)*(x-2) + y*y
		want := candela / math.Pow(1+d2, 1.5)
		if math.Abs(s.Lux[0][i]-want) > 1e-9*want+0.01 {
			t.Fatalf("%.3f lx at %.3f, %.3f; want %.3f", s.Lux[0][i], x, y, want)
		}
	}
	if inside < 490 || inside > 530 {
		t.Errorf("%d cells on the path, want about 500", inside)
	}
}

// TestMapByScene holds that a map has each scene in use, and no other.
func TestMapByScene(t *testing.T) {
	m := mapped(t, 100, mapPath, mapLamp, `"controls": [{"id": "C1", "kind": "timer", "switches": ["early"], "scenes": [
		{"id": "evening", "in_use": true, "on": ["early"]}, {"id": "spare", "in_use": false, "on": ["early"]}, {"id": "late", "in_use": true, "on": []}]}]`)
	if len(m.Scenes) != 2 || m.Scenes[0] != "evening" || m.Scenes[1] != "late" {
		t.Fatalf("scenes %v", m.Scenes)
	}
	s := m.Surfaces[0]
	for i := range s.Cells {
		if s.Lux[0][i] <= 0 || s.Lux[1][i] != 0 {
			t.Fatalf("cell %d has %g lx in the evening and %g lx late", i, s.Lux[0][i], s.Lux[1][i])
		}
	}
}

// TestMapHasEverySurface holds that treads have cells enough in their depth, and
// that what is not meant to be lit, and a plan without a site, has none.
func TestMapHasEverySurface(t *testing.T) {
	m := mapped(t, 10, mapLamp, `"site": {
		"paths": [{"id": "dark", "centreline": [[0, 5], [8, 5]], "width": 1, "lit": false}],
		"decks": [{"id": "deck", "outline": [[0, 0], [4, 0], [4, 3], [0, 3]], "elevation": 0.3}],
		"stairs": [{"id": "up", "foot": [[0, -3], [1, -3]], "head": [[0, -2], [1, -2]], "risers": 3, "rise": 0.15, "going": 0.5}]}`)
	ids := map[string]int{}
	for _, s := range m.Surfaces {
		ids[s.ID] = len(s.Cells)
		rows := map[int]bool{}
		for _, c := range s.Cells {
			rows[c.Row] = true
		}
		if s.ID == "up/1" && len(rows) < 3 {
			t.Errorf("%d rows of cells on a tread", len(rows))
		}
	}
	if ids["deck"] == 0 || ids["up/1"] == 0 || ids["up/2"] == 0 || ids["dark"] != 0 {
		t.Errorf("surfaces %v", ids)
	}
	if m := mapped(t, 10, mapLamp); len(m.Surfaces) != 0 {
		t.Errorf("a plan without a site has %d surfaces", len(m.Surfaces))
	}
}
