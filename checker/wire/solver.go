package wire

import (
	"math"
	"slices"
)

const (
	// mostRise bounds the square of amps over ampacity in the temperature
	// of a conductor: twice the ampacity. A cable beyond that is on fire,
	// not warm.
	mostRise = 4
	// sameTempC ends the search for conductor temperatures.
	sameTempC = 1e-9
	// mostWarmings bounds that search.
	mostWarmings = 60
	// mostResidual is the residual that an answer may have, in amperes and over
	// its largest current. Those of lighting have a millionth of that.
	mostResidual = 1e-6
	// backInWindow is how far above its drop-out a dropped driver must
	// stand to start again.
	backInWindow = 1 + 1e-9
)

// solver is a circuit with room to solve it, corner after corner.
type solver struct {
	c        *Circuit
	net      *nodal
	draws    []draw
	level    []float64 // of each load in the present corner, 0 when out
	legTempC []float64
	legG     []float64
	edgeAmps []float64 // from edges[e][0] to edges[e][1]
	feedAmps []float64
	loadAmps []float64
	carry    []float64 // amps into the part of the tree beyond each node
	before   []float64
	restored []bool
	topVolts float64
	steps    int
	residual float64
	riseK    float64
	groundC  float64
	// filaments is true when any load is one.
	filaments bool
}

// newSolver allocates for c.
func newSolver(c *Circuit) *solver {
	s := &solver{
		c: c, net: newNodal(c),
		draws: make([]draw, len(c.loads)), level: make([]float64, len(c.loads)),
		legTempC: make([]float64, len(c.legs)), legG: make([]float64, len(c.legs)),
		edgeAmps: make([]float64, len(c.edges)), feedAmps: make([]float64, len(c.feeds)),
		loadAmps: make([]float64, len(c.loads)), carry: make([]float64, c.nodes),
		before: make([]float64, c.nodes), restored: make([]bool, len(c.loads)),
	}
	for i := range c.loads {
		s.filaments = s.filaments || c.loads[i].Kind == Filament
	}
	return s
}

// set prepares the corner: levels, temperatures at rest, volts and impedance.
func (s *solver) set(corner Corner) {
	for i := range s.c.loads {
		l := &s.c.loads[i]
		s.setLevel(i, cornerLevel(l, corner))
	}
	s.groundC, s.riseK = corner.GroundC, corner.RiseK
	for i := range s.c.loads {
		if e := s.c.leadOf[i]; e >= 0 {
			s.net.edge[e] = 1 / leadOhms(&s.c.loads[i], s.groundC)
		}
	}
	s.cool()
	s.setSource(corner)
}

// cool brings every conductor to the ground's temperature.
func (s *solver) cool() {
	for i := range s.legTempC {
		s.legTempC[i] = s.groundC
	}
	s.setLegs()
}

// cornerLevel returns the level of a load in a corner, 0 when it is out.
func cornerLevel(l *Load, corner Corner) float64 {
	if slices.Contains(corner.Out, l.ID) {
		return 0
	}
	level := l.Level
	if level == 0 {
		level = 1
	}
	if corner.Scene != nil {
		if set, ok := corner.Scene.Levels[l.ID]; ok {
			level = min(max(set, 0), 1)
		}
	}
	return level
}

// setLevel sets one load's level.
func (s *solver) setLevel(i int, level float64) {
	s.level[i] = level
	s.draws[i] = compileLoad(s.c.loads[i], level)
}

// setLegs writes the conductance of every leg at its temperature.
func (s *solver) setLegs() {
	for i := range s.c.legs {
		if e := s.c.edgeOf[i]; e >= 0 {
			s.net.edge[e] = 0
		}
	}
	for i := range s.c.legs {
		s.legG[i] = 1 / legOhms(&s.c.legs[i], s.legTempC[i])
		if e := s.c.edgeOf[i]; e >= 0 {
			s.net.edge[e] += s.legG[i]
		}
	}
}

// setSource writes the open volts and the impedance.
func (s *solver) setSource(corner Corner) {
	src := &s.c.source
	factor := corner.SupplyFactor
	if factor == 0 || src.Regulated {
		factor = 1
	}
	r := 0.0
	if !src.Regulated {
		r = s.impedance(corner.End).R
	}
	rise := 0.0
	if src.TapsAt == AtRatedLoad {
		rise = r
	}
	s.net.perVA = 0
	if r > 0 {
		s.net.perVA = r / src.RatedVA
	}
	s.topVolts = 0
	for f := range s.c.feeds {
		volts := s.c.feeds[f].Volts
		s.net.base[f] = volts
		s.net.emf[f] = volts * (1 + rise) * factor
		s.topVolts = max(s.topVolts, s.net.emf[f])
	}
}

// impedance picks the end of the bracket that gives the volts asked for.
func (s *solver) impedance(end End) Impedance {
	z := s.c.source.Impedance
	if end == Middle {
		return Impedance{(z.Low.R + z.High.R) / 2, (z.Low.X + z.High.X) / 2}
	}
	lowest, highest := z.High, z.Low
	if s.c.source.TapsAt == AtRatedLoad && s.expectedVA() < s.c.source.RatedVA {
		lowest, highest = highest, lowest
	}
	if end == LowestVolts {
		return lowest
	}
	return highest
}

