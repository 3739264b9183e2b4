package light

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// through is the share of light from a to b among occluders.
func through(t testing.TB, a, b r3.Vec, occluders ...Occluder) float64 {
	t.Helper()
	o, err := newObstacles(occluders)
	if err != nil {
		t.Fatal(err)
	}
	return o.through(&source{at: a}, b)
}

// Shadow of an upright edge on level ground, by similar triangles: a lamp H up
// over a wall h high at distance a throws a shadow to a H/(H-h).
func TestShadowLength(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 37))
	for range 300 {
		lampM := 0.5 + 4*rng.Float64()
		topM := lampM * (0.05 + 0.9*rng.Float64())
		awayM := 0.3 + 5*rng.Float64()
		turn := 2 * math.Pi * rng.Float64()
		end := awayM * lampM / (lampM - topM)
		put := func(along, across float64) r3.Vec {
			sin, cos := math.Sincos(turn)
			return r3.Vec{X: along*cos - across*sin, Y: along*sin + across*cos}
		}
		wall := Wall{ID: "W", A: flat(put(awayM, -3)), B: flat(put(awayM, 3)), TopM: topM}
		lamp := r3.Vec{Z: lampM}
		for _, c := range []struct{ at, want float64 }{
			{awayM * 0.99, 1}, {awayM*1.01 + 0.01, 0}, {end - 1e-4*end, 0}, {end + 1e-4*end, 1},
		} {
			if got := through(t, lamp, put(c.at, 0), wall); got != c.want && c.at < end*1.01 {
				t.Fatalf("lamp %g, wall %g at %g: at %g got %g, want %g (shadow ends at %g)", lampM, topM, awayM, c.at, got, c.want, end)
			}
		}
		// Past the ends of the wall there is light: at twice its distance the
		// shadow is twice as wide, 6 m to each side.
		if topM > 0.6*lampM {
			for _, c := range [][2]float64{{5.99, 0}, {6.01, 1}} {
				if got := through(t, lamp, put(2*awayM, c[0]), wall); got != c[1] {
					t.Fatalf("beside the wall at %g: got %g, want %g", c[0], got, c[1])
				}
			}
		}
	}
}

// The shadow of a post: tangents from the lamp touch it at asin(r/d).
func TestPostShadowWidth(t *testing.T) {
	post := Post{ID: "P", Centre: r2.Vec{X: 2}, RadiusM: 0.1, TopM: 3}
	half := math.Asin(0.1 / 2)
	lamp := r3.Vec{Z: 1}
	for _, c := range []struct{ angle, want float64 }{
		{0, 0}, {half * 0.98, 0}, {half * 1.02, 1}, {-half * 0.98, 0}, {-half * 1.02, 1}, {math.Pi, 1},
	} {
		sin, cos := math.Sincos(c.angle)
		if got := through(t, lamp, r3.Vec{X: 4 * cos, Y: 4 * sin}, post); got != c.want {
			t.Errorf("at %g of %g: got %g, want %g", c.angle, half, got, c.want)
		}
	}
	if got := through(t, r3.Vec{Z: 5}, r3.Vec{X: 8, Z: 2}, post); got != 1 {
		t.Errorf("over the post: %g", got)
	}
	if got := through(t, r3.Vec{X: 2, Z: 5}, r3.Vec{X: 2, Z: 1}, post); got != 0 {
		t.Errorf("straight down into the post: %g", got)
	}
}

