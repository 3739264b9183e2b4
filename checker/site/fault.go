package site

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// FaultKind says what is wrong with an outline.
type FaultKind int

// What can be wrong with an outline.
const (
	// Unusable is a coordinate that is not finite or beyond MaxCoordM.
	Unusable FaultKind = iota + 1
	// TooFewPoints is fewer than three different points.
	TooFewPoints
	// RepeatedPoint is a point within TouchM of the one before it. It does
	// no harm; a plan may want to mention it.
	RepeatedPoint
	// FoldsBack is a corner at which the outline returns on itself.
	FoldsBack
	// CrossesItself is two edges, not neighbours, that cross or touch.
	CrossesItself
	// NoArea is an area that is no more than TouchM times the perimeter.
	NoArea
)

// String returns the fault in words.
func (k FaultKind) String() string {
	switch k {
	case Unusable:
		return "a coordinate is not a usable number"
	case TooFewPoints:
		return "fewer than three different points"
	case RepeatedPoint:
		return "a point is repeated"
	case FoldsBack:
		return "the outline folds back on itself"
	case CrossesItself:
		return "the outline crosses or touches itself"
	case NoArea:
		return "the outline has no area"
	default:
		return fmt.Sprintf("fault(%d)", int(k))
	}
}

// Fault is one thing wrong with an outline.
type Fault struct {
	Kind FaultKind
	// I is the index of the point, or of the first of two edges; J is the
	// index of the second edge. -1 where there is none. Edge i runs from
	// point i to the next.
	I, J int
}

// Harmless reports whether the outline can be used as it is in spite of the
// fault.
func (f Fault) Harmless() bool { return f.Kind == RepeatedPoint }

// Faults returns what is wrong with g as an outline on the ground, in order of
// kind and index; nil for a good one. A closing point that repeats the first
// is not a fault. Crossings are looked for only when nothing folds back, and
// the area only when nothing crosses. At most 16 crossings are listed.
func (g Polygon) Faults() []Fault {
	for i, p := range g {
		if !Usable(p) {
			return []Fault{{Unusable, i, -1}}
		}
	}
	pts, index, out := g.withoutRepeats()
	if len(pts) < 3 {
		return append([]Fault{{TooFewPoints, -1, -1}}, out...)
	}
	if folds := pts.folds(index); folds != nil {
		return append(out, folds...)
	}
	if crossings := pts.crossings(index); crossings != nil {
		return append(out, crossings...)
	}
	if pts.Area() <= TouchM*pts.Perimeter() {
		out = append(out, Fault{NoArea, -1, -1})
	}
	return out
}

// withoutRepeats returns g without repeated points, the index in g of each
// point left, and a fault for each point taken out other than the closing one.
func (g Polygon) withoutRepeats() (pts Polygon, index []int, faults []Fault) {
	for i, p := range g {
		if n := len(pts); n > 0 && dist(p, pts[n-1]) <= TouchM {
			faults = append(faults, Fault{RepeatedPoint, i, -1})
			continue
		}
		pts, index = append(pts, p), append(index, i)
	}
	for n := len(pts); n > 1 && dist(pts[0], pts[n-1]) <= TouchM; n-- {
		pts, index = pts[:n-1], index[:n-1]
	}
	return pts, index, faults
}

// folds returns the corners at which the far end of the shorter of two
// neighbouring edges lies on the longer one.
func (g Polygon) folds(index []int) []Fault {
	var out []Fault
	for i := range g {
		before, after := g.Edge((i+len(g)-1)%len(g)), g.Edge(i)
		if dist(before.A, footOn(before.A, after)) <= TouchM || dist(after.B, footOn(after.B, before)) <= TouchM {
			out = append(out, Fault{FoldsBack, index[i], -1})
		}
	}
	return out
}

// mostCrossings is how many crossings of a shape with itself are listed.
const mostCrossings = 16

// crossings returns pairs of edges that meet without being neighbours.
func (g Polygon) crossings(index []int) []Fault {
	edges := make([]Segment, len(g))
	for i := range g {
		edges[i] = g.Edge(i)
	}
	var out []Fault
	closePairs(edges, func(i, j int) bool {
		neighbours := j == i+1 || i == 0 && j == len(g)-1
		if !neighbours && segmentGap(edges[i], edges[j]).M <= TouchM {
			out = append(out, Fault{CrossesItself, index[i], index[j]})
		}
		return len(out) < mostCrossings
	})
	slices.SortFunc(out, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.I, b.I), cmp.Compare(a.J, b.J))
	})
	return out
}

// closePairs yields the pairs i < j of segments whose boxes touch, until yield
// returns false. It sweeps along the axis on which the segments are shorter as
// a whole, so that outlines and routes as people draw them cost little more
// than their number of segments.
func closePairs(segs []Segment, yield func(i, j int) bool) {
	var wide, high float64
	for _, s := range segs {
		wide += math.Abs(s.A.X - s.B.X)
		high += math.Abs(s.A.Y - s.B.Y)
	}
	extent := func(s Segment) (lo, hi float64) {
		if wide <= high {
			return min(s.A.X, s.B.X), max(s.A.X, s.B.X)
		}
		return min(s.A.Y, s.B.Y), max(s.A.Y, s.B.Y)
	}
	order := make([]int, len(segs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		lo, _ := extent(segs[a])
		other, _ := extent(segs[b])
		return cmp.Compare(lo, other)
	})
	var open []int
	for _, i := range order {
		lo, _ := extent(segs[i])
		open = slices.DeleteFunc(open, func(j int) bool {
			_, hi := extent(segs[j])
			return hi < lo-TouchM
		})
		for _, j := range open {
			if boxGap(segs[i], segs[j]) <= TouchM && !yield(min(i, j), max(i, j)) {
				return
			}
		}
		open = append(open, i)
	}
}

// SelfCrossings returns where a line crosses or touches itself, apart from the
// points where one piece follows another and from a closing point that repeats
// the first: a path that loops is legal, but stations near the crossing are
// not unique. At most 16 are listed. It is nil when a point is unusable.
func (l Line) SelfCrossings() []Crossing {
	if !Usable(l...) {
		return nil
	}
	segs := l.Segments()
	starts := make([]float64, len(segs)+1)
	for i, s := range segs {
		starts[i+1] = starts[i] + dist(s.A, s.B)
	}
	closed := len(segs) > 1 && dist(segs[0].A, segs[len(segs)-1].B) <= TouchM
	var out []Crossing
	closePairs(segs, func(i, j int) bool {
		if j == i+1 || closed && i == 0 && j == len(segs)-1 {
			return true
		}
		a, b := segs[i], segs[j]
		for _, t := range edgeCuts(a, b, nil) {
			p := a.at(t)
			out = append(out, Crossing{p, starts[i] + t*dist(a.A, a.B), starts[j] + fractionOn(p, b)*dist(b.A, b.B), lineAngle(a, b)})
		}
		return len(out) < 4*mostCrossings
	})
	out = mergeCrossings(out)
	return out[:min(len(out), mostCrossings)]
}

// Oriented returns g anticlockwise, as it is or turned round; g itself when it
// has no area or is unusable.
func (g Polygon) Oriented() Polygon {
	if a := g.SignedArea(); math.IsNaN(a) || a >= 0 {
		return g
	}
	return Polygon(Line(g).Reverse())
}
