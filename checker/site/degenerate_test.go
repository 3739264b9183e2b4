package site_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// nasty are numbers that damaged plans and arithmetic bring forth.
var nasty = []float64{
	math.NaN(), math.Inf(1), math.Inf(-1), 1e308, -1e308, math.MaxFloat64,
	5e-324, -5e-324, 1e-300, 0, math.Copysign(0, -1), site.MaxCoordM, -site.MaxCoordM,
	site.MaxCoordM * 1.0001, 1e-7, 1,
}

// usable is what the package promises to use: finite, within MaxCoordM.
func usable(xs ...float64) bool {
	for _, x := range xs {
		if !(math.Abs(x) <= site.MaxCoordM) {
			return false
		}
	}
	return true
}

// TestNastyPoints feeds every pair of nasty coordinates to every function and
// holds the values that the package documents.
func TestNastyPoints(t *testing.T) {
	for _, x := range nasty {
		for _, y := range nasty {
			p := r2.Vec{X: x, Y: y}
			ok := usable(x, y)
			checkDistances(t, p, ok)
			checkPolygonWith(t, p, ok)
			checkLineWith(t, p, ok)
		}
	}
}

// known holds that a measure is a number exactly when it should be.
func known(t *testing.T, what string, m float64, want bool) {
	t.Helper()
	if want == math.IsNaN(m) || want && !site.Known(m) {
		t.Errorf("%s = %v, known: want %v", what, m, want)
	}
}

func checkDistances(t *testing.T, p r2.Vec, ok bool) {
	t.Helper()
	s := site.Segment{A: p, B: r2.Vec{X: 1, Y: 2}}
	known(t, "point to segment", site.PointSegment(r2.Vec{}, s).M, ok)
	known(t, "segment to point", site.PointSegment(p, site.Segment{}).M, ok)
	known(t, "segment to segment", site.SegmentSegment(s, site.Segment{B: r2.Vec{X: 1}}).M, ok)
	known(t, "line to line", site.LineLine(site.Line{p}, bend).M, ok)
	known(t, "line to polygon", site.LinePolygon(site.Line{p, {}}, ell).M, ok)
	known(t, "polygon to polygon", site.PolygonPolygon(site.Polygon{p, {}, {X: 1}}, ell).M, ok)
	known(t, "segment length", s.Length(), ok)
	known(t, "disc", site.Disc{Centre: p, RadiusM: 1}.Distance(r2.Vec{}), ok)
	known(t, "disc", site.Disc{RadiusM: 1}.Distance(p), ok)
	known(t, "sector", site.Sector{Centre: p, OuterM: 1, SpanDeg: 90}.Distance(r2.Vec{}), ok)
	known(t, "sector", site.Sector{OuterM: 1, SpanDeg: 90}.Distance(p), ok)
	known(t, "clearance", sideGate().Sweep().Clearance(p, 0.1).GapM, ok)
	known(t, "cord", site.CordReach(p, 0, r2.Vec{}, 0, 1).NeedM, ok)
	gate := sideGate()
	gate.Hinge = p
	known(t, "moved gate", gate.Sweep().Clearance(r2.Vec{}, 0.1).GapM, ok)
	known(t, "leaf", gate.At(0.5).Segment.B.X, ok)
	if got := gate.Through(0.1); (len(got) > 0) != ok {
		t.Errorf("hinge %v: %d positions", p, len(got))
	}
	if got := gate.Posts(); (len(got) > 0) != ok {
		t.Errorf("hinge %v: %d posts", p, len(got))
	}
}

