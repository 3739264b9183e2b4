package light

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Grid steps used where the caller gives none. A road grid may be 3 m wide;
// garden lamps stand 1.5 to 4 m apart and need a finer one (common practice, no
// source).
const (
	DefaultPathStepM = 0.5
	DefaultLineStepM = 1.0
	// oneRowM is the widest path with a single row of points, and maxRowM the
	// largest gap between rows of a wider one (EN 13201-3, from memory).
	oneRowM = 1.0
	maxRowM = 1.5
)

// MaxGridPoints is the most points one grid may have; a longer path or a larger
// area gets a coarser step, which the grid reports.
const MaxGridPoints = 200_000

// Grid is a set of points with the steps that were really used. A report that
// prints an average should print the steps too: both change together.
type Grid struct {
	Points []Point
	// AlongM and AcrossM are the distances between neighbouring points.
	AlongM, AcrossM float64
	// Rows is the number of points across; Points holds them one station
	// after another, from the left row to the right.
	Rows int
	// StationsM are the distances along the centre line, one for each station.
	StationsM []float64
	// OffsetsM are the distances of the rows from the centre line, left negative.
	OffsetsM []float64
}

// Row returns the indices of the points of one row, 0 being the leftmost.
func (g *Grid) Row(row int) []int {
	out := make([]int, len(g.StationsM))
	for i := range out {
		out[i] = i*g.Rows + row
	}
	return out
}

// Middle returns the indices of the points on the centre line.
func (g *Grid) Middle() []int { return g.Row(g.Rows / 2) }

// PathGrid lays points on a path: equal steps along the centre line, the first
// half a step from the start, and one row where the path is at most 1 m wide,
// else an odd number of rows, three or more, no more than 1.5 m apart, the outer
// ones half a gap from the edges. Points take the height of the centre line and
// face up. stepM is the largest step wanted along; 0 means [DefaultPathStepM].
func PathGrid(centre []r3.Vec, widthM, stepM float64) (Grid, error) {
	line, err := newPolyline(centre)
	if err != nil {
		return Grid{}, fmt.Errorf("path grid: %w", err)
	}
	if !(widthM >= 0) || !finite(widthM, stepM) || stepM < 0 {
		return Grid{}, fmt.Errorf("path grid: a width of %g m and a step of %g m cannot be used", widthM, stepM)
	}
	if stepM == 0 {
		stepM = DefaultPathStepM
	}
	rows := 1
	if widthM > oneRowM {
		rows = int(min(MaxGridPoints/4, max(3, math.Ceil(widthM/maxRowM))))
		rows += 1 - rows%2
	}
	n := stepCount(line.total(), stepM, MaxGridPoints/rows)
	g := Grid{AlongM: line.total() / float64(n), AcrossM: widthM / float64(rows), Rows: rows,
		Points: make([]Point, 0, n*rows), StationsM: make([]float64, 0, n), OffsetsM: make([]float64, 0, rows)}
	for r := range rows {
		g.OffsetsM = append(g.OffsetsM, widthM*((float64(r)+0.5)/float64(rows)-0.5))
	}
	for i := range n {
		s := (float64(i) + 0.5) * g.AlongM
		at, ahead := line.at(s)
		g.StationsM = append(g.StationsM, s)
		for _, off := range g.OffsetsM {
			g.Points = append(g.Points, Point{
				At:     r3.Vec{X: at.X + off*ahead.Y, Y: at.Y - off*ahead.X, Z: at.Z},
				Normal: Up,
			})
		}
	}
	return g, nil
}

// stepCount is the number of equal steps no longer than step, at most limit.
func stepCount(total, step float64, limit int) int {
	return int(max(1, min(float64(limit), math.Ceil(total/step-1e-9))))
}

