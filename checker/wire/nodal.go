package wire

// nodal is one set of linear nodal equations
//
//	sum over edges g*(v_k - v_i) + shunt_k*v_k = inject_k
//
// with the feeds behind the shared impedance. Shunts may be negative (the
// slope of a constant-power load), never the pivots of a stable network.
type nodal struct {
	c       *Circuit
	edge    []float64 // conductance of every leg, lead or pair of parallel legs
	g       []float64 // the same, with fill, while eliminating
	shunt   []float64
	inject  []float64
	inverse []float64 // of the pivot of each step
	volts   []float64
	emf     []float64 // open volts of each feed
	base    []float64 // volts of each feed that the impedance is based on
	perVA   float64   // resistance per unit over rated VA; 0 for an ideal source
	coreSys coreSystem
}

// newNodal allocates for c.
func newNodal(c *Circuit) *nodal {
	n, f := c.nodes, len(c.feeds)
	return &nodal{
		c: c, edge: make([]float64, len(c.edges)), g: make([]float64, c.plan.edges),
		shunt: make([]float64, n), inject: make([]float64, n), volts: make([]float64, n),
		inverse: make([]float64, len(c.plan.steps)),
		emf:     make([]float64, f), base: make([]float64, f),
	}
}

// solve turns shunt and inject into volts. It reports false when the matrix is
// not positive definite: for a network with constant-power loads, the sign
// that the volts are past the point of collapse. Shunt and inject are used up.
//
// Each row is kept as its edges and its excess (the shunt), so that removing a
// node adds positive numbers and nothing cancels.
func (s *nodal) solve() bool {
	forward, back := s.forward, s.back
	if s.c.plan.tree {
		forward, back = s.forwardTree, s.backTree
	}
	if !forward() || !s.solveCore() {
		return false
	}
	back()
	return true
}

// forwardTree removes the nodes of a tree, far ends first.
func (s *nodal) forwardTree() bool {
	for t := range s.c.plan.steps {
		st := &s.c.plan.steps[t]
		g, shunt := s.edge[st.ki], s.shunt[st.k]
		p := g + shunt
		if !(p > 0) {
			return false
		}
		inverse := 1 / p
		share := g * inverse
		s.inverse[t] = inverse
		s.shunt[st.i] += share * shunt
		s.inject[st.i] += share * s.inject[st.k]
	}
	return true
}

// backTree finds the volts of a tree, feeds first.
func (s *nodal) backTree() {
	for t := len(s.c.plan.steps) - 1; t >= 0; t-- {
		st := &s.c.plan.steps[t]
		s.volts[st.k] = (s.inject[st.k] + s.edge[st.ki]*s.volts[st.i]) * s.inverse[t]
	}
}

// forward removes nodes with one or two neighbours; see elimination.
func (s *nodal) forward() bool {
	n := copy(s.g, s.edge)
	clear(s.g[n:])
	for t := range s.c.plan.steps {
		st := &s.c.plan.steps[t]
		gi, gj := s.g[st.ki], 0.0
		if st.j >= 0 {
			gj = s.g[st.kj]
		}
		p := gi + gj + s.shunt[st.k]
		if !(p > 0) {
			return false
		}
		inverse := 1 / p
		s.inverse[t] = inverse
		share := gi * inverse
		s.shunt[st.i] += share * s.shunt[st.k]
		s.inject[st.i] += share * s.inject[st.k]
		if st.j >= 0 {
			s.g[st.into] += share * gj
			share = gj * inverse
			s.shunt[st.j] += share * s.shunt[st.k]
			s.inject[st.j] += share * s.inject[st.k]
		}
	}
	return true
}

// back finds the volts of the nodes removed, last first.
func (s *nodal) back() {
	for t := len(s.c.plan.steps) - 1; t >= 0; t-- {
		st := &s.c.plan.steps[t]
		sum := s.inject[st.k] + s.g[st.ki]*s.volts[st.i]
		if st.j >= 0 {
			sum += s.g[st.kj] * s.volts[st.j]
		}
		s.volts[st.k] = sum * s.inverse[t]
	}
}
