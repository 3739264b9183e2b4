package light

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Rows as EN 13201-3 (from memory) lays them: one on a path up to 1 m wide, else
// at least three, no more than 1.5 m apart, the outer ones half a gap inside.
func TestPathGrid(t *testing.T) {
	line := []r3.Vec{{}, {X: 6, Z: 1}, {X: 6, Y: -4, Z: 1}}
	for _, c := range []struct {
		width, step, along float64
		rows, stations     int
	}{
		{0.8, 0, 0.5, 1, 20}, {1.2, 0.5, 0.5, 3, 20}, {4.5, 0.3, 10.0 / 34, 3, 34}, {6, 1, 1, 5, 10}, {0, 3, 2.5, 1, 4},
	} {
		g, err := PathGrid(line, c.width, c.step)
		if err != nil {
			t.Fatal(err)
		}
		if g.Rows != c.rows || len(g.StationsM) != c.stations || len(g.Points) != c.rows*c.stations {
			t.Errorf("width %g, step %g: %d rows, %d stations, %d points", c.width, c.step, g.Rows, len(g.StationsM), len(g.Points))
		}
		wantRel(t, "step", g.AlongM, c.along, 1e-12)
		for k, i := range g.Middle() {
			p := g.Points[i].At
			s := g.StationsM[k]
			want := r3.Vec{X: s, Z: s / 6}
			if s > 6 {
				want = r3.Vec{X: 6, Y: 6 - s, Z: 1}
			}
			if length(r3.Sub(p, want)) > 1e-12 {
				t.Errorf("station %g is at %v, want %v", s, p, want)
			}
		}
	}
	g, _ := PathGrid(line, 1.2, 0.5)
	if first := g.Points[0].At; math.Abs(first.Y-0.4) > 1e-12 { // heading east, left is north
		t.Errorf("first row at %v, want 0.4 m to the left", first)
	}
}

// Absurd lengths get a coarser step, and say so; what is no line is refused.
func TestGridLimits(t *testing.T) {
	g, err := PathGrid([]r3.Vec{{}, {X: 1e9}}, 1.2, 0.1)
	if err != nil || len(g.Points) > MaxGridPoints || g.AlongM < 1e3 {
		t.Errorf("%d points at %g m, %v", len(g.Points), g.AlongM, err)
	}
	a, err := AreaGrid([]r2.Vec{{}, {X: 1e6}, {X: 1e6, Y: 1e6}, {Y: 1e6}}, 0, 0.01)
	if err != nil || len(a.Points) > 2*MaxGridPoints {
		t.Errorf("%d points, %v", len(a.Points), err)
	}
	thin, err := AreaGrid([]r2.Vec{{}, {X: 1e6}, {X: 1e6, Y: 1e-6}}, 0, 0.01)
	if err != nil || len(thin.Points) == 0 || len(thin.Points) > 2*MaxGridPoints {
		t.Errorf("%d points, %v", len(thin.Points), err)
	}
	nan := math.NaN()
	for _, line := range [][]r3.Vec{nil, {{}}, {{}, {}}, {{}, {X: nan}}, {{}, {Z: 1}}} {
		if _, err := PathGrid(line, 1, 1); err == nil {
			t.Errorf("path along %v accepted", line)
		}
		if _, err := UprightGrid(line, 1.5, 1, FacingLeft); err == nil {
			t.Errorf("line %v accepted", line)
		}
	}
	for _, bad := range [][2]float64{{-1, 1}, {nan, 1}, {1, -1}, {1, nan}} {
		if _, err := PathGrid([]r3.Vec{{}, {X: 1}}, bad[0], bad[1]); err == nil {
			t.Errorf("width %g and step %g accepted", bad[0], bad[1])
		}
	}
	for _, ring := range [][]r2.Vec{nil, {{}, {X: 1}}, {{}, {}, {}}, {{}, {X: nan}, {Y: 1}}} {
		if _, err := AreaGrid(ring, 0, 1); err == nil {
			t.Errorf("area %v accepted", ring)
		}
	}
}

