package site_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

func TestCrossingsByHand(t *testing.T) {
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	gas := site.Line{at(-5, 3), at(20, 3)}
	cases := []struct {
		name    string
		leg     site.Line
		station []float64
		other   []float64
		angle   []float64
	}{
		{"square across", site.Line{at(0, 0), at(0, 10)}, []float64{3}, []float64{5}, []float64{90}},
		{"at 45 degrees", site.Line{at(0, 0), at(10, 10)}, []float64{3 * math.Sqrt2}, []float64{8}, []float64{45}},
		{"at 30 degrees", site.Line{at(3-3*math.Sqrt(3), 0), at(3+3*math.Sqrt(3), 6)}, []float64{6}, []float64{8}, []float64{30}},
		{"there and back", site.Line{at(0, 0), at(0, 6), at(2, 6), at(2, 0)}, []float64{3, 11}, []float64{5, 7}, []float64{90, 90}},
		{"bend on the pipe", site.Line{at(0, 0), at(0, 3), at(4, 0)}, []float64{3}, []float64{5}, []float64{math.Atan2(3, 4) * 180 / math.Pi}},
		{"ending on the pipe", site.Line{at(0, 0), at(0, 3)}, []float64{3}, []float64{5}, []float64{90}},
		{"along it for 4 m", site.Line{at(0, 0), at(0, 3), at(4, 3), at(4, 0)}, []float64{3, 7}, []float64{5, 9}, []float64{0, 0}},
		{"short of it", site.Line{at(0, 0), at(0, 2.99)}, nil, nil, nil},
	}
	for _, c := range cases {
		got := site.Crossings(c.leg, gas)
		if len(got) != len(c.station) {
			t.Errorf("%s: %+v", c.name, got)
			continue
		}
		for i, x := range got {
			near(t, c.name+": station", x.StationM, c.station[i], 1e-9)
			near(t, c.name+": other station", x.OtherStationM, c.other[i], 1e-9)
			near(t, c.name+": angle", x.AngleDeg, c.angle[i], 1e-9)
			near(t, c.name+": place", site.PointLine(x.At, gas).M, 0, 1e-9)
		}
	}
}

// TestCrossingsAgainstExact counts crossings of random segments by rational
// arithmetic.
func TestCrossingsAgainstExact(t *testing.T) {
	rng := newRand(90)
	total := 0
	for range 1000 {
		leg, pipe := walkLine(rng, 2+rng.IntN(5), 20), walkLine(rng, 2+rng.IntN(5), 20)
		want := 0
		for _, s := range leg.Segments() {
			for _, u := range pipe.Segments() {
				if exactlyCross(s, u) {
					want++
				}
			}
		}
		got := site.Crossings(leg, pipe)
		if len(got) != want {
			t.Fatalf("%d crossings, want %d", len(got), want)
		}
		total += want
		for i, x := range got {
			if i > 0 && x.StationM < got[i-1].StationM {
				t.Fatalf("crossings are not in order: %+v", got)
			}
			near(t, "on the pipe", planar.DistanceFrom(toLine(pipe), toPoint(x.At)), 0, 1e-9)
			p, _, _ := leg.Along(x.StationM)
			near(t, "at its station", r2.Norm(r2.Sub(p, x.At)), 0, 1e-6)
			q, _, _ := pipe.Along(x.OtherStationM)
			near(t, "at the pipe's station", r2.Norm(r2.Sub(q, x.At)), 0, 1e-6)
		}
	}
	if total < 1000 {
		t.Errorf("only %d crossings", total)
	}
}

