package site_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// closedForm is a quantity of plane geometry with a formula of its own.
type closedForm struct {
	name, source string
	got, want    float64
}

// closedFormTol is the relative difference allowed to a closed form.
const closedFormTol = 1e-9

// TestClosedForms compares with textbook formulas and prints the worst relative
// difference.
func TestClosedForms(t *testing.T) {
	worst := closedForm{}
	for _, c := range closedForms() {
		rel := relative(c)
		t.Logf("%-34s %.12g, relative difference %.1e (%s)", c.name, c.want, rel, c.source)
		if rel > closedFormTol || math.IsNaN(rel) {
			t.Errorf("%s = %.15g, want %.15g (%s)", c.name, c.got, c.want, c.source)
		}
		if rel >= relative(worst) {
			worst = c
		}
	}
	t.Logf("worst relative difference to a closed form: %.1e, %s", relative(worst), worst.name)
}

func relative(c closedForm) float64 {
	if c.got == c.want {
		return 0
	}
	return math.Abs(c.got-c.want) / math.Abs(c.want)
}

func closedForms() []closedForm {
	sin, cos := math.Sincos(35 * math.Pi / 180)
	heron := func(a, b, c float64) float64 {
		s := (a + b + c) / 2
		return math.Sqrt(s * (s - a) * (s - b) * (s - c))
	}
	// A triangle with sides 13, 14 and 15 has the area 84.
	tri := site.Polygon{{X: 0, Y: 0}, {X: 14, Y: 0}, {X: 5, Y: 12}}
	gate := site.Leaf{LengthM: 1.1, HingeGapM: 0.05, ClosedDeg: 20, Opens: site.OpensRight, AngleDeg: 95}
	tips := gate.Rest()
	band := site.Sector{InnerM: 0.05, OuterM: 1.1, FromDeg: 20, SpanDeg: 95}
	line := site.Segment{A: r2.Vec{X: -7, Y: 1}, B: r2.Vec{X: 9, Y: 13}} // 3x - 4y + 25 = 0
	return []closedForm{
		{"triangle 13-14-15, area", "Heron's formula", tri.Area(), heron(13, 14, 15)},
		{"triangle 13-14-15, height", "area = base x height / 2", tri.Nearest(r2.Vec{X: 5, Y: 12.5}).M, 0.5},
		{"triangle, centre to side", "inradius = area / half perimeter", -tri.Distance(r2.Vec{X: 6, Y: 4}), 4},
		{"point to line", "|ax + by + c| / sqrt(a^2 + b^2)", site.PointSegment(r2.Vec{X: 2, Y: 3}, line).M, math.Abs(3*2-4*3+25.0) / 5},
		{"swept ring sector, area", "(angle/360) pi (R^2 - r^2)", gate.Sweep().Sector.Area(), 95.0 / 360 * math.Pi * (1.1*1.1 - 0.05*0.05)},
		{"tip, closed to open", "chord 2 R sin(angle/2)", r2.Norm(r2.Sub(tips[0].Segment.B, tips[1].Segment.B)), 2 * 1.1 * math.Sin(95*math.Pi/360)},
		{"point off the arc", "radial distance", band.Distance(r2.Vec{X: 3 * math.Sin(1), Y: 3 * math.Cos(1)}), 1.9},
		{"point off the edge", "law of cosines", site.Sector{OuterM: 1, SpanDeg: 90}.Distance(r2.Scale(2, site.Heading(-35))), math.Sqrt(4 + 1 - 4*cos)},
		{"point beside the edge", "r sin(angle)", site.Sector{OuterM: 5, SpanDeg: 90}.Distance(r2.Scale(2, site.Heading(-35))), 2 * sin},
		{"chord of a root zone", "2 sqrt(r^2 - h^2)", site.TotalLength(site.Disc{RadiusM: 3}.Spans(site.Line{{X: -9, Y: 1.7}, {X: 9, Y: 1.7}})), 2 * math.Sqrt(9-1.7*1.7)},
		{"oblique way over a path", "width / sin(angle)", site.TotalLength(site.Strip{Centreline: site.Line{{X: -50}, {X: 50}}, WidthM: 1.2}.Spans(site.Line{{X: -8 * cos, Y: -8 * sin}, {X: 8 * cos, Y: 8 * sin}})), 1.2 / sin},
		{"cord from wall to stake", "space diagonal", site.CordReach(r2.Vec{}, 0.3, r2.Vec{X: 1, Y: 2}, 2.3, 4).NeedM, 3},
	}
}

