package site_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb/planar"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// sideGate is a 1.07 m (3 ft 6 in) gate, hinged at the origin, closed towards
// the west, that opens to the left of someone at the hinge: towards the south.
func sideGate() site.Leaf {
	return site.Leaf{ID: "side-gate", LengthM: 1.0668, ClosedDeg: 270, Opens: site.OpensLeft, AngleDeg: 95, BottomM: 0.05, TopM: 1.2}
}

func randomLeaf(rng *rand.Rand) site.Leaf {
	l := site.Leaf{
		Hinge: randomPoint(rng, 10), LengthM: 0.6 + 1.5*rng.Float64(), ClosedDeg: 360 * rng.Float64(),
		Opens: site.Hand(1 + rng.IntN(3)), AngleDeg: 30 + 140*rng.Float64(),
	}
	if rng.IntN(2) == 0 {
		l.HingeGapM = 0.2 * rng.Float64()
	}
	if rng.IntN(4) == 0 {
		l.SlideM, l.SlideDeg = 1+3*rng.Float64(), 360*rng.Float64()
	}
	return l
}

func TestGatePositionsByHand(t *testing.T) {
	rest := sideGate().Rest()
	if len(rest) != 2 || rest[0].Name != "closed" || rest[1].Name != "open" {
		t.Fatalf("resting positions: %+v", rest)
	}
	near(t, "closed tip x", rest[0].Segment.B.X, -1.0668, 1e-15)
	near(t, "closed tip y", rest[0].Segment.B.Y, 0, 1e-15)
	// Left of west is south: 95 degrees on, the tip is 5 degrees past south
	// towards the east.
	near(t, "open tip x", rest[1].Segment.B.X, 1.0668*math.Sin(5*math.Pi/180), 1e-12)
	near(t, "open tip y", rest[1].Segment.B.Y, -1.0668*math.Cos(5*math.Pi/180), 1e-12)

	swing := sideGate()
	swing.Opens = site.OpensBoth
	rest = swing.Rest()
	if len(rest) != 3 || rest[1].Name != "open left" || rest[2].Name != "open right" {
		t.Fatalf("both ways: %+v", rest)
	}
	if rest[1].Segment.B.Y >= 0 || rest[2].Segment.B.Y <= 0 {
		t.Errorf("left is south and right is north of a gate closed to the west: %+v", rest)
	}
	near(t, "turns as far each way", rest[1].Segment.B.Y, -rest[2].Segment.B.Y, 1e-12)
}

func TestHandTowards(t *testing.T) {
	for _, c := range []struct {
		closed, towards float64
		want            site.Hand
	}{
		{270, 180, site.OpensLeft}, {270, 0, site.OpensRight}, {0, 90, site.OpensRight},
		{0, 270, site.OpensLeft}, {90, 0, site.OpensLeft}, {350, 10, site.OpensRight},
	} {
		if got := site.HandTowards(c.closed, c.towards); got != c.want {
			t.Errorf("closed %v, towards %v: %v, want %v", c.closed, c.towards, got, c.want)
		}
	}
}

// TestGateClearanceByHand moves a path light of 0.1 m radius round the gate.
func TestGateClearanceByHand(t *testing.T) {
	sweep := sideGate().Sweep()
	near(t, "swept area", sweep.Sector.Area(), 95.0/360*math.Pi*1.0668*1.0668, 1e-12)
	cases := []struct {
		name string
		p    r2.Vec
		gap  float64
	}{
		{"in the middle of the swing", r2.Vec{X: -0.5, Y: -0.5}, -(1.0668 - math.Sqrt(0.5)) - 0.1},
		{"beyond the arc", r2.Scale(1.4668, site.Heading(225)), 0.3},
		{"north of the closed gate", r2.Vec{X: -0.6, Y: 0.5}, 0.4},
		{"just touching the closed gate", r2.Vec{X: -0.6, Y: 0.1}, 0},
		{"beside the latch", r2.Vec{X: -1.0668 - 0.4, Y: 0}, 0.3},
		{"behind the hinge", r2.Vec{X: 0.3, Y: 0.4}, 0.4},
	}
	for _, c := range cases {
		got := sweep.Clearance(c.p, 0.1)
		near(t, c.name, got.GapM, c.gap, 1e-12)
		if got.Contact() != (c.gap <= 1e-9) {
			t.Errorf("%s: contact %v", c.name, got.Contact())
		}
	}
}

