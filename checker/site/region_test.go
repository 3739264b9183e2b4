package site_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// TestSpansInBoxAgainstLibrary compares the parts of random lines in
// rectangles with the library's line clipping.
func TestSpansInBoxAgainstLibrary(t *testing.T) {
	rng := newRand(40)
	crossed := 0
	for range 2000 {
		a, b := randomPoint(rng, 12), randomPoint(rng, 12)
		box := orb.MultiPoint{toPoint(a), toPoint(b)}.Bound()
		l := walkLine(rng, 2+rng.IntN(8), 20)
		want := clip.LineString(box, toLine(l))
		var g site.Polygon
		for _, p := range box.ToRing() {
			g = append(g, r2.Vec{X: p[0], Y: p[1]})
		}
		spans := g.Spans(l)
		near(t, "length in the box", site.TotalLength(spans), planar.Length(want), 1e-8)
		if len(spans) != len(want) {
			t.Fatalf("%d spans %v, the library has %d pieces", len(spans), spans, len(want))
		}
		for i, s := range spans {
			crossed++
			near(t, "piece", planar.Length(toLine(l.Part(s.From, s.To))), planar.Length(want[i]), 1e-8)
			p, _, _ := l.Along(s.From)
			near(t, "entry", planar.Distance(toPoint(p), want[i][0]), 0, 1e-8)
		}
	}
	if crossed < 1000 {
		t.Errorf("only %d pieces", crossed)
	}
}

// regions returns one random region of each kind.
func regions(seed uint64) map[string]site.Region {
	rng := newRand(seed)
	g := starRing(rng, 3+rng.IntN(12), randomPoint(rng, 6), 3+3*rng.Float64())
	line := walkLine(rng, 2+rng.IntN(4), 14)
	return map[string]site.Region{
		"polygon":     g,
		"flat strip":  site.Strip{Centreline: line, WidthM: 0.3 + 2*rng.Float64()},
		"round strip": site.Strip{Centreline: line, WidthM: 0.3 + 2*rng.Float64(), Ends: site.RoundEnds},
		"disc":        site.Disc{Centre: randomPoint(rng, 8), RadiusM: 1 + 3*rng.Float64()},
		"margin":      site.Margin{Of: g, ByM: 2 * rng.Float64()},
		"edge band":   site.EdgeBand{Of: g, InsideM: rng.Float64(), OutsideM: rng.Float64()},
	}
}

// TestSpansAgreeWithContains walks random lines in small steps and holds that a
// step is in a span exactly when the region contains it, for every kind of
// region.
func TestSpansAgreeWithContains(t *testing.T) {
	rng := newRand(41)
	for seed := range uint64(60) {
		l := walkLine(rng, 2+rng.IntN(4), 16)
		length := l.Length()
		for name, r := range regions(seed) {
			spans := r.Spans(l)
			checkApart(t, name, spans, length)
			for s := 0.003; s < length; s += 0.037 {
				p, _, _ := l.Along(s)
				if math.Abs(r.Distance(p)) < 1e-5 {
					continue
				}
				if inSpans(spans, s) != r.Contains(p) {
					t.Fatalf("%s %v: station %v of %v in the spans %v: %v, contained: %v, distance %v",
						name, r, s, l, spans, inSpans(spans, s), r.Contains(p), r.Distance(p))
				}
			}
		}
	}
}

func inSpans(spans []site.Span, station float64) bool {
	for _, s := range spans {
		if s.From <= station && station <= s.To {
			return true
		}
	}
	return false
}

// checkApart holds that spans are in order, apart, and on the line, and that
// they and the rest make up the line.
func checkApart(t *testing.T, name string, spans []site.Span, length float64) {
	t.Helper()
	last := math.Inf(-1)
	for _, s := range spans {
		if s.From <= last || s.To <= s.From || s.From < 0 || s.To > length*(1+1e-12) {
			t.Fatalf("%s: spans %v on a line of %v", name, spans, length)
		}
		last = s.To
	}
	sum := site.TotalLength(spans) + site.TotalLength(site.Rest(spans, length))
	near(t, name+": spans and rest", sum, length, 1e-5)
}

// TestDistanceIsALowerBound holds what Distance promises of every region: a
// step shorter than the distance does not cross the region's edge, and the
// distance outside is reached.
func TestDistanceIsALowerBound(t *testing.T) {
	rng := newRand(42)
	for seed := range uint64(100) {
		for name, r := range regions(seed) {
			for range 30 {
				p := randomPoint(rng, 16)
				d := r.Distance(p)
				q := r2.Add(p, r2.Scale(0.999*math.Abs(d), site.Heading(360*rng.Float64())))
				if name != "flat strip" && math.Abs(d) > 1e-4 && r.Contains(q) != (d < 0) {
					t.Fatalf("%s: %v is %v from the edge, but %v is on the other side", name, p, d, q)
				}
				if math.Abs(r.Distance(q)-d) > 1.0001*math.Abs(d)+1e-9 && name != "flat strip" {
					t.Fatalf("%s: the distance changes by more than the step from %v to %v", name, p, q)
				}
			}
		}
	}
}

