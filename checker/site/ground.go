package site

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Surface is one thing on the plan that can lie above a cable or under a
// fixture: a path, bed, lawn, drive, road, deck, building, snow store.
type Surface struct {
	// ID is the element's id.
	ID string
	// Kind is the plan's own word for what it is: "lawn", "home-drive".
	Kind string
	// Region is where it is.
	Region Region
}

// Ground is a set of surfaces, indexed by place. It does not change after
// [NewGround] and may be used by many goroutines at once.
type Ground struct {
	surfaces []Surface
	grid     *Grid
	unusable []string
}

// NewGround returns the ground made of the given surfaces. They may overlap.
// Those without a region, or with one that is unusable, hold nothing;
// [Ground.Unusable] names them.
func NewGround(surfaces []Surface) *Ground {
	g := &Ground{grid: NewGrid(defaultCellM)}
	for _, s := range surfaces {
		if s.Region == nil || math.IsNaN(s.Region.Distance(r2.Vec{})) {
			g.unusable = append(g.unusable, s.ID)
			continue
		}
		g.surfaces = append(g.surfaces, s)
	}
	slices.Sort(g.unusable)
	slices.SortStableFunc(g.surfaces, func(a, b Surface) int {
		return cmp.Or(cmp.Compare(a.ID, b.ID), cmp.Compare(a.Kind, b.Kind))
	})
	for i, s := range g.surfaces {
		g.grid.Add(i, grow(s.Region.Bounds(), TouchM))
	}
	return g
}

// Unusable returns the ids of the surfaces that could not be used, sorted: what
// lies above a cable there is not known.
func (g *Ground) Unusable() []string { return slices.Clone(g.unusable) }

// Piece is a part of a leg with the same things above it all along.
type Piece struct {
	// Span is where it lies along the leg, in metres from its first point.
	Span
	// Line is the way it takes.
	Line Line
	// Above lists the ids of the surfaces over it, sorted; empty in the
	// open.
	Above []string
	// Kinds lists the kinds of those surfaces, sorted, each once.
	Kinds []string
}

// Cut divides a leg wherever it enters or leaves a surface. The pieces follow
// one another from 0 to the length of the leg without gap or overlap, and
// neighbours differ in what lies above them. A piece no longer than TouchM is
// not told apart from the one before it. The result is nil for a leg without
// length or with an unusable point.
func (g *Ground) Cut(leg Line) []Piece {
	length := leg.Length()
	if !Known(length) || length <= TouchM {
		return nil
	}
	near := g.grid.NearLine(leg, 0)
	spans := make([][]Span, len(near))
	stations := []float64{0, length}
	for i, s := range near {
		spans[i] = g.surfaces[s].Region.Spans(leg)
		for _, span := range spans[i] {
			stations = append(stations, span.From, span.To)
		}
	}
	slices.Sort(stations)
	var out []Piece
	from := 0.0
	for _, to := range stations {
		if to-from <= TouchM && to < length || to <= from {
			continue
		}
		p := Piece{Span: Span{from, to}}
		p.Above, p.Kinds = g.above(near, spans, (from+to)/2)
		out = appendPiece(out, p)
		from = to
	}
	for i := range out {
		out[i].Line = leg.Part(out[i].From, out[i].To)
	}
	return out
}

// above returns the ids and kinds of the surfaces with a span at a station.
func (g *Ground) above(near []int, spans [][]Span, station float64) (ids, kinds []string) {
	for i, s := range near {
		if slices.ContainsFunc(spans[i], func(p Span) bool { return p.From <= station && station <= p.To }) {
			ids = append(ids, g.surfaces[s].ID)
			kinds = append(kinds, g.surfaces[s].Kind)
		}
	}
	slices.Sort(ids)
	slices.Sort(kinds)
	return slices.Compact(ids), slices.Compact(kinds)
}

// appendPiece adds p, joined to the last piece when the same things lie above.
func appendPiece(pieces []Piece, p Piece) []Piece {
	if n := len(pieces); n > 0 && slices.Equal(pieces[n-1].Above, p.Above) {
		pieces[n-1].To = p.To
		return pieces
	}
	return append(pieces, p)
}

// Standing says that something stands in or near a surface.
type Standing struct {
	// ID and Kind are the surface's.
	ID, Kind string
	// DistanceM is the clear distance in metres from the rim of the thing
	// to the surface; negative when it reaches into it, and at most minus
	// its radius when its centre is on the edge or inside.
	DistanceM float64
}

// At returns the surfaces that a thing of the given radius at p stands in, or
// is nearer to than withinM, by rising distance, then id. It is nil when
// something is unusable.
func (g *Ground) At(p r2.Vec, radiusM, withinM float64) []Standing {
	if !Usable(p) || !usableSize(radiusM) || !usableSize(withinM) {
		return nil
	}
	var out []Standing
	for _, i := range g.grid.NearPoint(p, radiusM+withinM) {
		s := g.surfaces[i]
		if d := s.Region.Distance(p) - radiusM; d <= withinM+TouchM {
			out = append(out, Standing{s.ID, s.Kind, d})
		}
	}
	slices.SortStableFunc(out, func(a, b Standing) int {
		return cmp.Or(cmp.Compare(a.DistanceM, b.DistanceM), cmp.Compare(a.ID, b.ID))
	})
	return out
}