// TestOneFootTowardsTheGate is the move that turns a good plan into a bad one:
// a light 1.5 ft clear of the swing, moved 1 ft towards it, is within 1 ft.
func TestOneFootTowardsTheGate(t *testing.T) {
	const foot = 0.3048
	sweep := sideGate().Sweep()
	dir := site.Heading(225)
	before := sweep.Clearance(r2.Scale(1.0668+1.5*foot, dir), 0)
	after := sweep.Clearance(r2.Scale(1.0668+0.5*foot, dir), 0)
	near(t, "before", before.GapM, 1.5*foot, 1e-12)
	near(t, "after", after.GapM, 0.5*foot, 1e-12)
	back := after.MoveTo(r2.Scale(1.0668+0.5*foot, dir), foot)
	near(t, "moved back", sweep.Clearance(back, 0).GapM, foot, 1e-12)
	near(t, "by the least distance", r2.Norm(r2.Sub(back, r2.Scale(1.0668+0.5*foot, dir))), 0.5*foot, 1e-12)
}

// TestSamplesConvergeToSweep holds that the distance to the leaf, over ever
// finer positions through its swing, falls to the exact distance from the swept
// ground, from above, and by no more than the step.
func TestSamplesConvergeToSweep(t *testing.T) {
	rng := newRand(70)
	worst := 0.0
	for range 300 {
		l := randomLeaf(rng)
		sweep := l.Sweep()
		p := r2.Add(l.Hinge, randomPoint(rng, 6))
		exact := math.Max(0, sweep.Clearance(p, 0).GapM)
		for _, step := range []float64{0.5, 0.1, 0.02} {
			sampled := math.Inf(1)
			for _, pos := range l.Through(step) {
				sampled = math.Min(sampled, site.PointSegment(p, pos.Segment).M)
			}
			if sampled < exact-1e-9 || sampled > exact+step/2+1e-9 {
				t.Fatalf("step %v: sampled %v, exact %v for %+v at %v", step, sampled, exact, l, p)
			}
			if step == 0.02 {
				worst = math.Max(worst, sampled-exact)
			}
		}
	}
	t.Logf("worst difference at a step of 0.02 m: %.4f m", worst)
}

func TestThroughStepsAndNames(t *testing.T) {
	rng := newRand(71)
	for range 200 {
		l := randomLeaf(rng)
		const step = 0.05
		ps := l.Through(step)
		names := map[string]int{}
		for i, p := range ps {
			names[p.Name]++
			if i == 0 {
				continue
			}
			if d := r2.Norm(r2.Sub(p.Segment.B, ps[i-1].Segment.B)); d > step*(1+1e-9) {
				t.Fatalf("the tip moves %v", d)
			}
			if p.Open <= ps[i-1].Open {
				t.Fatalf("positions are not in order: %v after %v", p.Open, ps[i-1].Open)
			}
		}
		for _, r := range l.Rest() {
			if names[r.Name] != 1 {
				t.Fatalf("%q is met %d times among %d positions", r.Name, names[r.Name], len(ps))
			}
		}
	}
	long := site.Leaf{LengthM: 1000, Opens: site.OpensBoth, AngleDeg: 360}
	if n := len(long.Through(1e-3)); n != site.MaxSamples {
		t.Errorf("%d positions, want the limit %d", n, site.MaxSamples)
	}
}

