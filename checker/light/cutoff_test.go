package light

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// mixed is a garden with every kind of distribution, tilted every way.
func mixed(t testing.TB, n int) ([]Luminaire, []Occluder) {
	t.Helper()
	lums, blocks, _ := garden(n)
	rng := rand.New(rand.NewPCG(3, 5))
	var tables []Distribution
	for _, name := range samples(t) {
		tables = append(tables, mustDistribution(t, mustRead(t, sample(t, name))))
	}
	tables = append(tables, NewLambert(), NewIsotropic())
	for i := range lums {
		if i%3 == 0 {
			lums[i].Light = tables[rng.IntN(len(tables))]
			lums[i].AimBearingDeg, lums[i].TiltDeg = 360*rng.Float64(), 400*rng.Float64()-100
			lums[i].ZeroBearingDeg = 360 * rng.Float64()
			if i%9 == 0 {
				lums[i].Opening = Opening{LengthM: 0.3, WidthM: 0.1, HeightM: 0.05}
			}
		}
	}
	return lums, blocks
}

// randomPoint is a place near the path, facing up or any way.
func randomPoint(rng *rand.Rand, lengthM float64) Point {
	p := Point{At: r3.Vec{X: lengthM * rng.Float64(), Y: 20*rng.Float64() - 10, Z: 2*rng.Float64() - 0.5}, Normal: Up}
	if rng.IntN(2) == 0 {
		p.Normal = Direction(360*rng.Float64(), 180*rng.Float64())
	}
	return p
}

// No bound of the cut-off is ever below what it bounds, for single luminaires
// and for whole branches.
func TestBoundsHold(t *testing.T) {
	lums, _ := mixed(t, 160)
	e := evaluator(t, nil, lums...)
	rng := rand.New(rand.NewPCG(17, 19))
	for range 400 {
		p := randomPoint(rng, 80)
		sums := make([]float64, len(e.order.nodes))
		for i := len(sums) - 1; i >= 0; i-- {
			n := &e.order.nodes[i]
			if n.left < 0 {
				sums[i] = e.lamps[n.item].lux(&e.blocks, &p)
			} else {
				sums[i] = sums[n.left] + sums[n.right]
			}
			if bound := boundLux(&n.box, &e.bands[i], &p); bound < sums[i]*(1-1e-12) {
				t.Fatalf("node %d at %v: bound %g lx, true %g lx", i, p, bound, sums[i])
			}
		}
	}
}

// The value with a cut-off is never above the exact one and never below it by
// more than the stated bound.
func TestCutoffKeepsItsBound(t *testing.T) {
	lums, blocks := mixed(t, 300)
	exact := evaluator(t, blocks, lums...)
	rng := rand.New(rand.NewPCG(23, 29))
	for _, cutoff := range []float64{1, 0.1, 0.01, 0.0001} {
		e, err := NewEvaluator(lums, blocks, Options{CutoffLux: cutoff})
		if err != nil {
			t.Fatal(err)
		}
		worst, left := 0.0, 0
		for range 150 {
			p := randomPoint(rng, 150)
			a, b := exact.Lux(p), e.Lux(p)
			if b > a*(1+1e-12) || a-b > cutoff {
				t.Fatalf("cut-off %g at %v: exact %g, got %g", cutoff, p, a, b)
			}
			worst = max(worst, a-b)
			if a != b {
				left++
			}
		}
		t.Logf("cut-off %g lx: worst error %.2g lx, %d of 150 points had something left out", cutoff, worst, left)
		if cutoff >= 0.1 && left == 0 {
			t.Errorf("a cut-off of %g left nothing out: not tested", cutoff)
		}
	}
}