func checkPolygonWith(t *testing.T, p r2.Vec, ok bool) {
	t.Helper()
	g := site.Polygon{p, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}}
	known(t, "area", g.Area(), ok)
	known(t, "perimeter", g.Perimeter(), ok)
	known(t, "distance", g.Distance(r2.Vec{X: 3, Y: 3}), ok)
	known(t, "margin", site.Margin{Of: g, ByM: 1}.Distance(r2.Vec{}), ok)
	known(t, "edge band", site.EdgeBand{Of: g, InsideM: 1}.Distance(r2.Vec{}), ok)
	if !ok {
		inside := r2.Vec{X: 0.9, Y: 0.9}
		if g.Contains(inside) || g.Locate(inside) != site.Outside || unitSquare.Contains(p) {
			t.Errorf("%v: an unusable polygon contains a point", p)
		}
		if f := g.Faults(); len(f) != 1 || f[0].Kind != site.Unusable || f[0].I != 0 {
			t.Errorf("%v: faults = %v", p, f)
		}
		if n := g.Nearest(inside); n.Edge != -1 {
			t.Errorf("%v: nearest edge %d", p, n.Edge)
		}
		if got := site.OffLand(bend, g); got != nil {
			t.Errorf("%v: off unusable land: %v", p, got)
		}
	}
	for name, r := range map[string]site.Region{
		"polygon": g, "strip": site.Strip{Centreline: site.Line(g), WidthM: 1}, "disc": site.Disc{Centre: p, RadiusM: 1},
		"margin": site.Margin{Of: g, ByM: 1}, "band": site.EdgeBand{Of: g, InsideM: 0.1},
	} {
		r.Bounds()
		if got := r.Spans(bend); !ok && got != nil {
			t.Errorf("%s with %v: spans %v", name, p, got)
		}
		if got := r.Spans(site.Line{p, {X: 5, Y: 5}}); !ok && got != nil {
			t.Errorf("%s over a line with %v: spans %v", name, p, got)
		}
	}
}

func checkLineWith(t *testing.T, p r2.Vec, ok bool) {
	t.Helper()
	l := site.Line{{X: 0.5, Y: 0.25}, p, {X: 3, Y: 4}}
	known(t, "length", l.Length(), ok)
	known(t, "strip", site.Strip{Centreline: l, WidthM: 1}.Distance(r2.Vec{X: 9, Y: 9}), ok)
	if _, _, found := l.Along(0.1); found != ok {
		t.Errorf("%v: Along %v", p, found)
	}
	if _, found := l.PointAt(0.1, 0.1, site.Left); found != ok {
		t.Errorf("%v: PointAt %v", p, found)
	}
	if _, found := l.Locate(r2.Vec{X: 1}); found != ok {
		t.Errorf("%v: Locate %v", p, found)
	}
	if _, found := bend.Locate(p); found != ok {
		t.Errorf("%v: Locate of it %v", p, found)
	}
	if got := l.Part(0.1, 0.2); (got != nil) != ok {
		t.Errorf("%v: Part %v", p, got)
	}
	ground := frontGarden()
	if got := ground.Cut(l); (got != nil) != ok {
		t.Errorf("%v: Cut %v", p, got)
	}
	pieces := ground.Trenches([]site.TrenchLeg{{ID: "a", Route: l}, {ID: "b", Route: bend}}, 0.15)
	if got := len(pieces) > 0 && pieces[0].Leg == "a"; got != ok {
		t.Errorf("%v: trench of an unusable leg: %v", p, pieces)
	}
	_, found := site.RhythmOf(l, []site.Placed{{ID: "x", At: r2.Vec{X: 1}}}, 2, 1)
	if found != ok {
		t.Errorf("%v: RhythmOf %v", p, found)
	}
	if !ok {
		if site.Crossings(l, bend) != nil || site.Crossings(bend, l) != nil || site.Alongside(l, bend, 1, 20) != nil ||
			l.SelfCrossings() != nil || ground.At(p, 0.1, 0.1) != nil {
			t.Errorf("%v: something crosses or stands by an unusable line", p)
		}
		known(t, "setback", site.LegSetback(l, ell, 1).Gap.M, false)
	}
}