// TestThickLeafStaysInItsSweep samples the corners of leaves with a thickness.
func TestThickLeafStaysInItsSweep(t *testing.T) {
	rng := newRand(72)
	for range 300 {
		l := randomLeaf(rng)
		l.ThicknessM = 0.2 * rng.Float64()
		sweep := l.Sweep()
		for _, pos := range l.Through(0.1) {
			n := r2.Scale(l.ThicknessM/2, site.Heading(site.Bearing(pos.Segment.A, pos.Segment.B)+90))
			for _, end := range []r2.Vec{pos.Segment.A, pos.Segment.B} {
				for _, corner := range []r2.Vec{r2.Add(end, n), r2.Sub(end, n)} {
					// The near corners of a hinged leaf with a gap smaller than
					// half its thickness turn about the hinge.
					if c := sweep.Clearance(corner, 0); c.GapM > 1e-9 {
						t.Fatalf("corner %v is %v outside the sweep of %+v", corner, c.GapM, l)
					}
				}
			}
		}
	}
}

func TestSlidingGateByHand(t *testing.T) {
	// A 3 m gate across a drive from (0,0) to the east that slides 3 m to
	// the west, 0.08 m thick: it sweeps 6 m by 0.08 m.
	l := site.Leaf{ID: "drive-gate", LengthM: 3, ClosedDeg: 90, SlideM: 3, SlideDeg: 270, ThicknessM: 0.08}
	sweep := l.Sweep()
	near(t, "swept area", sweep.Track.Area(), 6*0.08, 1e-12)
	near(t, "by the library", math.Abs(planar.Area(toRing(sweep.Track))), 6*0.08, 1e-12)
	for _, c := range []struct {
		name string
		p    r2.Vec
		gap  float64
	}{
		{"behind the fence, in its way", r2.Vec{X: -1, Y: 0}, -0.04 - 0.05},
		{"beside its way", r2.Vec{X: -1, Y: 0.39}, 0.3},
		{"beyond the open end", r2.Vec{X: -3.45, Y: 0}, 0.4},
		{"off the corner, 3-4-5", r2.Vec{X: -3.3, Y: -0.44}, 0.45},
	} {
		near(t, c.name, sweep.Clearance(c.p, 0.05).GapM, c.gap, 1e-12)
	}
	if open := l.Rest()[1].Segment; open.A.X != -3 || open.B.X != 0 {
		t.Errorf("open: %v", open)
	}
	// One that slides aside sweeps a parallelogram.
	l = site.Leaf{LengthM: 2, ClosedDeg: 0, SlideM: math.Sqrt2, SlideDeg: 45}
	near(t, "parallelogram", l.Sweep().Track.Area(), 2, 1e-12)
}

func TestDoubleGate(t *testing.T) {
	a, b := r2.Vec{X: 0, Y: 0}, r2.Vec{X: 3, Y: 0}
	pair := site.PairOfLeaves(site.Leaf{AngleDeg: 90, TopM: 1.5}, "gate/west", "gate/east", a, b, 0.02, site.OpensLeft)
	for i, l := range pair {
		near(t, "leaf length", l.LengthM, 1.49, 1e-15)
		open := l.Rest()[1].Segment.B
		near(t, "opens to the north", open.Y, 1.49, 1e-12)
		near(t, "from its hinge", open.X, []float64{0, 3}[i], 1e-12)
		closed := l.Rest()[0].Segment.B
		near(t, "meets in the middle", math.Abs(closed.X-1.5), 0.01, 1e-12)
	}
	if pair[0].ID != "gate/west" || pair[1].Opens != site.OpensRight || pair[1].TopM != 1.5 {
		t.Errorf("pair = %+v", pair)
	}
	// A light in the middle of the way, 2 m to the north, is clear of both
	// by the distance to the nearer open tip.
	p := r2.Vec{X: 1.5, Y: 2}
	want := math.Hypot(1.5, 2) - 1.49
	for _, l := range pair {
		near(t, "clearance", l.Sweep().Clearance(p, 0).GapM, want, 1e-12)
	}
	posts := pair[0].Posts()
	if len(posts) != 2 || posts[0] != (site.Post{Role: "hinge", At: a}) || posts[1].Role != "latch" {
		t.Errorf("posts = %v", posts)
	}
}