// A canopy keeps T^(chord/chord through the middle): T through the middle, and
// through a sphere past the middle at b the chord is sqrt(1-b2/r2) of the whole.
func TestCanopyChord(t *testing.T) {
	tree := Canopy{ID: "T", Centre: r3.Vec{X: 5, Z: 2}, RadiusM: 1, HalfHeightM: 1, Transmission: 0.3}
	for _, b := range []float64{0, 0.25, 0.5, 0.9, 0.999} {
		got := through(t, r3.Vec{Y: b, Z: 2}, r3.Vec{X: 10, Y: b, Z: 2}, tree)
		wantRel(t, fmt.Sprintf("past the middle by %g", b), got, math.Pow(0.3, math.Sqrt(1-b*b)), 1e-9)
	}
	wantRel(t, "beside it", through(t, r3.Vec{Y: 1.001, Z: 2}, r3.Vec{X: 10, Y: 1.001, Z: 2}, tree), 1, 0)
	// From the middle outward only half the chord counts.
	wantRel(t, "from the middle", through(t, tree.Centre, r3.Vec{X: 10, Z: 2}, tree), math.Sqrt(0.3), 1e-3)
	tall := Canopy{ID: "T", Centre: r3.Vec{Z: 4}, RadiusM: 1, HalfHeightM: 3, Transmission: 0.5}
	wantRel(t, "upright through a tall one", through(t, r3.Vec{}, r3.Vec{Z: 9}, tall), 0.5, 1e-9)
	solid := Canopy{ID: "T", Centre: r3.Vec{Z: 4}, RadiusM: 1, HalfHeightM: 3}
	wantRel(t, "no light through a solid one", through(t, r3.Vec{}, r3.Vec{Z: 9}, solid), 0, 0)
}

// Shares multiply along the ray, and each solid counts once.
func TestTransmissionsMultiply(t *testing.T) {
	hedge := Wall{ID: "H", A: r2.Vec{X: 1, Y: -5}, B: r2.Vec{X: 1, Y: 5}, TopM: 2, ThicknessM: 0.6, Transmission: 0.1}
	fence := Wall{ID: "F", A: r2.Vec{X: 3, Y: -5}, B: r2.Vec{X: 3, Y: 5}, TopM: 2, Transmission: 0.5}
	yard := Prism{ID: "Y", Outline: []r2.Vec{{X: 5, Y: -5}, {X: 6, Y: -5}, {X: 6, Y: 5}, {X: 5, Y: 5}}, TopM: 2, Transmission: 0.25}
	got := through(t, r3.Vec{Z: 1}, r3.Vec{X: 10, Z: 1}, hedge, fence, yard)
	wantRel(t, "product", got, 0.1*0.5*0.25, 1e-12)
}

// A deck lets light down only through its gap; a lamp above sees the deck, one
// below does not reach up.
func TestSlabWithOpening(t *testing.T) {
	box := func(x0, y0, x1, y1 float64) []r2.Vec {
		return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	}
	for _, thick := range []float64{0, 0.05} {
		deck := Slab{ID: "D", Outline: box(0, 0, 4, 4), Openings: [][]r2.Vec{box(1.9, 1.9, 2.1, 2.1)}, TopM: 0.8, ThicknessM: thick}
		up := r3.Vec{X: 2, Y: 2, Z: 0.1}
		for _, c := range []struct {
			to   r3.Vec
			want float64
		}{
			{r3.Vec{X: 2, Y: 2, Z: 5}, 1}, {r3.Vec{X: 2.3, Y: 2, Z: 5}, 1}, {r3.Vec{X: 3, Y: 2, Z: 5}, 0},
			{r3.Vec{X: 3, Y: 3, Z: 0}, 1}, {r3.Vec{X: 9, Y: 2, Z: 0.5}, 1}, {r3.Vec{X: 2, Y: 2, Z: 0.7}, 1},
		} {
			if got := through(t, up, c.to, deck); got != c.want {
				t.Errorf("thickness %g, toward %v: got %g, want %g", thick, c.to, got, c.want)
			}
		}
		// The deck itself is lit from above at its own height.
		wantRel(t, "on the deck", through(t, r3.Vec{X: 1, Y: 1, Z: 3}, r3.Vec{X: 3, Y: 3, Z: 0.8}, deck), 1, 0)
		// And the underside keeps it from the lamp below.
		wantRel(t, "on the deck from below", through(t, up, r3.Vec{X: 3, Y: 3, Z: 0.8 + 0.01}, deck), 0, 0)
	}
}

