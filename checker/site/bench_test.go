package site_test

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// estate is an invented site that grows with n: n surfaces on n plots, n legs
// and n fixtures, all of one density.
type estate struct {
	surfaces []site.Surface
	legs     []site.TrenchLeg
	fixtures []r2.Vec
}

func newEstate(n int) estate {
	rng := newRand(140)
	var e estate
	plot := func(i int) r2.Vec { return r2.Vec{X: 15 * float64(i%40), Y: 15 * float64(i/40)} }
	for i := range n {
		at := plot(i)
		m := move{deg: 360 * rng.Float64(), by: at}
		var region site.Region = starRing(rng, 12, at, 6)
		if i%3 == 0 {
			region = site.Strip{Centreline: m.line(gentleLine(rng, 4)), WidthM: 1.2}
		}
		e.surfaces = append(e.surfaces, site.Surface{ID: fmt.Sprintf("s%04d", i), Kind: "lawn", Region: region})
		route := m.line(gentleLine(rng, 3))
		if i%4 != 0 && i > 0 { // along the leg before it, then off it
			route = append(append(site.Line{}, e.legs[i-1].Route...), at)
		}
		if len(route) > 8 {
			route = route[len(route)-8:]
		}
		e.legs = append(e.legs, site.TrenchLeg{ID: fmt.Sprintf("w%04d", i), Route: route, CoverM: 0.15})
		e.fixtures = append(e.fixtures, r2.Add(at, randomPoint(rng, 12)))
	}
	return e
}

// sizes are the numbers of fixtures at which growth is read off: eight times as
// many should take little more than eight times as long.
var sizes = []int{250, 2000}

func BenchmarkCut(b *testing.B) {
	for _, n := range sizes {
		e := newEstate(n)
		ground := site.NewGround(e.surfaces)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for _, leg := range e.legs {
					ground.Cut(leg.Route)
				}
			}
		})
	}
}

func BenchmarkTrenches(b *testing.B) {
	for _, n := range sizes {
		e := newEstate(n)
		ground := site.NewGround(e.surfaces)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				ground.Trenches(e.legs, site.SameTrenchM)
			}
		})
	}
}

func BenchmarkStanding(b *testing.B) {
	for _, n := range sizes {
		e := newEstate(n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				ground := site.NewGround(e.surfaces)
				for _, p := range e.fixtures {
					ground.At(p, 0.1, 0.5)
				}
			}
		})
	}
}

func BenchmarkClearance(b *testing.B) {
	sweep := sideGate().Sweep()
	p := r2.Vec{X: -0.5, Y: -0.9}
	b.ReportAllocs()
	for b.Loop() {
		sweep.Clearance(p, 0.1)
	}
}

func BenchmarkLeastMove(b *testing.B) {
	sweep := sideGate().Sweep()
	clear := func(p r2.Vec) float64 { return sweep.Clearance(p, 0.1).GapM - 0.3 }
	b.ReportAllocs()
	for b.Loop() {
		site.LeastMove(r2.Vec{X: -0.5, Y: -0.5}, clear, 5)
	}
}

// TestClearanceAllocates guards the innermost question, asked for every fixture
// and gate: it must not allocate.
func TestClearanceAllocates(t *testing.T) {
	sweep := sideGate().Sweep()
	got := testing.AllocsPerRun(100, func() { sweep.Clearance(r2.Vec{X: -0.5, Y: -0.9}, 0.1) })
	if got != 0 {
		t.Errorf("a clearance makes %v allocations", got)
	}
}
