package light

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Prism is an upright solid over a simple polygon: a building, a planter, a
// thick hedge.
type Prism struct {
	ID           string
	Outline      []r2.Vec // three or more corners, either way round, not closed
	BaseM, TopM  float64  // elevations
	Transmission float64  // share of light let through by one crossing
}

// Slab is a flat piece seen from above: a deck, a tread, a roof overhang, or with
// the thickness of what is below it a terrace. Openings are holes through it, such
// as the gap an uplight shines through.
type Slab struct {
	ID           string
	Outline      []r2.Vec // three or more corners, either way round, not closed
	Openings     [][]r2.Vec
	TopM         float64 // elevation of the walking surface
	ThicknessM   float64 // 0 is a sheet
	Transmission float64 // share of light let through by one crossing
}

// Name implements [Occluder].
func (p Prism) Name() string { return p.ID }

// Name implements [Occluder].
func (p Slab) Name() string { return p.ID }

func (p Prism) check() error {
	if len(p.Outline) < 3 {
		return fmt.Errorf("prism %q has %d corners; an outline needs 3", p.ID, len(p.Outline))
	}
	return checkSolid("prism", p.ID, p.Transmission, append(outlineNumbers(p.Outline), p.BaseM, p.TopM)...)
}

func (p Slab) check() error {
	if len(p.Outline) < 3 {
		return fmt.Errorf("slab %q has %d corners; an outline needs 3", p.ID, len(p.Outline))
	}
	if p.ThicknessM < 0 {
		return fmt.Errorf("slab %q is %g m thick; it is 0 or more", p.ID, p.ThicknessM)
	}
	numbers := append(outlineNumbers(p.Openings...), outlineNumbers(p.Outline)...)
	return checkSolid("slab", p.ID, p.Transmission, append(numbers, p.TopM, p.ThicknessM)...)
}

func (p Prism) box() r3.Box { return outlineBox(p.Outline, p.BaseM, p.TopM) }
func (p Slab) box() r3.Box  { return outlineBox(p.Outline, p.TopM-p.ThicknessM, p.TopM) }

func outlineBox(outline []r2.Vec, base, top float64) r3.Box {
	b := r3.Box{
		Min: r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: base},
		Max: r3.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: top},
	}
	for _, v := range outline {
		b.Min.X, b.Max.X = min(b.Min.X, v.X), max(b.Max.X, v.X)
		b.Min.Y, b.Max.Y = min(b.Min.Y, v.Y), max(b.Max.Y, v.Y)
	}
	return b
}

func (p Prism) crossing(s ray) (in, out float64, ok bool) {
	return footprintCrossing(s, p.BaseM, p.TopM, p.Outline, nil)
}

func (p Slab) crossing(s ray) (in, out float64, ok bool) {
	if p.ThicknessM > 2*GrazeM {
		return footprintCrossing(s, p.TopM-p.ThicknessM, p.TopM, p.Outline, p.Openings)
	}
	if s.along.Z == 0 {
		return 0, 0, false
	}
	t := (p.TopM - s.from.Z) / s.along.Z
	if t < s.lo || t > s.hi || !insideRings(flat(s.at(t)), p.Outline, p.Openings) {
		return 0, 0, false
	}
	return t, t, true
}

func (p Prism) pass(ray, float64, float64) float64 { return p.Transmission }
func (p Slab) pass(ray, float64, float64) float64  { return p.Transmission }

// footprintCrossing finds the first stretch longer than a graze that is inside
// the outline, outside the openings, and between the elevations.
func footprintCrossing(s ray, base, top float64, outline []r2.Vec, openings [][]r2.Vec) (in, out float64, ok bool) {
	lo, hi, ok := clipSlab(s.lo, s.hi, s.from.Z, s.along.Z, base, top)
	if !ok || hi-lo <= s.graze {
		return 0, 0, false
	}
	var store [16]float64
	cuts := ringCuts(store[:0], &s, outline, lo, hi)
	for _, hole := range openings {
		cuts = ringCuts(cuts, &s, hole, lo, hi)
	}
	cuts = append(cuts, lo, hi)
	insertionSort(cuts)
	for i := 1; i < len(cuts); i++ {
		in, out = cuts[i-1], cuts[i]
		if out-in > s.graze && insideRings(flat(s.at((in+out)/2)), outline, openings) {
			return in, out, true
		}
	}
	return 0, 0, false
}

