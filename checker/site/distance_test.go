package site_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

func TestPointDistanceAgainstLibrary(t *testing.T) {
	rng := newRand(10)
	for range 2000 {
		p, s := randomPoint(rng, 20), site.Segment{A: randomPoint(rng, 20), B: randomPoint(rng, 20)}
		g := site.PointSegment(p, s)
		near(t, "point to segment", g.M, planar.DistanceFromSegment(toPoint(s.A), toPoint(s.B), toPoint(p)), agreeTol)
		near(t, "its foot", r2.Norm(r2.Sub(g.A, g.B)), g.M, agreeTol)
		l := walkLine(rng, 2+rng.IntN(8), 20)
		near(t, "point to line", site.PointLine(p, l).M, planar.DistanceFrom(toLine(l), toPoint(p)), agreeTol)
		near(t, "length", l.Length(), planar.Length(toLine(l)), agreeTol)
	}
}

// libraryGap is the least distance between two lines that do not cross, by the
// library: it is taken at a vertex of one of them.
func libraryGap(a, b orb.LineString) float64 {
	best := math.Inf(1)
	for _, p := range a {
		best = math.Min(best, planar.DistanceFrom(b, p))
	}
	for _, p := range b {
		best = math.Min(best, planar.DistanceFrom(a, p))
	}
	return best
}

func TestLineDistanceAgainstLibrary(t *testing.T) {
	rng := newRand(11)
	apart, meeting := 0, 0
	for range 2000 {
		a := walkLine(rng, 2+rng.IntN(5), 10)
		b := move{by: randomPoint(rng, 25)}.line(walkLine(rng, 2+rng.IntN(5), 10))
		g := site.LineLine(a, b)
		near(t, "gap ends", r2.Norm(r2.Sub(g.A, g.B)), g.M, agreeTol)
		if site.PointLine(g.A, a).M > agreeTol || site.PointLine(g.B, b).M > agreeTol {
			t.Fatalf("gap ends are not on the lines")
		}
		if g.M == 0 {
			meeting++
			continue
		}
		apart++
		near(t, "line to line", g.M, libraryGap(toLine(a), toLine(b)), agreeTol)
		near(t, "the other way", site.LineLine(b, a).M, g.M, agreeTol)
	}
	if apart < 500 || meeting < 200 {
		t.Errorf("%d apart, %d meeting", apart, meeting)
	}
}

func TestPolygonDistanceAgainstLibrary(t *testing.T) {
	rng := newRand(12)
	apart, within := 0, 0
	for range 2000 {
		g := starRing(rng, 3+rng.IntN(8), randomPoint(rng, 25), 2+6*rng.Float64())
		h := starRing(rng, 3+rng.IntN(8), randomPoint(rng, 25), 0.5+3*rng.Float64())
		got := site.PolygonPolygon(g, h).M
		near(t, "the other way", site.PolygonPolygon(h, g).M, got, agreeTol)
		near(t, "line to polygon is no nearer", math.Max(0, got-site.LinePolygon(site.Line(h), g).M), 0, agreeTol)
		if got > 0 {
			apart++
			near(t, "polygon to polygon", got, libraryGap(orb.LineString(toRing(g)), orb.LineString(toRing(h))), agreeTol)
			continue
		}
		if planar.RingContains(toRing(g), toPoint(h[0])) && g.Distance(h[0]) < 0 {
			within++
		}
	}
	if apart < 500 || within < 50 {
		t.Errorf("%d apart, %d within", apart, within)
	}
}

func TestDistanceByHand(t *testing.T) {
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	seg := func(a, b r2.Vec) site.Segment { return site.Segment{A: a, B: b} }
	cases := []struct {
		name string
		s, t site.Segment
		want float64
	}{
		{"crossing", seg(at(-1, 0), at(1, 0)), seg(at(0, -1), at(0, 1)), 0},
		{"tee", seg(at(-1, 0), at(1, 0)), seg(at(0, 0), at(0, 1)), 0},
		{"end to end", seg(at(0, 0), at(1, 0)), seg(at(1, 0), at(2, 5)), 0},
		{"overlapping in line", seg(at(0, 0), at(3, 0)), seg(at(1, 0), at(2, 0)), 0},
		{"in line with a gap", seg(at(0, 0), at(1, 0)), seg(at(4, 0), at(9, 0)), 3},
		{"parallel", seg(at(0, 0), at(5, 0)), seg(at(1, 2), at(3, 2)), 2},
		{"3-4-5 corner to corner", seg(at(0, 0), at(-1, 0)), seg(at(3, 4), at(9, 4)), 5},
		{"point and point", seg(at(0, 0), at(0, 0)), seg(at(3, 4), at(3, 4)), 5},
		{"point on segment", seg(at(1, 0), at(1, 0)), seg(at(0, 0), at(2, 0)), 0},
		{"skew, not reaching", seg(at(0, 0), at(2, 0)), seg(at(1, 1), at(1, 3)), 1},
	}
	for _, c := range cases {
		near(t, c.name, site.SegmentSegment(c.s, c.t).M, c.want, 1e-15)
		near(t, c.name+", swapped", site.SegmentSegment(c.t, c.s).M, c.want, 1e-15)
	}
	// A pool 3 m east of a cable that bends towards it and away again.
	pool := site.Polygon{at(8, 0), at(12, 0), at(12, 6), at(8, 6)}
	leg := site.Line{at(0, 0), at(5, 3), at(0, 6)}
	gap := site.LinePolygon(leg, pool)
	if gap.M != 3 || gap.A != at(5, 3) || gap.B != at(8, 3) {
		t.Errorf("leg to pool: %+v", gap)
	}
	// A leg wholly inside, one that only enters, and a pool inside a lawn.
	near(t, "inside", site.LinePolygon(site.Line{at(9, 1), at(10, 2)}, pool).M, 0, 0)
	near(t, "entering", site.LinePolygon(site.Line{at(0, 1), at(10, 2)}, pool).M, 0, 0)
	lawn := site.Polygon{at(-20, -20), at(20, -20), at(20, 20), at(-20, 20)}
	near(t, "nested", site.PolygonPolygon(pool, lawn).M, 0, 0)
	near(t, "nested, swapped", site.PolygonPolygon(lawn, pool).M, 0, 0)
}

// TestDistanceNearlyParallel holds the touch tolerance where rounding is worst:
// segments that meet at a tiny angle, and ends that just reach.
func TestDistanceNearlyParallel(t *testing.T) {
	rng := newRand(13)
	for range 2000 {
		a, b := randomPoint(rng, 1000), randomPoint(rng, 1000)
		s := site.Segment{A: a, B: b}
		f := rng.Float64()
		on := r2.Add(a, r2.Scale(f, r2.Sub(b, a)))
		tilt := r2.Rotate(r2.Sub(b, a), 1e-9*rng.Float64(), r2.Vec{})
		for _, to := range []r2.Vec{r2.Add(on, tilt), r2.Sub(on, tilt), randomPoint(rng, 1000)} {
			if d := site.SegmentSegment(s, site.Segment{A: on, B: to}).M; d > 1e-9 {
				t.Fatalf("a segment from a point on %v is %g m away", s, d)
			}
		}
	}
}
