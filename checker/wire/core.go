package wire

import "gonum.org/v1/gonum/mat"

// solveCore finds the sag of the source and the volts of feeds and core.
//
// With sag the volts lost per volt of base, feed f stands at emf - base*sag,
// and sag = perVA * sum(base * amps). All feeds sag by one fraction.
func (s *nodal) solveCore() bool {
	if len(s.c.plan.rest) > 0 || len(s.c.plan.core) > 0 {
		return s.coreSys.solve(s)
	}
	slope, load := 0.0, 0.0
	for f, at := range s.c.feedAt {
		slope += s.base[f] * s.base[f] * s.shunt[at]
		load += s.base[f] * (s.shunt[at]*s.emf[f] - s.inject[at])
	}
	room := 1 + s.perVA*slope
	if !(room > 0) {
		return false
	}
	s.setFeeds(s.perVA * load / room)
	return true
}

// setFeeds writes the volts of the feeds at the given sag.
func (s *nodal) setFeeds(sag float64) {
	for f, at := range s.c.feedAt {
		s.volts[at] = s.emf[f] - s.base[f]*sag
	}
}

// coreSystem is the dense part: core nodes and, when the source has an
// impedance, the sag. It is symmetric.
type coreSystem struct {
	matrix *mat.SymDense
	right  *mat.VecDense
	answer *mat.VecDense
	chol   mat.Cholesky
	data   []float64
}

// solve assembles and solves the core by Cholesky factors.
func (d *coreSystem) solve(s *nodal) bool {
	core := s.c.plan.core
	n := len(core)
	size := n
	if s.perVA > 0 {
		size++
	}
	if size > 0 {
		d.reset(size)
		for i, k := range core {
			d.add(i, i, s.shunt[k])
			d.addRight(i, s.inject[k])
		}
		for f, at := range s.c.feedAt {
			d.addFeed(s, n, f, at)
		}
		if s.perVA > 0 {
			d.add(n, n, 1/s.perVA)
		}
		for _, e := range s.c.plan.rest {
			d.addEdge(s, n, e)
		}
		if !d.chol.Factorize(d.matrix) || d.chol.SolveVecTo(d.answer, d.right) != nil {
			return false
		}
	}
	sag := 0.0
	if s.perVA > 0 {
		sag = d.answer.AtVec(n)
	}
	s.setFeeds(sag)
	for i, k := range core {
		s.volts[k] = d.answer.AtVec(i)
	}
	return true
}

// reset empties the system, allocating at first use or a new size.
func (d *coreSystem) reset(size int) {
	if len(d.data) != size*size {
		d.data = make([]float64, size*size)
		d.matrix = mat.NewSymDense(size, d.data)
		d.right, d.answer = mat.NewVecDense(size, nil), mat.NewVecDense(size, nil)
	}
	clear(d.data)
	d.right.Zero()
}

// add adds x to the upper triangle at i, j.
func (d *coreSystem) add(i, j int, x float64) {
	d.data[min(i, j)*d.right.Len()+max(i, j)] += x
}

// addRight adds x to the right-hand side.
func (d *coreSystem) addRight(i int, x float64) { d.right.SetVec(i, d.right.AtVec(i)+x) }

// addFeed adds the shunt and injection at the node of a feed to the sag row.
func (d *coreSystem) addFeed(s *nodal, n, f, at int) {
	if s.perVA > 0 {
		b := s.base[f]
		d.add(n, n, b*b*s.shunt[at])
		d.addRight(n, b*(s.shunt[at]*s.emf[f]-s.inject[at]))
	}
}

// addEdge adds one edge. The volts across it are (emf - base*sag) at an end
// that is a feed, an unknown at an end that is a core node.
func (d *coreSystem) addEdge(s *nodal, n int, e restEdge) {
	g := s.g[e.edge]
	emf, slope := 0.0, 0.0 // of a - b from feeds alone; slope by sag
	if e.a < 0 {
		emf, slope = s.emf[-1-e.a], -s.base[-1-e.a]
	}
	if e.b < 0 {
		emf, slope = emf-s.emf[-1-e.b], slope+s.base[-1-e.b]
	}
	if e.a >= 0 {
		d.add(e.a, e.a, g)
		d.addRight(e.a, -g*emf)
	}
	if e.b >= 0 {
		d.add(e.b, e.b, g)
		d.addRight(e.b, g*emf)
	}
	if e.a >= 0 && e.b >= 0 {
		d.add(e.a, e.b, -g)
	}
	if s.perVA == 0 || (e.a >= 0 && e.b >= 0) {
		return
	}
	if e.a >= 0 {
		d.add(e.a, n, g*slope)
	}
	if e.b >= 0 {
		d.add(e.b, n, -g*slope)
	}
	d.add(n, n, g*slope*slope)
	d.addRight(n, -g*slope*emf)
}
