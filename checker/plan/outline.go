package plan

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// leastWidthM is the width, in metres, up to which an outline encloses
	// nothing.
	leastWidthM = 1e-3
	// mostPairs bounds the pairs of edges that are compared in one plan.
	mostPairs = 100_000_000
)

// outline computes the corners of a closed outline; nil when it is none. A
// last point that repeats the first is dropped.
func (r *resolver) outline(s spot, list []Position) []r2.Vec {
	points := r.points(s, list)
	if points == nil {
		return nil
	}
	kept, indices := distinct(points)
	for len(kept) > 1 && r2.Norm(r2.Sub(kept[0], kept[len(kept)-1])) < sameM {
		kept = kept[:len(kept)-1]
	}
	if len(kept) < 3 || onOneLine(kept) {
		r.conflict(s, "the outline encloses nothing: its corners lie on a line or a point")
		return nil
	}
	first, second, crossed := r.firstCrossing(kept)
	switch {
	case r.pairs > mostPairs:
		r.conflict(s, "the outlines have too many corners to check that none crosses itself")
	case crossed:
		r.conflict(s, "the outline crosses itself: the side from corner %d meets the side from corner %d", indices[first]+1, indices[second]+1)
		return nil
	}
	return kept
}

// outlineOf computes the outline of a thing of the site; without one the thing
// is left out.
func (r *resolver) outlineOf(e *Element, list []Position) []r2.Vec {
	outline := r.outline(spotOf(e).key("outline"), list)
	r.leaveOut(e, outline == nil)
	return outline
}

// onOneLine says whether points lie within [leastWidthM] of a line.
func onOneLine(points []r2.Vec) bool {
	far := 0
	for i, p := range points {
		if r2.Norm(r2.Sub(p, points[0])) > r2.Norm(r2.Sub(points[far], points[0])) {
			far = i
		}
	}
	way := r2.Unit(r2.Sub(points[far], points[0]))
	for _, p := range points {
		if math.Abs(r2.Cross(way, r2.Sub(p, points[0]))) > leastWidthM {
			return false
		}
	}
	return true
}

// polyline computes the points of an open line; nil when it has no length.
func (r *resolver) polyline(s spot, list []Position, what string) []r2.Vec {
	points := r.points(s, list)
	if points == nil {
		return nil
	}
	kept, _ := distinct(points)
	if len(kept) < 2 {
		r.conflict(s, "%s has no length", what)
		return nil
	}
	return kept
}

// firstCrossing finds two sides of an outline that meet away from a shared
// corner: the first such pair in order. Sides are swept by their left ends, so
// that only sides whose x ranges overlap are compared.
func (r *resolver) firstCrossing(points []r2.Vec) (first, second int, crossed bool) {
	n := len(points)
	order := make([]int, n)
	left, right := make([]float64, n), make([]float64, n)
	for i := range n {
		a, b := points[i].X, points[(i+1)%n].X
		order[i], left[i], right[i] = i, math.Min(a, b), math.Max(a, b)
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(left[i], left[j]) })
	for k, i := range order {
		for _, j := range order[k+1:] {
			if r.pairs++; left[j] > right[i] || r.pairs > mostPairs {
				break
			}
			lo, hi := min(i, j), max(i, j)
			if apart(points, lo, hi) || !sidesMeet(points, lo, hi) {
				continue
			}
			if !crossed || lo < first || lo == first && hi < second {
				first, second, crossed = lo, hi, true
			}
		}
	}
	return first, second, crossed
}

// apart says whether two sides of an outline have no y in common.
func apart(points []r2.Vec, i, j int) bool {
	a, b := points[i].Y, points[(i+1)%len(points)].Y
	c, d := points[j].Y, points[(j+1)%len(points)].Y
	return max(a, b) < min(c, d) || max(c, d) < min(a, b)
}

// sidesMeet says whether sides i < j of an outline meet: neighbours only when
// one folds back onto the other.
func sidesMeet(points []r2.Vec, i, j int) bool {
	n := len(points)
	a, b := points[i], points[(i+1)%n]
	c, d := points[j], points[(j+1)%n]
	switch {
	case (i+1)%n == j:
		return foldsBack(b, a, d)
	case (j+1)%n == i:
		return foldsBack(a, b, c)
	}
	return segmentsMeet(a, b, c, d)
}

// foldsBack says whether the sides from a corner to p and to q run the same
// way.
func foldsBack(corner, p, q r2.Vec) bool {
	u, v := r2.Sub(p, corner), r2.Sub(q, corner)
	return r2.Dot(u, v) > 0 && math.Abs(r2.Cross(u, v)) <= sameM*math.Max(r2.Norm(u), r2.Norm(v))
}

// segmentsMeet says whether two segments have a point in common.
func segmentsMeet(a, b, c, d r2.Vec) bool {
	turn := func(p, q, x r2.Vec) float64 { return r2.Cross(r2.Sub(q, p), r2.Sub(x, p)) }
	d1, d2, d3, d4 := turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)
	if (d1 > 0) != (d2 > 0) && (d3 > 0) != (d4 > 0) && d1 != 0 && d2 != 0 && d3 != 0 && d4 != 0 {
		return true
	}
	return onSegment(c, a, b) || onSegment(d, a, b) || onSegment(a, c, d) || onSegment(b, c, d)
}

// onSegment says whether p is on the segment from a to b, within sameM.
func onSegment(p, a, b r2.Vec) bool {
	return squareTo(p, a, b, along(p, a, b)) < sameM*sameM
}

// contains says whether p is inside an outline or on its edge.
func contains(outline []r2.Vec, p r2.Vec) bool {
	inside := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if onSegment(p, a, b) {
			return true
		}
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			inside = !inside
		}
	}
	return inside
}

// boxOf is the smallest box round points.
func boxOf(points []r2.Vec) r2.Box {
	box := r2.Box{Min: points[0], Max: points[0]}
	for _, p := range points[1:] {
		box.Min = r2.Vec{X: math.Min(box.Min.X, p.X), Y: math.Min(box.Min.Y, p.Y)}
		box.Max = r2.Vec{X: math.Max(box.Max.X, p.X), Y: math.Max(box.Max.Y, p.Y)}
	}
	return box
}
