package site_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

func lengthOf(pieces []site.TrenchPiece) float64 {
	sum := 0.0
	for _, p := range pieces {
		sum += p.Length()
	}
	return sum
}

func TestTrenchesByHand(t *testing.T) {
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	open := site.NewGround(nil)
	main := site.TrenchLeg{ID: "a", Route: site.Line{at(0, 0), at(10, 0), at(10, 5)}, CoverM: 0.15}
	cases := []struct {
		name string
		legs []site.TrenchLeg
		want float64
	}{
		{"one leg", []site.TrenchLeg{main}, 15},
		{"the same route twice", []site.TrenchLeg{main, {ID: "b", Route: main.Route, CoverM: 0.15}}, 15},
		{"and walked the other way", []site.TrenchLeg{main, {ID: "b", Route: main.Route.Reverse(), CoverM: 0.15}}, 15},
		{"a spade's width beside it", []site.TrenchLeg{main, {ID: "b", Route: site.Line{at(0, 0.1), at(9.9, 0.1), at(9.9, 5)}, CoverM: 0.15}}, 15},
		{"outside the bend too", []site.TrenchLeg{main, {ID: "b", Route: site.Line{at(0, -0.1), at(10, -0.1), at(10.1, 0), at(10.1, 5)}, CoverM: 0.15}}, 15},
		{"farther beside it", []site.TrenchLeg{main, {ID: "b", Route: site.Line{at(0, 0.3), at(9.7, 0.3)}, CoverM: 0.15}}, 24.7},
		{"shared for 6 m, then away", []site.TrenchLeg{main, {ID: "b", Route: site.Line{at(0, 0), at(6, 0), at(6, 3)}, CoverM: 0.15}}, 18},
		{"square across", []site.TrenchLeg{main, {ID: "b", Route: site.Line{at(5, -2), at(5, 2)}, CoverM: 0.15}}, 19},
		{"one after the other", []site.TrenchLeg{main, {ID: "b", Route: site.Line{at(10, 5), at(10, 9)}, CoverM: 0.15}}, 19},
		{"three in one trench", []site.TrenchLeg{main, {ID: "b", Route: main.Route, CoverM: 0.15}, {ID: "c", Route: main.Route, CoverM: 0.3}}, 15},
		{"a leg without length", []site.TrenchLeg{main, {ID: "b", Route: site.Line{at(1, 1)}, CoverM: 0.15}}, 15},
	}
	for _, c := range cases {
		near(t, c.name, lengthOf(open.Trenches(c.legs, site.SameTrenchM)), c.want, 1e-5)
	}
}

func TestTrenchDeepestFirst(t *testing.T) {
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	legs := []site.TrenchLeg{
		{ID: "a", Route: site.Line{at(0, 0), at(20, 0)}, CoverM: 0.15},
		{ID: "b", Route: site.Line{at(5, 0), at(12, 0), at(12, 6)}, CoverM: 0.45},
	}
	pieces := frontGarden().Trenches(legs, site.SameTrenchM)
	sums := site.SumTrenches(pieces)
	total := 0.0
	for i, s := range sums {
		total += s.LengthM
		if i > 0 && s.CoverM > sums[i-1].CoverM {
			t.Errorf("not deepest first: %+v", sums)
		}
	}
	near(t, "a and b share 7 m", total, 20+6, 1e-5)
	for _, p := range pieces {
		shared := p.Leg == "b" && p.From < 7-1e-6
		if slices.Equal(p.Sharing, []string{"a"}) != shared {
			t.Errorf("%s from %v to %v is shared by %v", p.Leg, p.From, p.To, p.Sharing)
		}
	}
	// b is dug whole at 0.45 m: 7 m along the edge of the drive, 4 m north of
	// that in the drive, of which 2 m under the slab's east edge, 2 m in the
	// lawn.
	want := map[string]float64{
		"0.45 [home-drive]": 7 + 2, "0.45 [home-drive slab]": 2, "0.45 []": 2,
		"0.15 [home-drive]": 13,
	}
	for _, s := range sums {
		key := fmt.Sprint(s.CoverM, " ", s.Kinds)
		near(t, key, s.LengthM, want[key], 1e-5)
		delete(want, key)
	}
	if len(want) > 0 {
		t.Errorf("no trench of %v", want)
	}
}