func TestBoundsHoldRegions(t *testing.T) {
	rng := newRand(43)
	for seed := range uint64(100) {
		for name, r := range regions(seed) {
			b := r.Bounds()
			for range 40 {
				if p := randomPoint(rng, 16); r.Distance(p) <= 0 && !b.Contains(p) {
					t.Fatalf("%s: %v is in the region but not in its box %v", name, p, b)
				}
			}
		}
	}
}

func TestSpansOfDiscClosedForm(t *testing.T) {
	// A chord at distance h from the centre of a circle of radius r has the
	// length 2 sqrt(r^2 - h^2): here 2 sqrt(25 - 9) = 8.
	d := site.Disc{Centre: r2.Vec{X: 10, Y: 3}, RadiusM: 5}
	spans := d.Spans(site.Line{{X: 0, Y: 0}, {X: 20, Y: 0}})
	if len(spans) != 1 {
		t.Fatalf("spans = %v", spans)
	}
	near(t, "entry", spans[0].From, 6, 1e-15)
	near(t, "exit", spans[0].To, 14, 1e-15)
	if got := d.Spans(site.Line{{X: 0, Y: 8}, {X: 20, Y: 8}}); got != nil {
		t.Errorf("a tangent has the spans %v", got)
	}
}

// TestSpansOnTheEdge holds that an edge belongs to its region: a cable exactly
// along the edge of a drive or path is under it; one that touches a corner is
// not.
func TestSpansOnTheEdge(t *testing.T) {
	along := site.Line{{X: 1, Y: -3}, {X: 1, Y: 9}}
	path := site.Strip{Centreline: site.Line{{X: 0, Y: 0}, {X: 0, Y: 6}}, WidthM: 2}
	drive := site.Polygon{{X: 1, Y: 0}, {X: 5, Y: 0}, {X: 5, Y: 6}, {X: 1, Y: 6}}
	for name, r := range map[string]site.Region{"path": path, "drive": drive} {
		spans := r.Spans(along)
		if len(spans) != 1 {
			t.Errorf("%s: spans = %v", name, spans)
			continue
		}
		near(t, name+" from", spans[0].From, 3, 1e-9)
		near(t, name+" to", spans[0].To, 9, 1e-9)
	}
	corner := site.Line{{X: 0, Y: -1}, {X: 2, Y: 1}} // through (1, 0)
	if got := drive.Spans(corner); len(got) != 1 || math.Abs(got[0].From-math.Sqrt2) > 1e-9 {
		t.Errorf("entering at a corner: %v", got)
	}
	touch := site.Line{{X: 0, Y: 1}, {X: 2, Y: -1}}
	if got := drive.Spans(touch); got != nil {
		t.Errorf("touching a corner: %v", got)
	}
	// A line that touches an inner corner of an L stays in it.
	inner := site.Line{{X: 1, Y: 3}, {X: 3, Y: 1}}
	if got := ell.Spans(inner); len(got) != 1 || math.Abs(got[0].Length()-2*math.Sqrt2) > 1e-9 {
		t.Errorf("past the inner corner: %v", got)
	}
}

func TestRestByHand(t *testing.T) {
	spans := []site.Span{{From: 2, To: 3}, {From: 5, To: 9}}
	got := site.Rest(spans, 10)
	want := []site.Span{{From: 0, To: 2}, {From: 3, To: 5}, {From: 9, To: 10}}
	if len(got) != len(want) {
		t.Fatalf("Rest = %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("Rest = %v, want %v", got, want)
		}
	}
	if got := site.Rest(nil, 4); len(got) != 1 || got[0] != (site.Span{From: 0, To: 4}) {
		t.Errorf("Rest of nothing = %v", got)
	}
	if got := site.Rest([]site.Span{{From: 0, To: 4}}, 4); got != nil {
		t.Errorf("Rest of everything = %v", got)
	}
}

// TestMowerStrip is a lawn's edge with a strip 0.3 m inside and 0.1 m outside.
func TestMowerStrip(t *testing.T) {
	band := site.EdgeBand{Of: ell, InsideM: 0.3, OutsideM: 0.1}
	cases := []struct {
		name string
		p    r2.Vec
		want float64
	}{
		{"middle of the lawn", r2.Vec{X: 1, Y: 1}, 0.7},
		{"just inside the strip", r2.Vec{X: 0.2, Y: 1}, -0.1},
		{"on the lawn's edge", r2.Vec{X: 0, Y: 1}, -0.1},
		{"in the bed beside it", r2.Vec{X: -0.05, Y: 1}, -0.05},
		{"well into the bed", r2.Vec{X: -0.6, Y: 1}, 0.5},
		{"in the notch", r2.Vec{X: 2.05, Y: 3}, -0.05},
	}
	for _, c := range cases {
		near(t, c.name, band.Distance(c.p), c.want, 1e-12)
	}
}
