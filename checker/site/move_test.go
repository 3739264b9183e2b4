package site_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// moveTol is what LeastMove promises, with room for the last halving.
const moveTol = 3e-3

// TestLeastMoveOutOfShapes compares with the exact least move out of one shape:
// to the nearest point of its edge.
func TestLeastMoveOutOfShapes(t *testing.T) {
	rng := newRand(120)
	for range 200 {
		g := starRing(rng, 3+rng.IntN(8), r2.Vec{}, 4)
		d := site.Disc{Centre: randomPoint(rng, 2), RadiusM: 1 + rng.Float64()}
		for name, c := range map[string]struct {
			clear func(r2.Vec) float64
			p     r2.Vec
		}{
			"polygon": {g.Distance, r2.Scale(0.3, g[0])},
			"disc":    {d.Distance, r2.Add(d.Centre, r2.Vec{X: 0.4})},
		} {
			need := -c.clear(c.p)
			at, ok := site.LeastMove(c.p, c.clear, 10)
			if need <= 0 {
				continue
			}
			if !ok || c.clear(at) < 0 {
				t.Fatalf("%s: moved to %v, %v", name, at, ok)
			}
			near(t, name, r2.Norm(r2.Sub(at, c.p)), need, moveTol)
		}
	}
}

// TestLeastMoveOfSeveral moves a light out of a gate's swing and off a path at
// once: out of one, it must not come to stand in the other.
func TestLeastMoveOfSeveral(t *testing.T) {
	const foot = 0.3048
	sweep := sideGate().Sweep()
	path := site.Strip{Centreline: site.Line{{X: -3, Y: 2}, {X: -3, Y: -4}}, WidthM: 1.2}
	clear := func(p r2.Vec) float64 {
		return math.Min(sweep.Clearance(p, 0.1).GapM-foot, path.Distance(p)-0.1)
	}
	p := r2.Vec{X: -0.9, Y: -0.9}
	at, ok := site.LeastMove(p, clear, 5)
	if !ok || clear(at) < 0 {
		t.Fatalf("moved to %v, %v: room %v", at, ok, clear(at))
	}
	// The swing alone asks for a move straight out.
	want := foot + 0.1 + 1.0668 - r2.Norm(p)
	near(t, "move", r2.Norm(r2.Sub(at, p)), want, moveTol)
	// Hemmed in by a wider path, it has to go another way, farther.
	path.WidthM = 4.4
	at, ok = site.LeastMove(p, clear, 5)
	if !ok || clear(at) < 0 || r2.Norm(r2.Sub(at, p)) < want {
		t.Errorf("hemmed in: moved to %v, %v", at, ok)
	}
}

func TestLeastMoveRefused(t *testing.T) {
	far := func(p r2.Vec) float64 { return r2.Norm(p) - 8 }
	if _, ok := site.LeastMove(r2.Vec{}, far, 7.9); ok {
		t.Error("found within 7.9 m what is 8 m away")
	}
	if at, ok := site.LeastMove(r2.Vec{}, far, 8.1); !ok || math.Abs(r2.Norm(at)-8) > moveTol {
		t.Errorf("8 m away: %v, %v", at, ok)
	}
	here := r2.Vec{X: 9, Y: 1}
	if at, ok := site.LeastMove(here, far, 0); !ok || at != here {
		t.Errorf("no need to move: %v, %v", at, ok)
	}
	nan := func(r2.Vec) float64 { return math.NaN() }
	for _, x := range nasty {
		if _, ok := site.LeastMove(r2.Vec{X: x}, nan, 1); ok {
			t.Errorf("x = %v: found where nothing is known", x)
		}
		if _, ok := site.LeastMove(r2.Vec{}, far, x); ok != (x >= 8 && x <= site.MaxCoordM) {
			t.Errorf("within %v: %v", x, ok)
		}
	}
}
