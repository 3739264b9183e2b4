package site_test

import (
	"encoding/binary"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// A fuzz input is read as numbers in one of two ways. An even first byte means
// eight bytes to a number, so that every float64 comes up. An odd one means a
// byte to a number, on a lattice of eighths from -16 to 15.875, so that shapes
// that touch, overlap and repeat points come up.
type numbers struct {
	data    []byte
	lattice bool
}

func readNumbers(data []byte) *numbers {
	if len(data) == 0 {
		return &numbers{}
	}
	return &numbers{data: data[1:], lattice: data[0]%2 == 1}
}

func (n *numbers) next() float64 {
	if n.lattice {
		if len(n.data) == 0 {
			return 0
		}
		x := float64(int8(n.data[0])) / 8
		n.data = n.data[1:]
		return x
	}
	if len(n.data) < 8 {
		n.data = nil
		return 0
	}
	x := math.Float64frombits(binary.LittleEndian.Uint64(n.data))
	n.data = n.data[8:]
	return x
}

func (n *numbers) point() r2.Vec { return r2.Vec{X: n.next(), Y: n.next()} }

// points reads up to most points, as long as there is input.
func (n *numbers) points(most int) []r2.Vec {
	var out []r2.Vec
	for len(n.data) > 0 && len(out) < most {
		out = append(out, n.point())
	}
	return out
}

func addSeeds(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{1, 0, 0, 32, 0, 32, 32, 0, 32, 8, 8, 240, 16, 40, 16})
	f.Add([]byte{1, 0, 0, 0, 0, 32, 0, 32, 0, 16, 0, 16, 0, 48, 0})
	wild := []byte{0}
	for _, x := range nasty {
		wild = binary.LittleEndian.AppendUint64(wild, math.Float64bits(x))
	}
	f.Add(wild)
}

// FuzzPolygon holds that where a point lies, how far it is and what an outline
// is accused of agree with one another.
func FuzzPolygon(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		n := readNumbers(data)
		p := n.point()
		g := site.Polygon(n.points(24))
		where, d := g.Locate(p), g.Distance(p)
		if len(g) == 0 || !site.Usable(p) || !site.Usable(g...) {
			if where != site.Outside || site.Known(d) {
				t.Fatalf("%v in %v: %v, %v", p, g, where, d)
			}
			return
		}
		slack := 1e-9
		switch {
		case where == site.Inside && d > -site.TouchM+slack,
			where == site.Boundary && math.Abs(d) > site.TouchM+slack,
			where == site.Outside && d < site.TouchM-slack:
			t.Fatalf("%v in %v: %v at %v", p, g, where, d)
		}
		turned := site.Polygon(site.Line(g).Reverse())
		if turned.Locate(p) != where || math.Abs(turned.SignedArea()+g.SignedArea()) > 1e-9*(1+g.Perimeter()*g.Perimeter()) {
			t.Fatalf("%v: turning the ring round changes it", g)
		}
		for _, fault := range g.Faults() {
			if fault.I >= len(g) || fault.J >= len(g) || fault.Kind == site.Unusable {
				t.Fatalf("%v: fault %+v", g, fault)
			}
		}
		site.Line(g).SelfCrossings()
		if gap := site.LinePolygon(site.Line{p}, g).M; math.Abs(gap-max(0, d)) > site.TouchM+slack {
			t.Fatalf("%v to %v: gap %v, distance %v", p, g, gap, d)
		}
	})
}

// FuzzCut holds that pieces, spans and stations of any leg over any surfaces
// make up the leg.
func FuzzCut(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		n := readNumbers(data)
		leg := site.Line(n.points(6))
		width := n.next()
		shape := n.points(8)
		ground := site.NewGround([]site.Surface{
			{ID: "lawn", Kind: "lawn", Region: site.Polygon(shape)},
			{ID: "walk", Kind: "path", Region: site.Strip{Centreline: site.Line(shape), WidthM: width}},
			{ID: "pond", Kind: "margin", Region: site.Margin{Of: site.Polygon(shape), ByM: width}},
			{ID: "edge", Kind: "band", Region: site.EdgeBand{Of: site.Polygon(shape), InsideM: width, OutsideM: width / 2}},
			{ID: "tree", Kind: "roots", Region: site.Disc{Centre: n.point(), RadiusM: width}},
		})
		length, at := leg.Length(), 0.0
		pieces := ground.Cut(leg)
		if (pieces != nil) != (site.Known(length) && length > site.TouchM) {
			t.Fatalf("%v: pieces %v of a leg of %v", leg, pieces, length)
		}
		for _, p := range pieces {
			if p.From != at || p.To <= p.From {
				t.Fatalf("%v: piece %v after %v", leg, p.Span, at)
			}
			at = p.To
			if _, _, ok := leg.Along((p.From + p.To) / 2); !ok {
				t.Fatalf("%v: the middle of %v is not on the leg", leg, p.Span)
			}
		}
		if pieces != nil && at != length {
			t.Fatalf("%v: pieces end at %v of %v", leg, at, length)
		}
		trenches := ground.Trenches([]site.TrenchLeg{{ID: "a", Route: leg}, {ID: "b", Route: leg}, {ID: "c", Route: leg.Reverse()}}, site.SameTrenchM)
		if dug := lengthOf(trenches); pieces != nil && math.Abs(dug-length) > 1e-9*(1+length)+1e-5 {
			t.Fatalf("%v: %v dug for one route of %v", leg, dug, length)
		}
	})
}

