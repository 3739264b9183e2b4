package wire

import "math"

// flow computes the amps of every load, edge and feed from the volts found,
// and the residual.
func (s *solver) flow() {
	for i := range s.draws {
		s.loadAmps[i] = 0
		if v := s.net.volts[s.c.loadAt[i]]; v > 0 && s.draws[i].scale > 0 {
			s.loadAmps[i], _ = s.draws[i].current(v)
		}
	}
	if s.c.plan.tree {
		s.flowTree()
	} else {
		s.flowMesh()
	}
}

// flowTree sums the loads from the far ends to the feeds, then walks back and
// subtracts the drops, so that both of Kirchhoff's laws hold to rounding. The
// residual is what the loads' laws make of the last change in volts.
func (s *solver) flowTree() {
	clear(s.carry)
	for i, at := range s.c.loadAt {
		s.carry[at] += s.loadAmps[i]
	}
	steps := s.c.plan.steps
	for t := range steps {
		st := &steps[t]
		amps := s.carry[st.k]
		s.carry[st.i] += amps
		if s.c.edges[st.ki][0] == st.k {
			amps = -amps
		}
		s.edgeAmps[st.ki] = amps
	}
	sag := 0.0
	for f, at := range s.c.feedAt {
		s.feedAmps[f] = s.carry[at]
		sag += s.net.base[f] * s.carry[at]
	}
	copy(s.before, s.net.volts)
	if s.dead() {
		s.residual = 0
		return
	}
	s.net.setFeeds(s.net.perVA * sag)
	for t := len(steps) - 1; t >= 0; t-- {
		st := &steps[t]
		s.net.volts[st.k] = s.net.volts[st.i] - s.carry[st.k]/s.net.edge[st.ki]
	}
	s.residual = 0
	for i, at := range s.c.loadAt {
		if v := s.net.volts[at]; v > 0 && s.draws[i].scale > 0 {
			amps, _ := s.draws[i].current(v)
			s.residual = max(s.residual, math.Abs(amps-s.loadAmps[i]))
		}
	}
}

// dead reports whether no volts were found at all.
func (s *solver) dead() bool {
	for f := range s.c.feedAt {
		if s.net.volts[s.c.feedAt[f]] != 0 {
			return false
		}
	}
	return true
}

// flowMesh takes every edge's amps from the volts across it. The residual is
// the largest sum of amps at a node.
func (s *solver) flowMesh() {
	clear(s.carry)
	for i, at := range s.c.loadAt {
		s.carry[at] += s.loadAmps[i]
	}
	for e, ends := range s.c.edges {
		amps := s.net.edge[e] * (s.net.volts[ends[0]] - s.net.volts[ends[1]])
		s.edgeAmps[e] = amps
		s.carry[ends[0]] += amps
		s.carry[ends[1]] -= amps
	}
	for f, at := range s.c.feedAt {
		s.feedAmps[f] = s.carry[at]
		s.carry[at] = 0
	}
	s.residual = 0
	for _, amps := range s.carry {
		s.residual = max(s.residual, math.Abs(amps))
	}
}
