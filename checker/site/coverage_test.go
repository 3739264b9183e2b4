package site_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

func TestCordReach(t *testing.T) {
	// A receptacle 3 m east, 4 m north and at the same height is 5 m away;
	// 12 m lower it is 13 m away.
	got := site.CordReach(r2.Vec{}, 0.3, r2.Vec{X: 3, Y: 4}, 0.3, 5)
	near(t, "need", got.NeedM, 5, 0)
	if !got.Reaches() || got.SpareM != 0 {
		t.Errorf("a cord of just the length: %+v", got)
	}
	got = site.CordReach(r2.Vec{}, 12, r2.Vec{X: 3, Y: 4}, 0, 10)
	near(t, "need", got.NeedM, 13, 1e-12)
	near(t, "short by", got.SpareM, -3, 1e-12)
	if got.Reaches() {
		t.Error("reaches")
	}
	if got := site.CordReach(r2.Vec{}, math.NaN(), r2.Vec{}, 0, 1); site.Known(got.NeedM) || got.Reaches() {
		t.Errorf("a height that is not a number: %+v", got)
	}
}

func TestRhythmByHand(t *testing.T) {
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	path := site.Line{at(0, 0), at(0, 20)}
	fixtures := []site.Placed{
		{ID: "P4", At: at(0.9, 14)}, {ID: "P1", At: at(-0.9, 2)}, {ID: "P3", At: at(-0.9, 8.2)},
		{ID: "P2", At: at(0.9, 8)}, {ID: "tree", At: at(6, 9)}, {ID: "bad", At: at(math.NaN(), 0)},
	}
	r, ok := site.RhythmOf(path, fixtures, 1.5, 0.5)
	if !ok {
		t.Fatal("no rhythm")
	}
	var ids []string
	for _, f := range r.Fixtures {
		ids = append(ids, f.ID)
	}
	if !slices.Equal(ids, []string{"P1", "P2", "P3", "P4"}) {
		t.Errorf("fixtures = %v", ids)
	}
	if r.Fixtures[0].Side != site.Left || r.Fixtures[1].Side != site.Right {
		t.Errorf("sides: %v, %v", r.Fixtures[0].Side, r.Fixtures[1].Side)
	}
	want := []float64{2, 6, 0.2, 5.8, 6}
	if len(r.Intervals) != len(want) {
		t.Fatalf("intervals = %+v", r.Intervals)
	}
	for i, w := range want {
		near(t, "interval", r.Intervals[i].Length(), w, 1e-12)
	}
	if l := r.Longest(); l.FromID != "P1" || l.ToID != "P2" {
		t.Errorf("longest = %+v", l)
	}
	if r.Intervals[0].FromID != "" || r.Intervals[4].ToID != "" {
		t.Errorf("ends: %+v", r.Intervals)
	}
	if len(r.Opposite) != 1 || r.Opposite[0].Left != "P3" || r.Opposite[0].Right != "P2" {
		t.Fatalf("opposite = %+v", r.Opposite)
	}
	near(t, "apart", r.Opposite[0].ApartM, 0.2, 1e-12)
	near(t, "pair at", r.Opposite[0].StationM, 8.1, 1e-12)
	// Stations 2, 8 and 14, the pair counted once: an even row.
	near(t, "mean", r.MeanM, 6, 1e-12)
	near(t, "spread", r.SpreadM, 0, 1e-12)
}

// TestRhythmRunway is an even double row, every fixture facing another.
func TestRhythmRunway(t *testing.T) {
	path := site.Line{{X: 0, Y: 0}, {X: 30, Y: 0}}
	var fixtures []site.Placed
	for i := range 6 {
		x := 2.5 + 5*float64(i)
		fixtures = append(fixtures,
			site.Placed{ID: "L" + string(rune('1'+i)), At: r2.Vec{X: x, Y: 1}},
			site.Placed{ID: "R" + string(rune('1'+i)), At: r2.Vec{X: x, Y: -1}})
	}
	r, _ := site.RhythmOf(path, fixtures, 2, 0.3)
	if len(r.Opposite) != 6 || r.Opposite[2].Left != "L3" || r.Opposite[2].Right != "R3" {
		t.Errorf("opposite = %+v", r.Opposite)
	}
	near(t, "mean", r.MeanM, 5, 1e-12)
	near(t, "spread", r.SpreadM, 0, 1e-12)
	near(t, "longest", r.Longest().Length(), 5, 1e-12)
}

// TestRhythmProperties holds that intervals make up the path and that no
// fixture is in two pairs.
func TestRhythmProperties(t *testing.T) {
	rng := newRand(110)
	for range 300 {
		path := gentleLine(rng, 4)
		var fixtures []site.Placed
		for i := range rng.IntN(12) {
			p, _ := path.PointAt(rng.Float64()*path.Length(), rng.Float64(), site.Side(1+rng.IntN(2)))
			fixtures = append(fixtures, site.Placed{ID: string(rune('a' + i)), At: p})
		}
		r, ok := site.RhythmOf(path, fixtures, 1, 0.6)
		if !ok || len(r.Fixtures) != len(fixtures) || len(r.Intervals) != len(fixtures)+1 {
			t.Fatalf("%d fixtures: %+v", len(fixtures), r)
		}
		sum := 0.0
		for _, in := range r.Intervals {
			sum += in.Length()
		}
		near(t, "intervals make up the path", sum, path.Length(), 1e-9)
		seen := map[string]bool{}
		for _, f := range r.Opposite {
			if seen[f.Left] || seen[f.Right] || f.ApartM < 0 || f.ApartM > 0.6+1e-6 {
				t.Fatalf("pairs = %+v", r.Opposite)
			}
			seen[f.Left], seen[f.Right] = true, true
		}
	}
	none, ok := site.RhythmOf(bend, nil, 1, 0.5)
	if !ok || len(none.Intervals) != 1 || none.Longest().Length() != 20 || site.Known(none.MeanM) {
		t.Errorf("a path without fixtures: %+v", none)
	}
	if _, ok := site.RhythmOf(bend[:1], nil, 1, 0.5); ok {
		t.Error("a path without length has a rhythm")
	}
}
