package site

import (
	"cmp"
	"slices"
)

// TrenchLeg is a leg for which a trench is dug.
type TrenchLeg struct {
	// ID is the leg's id.
	ID string
	// Route is the way of the leg.
	Route Line
	// CoverM is the cover it is laid at, in metres.
	CoverM float64
}

// TrenchPiece is a part of a leg's route that has to be dug.
type TrenchPiece struct {
	// Leg is the leg whose route the trench follows.
	Leg string
	// Piece is where it lies along that leg, and what is above it.
	Piece
	// CoverM is the cover of the leg, the deepest of those in the trench.
	CoverM float64
	// Sharing lists the ids of other legs that lie in this trench for some
	// part of it, sorted.
	Sharing []string
}

const (
	// SameTrenchM is the usual distance between two routes, in metres, up
	// to which they lie in one trench: about a spade's width. Common
	// practice, no source.
	SameTrenchM = 0.15
	// sameTrenchDeg is how far the directions of two routes may differ to
	// lie in one trench. A steeper one crosses it.
	sameTrenchDeg = 20.0
)

// Trenches returns what has to be dug for the given legs, with what several
// legs share counted once, in order of leg id and station.
//
// The deepest leg is dug first; of legs with the same cover, the one whose id
// sorts first. Of each leg after it, the parts that lie within withinM of a
// trench already dug, abreast of it and within 20 degrees of its direction,
// lie in that trench and are not dug again; nor is a way of up to twice
// withinM between two such parts, which is how a leg goes round the outside of
// a bend. A leg near a leg that itself shares a trench is compared with the
// trench, not with that leg. Legs that cannot be measured are left out, and
// nothing is shared when withinM is unusable.
func (g *Ground) Trenches(legs []TrenchLeg, withinM float64) []TrenchPiece {
	order := slices.Clone(legs)
	slices.SortStableFunc(order, func(a, b TrenchLeg) int {
		return cmp.Or(cmp.Compare(b.CoverM, a.CoverM), cmp.Compare(a.ID, b.ID))
	})
	d := digger{withinM: withinM, grid: NewGrid(defaultCellM)}
	for _, leg := range order {
		d.dig(g, leg)
	}
	for i := range d.pieces {
		p := &d.pieces[i]
		slices.Sort(p.Sharing)
		p.Sharing = slices.Compact(p.Sharing)
	}
	slices.SortStableFunc(d.pieces, func(a, b TrenchPiece) int {
		return cmp.Or(cmp.Compare(a.Leg, b.Leg), cmp.Compare(a.From, b.From))
	})
	return d.pieces
}

// digger holds what has been dug so far.
type digger struct {
	withinM float64
	pieces  []TrenchPiece
	grid    *Grid // of indices into pieces
}

// dig adds what is still to be dug for one leg.
func (d *digger) dig(g *Ground, leg TrenchLeg) {
	cut := g.Cut(leg.Route)
	if cut == nil {
		return
	}
	shared := d.shared(leg)
	for _, span := range Rest(shared, leg.Route.Length()) {
		for _, p := range cut {
			from, to := max(p.From, span.From), min(p.To, span.To)
			if to-from <= TouchM {
				continue
			}
			p.Span = Span{from, to}
			p.Line = leg.Route.Part(from, to)
			d.grid.AddLine(len(d.pieces), p.Line, d.withinM)
			d.pieces = append(d.pieces, TrenchPiece{Leg: leg.ID, Piece: p, CoverM: leg.CoverM})
		}
	}
}

// shared returns the parts of a leg that lie in trenches already dug, and
// notes the leg at each.
func (d *digger) shared(leg TrenchLeg) []Span {
	if !usableSize(d.withinM) {
		return nil
	}
	var out []Span
	for _, i := range d.grid.NearLine(leg.Route, 0) {
		spans := inTrench(leg.Route, d.pieces[i].Line, d.withinM)
		if len(spans) > 0 {
			out = append(out, spans...)
			d.pieces[i].Sharing = append(d.pieces[i].Sharing, leg.ID)
		}
	}
	return fillGaps(joinSpans(out), 2*d.withinM)
}

// fillGaps joins spans that are no more than a gap apart.
func fillGaps(spans []Span, gapM float64) []Span {
	var out []Span
	for _, s := range spans {
		if n := len(out); n > 0 && s.From-out[n-1].To <= gapM+TouchM {
			out[n-1].To = s.To
			continue
		}
		out = append(out, s)
	}
	return out
}

// inTrench returns the parts of a route that lie in a trench: on the strip
// that reaches withinM to either side of it, and not steeply across it.
func inTrench(route, trench Line, withinM float64) []Span {
	var out []Span
	at := 0.0
	segs := trench.Segments()
	for _, s := range route.Segments() {
		n := dist(s.A, s.B)
		for _, t := range segs {
			if boxGap(s, t) > withinM || lineAngle(s, t) > sameTrenchDeg {
				continue
			}
			along := Strip{Centreline: Line{t.A, t.B}, WidthM: 2 * withinM}
			for _, p := range along.Spans(Line{s.A, s.B}) {
				out = append(out, Span{at + p.From, at + p.To})
			}
		}
		at += n
	}
	return joinSpans(out)
}

// TrenchSum is a length of trench of one kind.
type TrenchSum struct {
	// Kinds are the kinds of surface above it, sorted; empty in the open.
	Kinds []string
	// CoverM is the cover, in metres.
	CoverM float64
	// LengthM is the length to dig, in metres.
	LengthM float64
}

// SumTrenches adds up the length of trench by cover and by what lies above,
// deepest first, then by the names of the kinds.
func SumTrenches(pieces []TrenchPiece) []TrenchSum {
	var out []TrenchSum
	for _, p := range pieces {
		i := slices.IndexFunc(out, func(s TrenchSum) bool {
			return cmp.Compare(s.CoverM, p.CoverM) == 0 && slices.Equal(s.Kinds, p.Kinds)
		})
		if i < 0 {
			i = len(out)
			out = append(out, TrenchSum{Kinds: p.Kinds, CoverM: p.CoverM})
		}
		out[i].LengthM += p.Length()
	}
	slices.SortStableFunc(out, func(a, b TrenchSum) int {
		return cmp.Or(cmp.Compare(b.CoverM, a.CoverM), slices.Compare(a.Kinds, b.Kinds))
	})
	return out
}