func TestAlongsideByHand(t *testing.T) {
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	mains := site.Line{at(0, 0), at(20, 0)}
	// Comes in square, runs 0.2 m beside the mains for 10 m, drifts to 0.3 m
	// over 5 m more, and leaves square.
	leg := site.Line{at(2, 4), at(2, 0.2), at(12, 0.2), at(17, 0.3), at(17, 5)}
	got := site.Alongside(leg, mains, 0.305, 20)
	if len(got) != 1 {
		t.Fatalf("stretches = %+v", got)
	}
	near(t, "from", got[0].From, 3.8, 1e-9)
	near(t, "to", got[0].To, 3.8+10+math.Hypot(5, 0.1), 1e-9)
	near(t, "least", got[0].MinM, 0.2, 1e-12)
	// With a quarter of a metre allowed the stretch ends half way along the
	// drift.
	got = site.Alongside(leg, mains, 0.25, 20)
	near(t, "to, within 0.25 m", got[0].To, 3.8+10+math.Hypot(5, 0.1)/2, 1e-9)
	// A square crossing is no stretch; a shallow one is.
	if got := site.Alongside(site.Line{at(5, -3), at(5, 3)}, mains, 0.3, 20); got != nil {
		t.Errorf("a square crossing runs alongside: %+v", got)
	}
	shallow := site.Line{at(0, -1), at(20, 1)}
	got = site.Alongside(shallow, mains, 0.3, 20)
	if len(got) != 1 {
		t.Fatalf("shallow: %+v", got)
	}
	// Its height over the mains is x/10 - 1, so it is within 0.3 m from x = 7
	// to x = 13.
	near(t, "shallow length", got[0].Length(), 6*math.Hypot(1, 0.1), 1e-9)
	near(t, "shallow least", got[0].MinM, 0, 1e-12)
}

// TestSetbackByHand is a leg past a round-cornered zone 10 ft (3.048 m) about
// a square pond.
func TestSetbackByHand(t *testing.T) {
	const setback = 3.048
	pond := site.Polygon{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 4}, {X: 0, Y: 4}}
	past := site.Line{{X: -10, Y: 6}, {X: 20, Y: 6}} // 2 m north of the edge
	got := site.LegSetback(past, pond, setback)
	near(t, "least distance", got.Gap.M, 2, 1e-15)
	half := math.Sqrt(setback*setback - 4)
	if len(got.Within) != 1 {
		t.Fatalf("within: %v", got.Within)
	}
	near(t, "from", got.Within[0].From, 10-half, 1e-9)
	near(t, "to", got.Within[0].To, 14+half, 1e-9)
	across := site.LegSetback(site.Line{{X: 2, Y: -10}, {X: 2, Y: 10}}, pond, setback)
	near(t, "across", across.Gap.M, 0, 0)
	near(t, "across, length", site.TotalLength(across.Within), 4+2*setback, 1e-9)
	clear := site.LegSetback(site.Line{{X: -10, Y: 4 + setback}, {X: 20, Y: 4 + setback}}, pond, setback-1e-3)
	if clear.Within != nil {
		t.Errorf("clear of the setback: %v", clear.Within)
	}
	near(t, "a light 9 ft from the edge", pond.Distance(r2.Vec{X: -9 * 0.3048, Y: 2}), 2.7432, 1e-12)
}

func TestOffLand(t *testing.T) {
	land := site.Polygon{{X: -6, Y: -5}, {X: 12, Y: -5}, {X: 12, Y: 15}, {X: -6, Y: 15}}
	leg := site.Line{{X: 0, Y: 0}, {X: 20, Y: 0}, {X: 20, Y: 10}, {X: 0, Y: 10}}
	got := site.OffLand(leg, land)
	if len(got) != 1 || math.Abs(got[0].From-12) > 1e-9 || math.Abs(got[0].To-38) > 1e-9 {
		t.Errorf("off the land: %v", got)
	}
	along := site.Line{{X: 12, Y: -5}, {X: 12, Y: 15}}
	if got := site.OffLand(along, land); got != nil {
		t.Errorf("along the property line: %v", got)
	}
}

// TestRootZone is a leg through the root zone of a tree, whose radius is that
// of the canopy.
func TestRootZone(t *testing.T) {
	zone := site.Disc{Centre: r2.Vec{X: 5, Y: 7}, RadiusM: 2.1}
	leg := site.Line{{X: 0, Y: 6}, {X: 12, Y: 6}}
	got := zone.Spans(leg)
	if len(got) != 1 {
		t.Fatalf("spans = %v", got)
	}
	near(t, "in the roots", got[0].Length(), 2*math.Sqrt(2.1*2.1-1), 1e-12)
	near(t, "from the trunk", site.PointLine(zone.Centre, leg).M, 1, 0)
}
