package wire

import "math"

const (
	// convergedAt is the largest error left in any volts, as a fraction of
	// the highest feed volts, estimated from the last two steps.
	convergedAt = 1e-14
	// noise is a step so small that rounding may be all there is in it.
	noise = 1e-13
	// mostSteps bounds one iteration; a run just short of collapse needs
	// about 30.
	mostSteps = 80
	// coldChords is the number of first steps from a cold start that take
	// filaments by the chord through zero, which keeps the volts above the
	// answer; the tangent is quicker afterwards.
	coldChords = 2
)

// outcome of one iteration.
type outcome int

const (
	settled outcome = iota
	collapsed
	wandering
)

// iterate solves the network by Newton's method from the volts in s.volts.
//
// Why this decides the question of collapse: the current of a constant-power
// load is convex and falling in V, the nodal matrix is an M-matrix as long as
// its pivots are positive, and the start (open volts) lies above every
// solution. Newton's method then falls monotonically to the highest solution
// when there is one; when there is none it must lose a pivot or reach zero
// volts. Filaments are concave; their chord through zero lies below the curve,
// which keeps the iteration on the same side.
//
// The first chords steps take filaments by the chord, the others by the
// tangent.
func (s *solver) iterate(chords int) outcome {
	last := 0.0
	for n := range mostSteps {
		s.steps++
		if !s.linearise(n < chords) {
			return collapsed
		}
		copy(s.before, s.net.volts)
		if !s.net.solve() {
			return collapsed
		}
		move := 0.0
		for k, v := range s.net.volts {
			move = max(move, math.Abs(v-s.before[k]))
		}
		if math.IsNaN(move) || math.IsInf(move, 0) {
			return collapsed
		}
		// Steps shrink at least as fast as the last two did, so the error
		// left is at most about move*(move/last).
		left := move
		if n > 0 && move < last {
			left *= move / last
		}
		if left <= convergedAt*s.topVolts || move <= noise*s.topVolts {
			return settled
		}
		last = move
	}
	return wandering
}

// linearise puts every load that is on into the equations at present volts.
func (s *solver) linearise(chords bool) bool {
	clear(s.net.shunt)
	clear(s.net.inject)
	for i := range s.draws {
		d := &s.draws[i]
		if d.scale == 0 {
			continue
		}
		at := s.c.loadAt[i]
		v := s.net.volts[at]
		if s.c.feedOf[at] < 0 {
			continue
		}
		if !(v > 0) {
			return false
		}
		amps, slope := d.current(v)
		if chords && d.kind == Filament {
			slope = amps / v
		}
		s.net.shunt[at] += slope
		s.net.inject[at] -= amps - slope*v
	}
	return true
}