// AreaGrid lays a square grid in an outline: every cell middle that lies inside,
// or one inner point where the area is smaller than a cell. Points face up. stepM
// is the largest step wanted; 0 takes p = 0.2 x 5^(log10 d), d the longer side of
// the box round the outline (EN 12464, from memory), from 0.2 to 1 m.
func AreaGrid(outline []r2.Vec, elevationM, stepM float64) (Grid, error) {
	if len(outline) < 3 || !finite(outlineNumbers(outline)...) || !finite(elevationM, stepM) || stepM < 0 {
		return Grid{}, fmt.Errorf("area grid: an outline of %d corners at a step of %g m cannot be used", len(outline), stepM)
	}
	b := outlineBox(outline, 0, 0)
	size := r2.Vec{X: b.Max.X - b.Min.X, Y: b.Max.Y - b.Min.Y}
	longer := max(size.X, size.Y)
	if longer == 0 {
		return Grid{}, fmt.Errorf("area grid: the outline has no size")
	}
	if stepM == 0 {
		stepM = min(1, max(0.2, 0.2*math.Pow(5, math.Log10(longer))))
	}
	stepM = max(stepM, math.Sqrt(size.X*size.Y/MaxGridPoints), 2*longer/MaxGridPoints)
	nx, ny := stepCount(size.X, stepM, MaxGridPoints), stepCount(size.Y, stepM, MaxGridPoints)
	g := Grid{AlongM: size.X / float64(nx), AcrossM: size.Y / float64(ny), Rows: 1}
	for j := range ny {
		for i := range nx {
			p := r2.Vec{
				X: b.Min.X + (float64(i)+0.5)*g.AlongM,
				Y: b.Min.Y + (float64(j)+0.5)*g.AcrossM,
			}
			if insideRing(p, outline) {
				g.Points = append(g.Points, Point{At: r3.Vec{X: p.X, Y: p.Y, Z: elevationM}, Normal: Up})
			}
		}
	}
	if len(g.Points) == 0 {
		p := innerPoint(outline)
		g.Points = []Point{{At: r3.Vec{X: p.X, Y: p.Y, Z: elevationM}, Normal: Up}}
	}
	return g, nil
}

// innerPoint finds a point inside a ring that is narrower than a cell: the
// middle of the widest stretch of the level line through the middle.
func innerPoint(ring []r2.Vec) r2.Vec {
	b := outlineBox(ring, 0, 0)
	y := (b.Min.Y + b.Max.Y) / 2
	s := newRay(r3.Vec{X: b.Min.X - 1, Y: y}, r3.Vec{X: b.Max.X + 1, Y: y})
	cuts := ringCuts(nil, &s, ring, 0, 1)
	insertionSort(cuts)
	best, widest := r2.Vec{X: (b.Min.X + b.Max.X) / 2, Y: y}, 0.0
	for i := 1; i < len(cuts); i++ {
		p := flat(s.at((cuts[i-1] + cuts[i]) / 2))
		if w := cuts[i] - cuts[i-1]; w > widest && insideRing(p, ring) {
			best, widest = p, w
		}
	}
	return best
}

// Facing chooses the side of a line that upright points face.
type Facing int

// The two sides, seen when walking along the line.
const (
	FacingLeft Facing = iota
	FacingRight
)

// UprightGrid lays points heightM above a line, each on a vertical surface that
// faces left or right of it: the property line, a fence, a facade. stepM is the
// largest step wanted; 0 means [DefaultLineStepM].
func UprightGrid(line []r3.Vec, heightM, stepM float64, side Facing) (Grid, error) {
	l, err := newPolyline(line)
	if err != nil {
		return Grid{}, fmt.Errorf("upright grid: %w", err)
	}
	if !finite(heightM, stepM) || stepM < 0 {
		return Grid{}, fmt.Errorf("upright grid: a height of %g m and a step of %g m cannot be used", heightM, stepM)
	}
	if stepM == 0 {
		stepM = DefaultLineStepM
	}
	n := stepCount(l.total(), stepM, MaxGridPoints)
	g := Grid{AlongM: l.total() / float64(n), Rows: 1, OffsetsM: []float64{0},
		Points: make([]Point, 0, n), StationsM: make([]float64, 0, n)}
	for i := range n {
		s := (float64(i) + 0.5) * g.AlongM
		at, ahead := l.at(s)
		normal := r3.Vec{X: -ahead.Y, Y: ahead.X}
		if side == FacingRight {
			normal = r3.Scale(-1, normal)
		}
		at.Z += heightM
		g.StationsM = append(g.StationsM, s)
		g.Points = append(g.Points, Point{At: at, Normal: normal})
	}
	return g, nil
}