// TestNastySizes does the same with lengths, angles and other bare numbers.
func TestNastySizes(t *testing.T) {
	for _, x := range nasty {
		size := x >= 0 && x <= site.MaxCoordM
		finite := !math.IsNaN(x) && !math.IsInf(x, 0)
		known(t, "disc", site.Disc{RadiusM: x}.Distance(r2.Vec{X: 1}), size)
		known(t, "strip", site.Strip{Centreline: bend, WidthM: x}.Distance(r2.Vec{X: 1}), size)
		known(t, "margin", site.Margin{Of: ell, ByM: x}.Distance(r2.Vec{X: 1}), size)
		known(t, "band", site.EdgeBand{Of: ell, OutsideM: x}.Distance(r2.Vec{X: 1}), size)
		known(t, "sector", site.Sector{OuterM: x, SpanDeg: 90}.Area(), size)
		known(t, "sector from", site.Sector{OuterM: 1, SpanDeg: 90, FromDeg: x}.Distance(r2.Vec{X: 2}), finite)
		known(t, "sector span", site.Sector{OuterM: 1, SpanDeg: x}.Distance(r2.Vec{X: 2}), finite && x >= 0)
		known(t, "radius", sideGate().Sweep().Clearance(r2.Vec{}, x).GapM, size)
		known(t, "heading", site.Heading(x).X, finite)
		known(t, "cord", site.CordReach(r2.Vec{}, 0, r2.Vec{}, 0, x).SpareM, size)
		if got := site.Rest(nil, x); (got != nil) != (finite && x > site.TouchM) {
			t.Errorf("rest of %v: %v", x, got)
		}
		for _, change := range []func(*site.Leaf){
			func(l *site.Leaf) { l.LengthM = x }, func(l *site.Leaf) { l.HingeGapM = x }, func(l *site.Leaf) { l.ThicknessM = x },
			func(l *site.Leaf) { l.ClosedDeg = x }, func(l *site.Leaf) { l.AngleDeg = x }, func(l *site.Leaf) { l.Opens = site.Hand(5) },
			func(l *site.Leaf) { l.SlideM = x }, func(l *site.Leaf) { l.SlideM, l.SlideDeg = 1, x },
		} {
			l := sideGate()
			change(&l)
			checkLeafWith(t, l)
		}
		sideGate().Through(x)
		sideGate().At(x)
		sideGate().Strikes(x, x)
		ell.Locate(r2.Vec{X: x})
		bend.Part(x, 5)
		bend.Part(5, x)
		site.Strip{Centreline: bend, WidthM: 1}.Outline(x)
		site.Sector{OuterM: 1, SpanDeg: 90}.Outline(x)
		site.Alongside(bend, bend, x, x)
		site.NewGrid(x).AddLine(1, bend, x)
		frontGarden().At(r2.Vec{X: 1}, x, x)
		frontGarden().Trenches([]site.TrenchLeg{{ID: "a", Route: bend, CoverM: x}, {ID: "b", Route: bend, CoverM: x}}, x)
		site.RhythmOf(bend, []site.Placed{{ID: "x"}}, x, x)
	}
}

// checkLeafWith holds that a leaf is either usable throughout or nowhere.
func checkLeafWith(t *testing.T, l site.Leaf) {
	t.Helper()
	sweep := l.Sweep()
	c := sweep.Clearance(r2.Vec{X: 1, Y: 1}, 0.1)
	known(t, "clearance", c.GapM, sweep.Usable)
	known(t, "leaf", l.At(1).Segment.B.X, sweep.Usable)
	if got := len(l.Posts()) > 0; got != sweep.Usable {
		t.Errorf("%+v: posts %v, usable %v", l, got, sweep.Usable)
	}
	if n := len(l.Rest()); n < 2 {
		t.Errorf("%+v: %d resting positions", l, n)
	}
	if n := len(l.Through(0.1)); n > site.MaxSamples {
		t.Errorf("%+v: %d positions", l, n)
	}
	if sweep.Usable {
		known(t, "away", c.Away.X, true)
	}
}

// TestNothing holds the values for things without points.
func TestNothing(t *testing.T) {
	p := r2.Vec{X: 1, Y: 1}
	for name, d := range map[string]float64{
		"point to line":    site.PointLine(p, nil).M,
		"line to line":     site.LineLine(bend, nil).M,
		"line to polygon":  site.LinePolygon(bend, nil).M,
		"no line":          site.LinePolygon(nil, ell).M,
		"polygon":          site.PolygonPolygon(ell, nil).M,
		"nearest":          site.Polygon(nil).Distance(p),
		"strip":            site.Strip{WidthM: 1}.Distance(p),
		"round strip":      site.Strip{WidthM: 1, Ends: site.RoundEnds}.Distance(p),
		"margin":           site.Margin{ByM: 1}.Distance(p),
		"band":             site.EdgeBand{InsideM: 1}.Distance(p),
		"setback from nil": site.LegSetback(bend, nil, 1).Gap.M,
	} {
		if !math.IsInf(d, 1) {
			t.Errorf("%s: distance to nothing = %v, want +Inf", name, d)
		}
	}
	if (site.Line{}).Length() != 0 || (site.Polygon{}).Area() != 0 || (site.Polygon{p, p}).Area() != 0 {
		t.Error("nothing has a size")
	}
	if _, _, ok := (site.Line{}).Along(0); ok {
		t.Error("a station on a line without points")
	}
	one := site.Line{p}
	if q, b, ok := one.Along(0); !ok || q != p || site.Known(b) {
		t.Errorf("the only point of a line: %v, %v, %v", q, b, ok)
	}
	if _, ok := one.PointAt(0, 1, site.Left); ok {
		t.Error("an offset from a line without length")
	}
	if at, ok := one.Locate(r2.Vec{X: 4, Y: 5}); !ok || at.OffsetM != 5 || at.Side != site.OnLine {
		t.Errorf("locate by a point: %+v", at)
	}
	if site.NewGround(nil).Cut(one) != nil || len(site.NewGround(nil).Cut(bend)) != 1 {
		t.Error("pieces on bare ground")
	}
	if got := (site.Polygon{}).Edge(3); got != (site.Segment{}) {
		t.Errorf("edge of nothing: %v", got)
	}
	for _, s := range []string{site.Hand(9).String(), site.Side(9).String(), site.Where(9).String(), site.FaultKind(99).String()} {
		if s == "" {
			t.Error("a value out of range has no word")
		}
	}
}