// ringCuts appends the ray parameters between lo and hi at which the ray, seen
// from above, crosses an edge of the ring.
func ringCuts(cuts []float64, s *ray, ring []r2.Vec, lo, hi float64) []float64 {
	from, dir := flat(s.from), flat(s.along)
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		edge := r2.Sub(b, a)
		den := r2.Cross(dir, edge)
		if den == 0 {
			continue
		}
		rel := r2.Sub(a, from)
		t, u := r2.Cross(rel, edge)/den, r2.Cross(rel, dir)/den
		if u >= 0 && u <= 1 && t > lo && t < hi {
			cuts = append(cuts, t)
		}
	}
	return cuts
}

// insertionSort sorts a handful of numbers without allocating.
func insertionSort(v []float64) {
	for i := 1; i < len(v); i++ {
		for j := i; j > 0 && v[j] < v[j-1]; j-- {
			v[j], v[j-1] = v[j-1], v[j]
		}
	}
}

func insideRings(p r2.Vec, outline []r2.Vec, openings [][]r2.Vec) bool {
	if !insideRing(p, outline) {
		return false
	}
	for _, hole := range openings {
		if insideRing(p, hole) {
			return false
		}
	}
	return true
}

// insideRing is the even-odd test.
func insideRing(p r2.Vec, ring []r2.Vec) bool {
	in := false
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)*(b.X-a.X)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// stepOff moves a luminaire that is on or in the wall of its prism to just
// outside the nearest face. One on top of it leaves it out.
func (p Prism) stepOff(at, _ r3.Vec) (r3.Vec, bool) {
	if at.Z >= p.TopM-GrazeM {
		return at, false
	}
	return offRing(at, p.Outline), true
}

// offRing moves a point in or on an outline to just outside its nearest side.
func offRing(at r3.Vec, outline []r2.Vec) r3.Vec {
	q := flat(at)
	near, gap := nearestOnRing(q, outline)
	if !insideRing(q, outline) && gap > GrazeM {
		return at
	}
	out := near.normal
	if insideRing(r2.Add(near.point, r2.Scale(GrazeM/2, out)), outline) {
		out = r2.Scale(-1, out)
	}
	q = r2.Add(near.point, r2.Scale(2*GrazeM, out))
	return r3.Vec{X: q.X, Y: q.Y, Z: at.Z}
}

type ringPoint struct{ point, normal r2.Vec }

// nearestOnRing returns the nearest point of the ring and a unit normal there.
func nearestOnRing(q r2.Vec, ring []r2.Vec) (best ringPoint, gap float64) {
	gap = math.Inf(1)
	for i, a := range ring {
		edge := r2.Sub(ring[(i+1)%len(ring)], a)
		n2 := r2.Dot(edge, edge)
		if n2 == 0 {
			continue
		}
		u := min(1, max(0, r2.Dot(r2.Sub(q, a), edge)/n2))
		on := r2.Add(a, r2.Scale(u, edge))
		if d := math.Hypot(q.X-on.X, q.Y-on.Y); d < gap {
			n := math.Sqrt(n2)
			gap, best = d, ringPoint{on, r2.Vec{X: -edge.Y / n, Y: edge.X / n}}
		}
	}
	return best, gap
}

// stepOff moves a luminaire that is in its slab to just below it when it shines
// down and just above it when it shines up or level; one that is nearer to a side
// of a thick slab than to its top and its base shines from that side.
func (p Slab) stepOff(at, aim r3.Vec) (r3.Vec, bool) {
	base := p.TopM - p.ThicknessM
	if at.Z > p.TopM+GrazeM || at.Z < base-GrazeM {
		return at, true
	}
	if _, gap := nearestOnRing(flat(at), p.Outline); gap < min(p.TopM-at.Z, at.Z-base) {
		return offRing(at, p.Outline), true
	}
	if aim.Z < 0 {
		at.Z = base - 2*GrazeM
	} else {
		at.Z = p.TopM + 2*GrazeM
	}
	return at, true
}
