package plan

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// sameM is the distance, in metres, below which two points are one.
	sameM = 1e-6
	// levelSlackM is how far two statements of one level, or of one place
	// along a line, may differ before they contradict each other: about
	// three quarters of an inch.
	levelSlackM = 0.02
	// sharpestMitre is the cosine of half the turn up to which the corner of
	// an offset line is mitred; at sharper bends it keeps its distance from
	// one piece only.
	sharpestMitre = 0.5
)

// pathLine is a path's centreline with the distance of each vertex from the
// first, for stations.
type pathLine struct {
	points     []r2.Vec
	cum        []float64
	elevations []float64 // one per point; nil when the path states none
	widthM     float64
}

func newPathLine(points []r2.Vec, elevations []float64, widthM float64) *pathLine {
	l := &pathLine{points: points, elevations: elevations, widthM: widthM, cum: make([]float64, len(points))}
	for i := 1; i < len(points); i++ {
		l.cum[i] = l.cum[i-1] + r2.Norm(r2.Sub(points[i], points[i-1]))
	}
	return l
}

// length is the length of the centreline.
func (l *pathLine) length() float64 { return l.cum[len(l.cum)-1] }

// piece returns the index of the piece that a station is on, and how far along
// it, 0 to 1.
func (l *pathLine) piece(station float64) (int, float64) {
	station = math.Min(math.Max(station, 0), l.length())
	i := sort.SearchFloat64s(l.cum, station) - 1
	i = min(max(i, 0), len(l.points)-2)
	return i, (station - l.cum[i]) / (l.cum[i+1] - l.cum[i])
}

// direction is the unit vector along piece i.
func (l *pathLine) direction(i int) r2.Vec {
	return r2.Unit(r2.Sub(l.points[i+1], l.points[i]))
}

// point is the place at a station, and `left` metres to the left of the line.
// At a bend it is on the bisector, so that it keeps its distance from both
// pieces.
func (l *pathLine) point(station, left float64) r2.Vec {
	i, t := l.piece(station)
	on := r2.Add(l.points[i], r2.Scale(t, r2.Sub(l.points[i+1], l.points[i])))
	way := l.direction(i)
	if i+2 < len(l.points) && l.cum[i+1]-station < sameM {
		way, left = mitre(way, l.direction(i+1), left)
	}
	return r2.Add(on, r2.Scale(left, r2.Vec{X: -way.Y, Y: way.X}))
}

// mitre returns the direction half way between two pieces, and how far out the
// offset lines of both meet.
func mitre(before, after r2.Vec, left float64) (r2.Vec, float64) {
	sum := r2.Add(before, after)
	half := r2.Norm(sum) / 2 // cosine of half the turn
	if half < sharpestMitre {
		return after, left
	}
	return r2.Unit(sum), left / half
}

// nearest returns the distance from p to the line and the elevation there.
func (l *pathLine) nearest(p r2.Vec) (distance, elevation float64) {
	piece, part, least := 0, 0.0, math.Inf(1)
	for i := range len(l.points) - 1 {
		t := along(p, l.points[i], l.points[i+1])
		if square := squareTo(p, l.points[i], l.points[i+1], t); square < least {
			piece, part, least = i, t, square
		}
	}
	if l.elevations != nil {
		elevation = l.elevations[piece] + part*(l.elevations[piece+1]-l.elevations[piece])
	}
	return math.Sqrt(least), elevation
}

// along is where on the segment from a to b p is nearest, 0 to 1.
func along(p, a, b r2.Vec) float64 {
	way := r2.Sub(b, a)
	square := r2.Dot(way, way)
	if square == 0 {
		return 0
	}
	return math.Min(1, math.Max(0, r2.Dot(r2.Sub(p, a), way)/square))
}

// squareTo is the square of the distance from p to the point at t, 0 to 1, of
// the segment from a to b.
func squareTo(p, a, b r2.Vec, t float64) float64 {
	return r2.Norm2(r2.Sub(p, r2.Add(a, r2.Scale(t, r2.Sub(b, a)))))
}

// lengthOf is the length of a polyline.
func lengthOf(points []r2.Vec) float64 {
	total := 0.0
	for i := 1; i < len(points); i++ {
		total += r2.Norm(r2.Sub(points[i], points[i-1]))
	}
	return total
}

// distinct drops every point that repeats the one before it. The second list
// gives the index each kept point had.
func distinct(points []r2.Vec) (kept []r2.Vec, indices []int) {
	for i, p := range points {
		if len(kept) > 0 && r2.Norm(r2.Sub(p, kept[len(kept)-1])) < sameM {
			continue
		}
		kept, indices = append(kept, p), append(indices, i)
	}
	return kept, indices
}