// FuzzStation holds that a place read off a line leads back to the point.
func FuzzStation(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		n := readNumbers(data)
		p, station, offset := n.point(), n.next(), n.next()
		l := site.Line(n.points(16))
		l.PointAt(station, offset, site.Left)
		at, ok := l.Locate(p)
		if ok != (len(l) > 0 && site.Usable(p) && site.Usable(l...)) {
			t.Fatalf("%v on %v: ok %v", p, l, ok)
		}
		if !ok {
			return
		}
		foot, _, found := l.Along(at.StationM)
		if tol := 1e-9*(1+l.Length()) + 2*site.TouchM; !found || r2.Norm(r2.Sub(foot, at.Foot)) > tol {
			t.Fatalf("%v on %v: station %v is %v, the foot %v", p, l, at.StationM, foot, at.Foot)
		}
		if gap := site.PointLine(p, l).M; math.Abs(gap-at.OffsetM) > 1e-9*(1+gap) {
			t.Fatalf("%v on %v: %v off, %v away", p, l, at.OffsetM, gap)
		}
		site.RhythmOf(l, []site.Placed{{ID: "a", At: p}, {ID: "b", At: l[0]}}, math.Abs(offset), 0.5)
	})
}

// FuzzLeaf holds that positions of a leaf stay in what it sweeps, and that no
// position comes nearer to a point than the clearance says.
func FuzzLeaf(f *testing.F) {
	addSeeds(f)
	f.Add([]byte{1, 0, 0, 8, 0, 0, 16, 2, 127, 0, 0, 0, 0, 4, 4})
	f.Fuzz(func(t *testing.T, data []byte) {
		n := readNumbers(data)
		l := site.Leaf{Hinge: n.point(), LengthM: n.next(), HingeGapM: n.next(), ThicknessM: n.next(), ClosedDeg: 11.25 * n.next(),
			Opens: site.Hand(math.Mod(math.Abs(n.next()), 4)), AngleDeg: 22.5 * n.next(), SlideM: n.next(), SlideDeg: 11.25 * n.next(),
			BottomM: n.next(), TopM: n.next()}
		p := n.point()
		sweep := l.Sweep()
		c := sweep.Clearance(p, 0)
		l.Strikes(n.next(), n.next())
		sweep.Bounds()
		if sweep.Usable != (len(l.Posts()) > 0) || site.Known(c.GapM) != (sweep.Usable && site.Usable(p)) {
			t.Fatalf("%+v: usable %v, clearance %v", l, sweep.Usable, c.GapM)
		}
		if !site.Known(c.GapM) {
			return
		}
		if a := r2.Norm(c.Away); math.Abs(a-1) > 1e-6 {
			t.Fatalf("%+v at %v: away %v", l, p, c.Away)
		}
		slack := 1e-9 * (1 + l.LengthM + l.SlideM + r2.Norm(l.Hinge) + r2.Norm(p))
		for _, pos := range l.Through(max(0.05, (l.LengthM+l.SlideM)/20)) {
			if d := site.PointSegment(p, pos.Segment).M; d < c.GapM-slack && site.Known(d) {
				t.Fatalf("%+v: %v is %v from the leaf at %v, clearance %v", l, p, d, pos.Open, c.GapM)
			}
		}
	})
}

// FuzzPairs holds that what two lines are to each other is the same both ways.
func FuzzPairs(f *testing.F) {
	addSeeds(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		n := readNumbers(data)
		a := site.Line(n.points(4))
		b := site.Line(n.points(5))
		ab, ba := site.LineLine(a, b).M, site.LineLine(b, a).M
		if math.IsNaN(ab) != math.IsNaN(ba) || math.Abs(ab-ba) > 1e-9*(1+ab) {
			t.Fatalf("%v to %v: %v, back %v", a, b, ab, ba)
		}
		xs := site.Crossings(a, b)
		for _, x := range xs {
			if x.AngleDeg < 0 || x.AngleDeg > 90 || x.StationM < 0 || x.StationM > a.Length()+1e-6 {
				t.Fatalf("%v over %v: %+v", a, b, x)
			}
		}
		if len(a.Segments()) > 0 && len(b) > 0 && site.Usable(a...) && site.Usable(b...) && (ab <= site.TouchM/2) != (len(xs) > 0) && (ab <= site.TouchM/2 || ab > 2*site.TouchM) {
			t.Fatalf("%v and %v are %v apart with the crossings %+v", a, b, ab, xs)
		}
		for _, s := range site.Alongside(a, b, 0.5, 30) {
			if !(s.MinM <= 0.5+1e-5) || s.Length() <= 0 {
				t.Fatalf("%v along %v: %+v", a, b, s)
			}
		}
	})
}
