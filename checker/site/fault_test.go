package site_test

import (
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

func TestFaultsByHand(t *testing.T) {
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	kinds := func(fs []site.Fault) []site.FaultKind {
		var out []site.FaultKind
		for _, f := range fs {
			out = append(out, f.Kind)
		}
		return out
	}
	cases := []struct {
		name string
		g    site.Polygon
		want []site.FaultKind
	}{
		{"square", unitSquare, nil},
		{"L", ell, nil},
		{"closed by hand", append(append(site.Polygon{}, ell...), ell[0]), nil},
		{"empty", nil, []site.FaultKind{site.TooFewPoints}},
		{"one point", site.Polygon{at(1, 1)}, []site.FaultKind{site.TooFewPoints}},
		{"two points", site.Polygon{at(0, 0), at(1, 1)}, []site.FaultKind{site.TooFewPoints}},
		{"two points and back", site.Polygon{at(0, 0), at(1, 1), at(0, 0)}, []site.FaultKind{site.TooFewPoints}},
		{"repeated corner", site.Polygon{at(0, 0), at(1, 0), at(1, 0), at(1, 1)}, []site.FaultKind{site.RepeatedPoint}},
		{"bow tie", site.Polygon{at(0, 0), at(2, 2), at(2, 0), at(0, 2)}, []site.FaultKind{site.CrossesItself}},
		{"touches itself at a point", site.Polygon{at(0, 0), at(4, 0), at(4, 4), at(2, 0), at(0, 4)}, []site.FaultKind{site.CrossesItself, site.CrossesItself}},
		{"spike", site.Polygon{at(0, 0), at(4, 0), at(7, 0), at(4, 0), at(4, 4)}, []site.FaultKind{site.FoldsBack}},
		{"all on a line", site.Polygon{at(0, 0), at(1, 0), at(3, 0)}, []site.FaultKind{site.FoldsBack, site.FoldsBack}},
		{"sliver", site.Polygon{at(0, 0), at(4, 0), at(4, 2e-6), at(0, 2e-6)}, []site.FaultKind{site.NoArea}},
		{"NaN", site.Polygon{at(0, 0), at(math.NaN(), 0), at(1, 1)}, []site.FaultKind{site.Unusable}},
		{"infinite", site.Polygon{at(0, 0), at(1, math.Inf(1)), at(1, 1)}, []site.FaultKind{site.Unusable}},
		{"huge", site.Polygon{at(0, 0), at(1e308, 0), at(1, 1)}, []site.FaultKind{site.Unusable}},
	}
	for _, c := range cases {
		if got := kinds(c.g.Faults()); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	bow := cases[8].g.Faults()[0]
	if bow.I != 0 || bow.J != 2 || bow.Harmless() {
		t.Errorf("bow tie: edges %d and %d, harmless %v", bow.I, bow.J, bow.Harmless())
	}
	if f := cases[7].g.Faults()[0]; f.I != 2 || !f.Harmless() {
		t.Errorf("repeated corner: %+v", f)
	}
	for k := site.Unusable; k <= site.NoArea; k++ {
		if s := k.String(); s == "" || strings.HasPrefix(s, "fault(") {
			t.Errorf("fault %d has no words", int(k))
		}
	}
}

// exactlyCross decides by rational arithmetic, without rounding, whether two
// segments share a point.
func exactlyCross(s, u site.Segment) bool {
	side := func(p, q, r r2.Vec) int {
		x := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
		sub := func(a, b float64) *big.Rat { return new(big.Rat).Sub(x(a), x(b)) }
		l := new(big.Rat).Mul(sub(q.X, p.X), sub(r.Y, p.Y))
		m := new(big.Rat).Mul(sub(q.Y, p.Y), sub(r.X, p.X))
		return l.Cmp(m)
	}
	within := func(p, q, r r2.Vec) bool {
		return min(p.X, q.X) <= r.X && r.X <= max(p.X, q.X) && min(p.Y, q.Y) <= r.Y && r.Y <= max(p.Y, q.Y)
	}
	a, b := side(s.A, s.B, u.A), side(s.A, s.B, u.B)
	c, d := side(u.A, u.B, s.A), side(u.A, u.B, s.B)
	switch {
	case a*b < 0 && c*d < 0:
		return true
	case a == 0 && within(s.A, s.B, u.A), b == 0 && within(s.A, s.B, u.B),
		c == 0 && within(u.A, u.B, s.A), d == 0 && within(u.A, u.B, s.B):
		return true
	}
	return false
}

// TestSelfCrossingAgainstExact compares with rational arithmetic over all pairs
// of edges, on outlines with corners on a coarse lattice, where ends that just
// touch and edges that overlap are common.
func TestSelfCrossingAgainstExact(t *testing.T) {
	rng := newRand(60)
	good, bad := 0, 0
	for range 4000 {
		g := make(site.Polygon, 3+rng.IntN(5))
		for i := range g {
			g[i] = r2.Vec{X: float64(rng.IntN(9)) / 4, Y: float64(rng.IntN(9)) / 4}
		}
		if slices.ContainsFunc(g.Faults(), func(f site.Fault) bool {
			return f.Kind == site.RepeatedPoint || f.Kind == site.TooFewPoints || f.Kind == site.FoldsBack
		}) || g[0] == g[len(g)-1] {
			continue
		}
		want := false
		for i := range g {
			for j := i + 2; j < len(g); j++ {
				if i != 0 || j != len(g)-1 {
					want = want || exactlyCross(g.Edge(i), g.Edge(j))
				}
			}
		}
		got := slices.ContainsFunc(g.Faults(), func(f site.Fault) bool { return f.Kind == site.CrossesItself })
		if got != want {
			t.Fatalf("%v crosses itself: %v, exactly: %v", g, got, want)
		}
		if got {
			bad++
		} else {
			good++
		}
	}
	if good < 500 || bad < 500 {
		t.Errorf("%d good outlines and %d bad ones", good, bad)
	}
}

// TestStarRingsAreSimple holds that no good outline is refused.
func TestStarRingsAreSimple(t *testing.T) {
	rng := newRand(61)
	for range 500 {
		g := starRing(rng, 3+rng.IntN(60), randomPoint(rng, 1e5), 0.5+40*rng.Float64())
		if f := g.Faults(); f != nil {
			t.Fatalf("%v has faults %v", g, f)
		}
	}
}

// TestManyCornersStayCheap holds that the number of pairs looked at does not
// grow with the square of the corners: a comb of 20,000 teeth is judged.
func TestManyCornersStayCheap(t *testing.T) {
	for _, turned := range []bool{false, true} {
		var comb site.Polygon
		for i := range 20000 {
			p := r2.Vec{X: float64(i), Y: 100 * float64(1+i%2)}
			comb = append(comb, p)
		}
		comb = append(comb, r2.Vec{X: 19999, Y: 0}, r2.Vec{X: 0, Y: 0})
		if turned {
			comb = move{deg: 90}.polygon(comb)
		}
		if f := comb.Faults(); f != nil {
			t.Errorf("the comb has faults %v", f)
		}
	}
}

func TestSelfCrossingsOfLines(t *testing.T) {
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	loop := site.Line{at(0, 0), at(10, 0), at(10, 5), at(4, 5), at(4, -5)}
	got := loop.SelfCrossings()
	if len(got) != 1 {
		t.Fatalf("crossings = %+v", got)
	}
	near(t, "first time", got[0].StationM, 4, 1e-12)
	near(t, "second time", got[0].OtherStationM, 10+5+6+5, 1e-12)
	near(t, "angle", got[0].AngleDeg, 90, 1e-12)
	if got := bend.SelfCrossings(); got != nil {
		t.Errorf("a bend crosses itself: %v", got)
	}
	ring := site.Line{at(0, 0), at(10, 0), at(10, 5), at(0, 0)}
	if got := ring.SelfCrossings(); got != nil {
		t.Errorf("a ring crosses itself: %v", got)
	}
}
