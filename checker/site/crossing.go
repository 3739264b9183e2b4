package site

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Crossing is a place where a leg crosses another line: a buried pipe, a wall,
// the edge of a property.
type Crossing struct {
	// At is where they cross.
	At r2.Vec
	// StationM is how far along the leg, OtherStationM how far along the
	// other line, in metres.
	StationM, OtherStationM float64
	// AngleDeg is the angle between the two, 0 to 90; 90 is square. Where
	// one of them bends or ends at the crossing it is the smallest angle
	// between the pieces that meet there.
	AngleDeg float64
}

// Crossings returns where a leg crosses or touches another line, in order
// along the leg. Where the two run along each other the crossings are the ends
// of that stretch; [Alongside] measures it. It is nil when something is
// unusable.
func Crossings(leg, other Line) []Crossing {
	if !Usable(leg...) || !Usable(other...) {
		return nil
	}
	var out []Crossing
	at := 0.0
	for _, s := range leg.Segments() {
		n := dist(s.A, s.B)
		otherAt := 0.0
		for _, t := range other.segments() {
			m := dist(t.A, t.B)
			for _, f := range edgeCuts(s, t, nil) {
				p := s.at(f)
				out = append(out, Crossing{p, at + f*n, otherAt + fractionOn(p, t)*m, lineAngle(s, t)})
			}
			otherAt += m
		}
		at += n
	}
	return mergeCrossings(out)
}

// lineAngle returns the angle between two segments as lines, 0 to 90 degrees;
// 90 when one of them has no length.
func lineAngle(s, t Segment) float64 {
	d, e := r2.Sub(s.B, s.A), r2.Sub(t.B, t.A)
	if r2.Norm2(d) == 0 || r2.Norm2(e) == 0 {
		return 90
	}
	return math.Atan2(math.Abs(r2.Cross(d, e)), math.Abs(r2.Dot(d, e))) * 180 / math.Pi
}

// mergeCrossings sorts crossings along the leg and makes one of those at the
// same place along both lines, with the smallest angle.
func mergeCrossings(cs []Crossing) []Crossing {
	slices.SortFunc(cs, func(a, b Crossing) int {
		return cmp.Or(cmp.Compare(a.StationM, b.StationM), cmp.Compare(a.OtherStationM, b.OtherStationM))
	})
	const same = 4 * TouchM // each was found to within TouchM
	var out []Crossing
	for _, c := range cs {
		i := slices.IndexFunc(out, func(o Crossing) bool {
			return c.StationM-o.StationM <= same && math.Abs(c.OtherStationM-o.OtherStationM) <= same
		})
		if i < 0 {
			out = append(out, c)
			continue
		}
		out[i].AngleDeg = min(out[i].AngleDeg, c.AngleDeg)
	}
	return out
}

// Stretch is a part of a leg that runs beside another line.
type Stretch struct {
	// Span is where it lies along the leg.
	Span
	// MinM is the least distance in metres from the leg to the other line
	// along the stretch, and At the point of the leg where it is least.
	MinM float64
	At   r2.Vec
}

// Alongside returns the parts of a leg that run beside another line: nearer
// than withinM to it and within maxAngleDeg of its direction. A crossing
// steeper than that is not a stretch, whatever the distance. Stretches that
// touch are one. It is nil when something is unusable.
func Alongside(leg, other Line, withinM, maxAngleDeg float64) []Stretch {
	if !Usable(leg...) || !Usable(other...) || !usableSize(withinM) || math.IsNaN(maxAngleDeg) {
		return nil
	}
	var spans []Span
	others := other.Segments()
	at := 0.0
	for _, s := range leg.Segments() {
		n := dist(s.A, s.B)
		for _, t := range others {
			if boxGap(s, t) > withinM+TouchM || lineAngle(s, t) > maxAngleDeg+angleTolDeg {
				continue
			}
			near := Strip{Centreline: Line{t.A, t.B}, WidthM: 2 * withinM, Ends: RoundEnds}
			for _, p := range near.Spans(Line{s.A, s.B}) {
				spans = append(spans, Span{at + p.From, at + p.To})
			}
		}
		at += n
	}
	var out []Stretch
	for _, p := range joinSpans(spans) {
		gap := LineLine(leg.Part(p.From, p.To), other)
		out = append(out, Stretch{Span: p, MinM: gap.M, At: gap.A})
	}
	return out
}

// angleTolDeg is the tolerance on comparisons of angles, in degrees: a
// millionth of a metre in a kilometre.
const angleTolDeg = 1e-7

// Setback is how near a leg comes to a polygon, such as a pool.
type Setback struct {
	// Gap is the shortest way between the two; its M is 0 when the leg
	// enters or touches the polygon.
	Gap Gap
	// Within are the parts of the leg nearer to it than the setback asked
	// about, those inside it among them.
	Within []Span
}

// LegSetback returns how near a leg comes to the edge of a polygon, and which
// parts of it are within the given distance. For a point use
// [Polygon.Distance]; for another polygon [PolygonPolygon].
func LegSetback(leg Line, water Polygon, setbackM float64) Setback {
	return Setback{Gap: LinePolygon(leg, water), Within: Margin{Of: water, ByM: setbackM}.Spans(leg)}
}

// OffLand returns the parts of a leg outside one's own land. A leg along the
// property line is on the land. It is nil when something is unusable or the
// outline has fewer than three points.
func OffLand(leg Line, land Polygon) []Span {
	if len(land) < 3 || !Usable(land...) || !Usable(leg...) {
		return nil
	}
	return Rest(land.Spans(leg), leg.Length())
}
