package site

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Grid is a spatial index: items, named by number, kept in square cells of the
// plane. Looking up what is near a point then costs as much as what is near
// it, not as much as the plan. The zero Grid is not ready; see [NewGrid]. A
// Grid that is no longer added to may be read by many goroutines.
type Grid struct {
	cellM float64
	cells map[cell][]int
	// wide holds items that would fill more than maxCells cells, or whose
	// box is unusable: they are answered to every question.
	wide []int
}

type cell struct{ x, y int64 }

const (
	// maxCells bounds what one item may cost to add, and what one question
	// may cost to answer.
	maxCells = 4096
	// maxSteps bounds the boxes into which a piece of a line is divided;
	// longer pieces are taken whole.
	maxSteps = 256
)

// defaultCellM suits gardens: fixtures stand about 2 to 5 m apart.
const defaultCellM = 4.0

// NewGrid returns an empty grid with square cells of the given size in metres;
// 4 m when the size is not between TouchM and MaxCoordM.
func NewGrid(cellM float64) *Grid {
	if !(cellM >= TouchM && cellM <= MaxCoordM) {
		cellM = defaultCellM
	}
	return &Grid{cellM: cellM, cells: make(map[cell][]int)}
}

// Add puts an item with the given box into the grid. A box with coordinates
// that are not usable makes the item answer every question.
func (g *Grid) Add(item int, box r2.Box) {
	lo, hi, n := g.cover(box)
	if n < 0 || n > maxCells {
		g.wide = append(g.wide, item)
		return
	}
	for x := lo.x; x <= hi.x; x++ {
		for y := lo.y; y <= hi.y; y++ {
			c := cell{x, y}
			g.cells[c] = append(g.cells[c], item)
		}
	}
}

// AddLine puts an item into the cells near each piece of a line, grown by
// marginM: fewer cells than the box of a long slanting line.
func (g *Grid) AddLine(item int, l Line, marginM float64) {
	g.along(l, marginM, func(box r2.Box) { g.Add(item, box) })
}

// along yields boxes, about a cell in size, that together hold a line grown by
// marginM.
func (g *Grid) along(l Line, marginM float64, yield func(r2.Box)) {
	for s := range l.pieces {
		steps := math.Ceil(dist(s.A, s.B) / g.cellM)
		if !Usable(s.A, s.B) || steps > maxSteps {
			yield(grow(s.bounds(), marginM))
			continue
		}
		n := max(1, int(steps))
		for i := range n {
			a, b := s.at(float64(i)/float64(n)), s.at(float64(i+1)/float64(n))
			yield(grow(Segment{a, b}.bounds(), marginM))
		}
	}
}

// Near returns the items whose boxes may meet the given one, in rising order,
// each once. It may return items that do not meet it; it never leaves out one
// that does. A box that is unusable, or wide, gives every item.
func (g *Grid) Near(box r2.Box) []int {
	out := g.appendNear(nil, box)
	slices.Sort(out)
	return slices.Compact(out)
}

// appendNear appends the items whose boxes may meet the given one, in no order and
// some of them again.
func (g *Grid) appendNear(out []int, box r2.Box) []int {
	out = append(out, g.wide...)
	if len(g.cells) == 0 {
		return out
	}
	lo, hi, n := g.cover(box)
	if n < 0 || n > maxCells {
		for _, items := range g.cells {
			out = append(out, items...)
		}
	} else {
		for x := lo.x; x <= hi.x; x++ {
			for y := lo.y; y <= hi.y; y++ {
				out = append(out, g.cells[cell{x, y}]...)
			}
		}
	}
	return out
}

// NearPoint returns the items whose boxes may come within radiusM of p.
func (g *Grid) NearPoint(p r2.Vec, radiusM float64) []int {
	return g.Near(grow(r2.Box{Min: p, Max: p}, radiusM))
}

// NearLine returns the items whose boxes may come within marginM of l.
func (g *Grid) NearLine(l Line, marginM float64) []int {
	if len(g.cells) == 0 && len(g.wide) == 0 {
		return nil
	}
	var out []int
	g.along(l, marginM, func(box r2.Box) { out = g.appendNear(out, box) })
	slices.Sort(out)
	return slices.Compact(out)
}

// cover returns the cells at the corners of a box and how many cells it has;
// -1 when the box is not usable.
func (g *Grid) cover(box r2.Box) (lo, hi cell, n int) {
	const reach = 4 * MaxCoordM // a usable box grown by a usable margin
	if !(box.Min.X >= -reach && box.Min.Y >= -reach && box.Max.X <= reach && box.Max.Y <= reach &&
		box.Min.X <= box.Max.X && box.Min.Y <= box.Max.Y) {
		return lo, hi, -1
	}
	index := func(v float64) int64 { return int64(math.Floor(v / g.cellM)) }
	lo = cell{index(box.Min.X - TouchM), index(box.Min.Y - TouchM)}
	hi = cell{index(box.Max.X + TouchM), index(box.Max.Y + TouchM)}
	w, h := hi.x-lo.x+1, hi.y-lo.y+1
	if w > maxCells || h > maxCells {
		return lo, hi, maxCells + 1
	}
	return lo, hi, int(w * h)
}
