package site_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// agreeTol is the difference allowed between two float64 computations of one
// quantity of the size of a garden.
const agreeTol = 1e-9

var (
	unitSquare = site.Polygon{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}}
	// ell is an L: a 4 by 4 square less its north-east 2 by 2 quarter.
	ell = site.Polygon{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 4}, {X: 0, Y: 4}}
)

func TestAreaAgainstLibrary(t *testing.T) {
	rng := newRand(1)
	for range 500 {
		g := starRing(rng, 3+rng.IntN(30), randomPoint(rng, 100), 1+20*rng.Float64())
		ring := toRing(g)
		near(t, "signed area", g.SignedArea(), planar.Area(ring), agreeTol)
		near(t, "area", g.Area(), math.Abs(planar.Area(ring)), agreeTol)
		near(t, "perimeter", g.Perimeter(), planar.Length(ring), agreeTol)
		if g.Anticlockwise() != (ring.Orientation() == orb.CCW) {
			t.Fatalf("orientation of %v differs", g)
		}
		if !g.Oriented().Anticlockwise() {
			t.Fatalf("oriented %v is not anticlockwise", g)
		}
	}
}

func TestTriangleAreaAgainstGonum(t *testing.T) {
	rng := newRand(2)
	for range 500 {
		tri := r2.Triangle{randomPoint(rng, 30), randomPoint(rng, 30), randomPoint(rng, 30)}
		near(t, "triangle", site.Polygon(tri[:]).Area(), tri.Area(), 1e-8)
	}
}

func TestAreaClosedForms(t *testing.T) {
	near(t, "square", unitSquare.Area(), 1, 0)
	near(t, "L", ell.Area(), 12, 0)
	// A regular polygon of n sides in a circle of radius r has the area
	// n r^2 sin(2 pi/n) / 2.
	for _, n := range []int{3, 4, 7, 64} {
		var g site.Polygon
		for i := range n {
			g = append(g, r2.Scale(3, site.Heading(360*float64(i)/float64(n))))
		}
		near(t, "regular", g.Area(), float64(n)*9*math.Sin(2*math.Pi/float64(n))/2, 1e-12)
	}
	// Far from the origin the digits are kept.
	far := move{by: r2.Vec{X: 9e5, Y: -9e5}}.polygon(unitSquare)
	near(t, "far square", far.Area(), 1, 1e-12)
	// Closing the ring, or repeating a point, changes nothing.
	near(t, "closed ring", append(append(site.Polygon{}, ell...), ell[0]).Area(), 12, 0)
}

func TestContainsAgainstLibrary(t *testing.T) {
	rng := newRand(3)
	judged := 0
	for range 200 {
		g := starRing(rng, 3+rng.IntN(25), randomPoint(rng, 20), 10)
		ring := toRing(g)
		for range 50 {
			p := randomPoint(rng, 40)
			edge := planar.DistanceFrom(orb.LineString(ring), toPoint(p))
			if edge <= 10*site.TouchM {
				continue // the library has no tolerance
			}
			judged++
			want := site.Outside
			if planar.RingContains(ring, toPoint(p)) {
				want = site.Inside
			}
			if got := g.Locate(p); got != want {
				t.Fatalf("Locate(%v) in %v = %v, want %v", p, g, got, want)
			}
			sign := 1.0
			if want == site.Inside {
				sign = -1
			}
			near(t, "signed distance", g.Distance(p), sign*edge, agreeTol)
		}
	}
	if judged < 9000 {
		t.Errorf("only %d points were judged", judged)
	}
}

func TestLocateOnBoundary(t *testing.T) {
	cases := []struct {
		name string
		p    r2.Vec
		want site.Where
	}{
		{"corner", r2.Vec{X: 0, Y: 0}, site.Boundary},
		{"inner corner", r2.Vec{X: 2, Y: 2}, site.Boundary},
		{"on an edge", r2.Vec{X: 4, Y: 1}, site.Boundary},
		{"on the extension of an edge", r2.Vec{X: 3, Y: 4}, site.Outside},
		{"level with a corner, inside", r2.Vec{X: 1, Y: 2}, site.Inside},
		{"level with a corner, outside", r2.Vec{X: -1, Y: 2}, site.Outside},
		{"half a tolerance outside", r2.Vec{X: 4 + site.TouchM/2, Y: 1}, site.Boundary},
		{"half a tolerance inside", r2.Vec{X: 4 - site.TouchM/2, Y: 1}, site.Boundary},
		{"two tolerances outside", r2.Vec{X: 4 + 2*site.TouchM, Y: 1}, site.Outside},
		{"two tolerances inside", r2.Vec{X: 4 - 2*site.TouchM, Y: 1}, site.Inside},
		{"in the notch", r2.Vec{X: 3, Y: 3}, site.Outside},
	}
	for _, c := range cases {
		if got := ell.Locate(c.p); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		if got := site.Polygon(site.Line(ell).Reverse()).Locate(c.p); got != c.want {
			t.Errorf("%s, other orientation: %v, want %v", c.name, got, c.want)
		}
		if got := ell.Contains(c.p); got != (c.want != site.Outside) {
			t.Errorf("%s: Contains = %v", c.name, got)
		}
	}
}

func TestNearestEdge(t *testing.T) {
	// A fixture 0.3 m inside the west edge of a plot, and one 0.5 m beyond
	// its south edge.
	in := ell.Nearest(r2.Vec{X: 0.3, Y: 2.5})
	if in.Edge != 5 || in.At != (r2.Vec{X: 0, Y: 2.5}) {
		t.Errorf("nearest edge inside: %+v", in)
	}
	near(t, "inside", in.M, -0.3, 1e-15)
	out := ell.Nearest(r2.Vec{X: 3, Y: -0.5})
	if out.Edge != 0 || out.At != (r2.Vec{X: 3, Y: 0}) {
		t.Errorf("nearest edge outside: %+v", out)
	}
	near(t, "outside", out.M, 0.5, 0)
	if e := ell.Edge(5); e != (site.Segment{A: r2.Vec{X: 0, Y: 4}, B: r2.Vec{X: 0, Y: 0}}) {
		t.Errorf("closing edge = %v", e)
	}
}
