package site_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// bend is 10 m north, then 10 m east.
var bend = site.Line{{X: 0, Y: 0}, {X: 0, Y: 10}, {X: 10, Y: 10}}

func TestBearings(t *testing.T) {
	for deg, want := range map[float64]r2.Vec{
		0: {X: 0, Y: 1}, 90: {X: 1, Y: 0}, 180: {X: 0, Y: -1}, 270: {X: -1, Y: 0},
		360: {X: 0, Y: 1}, -90: {X: -1, Y: 0}, 450: {X: 1, Y: 0},
	} {
		if got := site.Heading(deg); got != want {
			t.Errorf("Heading(%v) = %v, want %v exactly", deg, got, want)
		}
		near(t, "Bearing", site.Bearing(r2.Vec{}, want), site.NormalBearing(deg), 0)
	}
	// 30 degrees from north: sin 30 = 1/2, cos 30 = sqrt(3)/2.
	near(t, "east part", site.Heading(30).X, 0.5, 1e-15)
	near(t, "north part", site.Heading(30).Y, math.Sqrt(3)/2, 1e-15)
	rng := newRand(20)
	for range 1000 {
		b := rng.Float64() * 360
		near(t, "there and back", site.Bearing(r2.Vec{X: 3, Y: 4}, r2.Add(r2.Vec{X: 3, Y: 4}, site.Heading(b))), b, 1e-12)
	}
	for _, c := range [][3]float64{{350, 10, 20}, {10, 350, -20}, {0, 180, 180}, {180, 0, 180}, {90, 90, 0}, {0, 181, -179}} {
		near(t, "turn", site.TurnDeg(c[0], c[1]), c[2], 1e-12)
	}
	if b := site.NormalBearing(-1e-20); b != 0 || math.Signbit(b) {
		t.Errorf("NormalBearing of a tiny negative = %v", b)
	}
}

func TestPointAtByHand(t *testing.T) {
	cases := []struct {
		name            string
		station, offset float64
		side            site.Side
		want            r2.Vec
	}{
		{"start", 0, 0, site.OnLine, r2.Vec{X: 0, Y: 0}},
		{"on the first piece", 4, 0, site.OnLine, r2.Vec{X: 0, Y: 4}},
		{"left of it", 4, 0.6, site.Left, r2.Vec{X: -0.6, Y: 4}},
		{"right of it", 4, 0.6, site.Right, r2.Vec{X: 0.6, Y: 4}},
		{"left of the second piece", 14, 1, site.Left, r2.Vec{X: 4, Y: 11}},
		{"right of the second piece", 14, 1, site.Right, r2.Vec{X: 4, Y: 9}},
		{"end", 20, 2, site.Right, r2.Vec{X: 10, Y: 8}},
		// At the bend the offset halves the corner: 45 degrees.
		{"outside the bend", 10, math.Sqrt2, site.Left, r2.Vec{X: -1, Y: 11}},
		{"inside the bend", 10, math.Sqrt2, site.Right, r2.Vec{X: 1, Y: 9}},
	}
	for _, c := range cases {
		got, ok := bend.PointAt(c.station, c.offset, c.side)
		if !ok || r2.Norm(r2.Sub(got, c.want)) > 1e-12 {
			t.Errorf("%s: %v, %v; want %v", c.name, got, ok, c.want)
		}
	}
	for _, station := range []float64{-0.1, 20.1, math.NaN(), math.Inf(1)} {
		if _, ok := bend.PointAt(station, 0, site.OnLine); ok {
			t.Errorf("station %v is on the line", station)
		}
	}
	if _, ok := bend.PointAt(1, -1, site.Left); ok {
		t.Error("a negative offset is accepted")
	}
	if p, _, ok := bend.Along(20 + site.TouchM/2); !ok || p != bend[2] {
		t.Errorf("half a tolerance beyond the end: %v, %v", p, ok)
	}
}

