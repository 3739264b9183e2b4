package wire

import "fmt"

const (
	// carryWithin is how closely the largest multiple is found, relative.
	carryWithin = 1e-4
	// mostMultiple ends the search: a network that carries a thousand
	// times its load is not limited by its cables.
	mostMultiple = 1024
)

// cornerError names a corner that cannot be solved.
func cornerError(name string) error {
	return fmt.Errorf("%w: corner %q: supply factor, temperature or level", ErrInput, name)
}

// deviceError names a device with bad numbers.
func deviceError(id string) error {
	return fmt.Errorf("%w: device %q: rating, multiple or primary volts", ErrInput, id)
}

// LargestMultiple returns how many times its load the network could carry in
// the corner before there is no solution, every driver holding its power
// whatever its drop-out. Loads lists the ids of the loads to scale; nil scales
// all. For one lamp on a run of resistance R the answer is the classic
//
//	PF*V^2/(4*R) = P_largest
//
// (maximum power transfer), and the search comes within 0.01 % of it.
func LargestMultiple(n Network, corner Corner, loads []string) (Carry, error) {
	c, err := compile(n)
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

// carryAll scales every load.
func (s *solver) carryAll(corner Corner) Carry {
	return s.carryOf(corner, func(int) bool { return true })
}

// carryOf searches by doubling, then by halving the bracket.
func (s *solver) carryOf(corner Corner, scaled func(int) bool) Carry {
	holds := func(multiple float64) bool {
		for i := range s.draws {
			level := cornerLevel(&s.c.loads[i], corner)
			if scaled(i) {
				level *= multiple
			}
			s.draws[i] = compileLoad(s.c.loads[i], level)
		}
		return s.attempt(false) == settled
	}
	if !holds(0) {
		return Carry{Bounded: true}
	}
	low, high := 0.0, 1.0
	for holds(high) {
		if high >= mostMultiple {
			return Carry{Multiple: high}
		}
		low, high = high, 2*high
	}
	for high-low > carryWithin*high {
		if mid := (low + high) / 2; holds(mid) {
			low = mid
		} else {
			high = mid
		}
		if high < 1e-9 {
			break
		}
	}
	holds(low)
	carry := Carry{Multiple: low, Bounded: true}
	s.weakest(&carry)
	return carry
}

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