// The answer does not depend on the number of workers or on the run.
func TestSameAnswerForAnyWorkers(t *testing.T) {
	lums, blocks := mixed(t, 120)
	g, err := PathGrid([]r3.Vec{{}, {X: 60}}, 1.2, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	var want []float64
	for _, workers := range []int{1, 2, 7, 0} {
		e, err := NewEvaluator(lums, blocks, Options{Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		f, err := e.Evaluate(context.Background(), g.Points)
		if err != nil {
			t.Fatal(err)
		}
		got := f.Lux(nil)
		if want == nil {
			want = got
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("%d workers: other values", workers)
		}
		for i := range g.Points {
			if f.LuxAt(i, nil) != e.Lux(f.Point(i)) {
				t.Fatalf("point %d: field and single value differ", i)
			}
		}
	}
}

// Work for one point hardly grows with the size of the site: eight times the
// fixtures on eight times the path open little more of the index.
func TestWorkGrowsNearLinearly(t *testing.T) {
	var perPoint []float64
	for _, n := range []int{250, 2000} {
		lums, _, centre := garden(n)
		e, err := NewEvaluator(lums, nil, Options{})
		if err != nil {
			t.Fatal(err)
		}
		g, err := PathGrid(centre, 0.9, 5)
		if err != nil {
			t.Fatal(err)
		}
		var work gatherer
		for _, p := range g.Points {
			work.gather(e, p)
		}
		perPoint = append(perPoint, float64(work.opened)/float64(len(g.Points)))
	}
	t.Logf("nodes opened for a point: %.0f of 250 fixtures, %.0f of 2,000", perPoint[0], perPoint[1])
	if perPoint[1] > 2*perPoint[0] {
		t.Errorf("a point of the large site costs %.2f times one of the small", perPoint[1]/perPoint[0])
	}
}

// Allocation of one whole plan is bounded: storage is kept from point to point.
func TestPlanAllocations(t *testing.T) {
	lums, blocks, centre := garden(40)
	g, err := PathGrid(centre, 1.2, 0)
	if err != nil {
		t.Fatal(err)
	}
	got := testing.AllocsPerRun(5, func() {
		e, err := NewEvaluator(lums, blocks, Options{Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := e.Evaluate(context.Background(), g.Points); err != nil {
			t.Fatal(err)
		}
	})
	if limit := 2*float64(len(g.Points)) + 6*float64(len(lums)+len(blocks)); got > limit {
		t.Errorf("%g allocations for %d points, more than %g", got, len(g.Points), limit)
	}
}

func TestEvaluateStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	e := evaluator(t, nil, candelas("L", at(0, 0, 1), 10))
	if _, err := e.Evaluate(ctx, []Point{ground(0, 0)}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// What cannot be reckoned with is refused by name.
func TestUnusableInputRefused(t *testing.T) {
	good := candelas("L", at(0, 0, 1), 10)
	spoil := func(f func(*Luminaire)) Luminaire { l := good; f(&l); return l }
	for name, l := range map[string]Luminaire{
		"no distribution":  spoil(func(l *Luminaire) { l.Light = nil }),
		"position":         spoil(func(l *Luminaire) { l.At.X = math.NaN() }),
		"aim":              spoil(func(l *Luminaire) { l.TiltDeg = math.Inf(1) }),
		"negative flux":    spoil(func(l *Luminaire) { l.Lumens = -1 }),
		"endless flux":     spoil(func(l *Luminaire) { l.Lumens = math.Inf(1) }),
		"maintenance":      spoil(func(l *Luminaire) { l.Maintenance = 1.2 }),
		"negative opening": spoil(func(l *Luminaire) { l.Opening.LengthM = -0.1 }),
	} {
		if _, err := NewEvaluator([]Luminaire{l}, nil, Options{}); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
	nan := math.NaN()
	for _, o := range []Occluder{
		nil, Wall{ID: "t", ThicknessM: -1}, Slab{ID: "u", Outline: make([]r2.Vec, 3), ThicknessM: -1}, Wall{ID: "a", TopM: nan}, Wall{ID: "b", Transmission: 1.1}, Prism{ID: "c"}, Slab{ID: "d"},
		Post{ID: "e", RadiusM: -1}, Canopy{ID: "f"}, Canopy{ID: "g", RadiusM: 1, HalfHeightM: 1, Transmission: nan},
	} {
		if _, err := NewEvaluator([]Luminaire{good}, []Occluder{o}, Options{}); err == nil {
			t.Errorf("occluder %+v: accepted", o)
		}
	}
	e := evaluator(t, nil, good)
	for _, p := range []Point{{At: at(0, 0, 0)}, {At: at(nan, 0, 0), Normal: Up}} {
		if _, err := e.Evaluate(context.Background(), []Point{p}); err == nil {
			t.Errorf("point %v: accepted", p)
		}
	}
	if lux := e.Lux(Point{At: at(0, 0, 0)}); lux != 0 {
		t.Errorf("a surface that faces nowhere gets %g lx", lux)
	}
	none := evaluator(t, nil)
	if lux := none.Lux(ground(0, 0)); lux != 0 {
		t.Errorf("no luminaire gives %g lx", lux)
	}
}