func TestLocateByHand(t *testing.T) {
	got, ok := bend.Locate(r2.Vec{X: 3, Y: 4})
	if !ok || got.Side != site.Right || got.Foot != (r2.Vec{X: 0, Y: 4}) || got.BearingDeg != 0 {
		t.Errorf("Locate: %+v", got)
	}
	near(t, "station", got.StationM, 4, 0)
	near(t, "offset", got.OffsetM, 3, 0)
	// Beyond the corner, outside: the foot is the corner.
	got, _ = bend.Locate(r2.Vec{X: -3, Y: 14})
	if got.Side != site.Left || got.StationM != 10 || got.OffsetM != 5 || got.BearingDeg != 45 {
		t.Errorf("outside the bend: %+v", got)
	}
	// Equally far from both pieces: the lower station counts.
	got, _ = bend.Locate(r2.Vec{X: 4, Y: 6})
	if got.StationM != 6 || got.Side != site.Right {
		t.Errorf("on the bisector: %+v", got)
	}
}

// TestStationRoundTrip goes from station, offset and side to a point and back,
// where the foot is the nearest point.
func TestStationRoundTrip(t *testing.T) {
	rng := newRand(21)
	tried := 0
	for range 5000 {
		l := walkLine(rng, 2+rng.IntN(6), 30)
		station, offset := rng.Float64()*l.Length(), 0.05+2*rng.Float64()
		side := site.Left
		if rng.IntN(2) == 0 {
			side = site.Right
		}
		p, ok := l.PointAt(station, offset, side)
		if !ok {
			t.Fatalf("no point at %v of %v", station, l)
		}
		if planar.DistanceFrom(toLine(l), toPoint(p)) < offset-1e-9 {
			continue // nearer to another part of the line
		}
		tried++
		at, _ := l.Locate(p)
		near(t, "station", at.StationM, station, 1e-8)
		near(t, "offset", at.OffsetM, offset, 1e-9)
		if at.Side != side {
			t.Fatalf("side %v, want %v", at.Side, side)
		}
	}
	if tried < 2000 {
		t.Errorf("only %d round trips", tried)
	}
}

// TestStationReversed holds that walking the other way swaps sides and counts
// stations from the other end, at bends too.
func TestStationReversed(t *testing.T) {
	rng := newRand(22)
	for range 1000 {
		l := walkLine(rng, 2+rng.IntN(6), 30)
		length := l.Length()
		station := rng.Float64() * length
		if rng.IntN(3) == 0 && len(l) > 2 { // exactly at a bend
			station = l[:2+rng.IntN(len(l)-2)].Length()
		}
		p, _ := l.PointAt(station, 1.5, site.Left)
		q, ok := l.Reverse().PointAt(length-station, 1.5, site.Right)
		if !ok || r2.Norm(r2.Sub(p, q)) > 1e-6 {
			t.Fatalf("station %v of %v: %v forwards, %v backwards", station, l, p, q)
		}
	}
}

func TestParts(t *testing.T) {
	rng := newRand(23)
	for range 1000 {
		l := walkLine(rng, 2+rng.IntN(6), 30)
		length := l.Length()
		a, b := rng.Float64()*length, rng.Float64()*length
		a, b = min(a, b), max(a, b)
		near(t, "part length", planar.Length(toLine(l.Part(a, b))), b-a, 1e-9)
		rest := planar.Length(toLine(l.Part(-5, a))) + planar.Length(toLine(l.Part(b, length+5)))
		near(t, "rest length", rest, length-(b-a), 1e-9)
	}
	if got := bend.Part(5, 15); len(got) != 3 || got[0] != (r2.Vec{X: 0, Y: 5}) || got[2] != (r2.Vec{X: 5, Y: 10}) {
		t.Errorf("part of the bend = %v", got)
	}
	if got := bend.Part(7, 7); got != nil {
		t.Errorf("a part without length = %v", got)
	}
}

func TestRepeatedPointsChangeNothing(t *testing.T) {
	twice := site.Line{bend[0], bend[0], bend[1], bend[1], bend[1], bend[2], bend[2]}
	for s := 0.0; s <= 20; s += 0.5 {
		p, b, ok := bend.Along(s)
		q, c, ok2 := twice.Along(s)
		if p != q || b != c || ok != ok2 {
			t.Errorf("station %v: %v %v, with repeats %v %v", s, p, b, q, c)
		}
	}
}