// The points of an area are all inside, by a general-purpose geometry library,
// and each stands for a cell: together they make up the area.
func TestAreaGrid(t *testing.T) {
	rng := rand.New(rand.NewPCG(59, 61))
	for range 100 {
		outline, ring := starShape(rng)
		g, err := AreaGrid(outline, 0.3, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range g.Points {
			if !planar.RingContains(ring, orb.Point{p.At.X, p.At.Y}) || p.At.Z != 0.3 || p.Normal != Up {
				t.Fatalf("point %v", p)
			}
		}
		area := math.Abs(planar.Area(ring))
		got := float64(len(g.Points)) * g.AlongM * g.AcrossM
		if math.Abs(got-area) > 0.02*area+0.05*planar.Length(ring)*0.2 {
			t.Errorf("cells make %g m2 of %g m2", got, area)
		}
	}
	// Step by p = 0.2 x 5^(log10 d) (EN 12464, from memory): 5 m gives 0.616,
	// 10 m 1.0, 2 m 0.325.
	for _, c := range [][2]float64{{2, 0.325}, {5, 0.616}, {10, 1}, {40, 1}} {
		g, err := AreaGrid([]r2.Vec{{}, {X: c[0]}, {X: c[0], Y: c[0]}, {Y: c[0]}}, 0, 0)
		if err != nil || g.AlongM > c[1]*1.001 || g.AlongM < 0.8*c[1] {
			t.Errorf("side %g: step %g, want at most %g (%v)", c[0], g.AlongM, c[1], err)
		}
	}
	sliver, err := AreaGrid([]r2.Vec{{}, {X: 1}, {X: 1, Y: 0.02}, {Y: 0.01}}, 0, 5)
	if err != nil || len(sliver.Points) != 1 {
		t.Errorf("sliver: %d points, %v", len(sliver.Points), err)
	}
}

func TestUprightGrid(t *testing.T) {
	line := []r3.Vec{{}, {X: 10}}
	left, err := UprightGrid(line, 1.5, 0, FacingLeft)
	if err != nil {
		t.Fatal(err)
	}
	right, _ := UprightGrid(line, 1.5, 0, FacingRight)
	if len(left.Points) != 10 || left.Points[0].At != at(0.5, 0, 1.5) {
		t.Errorf("%d points from %v", len(left.Points), left.Points[0].At)
	}
	e := evaluator(t, nil, candelas("L", at(5, 3, 1.5), 90)) // on the left
	f, err := e.Evaluate(context.Background(), append(left.Points, right.Points...))
	if err != nil {
		t.Fatal(err)
	}
	lux := f.Lux(nil)
	s := Summarise(lux[:10])
	wantRel(t, "worst point", s.MaxLux, 90*3/math.Pow(9.25, 1.5), closeRel)
	if s.MaxAt != 4 {
		t.Errorf("worst point is %d", s.MaxAt)
	}
	if Summarise(lux[10:]).MaxLux != 0 {
		t.Error("lit from behind")
	}
}

func TestTreadPoints(t *testing.T) {
	tr := Tread{FrontLeft: r2.Vec{}, FrontRight: r2.Vec{X: 1.2}, BackRight: r2.Vec{X: 1.2, Y: 0.3}, BackLeft: r2.Vec{Y: 0.3}, ElevationM: 0.17, WalkM: 0.4}
	want := map[string]r3.Vec{
		"strip": at(0.4, 0.15, 0.17), "centre": at(0.6, 0.15, 0.17),
		"front-left": at(0.02, 0.02, 0.17), "front-right": at(1.18, 0.02, 0.17),
		"back-right": at(1.18, 0.28, 0.17), "back-left": at(0.02, 0.28, 0.17),
	}
	points := tr.Points()
	for _, n := range points {
		if length(r3.Sub(n.Point.At, want[n.Name])) > 1e-12 || n.Point.Normal != Up {
			t.Errorf("%s at %v, want %v", n.Name, n.Point.At, want[n.Name])
		}
	}
	if len(PointsOf(points)) != len(want) {
		t.Errorf("%d points", len(points))
	}
	tr.WalkM = 0
	if p := tr.Points()[0].Point.At; p != tr.Points()[1].Point.At {
		t.Errorf("strip at %v without a walking line", p)
	}
}

// As the grid gets finer the average nears the integral, here gonum quadrature
// of a matt lamp over a square.
func TestGridRefinement(t *testing.T) {
	e := evaluator(t, nil, bare("L", at(0.4, 0.7, 1.1), NewLambert(), 300))
	want := quad.Fixed(func(x float64) float64 {
		return quad.Fixed(func(y float64) float64 { return e.Lux(ground(x, y)) }, 0, 2, 60, quad.Legendre{}, 0)
	}, 0, 2, 60, quad.Legendre{}, 0) / 4
	last := math.Inf(1)
	for _, step := range []float64{0.5, 0.25, 0.125, 0.0625} {
		g, err := AreaGrid([]r2.Vec{{}, {X: 2}, {X: 2, Y: 2}, {Y: 2}}, 0, step)
		if err != nil {
			t.Fatal(err)
		}
		f, err := e.Evaluate(context.Background(), g.Points)
		if err != nil {
			t.Fatal(err)
		}
		diff := math.Abs(Summarise(f.Lux(nil)).AvgLux-want) / want
		if diff > last/3 {
			t.Errorf("step %g: off by %.3g, at twice the step %.3g", step, diff, last)
		}
		last = diff
	}
	if last > 5e-4 {
		t.Errorf("finest grid is off by %g", last)
	}
}

func TestDarkStretches(t *testing.T) {
	st := []float64{0.5, 1.5, 2.5, 3.5, 4.5, 5.5}
	for _, c := range []struct {
		name string
		lux  []float64
		want []Stretch
	}{
		{"all lit", []float64{5, 5, 5, 5, 5, 5}, nil},
		{"all dark", []float64{0, 0, 0.5, 0, 0, 0}, []Stretch{{0, 6, 0}}},
		{"one gap", []float64{3, 3, 0, 0, 3, 3}, []Stretch{{1.5 + 2.0/3, 3.5 + 1.0/3, 0}}},
		{"both ends", []float64{0, 2, 2, 2, 2, 0}, []Stretch{{0, 1, 0}, {5, 6, 0}}},
		{"one point", []float64{2, 2, 0.5, 2, 2, 2}, []Stretch{{1.5 + 2.0/3, 2.5 + 1.0/3, 0.5}}},
		{"at the level", []float64{1, 1, 1, 1, 1, 1}, nil},
	} {
		got := DarkStretches(st, c.lux, 1, 6)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
			continue
		}
		for i := range got {
			if math.Abs(got[i].FromM-c.want[i].FromM)+math.Abs(got[i].ToM-c.want[i].ToM)+math.Abs(got[i].MinLux-c.want[i].MinLux) > 1e-12 {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
			}
		}
	}
	longest, ok := Longest([]Stretch{{0, 1, 0}, {4, 6, 0.5}, {8, 10, 0}})
	if !ok || longest != (Stretch{4, 6, 0.5}) || longest.LengthM() != 2 {
		t.Errorf("longest %v", longest)
	}
	if _, ok := Longest(nil); ok {
		t.Error("a longest of none")
	}
}

// A dark gap between two lamps, against the root of E(x) = level.
func TestDarkGapBetweenLamps(t *testing.T) {
	e := evaluator(t, nil, candelas("A", at(0, 0, 0.5), 10), candelas("B", at(12, 0, 0.5), 10))
	g, err := PathGrid([]r3.Vec{{}, {X: 12}}, 0.9, 0.05)
	if err != nil {
		t.Fatal(err)
	}
	f, err := e.Evaluate(context.Background(), g.Points)
	if err != nil {
		t.Fatal(err)
	}
	gap, ok := Longest(DarkStretches(g.StationsM, Pick(f.Lux(nil), g.Middle()), 0.5, 12))
	from := solve(0, 6, func(x float64) float64 { return 0.5 - e.Lux(ground(x, 0)) })
	if !ok || math.Abs(gap.FromM-from) > 0.001 || math.Abs(gap.ToM-(12-from)) > 0.001 {
		t.Errorf("gap %v, want %g to %g", gap, from, 12-from)
	}
	if s := fmt.Sprintf("%.2f", gap.LengthM()); s == "0.00" {
		t.Error("no gap")
	}
}
