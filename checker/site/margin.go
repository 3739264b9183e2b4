package site

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Margin is a polygon and everything within ByM of it: the ground within the
// setback of a pool.
type Margin struct {
	Of  Polygon
	ByM float64
}

func (m Margin) usable() bool {
	return Usable(m.Of...) && usableSize(m.ByM)
}

// Bounds returns the smallest box that holds m.
func (m Margin) Bounds() r2.Box { return grow(bounds(m.Of), m.ByM) }

// Contains reports whether p is in m; see [Region].
func (m Margin) Contains(p r2.Vec) bool { return m.Distance(p) <= TouchM }

// Distance returns the signed distance from p to m; see [Region].
func (m Margin) Distance(p r2.Vec) float64 {
	if !m.usable() || !Usable(p) {
		return math.NaN()
	}
	return m.Of.Distance(p) - m.ByM
}

// Spans returns the parts of l in m; see [Region]. They are exact: those in
// the polygon, and those within ByM of an edge.
func (m Margin) Spans(l Line) []Span {
	if !m.usable() || !Usable(l...) {
		return nil
	}
	edge := Strip{Centreline: m.Of.ring(), WidthM: 2 * m.ByM, Ends: RoundEnds}
	return joinSpans(append(edge.Spans(l), m.Of.Spans(l)...))
}

// EdgeBand is the ground along the edge of a polygon, to a width inside it and
// a width outside it: the strip along a lawn's edge where a mower's wheels and
// deck pass.
type EdgeBand struct {
	Of Polygon
	// InsideM and OutsideM are the widths in metres.
	InsideM, OutsideM float64
}

func (b EdgeBand) usable() bool {
	return Usable(b.Of...) && usableSize(b.InsideM) && usableSize(b.OutsideM)
}

// Bounds returns the smallest box that holds b.
func (b EdgeBand) Bounds() r2.Box { return grow(bounds(b.Of), b.OutsideM) }

// Contains reports whether p is in b; see [Region].
func (b EdgeBand) Contains(p r2.Vec) bool { return b.Distance(p) <= TouchM }

// Distance returns the signed distance from p to b; see [Region].
func (b EdgeBand) Distance(p r2.Vec) float64 {
	if !b.usable() || !Usable(p) {
		return math.NaN()
	}
	d := b.Of.Distance(p)
	return max(d-b.OutsideM, -d-b.InsideM)
}

// Spans returns the parts of l in b; see [Region].
func (b EdgeBand) Spans(l Line) []Span {
	if !b.usable() || !Usable(l...) {
		return nil
	}
	edges := b.Of.ring().segments()
	reach := max(b.InsideM, b.OutsideM)
	cuts := func(s Segment, ts []float64) []float64 {
		for _, e := range edges {
			if boxGap(s, e) > reach+TouchM {
				continue
			}
			ts = edgeCuts(s, e, ts)
			for _, half := range [...]float64{b.InsideM, b.OutsideM} {
				ts = capsuleCuts(s, e, half, ts)
			}
		}
		return ts
	}
	return testedSpans(l, grow(b.Bounds(), TouchM), cuts, b.Contains)
}

// capsuleCuts appends the fractions of s at which it may enter or leave the
// ground within half of e.
func capsuleCuts(s, e Segment, half float64, ts []float64) []float64 {
	add := func(t0, t1 float64) {
		if t1 > t0 {
			ts = append(ts, t0, t1)
		}
	}
	add(clipBox(s, e, half))
	add(clipDisc(s, e.A, half))
	add(clipDisc(s, e.B, half))
	return ts
}
