package wire

import (
	"slices"

	"gonum.org/v1/gonum/mat"
)

// step removes node k, which has one or two neighbours left. j is -1 when
// there is only one. The edges are those from k to i and j, and from i to j.
type step struct {
	k, i, j      int
	ki, kj, into int
}

// elimination is the order in which nodes are removed from the nodal
// equations. Leaves go first and nodes in series next, which is exact and adds
// no work; a tree and a ring vanish altogether. What is left, hubs that are
// meshed, is solved densely.
type elimination struct {
	steps []step
	edges int   // edges in all, with those that series reduction makes
	core  []int // nodes left, without feeds
	// rest are the edges among core nodes and feeds.
	rest []restEdge
	// tree is true when every part hangs on one feed without a loop.
	tree bool
}

// restEdge is an edge of the core. A negative end -1-f is feed f.
type restEdge struct{ edge, a, b int }

// planElimination finds the order; it depends on the topology only.
func planElimination(c *circuit) elimination {
	p := elimination{edges: len(c.edges), tree: true}
	near := make([]map[int]int, c.nodes)
	for i := range near {
		near[i] = map[int]int{}
	}
	for e, ends := range c.edges {
		near[ends[0]][ends[1]] = e
		near[ends[1]][ends[0]] = e
	}
	feed := make([]int, c.nodes)
	for f, at := range c.feedAt {
		feed[at] = f + 1
	}
	gone := make([]bool, c.nodes)
	for degree := 1; degree <= 2; degree++ {
		var queue []int
		for k := range c.nodes {
			queue = append(queue, k)
		}
		for len(queue) > 0 {
			k := queue[0]
			queue = queue[1:]
			if gone[k] || feed[k] > 0 || c.feedOf[k] < 0 || len(near[k]) == 0 || len(near[k]) > degree {
				continue
			}
			gone[k] = true
			queue = append(queue, p.remove(near, k)...)
		}
	}
	p.finish(c, near, gone, feed)
	return p
}

// remove records the step for node k and returns its neighbours.
func (p *elimination) remove(near []map[int]int, k int) []int {
	var around []int
	for i := range near[k] {
		around = append(around, i)
	}
	slices.Sort(around)
	s := step{k: k, i: around[0], j: -1, ki: near[k][around[0]], kj: -1, into: -1}
	if len(around) == 2 {
		p.tree = false
		s.j, s.kj = around[1], near[k][around[1]]
		into, ok := near[s.i][s.j]
		if !ok {
			into = p.edges
			p.edges++
			near[s.i][s.j], near[s.j][s.i] = into, into
		}
		s.into = into
		delete(near[s.j], k)
	}
	delete(near[s.i], k)
	clear(near[k])
	p.steps = append(p.steps, s)
	return around
}

// finish lists the core that is left.
func (p *elimination) finish(c *circuit, near []map[int]int, gone []bool, feed []int) {
	place := make([]int, c.nodes)
	for k := range c.nodes {
		switch {
		case feed[k] > 0:
			place[k] = -feed[k]
		case !gone[k] && c.feedOf[k] >= 0:
			place[k] = len(p.core)
			p.core = append(p.core, k)
		}
	}
	for k := range c.nodes {
		if gone[k] || c.feedOf[k] < 0 {
			continue
		}
		var others []int
		for i := range near[k] {
			if i > k {
				others = append(others, i)
			}
		}
		slices.Sort(others)
		for _, i := range others {
			p.rest = append(p.rest, restEdge{near[k][i], place[k], place[i]})
		}
	}
	if len(p.core) > 0 || len(p.rest) > 0 {
		p.tree = false
	}
}

// nodal is one set of linear nodal equations
//
//	sum over edges g*(v_k - v_i) + shunt_k*v_k = inject_k
//
// with the feeds behind the shared impedance. Shunts may be negative (the
// slope of a constant-power load), never the pivots of a stable network.
type nodal struct {
	c       *circuit
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
func newNodal(c *circuit) *nodal {
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
	if !s.solveCore() {
		return false
	}
	for t := len(s.c.plan.steps) - 1; t >= 0; t-- {
		st := &s.c.plan.steps[t]
		sum := s.inject[st.k] + s.g[st.ki]*s.volts[st.i]
		if st.j >= 0 {
			sum += s.g[st.kj] * s.volts[st.j]
		}
		s.volts[st.k] = sum * s.inverse[t]
	}
	return true
}

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