// TestMoveToClearsTheLeaf moves things that stand too near by the shortest way.
func TestMoveToClearsTheLeaf(t *testing.T) {
	rng := newRand(73)
	moved := 0
	for range 1000 {
		l := randomLeaf(rng)
		l.ThicknessM = 0.1 * rng.Float64()
		sweep := l.Sweep()
		p := r2.Add(l.Hinge, randomPoint(rng, 5))
		if rng.IntN(10) == 0 { // exactly on the leaf at rest
			pos := l.Rest()[0].Segment
			p = r2.Add(pos.A, r2.Scale(rng.Float64(), r2.Sub(pos.B, pos.A)))
		}
		before := sweep.Clearance(p, 0.07)
		if math.Abs(r2.Norm(before.Away)-1) > 1e-9 {
			t.Fatalf("Away = %v", before.Away)
		}
		q := before.MoveTo(p, 0.3)
		near(t, "moved", r2.Norm(r2.Sub(q, p)), math.Max(0, 0.3-before.GapM), 1e-9)
		after := sweep.Clearance(q, 0.07)
		// A way out through the inner arc of a leaf with a hinge gap, or one
		// that ends in the notch of a wide swing, does not clear it.
		if after.GapM >= 0.3-1e-9 {
			moved++
		} else if l.HingeGapM == 0 && !l.Slides() && l.AngleDeg < 90 && l.Opens != site.OpensBoth {
			t.Fatalf("moved %v to %v: still %v from %+v", p, q, after.GapM, l)
		}
	}
	if moved < 900 {
		t.Errorf("only %d of 1000 moves cleared the leaf", moved)
	}
}

func TestStrikes(t *testing.T) {
	gate := sideGate() // from 0.05 m to 1.2 m above the ground
	cases := []struct {
		name        string
		bottom, top float64
		want        bool
	}{
		{"path light", 0, 0.45, true},
		{"flush in-ground light", 0, 0, false},
		{"in-ground light 30 mm proud", 0, 0.03, false},
		{"just reaching the leaf", 0, 0.05, false},
		{"in-ground light 60 mm proud", 0, 0.06, true},
		{"wall light above the gate", 1.8, 2.0, false},
		{"resting on the top edge", 1.2, 1.4, false},
		{"wall light beside the top", 1.1, 1.4, true},
		{"height not a number", 0, math.NaN(), true},
	}
	for _, c := range cases {
		if got := gate.Strikes(c.bottom, c.top); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	gate.TopM = 0
	if !gate.Strikes(1.8, 2.0) {
		t.Error("a leaf of unknown height passes under a wall light")
	}
	gate.BottomM = math.NaN()
	if !gate.Strikes(0, 0.1) {
		t.Error("a leaf with an unknown ground gap passes over")
	}
}

// TestSweepMoves holds that turning, shifting and mirroring a site changes no
// clearance, a mirrored gate opening to the other hand.
func TestSweepMoves(t *testing.T) {
	rng := newRand(74)
	for range 1000 {
		l, m := randomLeaf(rng), randomMove(rng)
		l.ThicknessM = 0.1 * rng.Float64()
		p := r2.Add(l.Hinge, randomPoint(rng, 6))
		moved := l
		moved.Hinge, moved.ClosedDeg, moved.SlideDeg = m.point(l.Hinge), m.bearing(l.ClosedDeg), m.bearing(l.SlideDeg)
		if m.mirror && l.Opens != site.OpensBoth {
			moved.Opens = site.OpensLeft + site.OpensRight - l.Opens
		}
		want, got := l.Sweep().Clearance(p, 0.1), moved.Sweep().Clearance(m.point(p), 0.1)
		near(t, "gap", got.GapM, want.GapM, 1e-9)
		for i, r := range moved.Rest() {
			if l.Opens == site.OpensBoth && m.mirror && i > 0 && !l.Slides() {
				i = 3 - i
			}
			near(t, "resting tip", r2.Norm(r2.Sub(r.Segment.B, m.point(l.Rest()[i].Segment.B))), 0, 1e-9)
		}
	}
}