// expectedVA is the sum of the loads at their own or the feeds' volts.
func (s *solver) expectedVA() float64 {
	volts := 0.0
	for f := range s.c.feeds {
		volts = max(volts, s.c.feeds[f].Volts)
	}
	sum := 0.0
	for i := range s.draws {
		d := &s.draws[i]
		switch d.kind {
		case ConstantPower:
			sum += d.scale
		case ConstantCurrent:
			sum += d.scale * volts
		case Filament:
			sum += d.scale * d.ratedV
		case Resistive:
			sum += d.scale * d.ratedV * d.ratedV
		}
	}
	return sum
}

// flat starts every node at the open volts of the feed that reaches it.
func (s *solver) flat() {
	for k, f := range s.c.feedOf {
		s.net.volts[k] = 0
		if f >= 0 {
			s.net.volts[k] = s.topVolts
		}
	}
}

// run solves the corner that was set, with the conductors at the temperature
// their own current gives them. Warm starts from the volts of the last answer.
func (s *solver) run(warm bool) Status {
	s.steps = 0
	status := s.settle(warm)
	for n := 0; s.riseK != 0 && n < mostWarmings && len(s.net.volts) > 0; n++ {
		if s.flow(); s.warmUp() < sameTempC {
			break
		}
		status = s.settle(status == Solved)
	}
	s.flow()
	if s.residual > mostResidual && s.residual > mostResidual*s.largestAmps() {
		// The numbers are so far apart that rounding is all there is.
		left := s.residual
		clear(s.net.volts)
		s.flow()
		s.residual = left
		return NotConverged
	}
	return status
}

// largestAmps is the largest current in the state found.
func (s *solver) largestAmps() float64 {
	largest := 0.0
	for _, amps := range s.feedAmps {
		largest = max(largest, math.Abs(amps))
	}
	for _, amps := range s.edgeAmps {
		largest = max(largest, math.Abs(amps))
	}
	return largest
}

// warmUp sets conductor temperatures from present amps and returns the
// largest change in kelvin.
func (s *solver) warmUp() float64 {
	change := 0.0
	for i := range s.c.legs {
		l := &s.c.legs[i]
		if l.AmpacityAmps <= 0 {
			continue
		}
		ratio := s.legAmps(i) / l.AmpacityAmps
		temp := s.groundC + s.riseK*min(ratio*ratio, mostRise)
		change = max(change, math.Abs(temp-s.legTempC[i]))
		s.legTempC[i] = temp
	}
	s.setLegs()
	return change
}

// legAmps returns the present amps of leg i, from From to To.
func (s *solver) legAmps(i int) float64 {
	e := s.c.edgeOf[i]
	if e < 0 {
		return 0
	}
	amps := s.edgeAmps[e]
	if s.legG[i] != s.net.edge[e] {
		amps *= s.legG[i] / s.net.edge[e]
	}
	if s.c.legEnds[i][0] != s.c.edges[e][0] {
		return -amps
	}
	return amps
}

// settle solves at fixed conductor temperatures: first with every driver
// holding its power, then, if any stands below its drop-out or there is no
// such solution, with those dropped out.
func (s *solver) settle(warm bool) Status {
	for i := range s.draws {
		s.draws[i].dropped = false
	}
	out := s.attempt(warm)
	if out == settled {
		if !s.dropBelow() {
			return Solved
		}
		if s.dropOut() {
			return DroppedOut
		}
		clear(s.net.volts)
		return NotConverged
	}
	held := true
	for i := range s.draws {
		d := &s.draws[i]
		d.dropped = d.dropOutV > 0
		held = held && !d.dropped
	}
	s.flat()
	if held || !s.dropOut() {
		clear(s.net.volts)
	}
	if out == wandering {
		return NotConverged
	}
	return NoSolution
}

// attempt iterates, again from a cold start when a warm one fails, and by
// chords alone when tangents fail.
func (s *solver) attempt(warm bool) outcome {
	if warm {
		if s.iterate(0) == settled {
			return settled
		}
	}
	s.flat()
	out := s.iterate(coldChords)
	if out != settled && s.filaments {
		s.flat()
		out = s.iterate(mostSteps)
	}
	return out
}

// dropBelow drops every driver below its drop-out; it reports whether any was.
func (s *solver) dropBelow() bool {
	any := false
	for i := range s.draws {
		d := &s.draws[i]
		if !d.dropped && d.scale > 0 && s.c.feedOf[s.c.loadAt[i]] >= 0 &&
			s.net.volts[s.c.loadAt[i]] < d.dropOutV {
			d.dropped, any = true, true
		}
	}
	return any
}

// dropOut finds a state in which every running driver is at or above its
// drop-out and every dropped one below. A driver starts again at most once, so
// the search ends; one that would start and stop for ever stays dropped.
func (s *solver) dropOut() bool {
	clear(s.restored)
	for {
		if s.attempt(true) != settled {
			return false
		}
		changed := s.dropBelow()
		for i := range s.draws {
			d := &s.draws[i]
			if d.dropped && !s.restored[i] && s.net.volts[s.c.loadAt[i]] > d.dropOutV*backInWindow {
				d.dropped, s.restored[i], changed = false, true, true
			}
		}
		if !changed {
			return true
		}
	}
}
