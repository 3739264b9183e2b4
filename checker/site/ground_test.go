package site_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// frontGarden is an invented plot: a drive along the south, a lawn north of it
// with a path across, and a slab on part of the drive.
func frontGarden() *site.Ground {
	box := func(x0, y0, x1, y1 float64) site.Polygon {
		return site.Polygon{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	}
	return site.NewGround([]site.Surface{
		{ID: "walk", Kind: "path", Region: site.Strip{Centreline: site.Line{{X: 0, Y: 10}, {X: 20, Y: 10}}, WidthM: 1.2}},
		{ID: "turf", Kind: "lawn", Region: box(0, 6, 20, 16)},
		{ID: "drive", Kind: "home-drive", Region: box(0, 0, 20, 4)},
		{ID: "pad", Kind: "slab", Region: box(8, 1, 12, 3)},
		{ID: "nothing", Kind: "lawn"},
	})
}

func TestCutByHand(t *testing.T) {
	pieces := frontGarden().Cut(site.Line{{X: 10, Y: -2}, {X: 10, Y: 18}})
	want := []struct {
		from, to float64
		above    []string
		kinds    []string
	}{
		{0, 2, nil, nil},
		{2, 3, []string{"drive"}, []string{"home-drive"}},
		{3, 5, []string{"drive", "pad"}, []string{"home-drive", "slab"}},
		{5, 6, []string{"drive"}, []string{"home-drive"}},
		{6, 8, nil, nil},
		{8, 11.4, []string{"turf"}, []string{"lawn"}},
		{11.4, 12.6, []string{"turf", "walk"}, []string{"lawn", "path"}},
		{12.6, 18, []string{"turf"}, []string{"lawn"}},
		{18, 20, nil, nil},
	}
	if len(pieces) != len(want) {
		t.Fatalf("pieces = %+v", pieces)
	}
	for i, w := range want {
		p := pieces[i]
		near(t, "from", p.From, w.from, 1e-9)
		near(t, "to", p.To, w.to, 1e-9)
		if !slices.Equal(p.Above, w.above) || !slices.Equal(p.Kinds, w.kinds) {
			t.Errorf("piece %d: above %v of kinds %v, want %v of %v", i, p.Above, p.Kinds, w.above, w.kinds)
		}
		near(t, "line", planar.Length(toLine(p.Line)), w.to-w.from, 1e-9)
	}
}

// TestCutJoinsOneElement holds that an element drawn as two outlines that meet
// is one thing above a leg.
func TestCutJoinsOneElement(t *testing.T) {
	half := func(x0, x1 float64) site.Polygon {
		return site.Polygon{{X: x0, Y: -1}, {X: x1, Y: -1}, {X: x1, Y: 1}, {X: x0, Y: 1}}
	}
	ground := site.NewGround([]site.Surface{
		{ID: "court", Kind: "terrace", Region: half(2, 5)}, {ID: "court", Kind: "terrace", Region: half(5, 9)},
	})
	pieces := ground.Cut(site.Line{{X: 0}, {X: 10}})
	if len(pieces) != 3 || !slices.Equal(pieces[1].Above, []string{"court"}) {
		t.Fatalf("pieces = %+v", pieces)
	}
	near(t, "from", pieces[1].From, 2, 1e-9)
	near(t, "to", pieces[1].To, 9, 1e-9)
}

// randomGround returns many surfaces of every kind of region.
func randomGround(n int) ([]site.Surface, *site.Ground) {
	var surfaces []site.Surface
	for seed := range uint64(n) {
		rs := regions(seed + 1000)
		names := make([]string, 0, len(rs))
		for name := range rs {
			names = append(names, name)
		}
		slices.Sort(names)
		for _, name := range names {
			surfaces = append(surfaces, site.Surface{ID: fmt.Sprintf("%s %d", name, seed), Kind: name, Region: rs[name]})
		}
	}
	return surfaces, site.NewGround(surfaces)
}

// TestCutPartitions holds that pieces follow one another without gap or
// overlap, that neighbours differ, and that what is above the middle of a piece
// is what its regions say, asked one by one.
func TestCutPartitions(t *testing.T) {
	surfaces, ground := randomGround(6)
	rng := newRand(80)
	for range 200 {
		leg := walkLine(rng, 2+rng.IntN(5), 18)
		pieces := ground.Cut(leg)
		at := 0.0
		for i, p := range pieces {
			if p.From != at || p.To <= p.From {
				t.Fatalf("piece %d starts at %v, the one before ended at %v", i, p.From, at)
			}
			at = p.To
			if i > 0 && slices.Equal(p.Above, pieces[i-1].Above) {
				t.Fatalf("pieces %d and %d have the same above them", i-1, i)
			}
			mid, _, _ := leg.Along((p.From + p.To) / 2)
			if p.Length() > 1e-4 {
				checkAbove(t, surfaces, mid, p.Above)
			}
		}
		near(t, "the pieces end where the leg ends", at, leg.Length(), 0)
	}
}

func checkAbove(t *testing.T, surfaces []site.Surface, mid r2.Vec, above []string) {
	t.Helper()
	for _, s := range surfaces {
		if math.Abs(s.Region.Distance(mid)) < 1e-5 {
			continue
		}
		if s.Region.Contains(mid) != slices.Contains(above, s.ID) {
			t.Fatalf("%s is %v from %v, but above it are %v", s.ID, s.Region.Distance(mid), mid, above)
		}
	}
}

// TestCutMoves holds that turning, shifting and mirroring the site, and walking
// a leg the other way, change no piece.
func TestCutMoves(t *testing.T) {
	rng := newRand(81)
	for range 100 {
		m := randomMove(rng)
		g, path := starRing(rng, 8, r2.Vec{}, 6), gentleLine(rng, 4)
		leg := walkLine(rng, 4, 14)
		here := site.NewGround([]site.Surface{
			{ID: "lawn", Kind: "lawn", Region: g}, {ID: "walk", Kind: "path", Region: site.Strip{Centreline: path, WidthM: 1}}})
		there := site.NewGround([]site.Surface{
			{ID: "lawn", Kind: "lawn", Region: m.polygon(g)}, {ID: "walk", Kind: "path", Region: site.Strip{Centreline: m.line(path), WidthM: 1}}})
		a, b, c := here.Cut(leg), there.Cut(m.line(leg)), here.Cut(leg.Reverse())
		if len(a) != len(b) || len(a) != len(c) {
			t.Fatalf("%d pieces, %d moved, %d walked back", len(a), len(b), len(c))
		}
		for i := range a {
			near(t, "moved piece", b[i].To, a[i].To, 1e-6)
			near(t, "piece walked back", leg.Length()-c[len(c)-1-i].From, a[i].To, 1e-6)
			if !slices.Equal(a[i].Above, b[i].Above) || !slices.Equal(a[i].Above, c[len(c)-1-i].Above) {
				t.Fatalf("piece %d: above %v, moved %v", i, a[i].Above, b[i].Above)
			}
		}
	}
}

func TestGroundUnusable(t *testing.T) {
	ground := site.NewGround([]site.Surface{
		{ID: "walk", Region: site.Strip{Centreline: bend, WidthM: math.NaN()}}, {ID: "turf", Region: ell},
		{ID: "bed", Region: site.Polygon{{X: 1e9}, {}, {Y: 1}}}, {ID: "none"}, {ID: "empty", Region: site.Polygon{}},
	})
	if got := ground.Unusable(); !slices.Equal(got, []string{"bed", "none", "walk"}) {
		t.Errorf("unusable = %v", got)
	}
	if got := ground.At(r2.Vec{X: 1, Y: 1}, 0.1, 1); len(got) != 1 || got[0].ID != "turf" {
		t.Errorf("standing = %+v", got)
	}
}

func TestStandingByHand(t *testing.T) {
	// A light of 0.1 m radius, 0.25 m from the path's edge, in the lawn.
	got := frontGarden().At(r2.Vec{X: 5, Y: 10.85}, 0.1, 0.5)
	if len(got) != 2 || got[0].ID != "turf" || got[1].ID != "walk" || got[1].Kind != "path" {
		t.Fatalf("standing = %+v", got)
	}
	near(t, "in the lawn", got[0].DistanceM, -4.85-0.1, 1e-12)
	near(t, "from the path", got[1].DistanceM, 0.15, 1e-12)
	if got := frontGarden().At(r2.Vec{X: 5, Y: 10.85}, 0.1, 0.1); len(got) != 1 {
		t.Errorf("within 0.1 m: %+v", got)
	}
}

// TestStandingAgainstAll compares the index with asking every surface.
func TestStandingAgainstAll(t *testing.T) {
	surfaces, ground := randomGround(20)
	rng := newRand(82)
	for range 300 {
		p, radius, within := randomPoint(rng, 30), rng.Float64(), 2*rng.Float64()
		want := map[string]float64{}
		for _, s := range surfaces {
			if d := s.Region.Distance(p) - radius; d <= within {
				want[s.ID] = d
			}
		}
		got := ground.At(p, radius, within)
		if len(got) != len(want) {
			t.Fatalf("%d surfaces, want %d", len(got), len(want))
		}
		for i, s := range got {
			near(t, s.ID, s.DistanceM, want[s.ID], 0)
			if i > 0 && s.DistanceM < got[i-1].DistanceM {
				t.Fatalf("not in order: %+v", got)
			}
		}
	}
}

func TestGroundIgnoresOrder(t *testing.T) {
	surfaces, ground := randomGround(5)
	rng := newRand(83)
	rng.Shuffle(len(surfaces), func(i, j int) { surfaces[i], surfaces[j] = surfaces[j], surfaces[i] })
	shuffled := site.NewGround(surfaces)
	for range 50 {
		leg := walkLine(rng, 4, 18)
		if a, b := fmt.Sprint(ground.Cut(leg)), fmt.Sprint(shuffled.Cut(leg)); a != b {
			t.Fatalf("pieces depend on the order of the surfaces:\n%s\n%s", a, b)
		}
	}
}

func TestGridAgainstAll(t *testing.T) {
	rng := newRand(84)
	for range 50 {
		grid := site.NewGrid(0.2 + 5*rng.Float64())
		boxes := make([]r2.Box, 80)
		for i := range boxes {
			boxes[i] = randomBox(rng)
			grid.Add(i, boxes[i])
		}
		for range 50 {
			checkNear(t, grid, boxes, randomBox(rng))
		}
	}
}

func randomBox(rng *rand.Rand) r2.Box {
	p, size := randomPoint(rng, 100), math.Pow(10, 4*rng.Float64()-2)
	return r2.Box{Min: p, Max: r2.Vec{X: p.X + size*rng.Float64(), Y: p.Y + size}}
}

// checkNear holds that the grid leaves out no box that meets the question, and
// answers in rising order.
func checkNear(t *testing.T, grid *site.Grid, boxes []r2.Box, ask r2.Box) {
	t.Helper()
	got := grid.Near(ask)
	if !slices.IsSorted(got) {
		t.Fatalf("not in order: %v", got)
	}
	for i, b := range boxes {
		apart := b.Max.X < ask.Min.X || ask.Max.X < b.Min.X || b.Max.Y < ask.Min.Y || ask.Max.Y < b.Min.Y
		if !apart && !slices.Contains(got, i) {
			t.Fatalf("box %d %v meets %v but is left out of %v", i, b, ask, got)
		}
	}
}

func TestGridLines(t *testing.T) {
	rng := newRand(85)
	grid := site.NewGrid(2)
	lines := make([]site.Line, 60)
	for i := range lines {
		lines[i] = walkLine(rng, 1+rng.IntN(4), 80)
		grid.AddLine(i, lines[i], 0.5)
	}
	for range 200 {
		ask, margin := walkLine(rng, 2, 80), rng.Float64()
		got := grid.NearLine(ask, margin)
		for i, l := range lines {
			if site.LineLine(ask, l).M <= margin && !slices.Contains(got, i) {
				t.Fatalf("line %d is left out", i)
			}
		}
		p := randomPoint(rng, 80)
		got = grid.NearPoint(p, margin)
		for i, l := range lines {
			if site.PointLine(p, l).M <= margin && !slices.Contains(got, i) {
				t.Fatalf("line %d is left out of what is near a point", i)
			}
		}
	}
}

// TestGridUnusable holds that what cannot be placed is never left out.
func TestGridUnusable(t *testing.T) {
	grid := site.NewGrid(math.NaN())
	bad := []r2.Box{
		{Min: r2.Vec{X: math.NaN()}}, {Max: r2.Vec{X: math.Inf(1)}},
		{Min: r2.Vec{X: -1e308, Y: -1e308}, Max: r2.Vec{X: 1e308, Y: 1e308}},
		{Min: r2.Vec{X: -9e5, Y: -9e5}, Max: r2.Vec{X: 9e5, Y: 9e5}},
	}
	for i, b := range bad {
		grid.Add(i, b)
	}
	grid.Add(9, r2.Box{Min: r2.Vec{X: 50, Y: 50}, Max: r2.Vec{X: 51, Y: 51}})
	if got := grid.NearPoint(r2.Vec{}, 1); !slices.Equal(got, []int{0, 1, 2, 3}) {
		t.Errorf("near the origin: %v", got)
	}
	for _, ask := range bad {
		if got := grid.Near(ask); !slices.Equal(got, []int{0, 1, 2, 3, 9}) {
			t.Errorf("near %v: %v", ask, got)
		}
	}
}