// TestTrenchesProperties holds on random sites: no more is dug than there is
// leg, nor less than the longest leg; every leg lies in what is dug; the order
// of the legs and a move of the site change nothing.
func TestTrenchesProperties(t *testing.T) {
	rng := newRand(100)
	for range 60 {
		m := randomMove(rng)
		trunk := gentleLine(rng, 4)
		var legs, moved []site.TrenchLeg
		sum, longest := 0.0, 0.0
		for i := range 8 {
			route := walkLine(rng, 3, 20)
			if i%2 == 0 { // along the trunk, then off it
				route = append(trunk.Part(0, trunk.Length()*rng.Float64()), randomPoint(rng, 20))
			}
			cover := []float64{0.15, 0.45}[rng.IntN(2)]
			id := fmt.Sprint("leg", i)
			legs = append(legs, site.TrenchLeg{ID: id, Route: route, CoverM: cover})
			moved = append(moved, site.TrenchLeg{ID: id, Route: m.line(route), CoverM: cover})
			sum, longest = sum+route.Length(), math.Max(longest, route.Length())
		}
		open := site.NewGround(nil)
		pieces := open.Trenches(legs, site.SameTrenchM)
		dug := lengthOf(pieces)
		if dug > sum+1e-6 || dug < longest-1e-6 {
			t.Fatalf("%v dug for legs of %v, the longest %v", dug, sum, longest)
		}
		near(t, "moved", lengthOf(open.Trenches(moved, site.SameTrenchM)), dug, 1e-5)
		rng.Shuffle(len(legs), func(i, j int) { legs[i], legs[j] = legs[j], legs[i] })
		if got := open.Trenches(legs, site.SameTrenchM); fmt.Sprint(got) != fmt.Sprint(pieces) {
			t.Fatal("the trenches depend on the order of the legs")
		}
		checkAllLegsDug(t, legs, pieces)
	}
}

func checkAllLegsDug(t *testing.T, legs []site.TrenchLeg, pieces []site.TrenchPiece) {
	t.Helper()
	for _, leg := range legs {
		for s := 0.0; s < leg.Route.Length(); s += 0.1 {
			p, _, _ := leg.Route.Along(s)
			if !slices.ContainsFunc(pieces, func(tp site.TrenchPiece) bool {
				return site.PointLine(p, tp.Line).M <= site.SameTrenchM+1e-5 && tp.CoverM >= leg.CoverM
			}) {
				t.Fatalf("%s lies in no trench at %v", leg.ID, p)
			}
		}
	}
}

// TestTrenchUnion compares with the union of intervals when all legs lie on one
// straight line.
func TestTrenchUnion(t *testing.T) {
	rng := newRand(101)
	for range 200 {
		var legs []site.TrenchLeg
		covered := make([]bool, 1000) // half metres, so that no gap is bridged
		for i := range 1 + rng.IntN(10) {
			a, n := rng.IntN(900), 1+rng.IntN(99)
			for k := a; k < a+n; k++ {
				covered[k] = true
			}
			route := site.Line{{X: float64(a) / 2}, {X: float64(a+n) / 2}}
			legs = append(legs, site.TrenchLeg{ID: fmt.Sprint(i), Route: route, CoverM: 0.15})
		}
		want := 0.0
		for _, c := range covered {
			if c {
				want += 0.5
			}
		}
		near(t, "union", lengthOf(site.NewGround(nil).Trenches(legs, site.SameTrenchM)), want, 1e-5)
	}
}