// TestCollapsed holds that shapes squeezed to a line or a point still measure.
func TestCollapsed(t *testing.T) {
	p := r2.Vec{X: 2, Y: 3}
	point := site.Polygon{p, p, p, p}
	near(t, "to a point", point.Distance(r2.Vec{X: 5, Y: 7}), 5, 0)
	near(t, "its area", point.Area(), 0, 0)
	if point.Locate(p) != site.Boundary || point.Locate(r2.Vec{}) != site.Outside {
		t.Error("a point has a boundary and no inside")
	}
	line := site.Polygon{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 8, Y: 0}}
	near(t, "to a line", line.Distance(r2.Vec{X: 4, Y: 3}), 3, 0)
	if got := line.Spans(site.Line{{X: -1, Y: 0}, {X: 9, Y: 0}}); len(got) != 1 || math.Abs(got[0].Length()-8) > 1e-9 {
		t.Errorf("along a collapsed polygon: %v", got)
	}
	flat := site.Sector{Centre: p, InnerM: 1, OuterM: 1, SpanDeg: 90}
	near(t, "an arc without width", flat.Distance(r2.Add(p, r2.Scale(3, site.Heading(45)))), 2, 1e-12)
	short := site.Leaf{Hinge: p, Opens: site.OpensLeft, AngleDeg: 90}
	near(t, "a leaf without length", short.Sweep().Clearance(r2.Vec{X: 2, Y: 4}, 0.25).GapM, 0.75, 0)
	// So close to the hinge that there is no direction from it.
	round := site.Leaf{LengthM: 1, Opens: site.OpensRight, AngleDeg: 360}
	for _, tiny := range []float64{0, 5e-324, 1e-310} {
		near(t, "at the hinge", round.Sweep().Clearance(r2.Vec{X: tiny}, 0).GapM, -1, 0)
	}
	// Steps too short to have a direction are passed over.
	for _, tiny := range []float64{5e-324, 1e-310, 1e-160, 1e-13} {
		l := site.Line{{}, {X: tiny}, {X: tiny, Y: -tiny}, {X: 3, Y: 4}}
		near(t, "length", l.Length(), 5, 1e-12)
		near(t, "beside the strip", site.Strip{Centreline: l, WidthM: 1}.Distance(r2.Vec{X: -4, Y: 3}), 4.5, 1e-12)
		near(t, "in a disc", site.TotalLength(site.Disc{RadiusM: 2}.Spans(l)), 2, 1e-12)
		if at, ok := l.Locate(r2.Vec{X: 1.5 - 0.8, Y: 2 + 0.6}); !ok || at.Side != site.Left || math.Abs(at.StationM-2.5) > 1e-9 {
			t.Errorf("a step of %v: %+v", tiny, at)
		}
		if n := len(site.Crossings(l, site.Line{{X: -1}, {X: 1}})); n != 1 {
			t.Errorf("a step of %v: %d crossings", tiny, n)
		}
	}
	slide := site.Leaf{Hinge: p, SlideM: 1e-9}
	near(t, "a slide without length", slide.Sweep().Clearance(r2.Vec{X: 2, Y: 4}, 0.25).GapM, 0.75, 1e-8)
}