// scanArea is the area of a region by the lengths of its spans on level lines,
// by the midpoint rule.
func scanArea(r site.Region, lines int) float64 {
	b := r.Bounds()
	step := (b.Max.Y - b.Min.Y) / float64(lines)
	sum := 0.0
	for i := range lines {
		y := b.Min.Y + (float64(i)+0.5)*step
		sum += site.TotalLength(r.Spans(site.Line{{X: b.Min.X - 1, Y: y}, {X: b.Max.X + 1, Y: y}})) * step
	}
	return sum
}

// scanTol is what the midpoint rule with 4,000 lines needs at round ends.
const scanTol = 2e-5

// TestSpansIntegrateToAreas integrates spans to areas with closed forms. The
// area within r of a convex outline of area A and perimeter P is A + P r + pi
// r^2 (Steiner's formula).
func TestSpansIntegrateToAreas(t *testing.T) {
	const lines = 4000
	rng := newRand(150)
	for range 5 {
		m := randomMove(rng)
		rect := m.polygon(site.Polygon{{X: 0, Y: 0}, {X: 5, Y: 0}, {X: 5, Y: 2}, {X: 0, Y: 2}})
		hex := m.polygon(site.Sector{OuterM: 3, SpanDeg: 300}.Outline(10))
		way := m.line(bend)
		r := 0.2 + rng.Float64()*0.6
		near(t, "polygon", scanArea(hex, lines), hex.Area(), scanTol)
		near(t, "disc", scanArea(site.Disc{Centre: m.by, RadiusM: r}, lines), math.Pi*r*r, scanTol)
		near(t, "margin", scanArea(site.Margin{Of: rect, ByM: r}, lines), 10+14*r+math.Pi*r*r, scanTol)
		near(t, "band outside", scanArea(site.EdgeBand{Of: rect, OutsideM: r}, lines), 14*r+math.Pi*r*r, scanTol)
		near(t, "band inside", scanArea(site.EdgeBand{Of: rect, InsideM: r}, lines), 10-(5-2*r)*(2-2*r), scanTol)
		// A square bend of a path of half width r: two rectangles, less the
		// square they share, with a quarter disc outside.
		flat := 20*2*r - r*r + math.Pi*r*r/4
		near(t, "flat strip", scanArea(site.Strip{Centreline: way, WidthM: 2 * r}, lines), flat, scanTol)
		near(t, "round strip", scanArea(site.Strip{Centreline: way, WidthM: 2 * r, Ends: site.RoundEnds}, lines), flat+math.Pi*r*r, scanTol)
	}
}

// TestPick checks areas and containment against each other by Pick's theorem:
// a simple outline with corners on a lattice, with i lattice points inside it
// and b on its boundary, has the area i + b/2 - 1.
func TestPick(t *testing.T) {
	rng := newRand(151)
	tried := 0
	for range 300 {
		g := starRing(rng, 4+rng.IntN(8), r2.Vec{}, 12)
		for i := range g {
			g[i] = r2.Vec{X: math.Round(g[i].X), Y: math.Round(g[i].Y)}
		}
		if g.Faults() != nil {
			continue
		}
		tried++
		inside, boundary := 0, 0
		for x := -12; x <= 12; x++ {
			for y := -12; y <= 12; y++ {
				switch g.Locate(r2.Vec{X: float64(x), Y: float64(y)}) {
				case site.Inside:
					inside++
				case site.Boundary:
					boundary++
				}
			}
		}
		near(t, "Pick", g.Area(), float64(inside)+float64(boundary)/2-1, 1e-12)
	}
	if tried < 100 {
		t.Errorf("only %d outlines", tried)
	}
}
