package wire

import "slices"

const (
	// carryWithin is how closely the largest multiple is found, relative.
	carryWithin = 5e-4
	// mostMultiple ends the search: a network that carries a thousand
	// times its load is not limited by its cables.
	mostMultiple = 1024
	// leastMultiple ends it at the other end.
	leastMultiple = 1e-9
)

// LargestMultiple returns how many times its load the network could carry in
// the corner before there is no solution, every driver holding its power
// whatever its drop-out and the conductors as warm as that load makes them.
// Loads lists the ids of the loads to scale; nil scales all. For one lamp on a
// run of resistance R the answer is the classic
//
//	P_largest = PF*V^2/(4*R)
//
// (maximum power transfer), and the search comes within 0.05 % of it.
func LargestMultiple(n Network, corner Corner, loads []string) (Carry, error) {
	c, err := Compile(n)
	if err != nil {
		return Carry{}, err
	}
	if err := validateCorner(corner); err != nil {
		return Carry{}, err
	}
	s := newSolver(c)
	s.set(corner)
	if loads == nil {
		return s.carryAll(corner), nil
	}
	wanted := make(map[string]bool, len(loads))
	for _, id := range loads {
		wanted[id] = true
	}
	return s.carryOf(corner, func(i int) bool { return wanted[c.loads[i].ID] }), nil
}

// carryAll scales every load, then those of the weakest feed alone.
func (s *solver) carryAll(corner Corner) Carry {
	carry := s.carryOf(corner, func(int) bool { return true })
	if !carry.Bounded || carry.Feed == "" {
		return carry
	}
	carry.FeedMultiple = carry.Multiple
	if len(s.c.feeds) > 1 {
		part := s.highestFeeds()
		alone := s.carryOf(corner, func(i int) bool {
			f := part[s.c.loadAt[i]]
			return f >= 0 && s.c.feeds[f].ID == carry.Feed
		})
		carry.FeedMultiple = alone.Multiple
	}
	return carry
}

// carryOf searches by doubling, then by halving the bracket. Each try starts
// from the last answer with less load: its volts lie above those sought, which
// is all that the proof of collapse needs (see iterate).
func (s *solver) carryOf(corner Corner, scaled func(int) bool) Carry {
	if !s.collapsible() {
		return Carry{}
	}
	s.cool()
	s.flat()
	if !s.holds(corner, scaled, 0) {
		return Carry{Bounded: true}
	}
	volts, temps := slices.Clone(s.net.volts), slices.Clone(s.legTempC)
	low, high := 0.0, 1.0
	try := func(multiple float64) bool {
		copy(s.net.volts, volts)
		copy(s.legTempC, temps)
		s.setLegs()
		if !s.holds(corner, scaled, multiple) {
			high = multiple
			return false
		}
		low = multiple
		copy(volts, s.net.volts)
		copy(temps, s.legTempC)
		return true
	}
	for try(high) {
		if high >= mostMultiple {
			return Carry{}
		}
		high *= 2
	}
	for high-low > carryWithin*high && high > leastMultiple {
		try((low + high) / 2)
	}
	carry := Carry{Multiple: low, Bounded: true}
	copy(s.net.volts, volts)
	s.weakest(&carry)
	return carry
}

// collapsible reports whether any load can lose its solution. Filaments and
// resistors draw less as the volts fall and always find one.
func (s *solver) collapsible() bool {
	for i := range s.draws {
		if k := s.draws[i].kind; s.draws[i].scale > 0 && (k == ConstantPower || k == ConstantCurrent) {
			return true
		}
	}
	return false
}

// holds reports whether the network has a solution with the chosen loads
// scaled, starting from present volts and temperatures, and leaves it in the
// solver.
func (s *solver) holds(corner Corner, scaled func(int) bool, multiple float64) bool {
	for i := range s.draws {
		level := cornerLevel(&s.c.loads[i], corner)
		if scaled(i) {
			level *= multiple
		}
		s.draws[i] = compileLoad(s.c.loads[i], level)
	}
	for n := 0; n < mostWarmings; n++ {
		out := s.iterate(0)
		if out != settled && s.filaments {
			s.flat()
			out = s.iterate(mostSteps)
		}
		if out != settled {
			return false
		}
		if s.riseK == 0 {
			return true
		}
		if s.flow(); s.warmUp() < carryTempC {
			return true
		}
	}
	return true
}

// carryTempC ends the search for temperatures while a multiple is sought.
const carryTempC = 1e-3

// weakest names the lamp with the smallest share of its feed's volts.
func (s *solver) weakest(carry *Carry) {
	part := s.highestFeeds()
	least := 2.0
	for i := range s.c.loads {
		f := part[s.c.loadAt[i]]
		if f < 0 || s.draws[i].scale == 0 {
			continue
		}
		if share := s.net.volts[s.c.loadAt[i]] / s.net.emf[f]; share < least {
			least = share
			carry.Lamp, carry.Feed = s.c.loads[i].ID, s.c.feeds[f].ID
		}
	}
}
