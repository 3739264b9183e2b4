package wire

import "slices"

// Solve computes the network in one corner. The error wraps ErrInput and
// means that the numbers or ids make no sense; a network that cannot carry its
// load is not an error but a Status.
func Solve(n Network, corner Corner) (Solution, error) {
	c, err := Compile(n)
	if err != nil {
		return Solution{}, err
	}
	if err := validateCorner(corner); err != nil {
		return Solution{}, err
	}
	s := newSolver(c)
	s.set(corner)
	status := s.run(false)
	answer := s.answer(corner.Name, status)
	if status == NoSolution {
		carry := s.carryAll(corner)
		answer.Carry = &carry
	}
	return answer, nil
}

// answer writes the present state as a Solution.
func (s *solver) answer(corner string, status Status) Solution {
	a := Solution{Corner: corner, Status: status, Iterations: s.steps, ResidualAmps: s.residual, Open: s.c.open}
	feeds := s.feedResults(&a)
	a.Lamps, a.Nodes = make([]LampResult, 0, len(s.c.loads)), make([]NodeResult, 0, len(s.c.names))
	for i := range s.c.loads {
		a.Lamps = append(a.Lamps, s.lamp(i, feeds))
		a.Source.LampVA += a.Lamps[i].VA
	}
	for i, name := range s.c.names {
		a.Nodes = append(a.Nodes, NodeResult{name, s.net.volts[i]})
	}
	a.Source.LossWatts = s.sourceLoss()
	a.Source.InternalVA = a.Source.OutputVA + a.Source.LossWatts
	if s.c.source.RatedVA > 0 {
		a.Source.Loading = a.Source.OutputVA / s.c.source.RatedVA
	}
	return a
}

// feedResults fills legs, feeds and commons, and returns for each node the
// feed with the highest volts in its part of the network.
func (s *solver) feedResults(a *Solution) []int {
	part := s.highestFeeds()
	a.Feeds, a.Legs = make([]FeedResult, 0, len(s.c.feeds)), make([]LegResult, 0, len(s.c.legs))
	for f := range s.c.feeds {
		v, amps := s.net.volts[s.c.feedAt[f]], s.feedAmps[f]
		a.Feeds = append(a.Feeds, FeedResult{ID: s.c.feeds[f].ID, Volts: v, Amps: amps, VA: v * amps})
		a.Source.OutputVA += v * amps
	}
	for i := range s.c.legs {
		amps := s.legAmps(i)
		ohms := 1 / s.legG[i]
		a.Legs = append(a.Legs, LegResult{s.c.legs[i].ID, amps, ohms, amps * amps * ohms, s.legTempC[i]})
		s.addCableWatts(a, part[s.c.legEnds[i][0]], amps*amps*ohms)
	}
	for i, e := range s.c.leadOf {
		if e >= 0 {
			s.addCableWatts(a, part[s.c.loadAt[i]], s.edgeAmps[e]*s.edgeAmps[e]/s.net.edge[e])
		}
	}
	a.Commons = s.commons(a.Feeds)
	return part
}

// addCableWatts books a loss to the source and the feed of its part.
func (s *solver) addCableWatts(a *Solution, feed int, watts float64) {
	a.Source.CableWatts += watts
	if feed >= 0 {
		a.Feeds[feed].CableWatts += watts
	}
}

// highestFeeds returns for each node the feed with the highest open volts of
// those that reach it, the first by id among equals; -1 on an island.
func (s *solver) highestFeeds() []int {
	best := make([]int, len(s.c.feeds))
	for f := range best {
		first := s.c.feedOf[s.c.feedAt[f]]
		if f == first || s.net.emf[f] > s.net.emf[best[first]] {
			best[first] = f
		}
	}
	part := make([]int, s.c.nodes)
	for k, f := range s.c.feedOf {
		part[k] = -1
		if f >= 0 {
			part[k] = best[f]
		}
	}
	return part
}

// lamp writes one load's result.
func (s *solver) lamp(i int, part []int) LampResult {
	at := s.c.loadAt[i]
	v, amps := s.net.volts[at], s.loadAmps[i]
	r := LampResult{ID: s.c.loads[i].ID, On: s.level[i] > 0, Volts: v, Amps: amps, VA: v * amps,
		Watts: v * amps * s.draws[i].watts, Dropped: s.draws[i].dropped}
	if f := part[at]; f >= 0 {
		r.Feed = s.c.feeds[f].ID
		if tap := s.net.volts[s.c.feedAt[f]]; tap > 0 {
			r.DropVolts = tap - v
			r.DropFraction = r.DropVolts / tap
		}
	}
	return r
}

// sourceLoss is what the internal impedance turns to heat: sag squared over
// the impedance, which equals sum(emf*amps) - sum(volts*amps).
func (s *solver) sourceLoss() float64 {
	load := 0.0
	for f := range s.c.feeds {
		load += s.net.base[f] * s.feedAmps[f]
	}
	return s.net.perVA * load * load
}

// commons adds feeds by common terminal, sorted.
func (s *solver) commons(feeds []FeedResult) []CommonResult {
	var ids []string
	for f := range s.c.feeds {
		ids = append(ids, s.c.feeds[f].Common)
	}
	slices.Sort(ids)
	ids = slices.Compact(ids)
	list := make([]CommonResult, len(ids))
	for i, id := range ids {
		list[i].ID = id
	}
	for f := range feeds {
		i, _ := slices.BinarySearch(ids, s.c.feeds[f].Common)
		list[i].Amps += feeds[f].Amps
		list[i].VA += feeds[f].VA
	}
	return list
}
