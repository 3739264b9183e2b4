package light

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Landing says where the flux of a luminaire goes first, in shares of what it
// emits. Everything adds up to 1.
type Landing struct {
	On      []float64 // on each target, in the order given
	Blocked float64   // on anything else in the way
	Sky     float64   // past the targets, at or above the horizon
	Ground  float64   // past the targets, below the horizon
}

// OnAll is the share that lands on any target.
func (l Landing) OnAll() float64 {
	sum := 0.0
	for _, v := range l.On {
		sum += v
	}
	return sum
}

// pastM is how far in metres a ray that meets no target is followed.
const pastM = 200.0

// Land follows the light of luminaire i to targets such as the trunk and the
// crown of a tree. Occluders of the evaluator that bear the name of a target are
// the target, not an obstacle. The share is sampled over more than a thousand
// cells; its error is below 0.01 for round targets of 10 to 70 degrees and for
// beams of 5 degrees and more.
func (e *Evaluator) Land(i int, targets ...Occluder) Landing {
	return e.land(e.lamps[i].Luminaire, targets)
}

func (e *Evaluator) land(l *Luminaire, targets []Occluder) Landing {
	lamp := newLamp(l, &e.blocks)
	names := namesOf(targets)
	pole := poleOf(l.Light)
	axis := lamp.frame.world(pole.along)
	obstacles := e.blocks.seenFrom(&lamp.src, axis, names, math.Inf(-1))
	above := e.blocks.seenFrom(&lamp.src, axis, names, l.At.Z-GrazeM)
	hosts := !slices.Contains(names, l.Host)
	marks := make([]seen, len(targets))
	for k, t := range targets {
		marks[k] = newSeen(bounded{t, t.box()}, l.At, axis, math.Inf(-1))
	}
	out := Landing{On: make([]float64, len(targets))}
	ahead := make([]seen, 0, len(obstacles))
	for cells := range slices.Chunk(cellsOf(l.Light, fineCut), cellsAtOnce) {
		low, high := pole.cosines(cells)
		inWay := obstacles
		if lamp.frame.allRise(cells) {
			inWay = above
		}
		ahead = within(ahead[:0], inWay, low, high)
		mayHit := slices.ContainsFunc(marks, func(m seen) bool { return m.between(low, high) })
		for _, c := range cells {
			dir := lamp.frame.world(c.dir)
			hit, end := -1, r3.Add(l.At, r3.Scale(pastM, dir))
			s := newRay(l.At, end)
			if mayHit {
				if hit, end = firstTarget(&s, end, targets); hit >= 0 {
					s = newRay(l.At, end)
				}
			}
			kept := c.share * pastThese(&lamp.src, hosts, ahead, &s, end)
			out.Blocked += c.share - kept
			switch {
			case hit >= 0:
				out.On[hit] += kept
			case dir.Z >= 0:
				out.Sky += kept
			default:
				out.Ground += kept
			}
		}
	}
	return out
}

// cellsAtOnce is how many cells share a list of what may stand in their way. Cells
// follow one another from the pole outward.
const cellsAtOnce = 24

// cosines are the least and the greatest cosine between the pole and some cells.
func (p *pole) cosines(cells []fluxCell) (low, high float64) {
	low, high = 1, -1
	for _, c := range cells {
		cos := r3.Dot(c.dir, p.along)
		low, high = min(low, cos), max(high, cos)
	}
	return low, high
}

// allRise reports whether the light of some cells goes up, all of it.
func (f *frame) allRise(cells []fluxCell) bool {
	up := r3.Vec{X: f.x.Z, Y: f.y.Z, Z: f.z.Z}
	return !slices.ContainsFunc(cells, func(c fluxCell) bool { return r3.Dot(c.dir, up) < 0 })
}

func namesOf(targets []Occluder) []string {
	names := make([]string, len(targets))
	for k, t := range targets {
		names[k] = t.Name()
	}
	return names
}

// firstTarget returns the first target on the way to a place and the point met; -1
// and the place itself for none.
func firstTarget(s *ray, to r3.Vec, targets []Occluder) (int, r3.Vec) {
	hit, best := -1, 2.0
	for k, t := range targets {
		if in, _, ok := t.crossing(*s); ok && in < best {
			hit, best = k, in
		}
	}
	if hit < 0 {
		return hit, to
	}
	return hit, s.at(best)
}
