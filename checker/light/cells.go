package light

import (
	"math"
	"sort"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"
)

// fluxCell is a small piece of the sphere round a luminaire with the share of
// the luminaire's flux that leaves through it.
type fluxCell struct {
	dir   r3.Vec // in the luminaire's frame
	share float64
}

// The sphere is cut into rings of about equal flux, so that narrow beams are
// cut finely, and each ring into equal planes. Rings never cross the plane of
// 90 degrees, so that a shaded luminaire used upright has no flux above it.
const (
	profileSteps  = 720
	profilePlanes = 8
)

// cutting is how finely the sphere is cut.
type cutting struct {
	rings, planes int
	widestDeg     float64 // no ring is wider
}

var (
	fineCut   = cutting{rings: 60, planes: 24, widestDeg: 3}
	coarseCut = cutting{rings: 16, planes: 12, widestDeg: 8} // for searching
)

// cellStore keeps the cells of a distribution, made when first asked for.
type cellStore struct{ fine, coarse storedCells }

type storedCells struct {
	once  sync.Once
	cells []fluxCell
}

// store lets a distribution that embeds a cellStore be a keeper.
func (s *cellStore) store() *cellStore { return s }

// keeper is a distribution that keeps its cells.
type keeper interface{ store() *cellStore }

// cellsOf returns the flux cells of a distribution, kept where it can.
func cellsOf(d Distribution, cut cutting) []fluxCell {
	k, ok := d.(keeper)
	if !ok {
		return fluxCells(d, cut)
	}
	s := &k.store().fine
	if cut == coarseCut {
		s = &k.store().coarse
	}
	s.once.Do(func() { s.cells = fluxCells(d, cut) })
	return s.cells
}

// fluxCells cuts the flux of a distribution into cells whose shares add up to 1;
// nil when it emits nothing.
func fluxCells(d Distribution, cut cutting) []fluxCell {
	edges := ringEdges(d, cut)
	cells := make([]fluxCell, 0, (len(edges)-1)*cut.planes)
	total := 0.0
	for i := 1; i < len(edges); i++ {
		top, bottom := math.Cos(edges[i-1]), math.Cos(edges[i])
		area := 2 * math.Pi * (top - bottom) / float64(cut.planes)
		cos := (top + bottom) / 2
		sin := math.Sqrt(1 - cos*cos)
		for k := range cut.planes {
			sinC, cosC := math.Sincos(2 * math.Pi * (float64(k) + 0.25 + 0.5*float64(i%2)) / float64(cut.planes))
			dir := r3.Vec{X: sin * cosC, Y: sin * sinC, Z: -cos}
			if flux := d.PerLumen(dir) * area; flux > 0 {
				cells = append(cells, fluxCell{dir, flux})
				total += flux
			}
		}
	}
	for i := range cells {
		cells[i].share /= total
	}
	return cells
}

// ringEdges returns the vertical angles in radians between rings.
func ringEdges(d Distribution, cut cutting) []float64 {
	sums := make([]float64, profileSteps+1)
	step := math.Pi / profileSteps
	for i := range profileSteps {
		sin, cos := math.Sincos((float64(i) + 0.5) * step)
		sum := 0.0
		for k := range profilePlanes {
			sinC, cosC := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / profilePlanes)
			sum += d.PerLumen(r3.Vec{X: sin * cosC, Y: sin * sinC, Z: -cos})
		}
		sums[i+1] = sums[i] + sum*sin
	}
	edges := []float64{0}
	for _, limit := range []float64{math.Pi / 2, math.Pi} {
		edges = cut.fillRings(edges, sums, limit)
	}
	return edges
}

// fillRings appends edges up to limit, each an equal part of the flux or the
// widest ring further on.
func (c cutting) fillRings(edges, sums []float64, limit float64) []float64 {
	step := math.Pi / profileSteps
	total := sums[profileSteps]
	for {
		last := edges[len(edges)-1]
		next := last + radians(c.widestDeg)
		if total > 0 {
			here := sums[min(profileSteps, int(math.Round(last/step)))]
			k := sort.SearchFloat64s(sums, here+total/float64(c.rings))
			next = min(next, max(last+step, float64(k)*step))
		}
		if next >= limit-step/2 {
			return append(edges, limit)
		}
		edges = append(edges, next)
	}
}
