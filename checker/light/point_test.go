package light

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// closeRel is the relative agreement asked of point sources, which are closed
// forms on both sides.
const closeRel = 1e-9

// wantRel fails unless got is within rel of want.
func wantRel(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > rel*math.Abs(want) {
		t.Errorf("%s: got %.10g, want %.10g (relative %.3g, allowed %.3g)",
			what, got, want, math.Abs(got-want)/math.Abs(want), rel)
	}
}

// bare is a luminaire with no size and no maintenance factor.
func bare(id string, at r3.Vec, d Distribution, lumens float64) Luminaire {
	return Luminaire{ID: id, At: at, Light: d, Lumens: lumens}
}

// candelas is an isotropic luminaire of that intensity.
func candelas(id string, at r3.Vec, cd float64) Luminaire {
	return bare(id, at, NewIsotropic(), cd*4*math.Pi)
}

// evaluator is made without a cut-off.
func evaluator(t testing.TB, occluders []Occluder, lums ...Luminaire) *Evaluator {
	t.Helper()
	e, err := NewEvaluator(lums, occluders, Options{CutoffLux: -1})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func ground(x, y float64) Point { return Point{At: r3.Vec{X: x, Y: y}, Normal: Up} }

func TestWallShadow(t *testing.T) {
	wall := Wall{ID: "W", A: r2.Vec{X: 1, Y: -5}, B: r2.Vec{X: 1, Y: 5}, TopM: 1}
	e := evaluator(t, []Occluder{wall}, candelas("L", r3.Vec{Z: 2}, 100))
	// By similar triangles the shadow of a wall 1 m high at 1 m ends at 2 m.
	if lux := e.Lux(ground(1.999, 0)); lux != 0 {
		t.Errorf("inside the shadow: %g lx", lux)
	}
	wantRel(t, "beyond it", e.Lux(ground(2.001, 0)), 100*2/math.Pow(4+2.001*2.001, 1.5), closeRel)
	f, err := e.Evaluate(context.Background(), []Point{ground(0.5, 0), ground(1.5, 0)})
	if err != nil {
		t.Fatal(err)
	}
	if f.LuxAt(0, nil) <= 0 || f.LuxAt(1, nil) != 0 {
		t.Errorf("got %v", f.Lux(nil))
	}
}
