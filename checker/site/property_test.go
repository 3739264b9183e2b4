package site_test

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// moveAgree is the difference allowed after a move of up to 100 m.
const moveAgree = 1e-9

// TestRegionMoves holds that turning, shifting and mirroring the plan changes
// no area, distance, side, station or span.
func TestRegionMoves(t *testing.T) {
	rng := newRand(130)
	for seed := range uint64(200) {
		m := randomMove(rng)
		g := starRing(rng, 3+rng.IntN(9), randomPoint(rng, 6), 5)
		line := walkLine(rng, 2+rng.IntN(4), 14)
		disc := site.Disc{Centre: randomPoint(rng, 8), RadiusM: 2}
		pairs := map[string][2]site.Region{
			"polygon":     {g, m.polygon(g)},
			"flat strip":  {site.Strip{Centreline: line, WidthM: 1}, site.Strip{Centreline: m.line(line), WidthM: 1}},
			"round strip": {site.Strip{Centreline: line, WidthM: 1, Ends: site.RoundEnds}, site.Strip{Centreline: m.line(line), WidthM: 1, Ends: site.RoundEnds}},
			"disc":        {disc, site.Disc{Centre: m.point(disc.Centre), RadiusM: 2}},
			"margin":      {site.Margin{Of: g, ByM: 0.5}, site.Margin{Of: m.polygon(g), ByM: 0.5}},
			"edge band":   {site.EdgeBand{Of: g, InsideM: 0.3, OutsideM: 0.2}, site.EdgeBand{Of: m.polygon(g), InsideM: 0.3, OutsideM: 0.2}},
		}
		leg := walkLine(rng, 4, 16)
		for name, r := range pairs {
			for range 10 {
				p := randomPoint(rng, 16)
				near(t, name, r[1].Distance(m.point(p)), r[0].Distance(p), moveAgree)
			}
			a, b := r[0].Spans(leg), r[1].Spans(m.line(leg))
			if len(a) != len(b) {
				t.Fatalf("seed %d, %s: %d spans, moved %d", seed, name, len(a), len(b))
			}
			for i := range a {
				near(t, name+" span from", b[i].From, a[i].From, 1e-6)
				near(t, name+" span to", b[i].To, a[i].To, 1e-6)
			}
		}
		near(t, "area", m.polygon(g).Area(), g.Area(), moveAgree)
		if m.polygon(g).Anticlockwise() != (g.Anticlockwise() != m.mirror) {
			t.Fatal("a mirror turns a ring round, nothing else does")
		}
	}
}

func TestLineMoves(t *testing.T) {
	rng := newRand(131)
	for range 500 {
		m := randomMove(rng)
		a, b := walkLine(rng, 4, 14), walkLine(rng, 3, 14)
		near(t, "length", m.line(a).Length(), a.Length(), moveAgree)
		near(t, "gap", site.LineLine(m.line(a), m.line(b)).M, site.LineLine(a, b).M, moveAgree)
		p := randomPoint(rng, 16)
		at, _ := a.Locate(p)
		moved, _ := m.line(a).Locate(m.point(p))
		near(t, "station", moved.StationM, at.StationM, 1e-7)
		near(t, "offset", moved.OffsetM, at.OffsetM, moveAgree)
		near(t, "bearing", site.TurnDeg(moved.BearingDeg, m.bearing(at.BearingDeg)), 0, 1e-6)
		if moved.Side != m.side(at.Side) {
			t.Fatalf("side %v, moved %v, mirrored %v", at.Side, moved.Side, m.mirror)
		}
		xs, ys := site.Crossings(a, b), site.Crossings(m.line(a), m.line(b))
		if len(xs) != len(ys) {
			t.Fatalf("%d crossings, moved %d", len(xs), len(ys))
		}
		for i := range xs {
			near(t, "crossing", ys[i].StationM, xs[i].StationM, 1e-6)
			near(t, "angle", ys[i].AngleDeg, xs[i].AngleDeg, 1e-6)
			near(t, "place", r2.Norm(r2.Sub(ys[i].At, m.point(xs[i].At))), 0, 1e-6)
		}
		s, u := site.Alongside(a, b, 0.4, 30), site.Alongside(m.line(a), m.line(b), 0.4, 30)
		if len(s) != len(u) {
			t.Fatalf("%d stretches, moved %d", len(s), len(u))
		}
		for i := range s {
			near(t, "stretch", u[i].Length(), s[i].Length(), 1e-6)
			near(t, "least", u[i].MinM, s[i].MinM, 1e-6)
		}
	}
}

// TestScale holds that making a plan k times as large makes every distance k
// times as large, and every area k^2.
func TestScale(t *testing.T) {
	rng := newRand(132)
	for range 300 {
		k := 0.1 + 50*rng.Float64()
		scale := func(ps []r2.Vec) []r2.Vec {
			out := make([]r2.Vec, len(ps))
			for i, p := range ps {
				out[i] = r2.Scale(k, p)
			}
			return out
		}
		g, l := starRing(rng, 7, randomPoint(rng, 6), 5), walkLine(rng, 4, 14)
		near(t, "area", site.Polygon(scale(g)).Area(), k*k*g.Area(), 1e-12)
		near(t, "gap", site.LinePolygon(scale(l), scale(g)).M, k*site.LinePolygon(l, g).M, 1e-9)
		p := randomPoint(rng, 14)
		near(t, "distance", site.Polygon(scale(g)).Distance(r2.Scale(k, p)), k*g.Distance(p), 1e-9)
		near(t, "spans", site.TotalLength(site.Polygon(scale(g)).Spans(scale(l))), k*site.TotalLength(g.Spans(l)), 1e-5)
	}
}

// TestTriangleInequality holds that no distance between shapes is larger than
// the way by a third point.
func TestTriangleInequality(t *testing.T) {
	rng := newRand(133)
	for range 1000 {
		a, b, p := walkLine(rng, 3, 30), starRing(rng, 5, randomPoint(rng, 30), 3), randomPoint(rng, 30)
		direct := site.LinePolygon(a, b).M
		by := site.PointLine(p, a).M + max(0, b.Distance(p))
		if direct > by+1e-9 {
			t.Fatalf("%v apart, %v by way of %v", direct, by, p)
		}
	}
}
