package site_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// Random shapes are seeded, so that a failure repeats.

// starRing returns a simple polygon: points at rising bearings round a centre,
// at random distances.
func starRing(rng *rand.Rand, n int, centre r2.Vec, radius float64) site.Polygon {
	bearings := make([]float64, n)
	for i := range bearings {
		bearings[i] = (float64(i) + 0.9*rng.Float64()) * 360 / float64(n)
	}
	out := make(site.Polygon, n)
	for i, b := range bearings {
		out[n-1-i] = r2.Add(centre, r2.Scale(radius*(0.3+0.7*rng.Float64()), site.Heading(b)))
	}
	if rng.IntN(2) == 0 {
		slices.Reverse(out)
	}
	return out
}

// walkLine returns a polyline of n points that wanders within a square.
func walkLine(rng *rand.Rand, n int, size float64) site.Line {
	out := make(site.Line, n)
	for i := range out {
		out[i] = randomPoint(rng, size)
	}
	return out
}

func randomPoint(rng *rand.Rand, size float64) r2.Vec {
	return r2.Vec{X: (rng.Float64() - 0.5) * size, Y: (rng.Float64() - 0.5) * size}
}

func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 411)) }

// toRing and toLine turn our shapes into those of the general-purpose geometry
// library that the tests compare with.
func toRing(g site.Polygon) orb.Ring {
	out := orb.Ring(toLine(site.Line(g)))
	if len(g) > 0 && g[0] != g[len(g)-1] {
		out = append(out, out[0])
	}
	return out
}

func toLine(l site.Line) orb.LineString {
	out := make(orb.LineString, len(l))
	for i, p := range l {
		out[i] = toPoint(p)
	}
	return out
}

func toPoint(p r2.Vec) orb.Point { return orb.Point{p.X, p.Y} }

// near fails the test unless got is within tol of want, absolutely or as a
// share of want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > tol*math.Max(1, math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

// move is a rigid motion: mirror x if asked, turn clockwise, then shift.
type move struct {
	mirror bool
	deg    float64
	by     r2.Vec
}

func (m move) point(p r2.Vec) r2.Vec {
	if m.mirror {
		p.X = -p.X
	}
	n, e := site.Heading(m.deg), site.Heading(m.deg+90)
	return r2.Add(m.by, r2.Add(r2.Scale(p.Y, n), r2.Scale(p.X, e)))
}

func (m move) points(ps []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(ps))
	for i, p := range ps {
		out[i] = m.point(p)
	}
	return out
}

func (m move) line(l site.Line) site.Line          { return m.points(l) }
func (m move) polygon(g site.Polygon) site.Polygon { return m.points(g) }
func (m move) bearing(deg float64) float64 {
	if m.mirror {
		deg = -deg
	}
	return site.NormalBearing(deg + m.deg)
}

func (m move) side(s site.Side) site.Side {
	if m.mirror {
		return s.Opposite()
	}
	return s
}

func randomMove(rng *rand.Rand) move {
	return move{mirror: rng.IntN(2) == 0, deg: rng.Float64() * 360, by: randomPoint(rng, 200)}
}