// Prisms, slabs and posts against brute force: the ray is walked in small steps
// and each step is tested for being inside, with a general-purpose geometry
// library for the polygon.
func TestShadowsAgainstBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 43))
	for round := range 400 {
		outline, ring := starShape(rng)
		base := rng.Float64()
		prism := Prism{ID: "P", Outline: outline, BaseM: base, TopM: base + 0.2 + rng.Float64()}
		a := r3.Vec{X: 8*rng.Float64() - 4, Y: 8*rng.Float64() - 4, Z: 3 * rng.Float64()}
		b := r3.Vec{X: 8*rng.Float64() - 4, Y: 8*rng.Float64() - 4, Z: 3 * rng.Float64()}
		inside := 0
		const steps = 4000
		for i := range steps {
			q := r3.Add(a, r3.Scale((float64(i)+0.5)/steps, r3.Sub(b, a)))
			if q.Z > prism.BaseM && q.Z < prism.TopM && planar.RingContains(ring, orb.Point{q.X, q.Y}) {
				inside++
			}
		}
		insideM := float64(inside) / steps * length(r3.Sub(b, a))
		if math.Abs(insideM-GrazeM) < 0.01 {
			continue // too close to call at this step
		}
		got := through(t, a, b, prism)
		if want := map[bool]float64{true: 0, false: 1}[inside > 0]; got != want {
			t.Fatalf("round %d: %g m of the ray inside, share %g", round, insideM, got)
		}
	}
}

// starShape is a simple polygon, often hollow-sided, round the origin.
func starShape(rng *rand.Rand) ([]r2.Vec, orb.Ring) {
	var outline []r2.Vec
	var ring orb.Ring
	n := 3 + rng.IntN(9)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.4*rng.Float64()) / float64(n))
		r := 0.4 + 2.5*rng.Float64()
		outline = append(outline, r2.Vec{X: r * cos, Y: r * sin})
		ring = append(ring, orb.Point{r * cos, r * sin})
	}
	return outline, append(ring, ring[0])
}

// The index finds what a plain walk through all occluders finds.
func TestIndexAgainstPlainWalk(t *testing.T) {
	_, blocks := mixed(t, 200)
	rng := rand.New(rand.NewPCG(47, 53))
	for range 500 {
		a, b := randomPoint(rng, 100).At, randomPoint(rng, 100).At
		got := through(t, a, b, blocks...)
		plain, err := newExtras(blocks)
		if err != nil {
			t.Fatal(err)
		}
		want := plain.through(&source{at: a}, b)
		if math.Abs(got-want) > 1e-12 {
			t.Fatalf("%v to %v: index %g, plain %g", a, b, got, want)
		}
	}
}

// A field behind a gate leaf equals a new evaluation with the leaf in place, for
// every position of its swing, sized luminaires included.
func TestBehindEqualsFreshEvaluation(t *testing.T) {
	lums, blocks := mixed(t, 60)
	g, err := PathGrid([]r3.Vec{{}, {X: 30}}, 1.2, 1)
	if err != nil {
		t.Fatal(err)
	}
	e := evaluator(t, blocks, lums...)
	f, err := e.Evaluate(context.Background(), g.Points)
	if err != nil {
		t.Fatal(err)
	}
	changed := 0
	for swing := 0.0; swing <= 90; swing += 15 {
		tip := r2.Add(r2.Vec{X: 10}, r2.Scale(1.1, flat(Direction(swing, 90))))
		leaf := Wall{ID: "leaf", A: r2.Vec{X: 10}, B: tip, BaseM: 0.05, TopM: 1.2}
		slats := Wall{ID: "slats", A: r2.Vec{X: 15}, B: r2.Add(tip, r2.Vec{X: 5}), TopM: 1.5, Transmission: 0.4}
		one, err := f.Behind(leaf)
		if err != nil {
			t.Fatal(err)
		}
		both, err := one.Behind(slats)
		if err != nil {
			t.Fatal(err)
		}
		fresh, err := evaluator(t, append([]Occluder{leaf, slats}, blocks...), lums...).Evaluate(context.Background(), g.Points)
		if err != nil {
			t.Fatal(err)
		}
		for i := range g.Points {
			a, b := both.LuxAt(i, nil), fresh.LuxAt(i, nil)
			if math.Abs(a-b) > 1e-9*max(1, a) {
				t.Fatalf("swing %g, point %d: behind %g, fresh %g", swing, i, a, b)
			}
			if a < f.LuxAt(i, nil)*(1-1e-9) {
				changed++
			}
		}
	}
	if changed == 0 {
		t.Error("the leaf shaded nothing: not tested")
	}
	if _, err := f.Behind(Wall{ID: "bad", TopM: math.NaN()}); err == nil {
		t.Error("a leaf without a height was accepted")
	}
}
