package site_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// gentleLine returns a polyline that bends by less than 60 degrees at a time,
// with pieces longer than 2 m.
func gentleLine(rng *rand.Rand, n int) site.Line {
	out := site.Line{randomPoint(rng, 10)}
	bearing := rng.Float64() * 360
	for range n {
		out = append(out, r2.Add(out[len(out)-1], r2.Scale(2+3*rng.Float64(), site.Heading(bearing))))
		bearing += (rng.Float64() - 0.5) * 60
	}
	return out
}

// TestRoundStripAgainstLibrary holds that a strip with round ends is exactly
// what lies within half its width of the centreline.
func TestRoundStripAgainstLibrary(t *testing.T) {
	rng := newRand(30)
	in := 0
	for range 2000 {
		s := site.Strip{Centreline: walkLine(rng, 2+rng.IntN(6), 20), WidthM: 4 * rng.Float64(), Ends: site.RoundEnds}
		p := randomPoint(rng, 24)
		want := planar.DistanceFrom(toLine(s.Centreline), toPoint(p)) - s.WidthM/2
		got := s.Distance(p)
		if want > 0 {
			near(t, "outside", got, want, agreeTol)
		} else {
			in++
			near(t, "inside", got, want, agreeTol)
		}
		if s.Contains(p) != (want <= site.TouchM) {
			t.Fatalf("Contains(%v) with the edge %v away", p, want)
		}
	}
	if in < 200 {
		t.Errorf("only %d points on the strip", in)
	}
}

func TestFlatStripByHand(t *testing.T) {
	s := site.Strip{Centreline: bend, WidthM: 2}
	cases := []struct {
		name string
		p    r2.Vec
		want float64
	}{
		{"middle of the first piece", r2.Vec{X: 0, Y: 5}, -1},
		{"half way to the edge", r2.Vec{X: 0.5, Y: 5}, -0.5},
		{"on the edge", r2.Vec{X: 1, Y: 5}, 0},
		{"near the start", r2.Vec{X: 0.3, Y: 0.2}, -0.2},
		{"near the end", r2.Vec{X: 9.75, Y: 10.1}, -0.25},
		{"beside the path", r2.Vec{X: -1.6, Y: 5}, 0.6},
		{"before the start", r2.Vec{X: 0, Y: -0.5}, 0.5},
		{"beyond a corner, 3-4-5", r2.Vec{X: 4, Y: -4}, 5},
		{"beyond the end", r2.Vec{X: 12, Y: 10}, 2},
		{"the outer corner is round", r2.Vec{X: -3, Y: 14}, 4},
	}
	for _, c := range cases {
		near(t, c.name, s.Distance(c.p), c.want, 1e-15)
	}
	at, ok := s.Place(r2.Vec{X: -1.6, Y: 5})
	if !ok || at.Side != site.Left || at.StationM != 5 || math.Abs(at.EdgeM-0.6) > 1e-15 {
		t.Errorf("Place = %+v", at)
	}
	s.Ends = site.RoundEnds
	near(t, "round start", s.Distance(r2.Vec{X: 0, Y: -0.5}), -0.5, 1e-15)
}

// TestStripOutlineArea compares the drawn outline with the closed form: length
// times width, plus for each bend by an angle a the outer pie a r^2 / 2 less the
// inner overlap r^2 tan(a/2), r being half the width.
func TestStripOutlineArea(t *testing.T) {
	rng := newRand(31)
	const sagitta = 1e-6
	for range 200 {
		l := gentleLine(rng, 1+rng.IntN(5))
		s := site.Strip{Centreline: l, WidthM: 1.5}
		r := s.WidthM / 2
		want := l.Length() * s.WidthM
		segs := l.Segments()
		for i := 1; i < len(segs); i++ {
			turn := site.TurnDeg(site.Bearing(segs[i-1].A, segs[i-1].B), site.Bearing(segs[i].A, segs[i].B))
			a := math.Abs(turn) * math.Pi / 180
			want += r*r*a/2 - r*r*math.Tan(a/2)
		}
		near(t, "flat area", math.Abs(planar.Area(toRing(s.Outline(sagitta)))), want, 1e-5)
		s.Ends = site.RoundEnds
		near(t, "round area", math.Abs(planar.Area(toRing(s.Outline(sagitta)))), want+math.Pi*r*r, 1e-5)
	}
}

// TestStripOutlineEncloses holds that the drawing and the exact strip agree
// about random points, but for a sagitta.
func TestStripOutlineEncloses(t *testing.T) {
	rng := newRand(32)
	const sagitta = 1e-4
	for range 100 {
		s := site.Strip{Centreline: gentleLine(rng, 1+rng.IntN(4)), WidthM: 1.5, Ends: site.Ends(rng.IntN(2))}
		outline := toRing(s.Outline(sagitta))
		for range 100 {
			at := s.Centreline[rng.IntN(len(s.Centreline))]
			p := r2.Add(at, randomPoint(rng, 5))
			d := s.Distance(p)
			if math.Abs(d) <= 2*sagitta {
				continue
			}
			if planar.RingContains(outline, toPoint(p)) != (d < 0) {
				t.Fatalf("drawing and strip disagree about %v, %v from the edge of %v", p, d, s)
			}
		}
	}
}

func TestStripOutlineRefused(t *testing.T) {
	for name, s := range map[string]site.Strip{
		"no width":   {Centreline: bend},
		"no length":  {Centreline: bend[:1], WidthM: 1},
		"no points":  {WidthM: 1},
		"NaN width":  {Centreline: bend, WidthM: math.NaN()},
		"less width": {Centreline: bend, WidthM: -1},
	} {
		if got := s.Outline(0.01); got != nil {
			t.Errorf("%s: %v", name, got)
		}
	}
	good := site.Strip{Centreline: bend, WidthM: 1}
	for _, sagitta := range []float64{0, -1, math.NaN()} {
		if got := good.Outline(sagitta); got != nil {
			t.Errorf("sagitta %v: %v", sagitta, got)
		}
	}
}
