package site_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

func randomSector(rng *rand.Rand) site.Sector {
	outer := 0.5 + 3*rng.Float64()
	inner := 0.0
	if rng.IntN(2) == 0 {
		inner = outer * 0.8 * rng.Float64()
	}
	return site.Sector{Centre: randomPoint(rng, 10), InnerM: inner, OuterM: outer,
		FromDeg: 360 * rng.Float64(), SpanDeg: 355 * rng.Float64()}
}

// TestSectorArea compares with the closed form of a ring's sector, and the
// library's area of the drawn outline.
func TestSectorArea(t *testing.T) {
	// A 1 m leaf through 90 degrees: a quarter of pi.
	quarter := site.Sector{OuterM: 1, SpanDeg: 90}
	near(t, "quarter disc", quarter.Area(), math.Pi/4, 1e-15)
	ring := site.Sector{InnerM: 1, OuterM: 2, SpanDeg: 360}
	near(t, "annulus", ring.Area(), 3*math.Pi, 1e-15)
	near(t, "more than a turn", site.Sector{OuterM: 1, SpanDeg: 500}.Area(), math.Pi, 1e-15)
	rng := newRand(50)
	for range 500 {
		s := randomSector(rng)
		near(t, "outline", math.Abs(planar.Area(toRing(s.Outline(1e-6)))), s.Area(), 1e-4)
		if faults := s.Outline(1e-3).Faults(); s.SpanDeg > 1 && faults != nil {
			t.Fatalf("outline of %+v has faults %v", s, faults)
		}
	}
}

// TestSectorDistanceClosedForm checks the distance from a ring's sector on every
// side of it.
func TestSectorDistanceClosedForm(t *testing.T) {
	// From north to east, between 1 m and 3 m of the origin.
	s := site.Sector{InnerM: 1, OuterM: 3, FromDeg: 0, SpanDeg: 90}
	at := func(deg, r float64) r2.Vec { return r2.Scale(r, site.Heading(deg)) }
	cases := []struct {
		name string
		p    r2.Vec
		want float64
	}{
		{"middle of the ring: the arcs are 1 m away", at(45, 2), -1},
		{"near the outer arc", at(45, 2.75), -0.25},
		{"near an edge: the chord", at(3, 2), -2 * math.Sin(3*math.Pi/180)},
		{"beyond the outer arc", at(30, 5), 2},
		{"inside the inner arc", at(60, 0.4), 0.6},
		{"at the hinge", r2.Vec{}, 1},
		{"on the outer arc", at(10, 3), 0},
		{"on an edge", at(90, 2), 0},
		{"square off an edge", r2.Vec{X: -0.5, Y: 2}, 0.5},
		{"off the end of an edge, 3-4-5", r2.Vec{X: -3, Y: 7}, 5},
		{"behind, nearest the inner ends", r2.Vec{X: 0, Y: -1}, math.Sqrt2},
		{"behind both edges", at(225, 2), math.Sqrt(1 + 4 + 4*math.Sqrt2/2)},
	}
	for _, c := range cases {
		near(t, c.name, s.Distance(c.p), c.want, 1e-14)
		if s.Contains(c.p) != (c.want <= 0) {
			t.Errorf("%s: Contains = %v", c.name, s.Contains(c.p))
		}
	}
	whole := site.Sector{OuterM: 2, SpanDeg: 360}
	near(t, "in a whole disc", whole.Distance(r2.Vec{X: 0.5}), -1.5, 1e-15)
	near(t, "the centre of a whole disc", whole.Distance(r2.Vec{}), -2, 1e-15)
	still := site.Sector{OuterM: 2, FromDeg: 90}
	near(t, "a leaf that does not move", still.Distance(r2.Vec{X: 1, Y: 0.3}), 0.3, 1e-15)
}

// TestSectorDistanceAgainstOutline compares with the library's distance from
// the drawn outline, which is within a sagitta of the sector.
func TestSectorDistanceAgainstOutline(t *testing.T) {
	rng := newRand(51)
	const sagitta = 1e-4
	for range 300 {
		s := randomSector(rng)
		ring := toRing(s.Outline(sagitta))
		for range 20 {
			p := r2.Add(s.Centre, randomPoint(rng, 10))
			want := planar.DistanceFrom(ring, toPoint(p))
			if planar.RingContains(ring, toPoint(p)) {
				want = -want
			}
			near(t, "distance", s.Distance(p), want, 2*sagitta)
		}
	}
}
