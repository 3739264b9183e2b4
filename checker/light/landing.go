package light

import (
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
	names := make([]string, len(targets))
	for k, t := range targets {
		names[k] = t.Name()
	}
	out := Landing{On: make([]float64, len(targets))}
	for _, c := range cellsOf(l.Light, fineCut) {
		dir := lamp.frame.world(c.dir)
		end := r3.Add(l.At, r3.Scale(pastM, dir))
		hit, at := firstTarget(l.At, end, targets)
		if hit >= 0 {
			end = at
		}
		kept := c.share * e.blocks.throughExcept(&lamp.src, end, names)
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
	return out
}

// firstTarget returns the first target on the way and the point met; -1 for none.
func firstTarget(from, to r3.Vec, targets []Occluder) (int, r3.Vec) {
	s := newRay(from, to)
	hit, best := -1, 2.0
	for k, t := range targets {
		if in, _, ok := t.crossing(s); ok && in < best {
			hit, best = k, in
		}
	}
	if hit < 0 {
		return hit, to
	}
	return hit, s.at(best)
}
