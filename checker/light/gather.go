package light

import "slices"

// gatherer collects the luminaires that matter at one point after another. It
// keeps its storage.
type gatherer struct {
	stack  []int32     // nodes to open
	heap   []candidate // nodes that may be left closed
	closed float64     // what those on the heap could add
	shares []Share     // of one point
	pile   []Share     // of a few points
	ends   []int       // where the shares of each end in the pile
	opened int         // nodes looked into, all points together
}

// candidate is a node of the luminaire tree with the most it could give.
type candidate struct {
	lux  float64
	node int32
}

// gather returns what each luminaire gives at p, in order of luminaires, without
// those that give nothing; they are overwritten by the next call. It opens every
// node that alone could add more than the cut-off, and of the others that with the
// largest bound until all that is left closed could add no more.
func (g *gatherer) gather(e *Evaluator, p Point) []Share {
	p = unitPoint(p)
	g.heap, g.stack, g.shares, g.closed = g.heap[:0], g.stack[:0], g.shares[:0], 0
	g.offer(e, 0, &p)
	for {
		switch {
		case len(g.stack) > 0:
			last := len(g.stack) - 1
			node := g.stack[last]
			g.stack = g.stack[:last]
			g.open(e, node, &p)
		case len(g.heap) > 0 && !g.enough(e.cutoff):
			c := g.take()
			g.closed -= c.lux
			g.open(e, c.node, &p)
		default:
			slices.SortFunc(g.shares, func(a, b Share) int { return int(a.Luminaire) - int(b.Luminaire) })
			return g.shares
		}
	}
}

// open looks at the luminaire of a node, or at its two branches.
func (g *gatherer) open(e *Evaluator, node int32, p *Point) {
	g.opened++
	n := &e.order.nodes[node]
	if n.left >= 0 {
		g.offer(e, n.left, p)
		g.offer(e, n.right, p)
		return
	}
	if lux := e.lamps[n.item].lux(&e.blocks, p); lux > 0 {
		g.shares = append(g.shares, Share{Luminaire: n.item, Lux: lux})
	}
}

// fill writes the rows of a few points, which share one piece of storage.
func (g *gatherer) fill(e *Evaluator, points []Point, rows [][]Share) {
	g.pile, g.ends = g.pile[:0], g.ends[:0]
	for _, p := range points {
		g.pile = append(g.pile, g.gather(e, p)...)
		g.ends = append(g.ends, len(g.pile))
	}
	kept, from := slices.Clone(g.pile), 0
	for i, end := range g.ends {
		rows[i] = kept[from:end:end]
		from = end
	}
}

// enough reports whether all that is closed could add no more than the cut-off.
func (g *gatherer) enough(cutoff float64) bool {
	if g.closed <= cutoff {
		// Add up afresh, so that rounding of the running sum hides nothing.
		g.closed = 0
		for _, c := range g.heap {
			g.closed += c.lux
		}
	}
	return g.closed <= cutoff
}

// offer notes a node that can give light to p at all: on the stack when it must be
// opened, else on the heap.
func (g *gatherer) offer(e *Evaluator, node int32, p *Point) {
	if int(node) >= len(e.order.nodes) {
		return
	}
	lux := boundLux(&e.order.nodes[node].box, &e.bands[node], p)
	switch {
	case lux <= 0:
		return
	case lux > e.cutoff:
		g.stack = append(g.stack, node)
		return
	}
	c := candidate{lux, node}
	g.heap = append(g.heap, c)
	heap, i := g.heap, len(g.heap)-1
	for i > 0 {
		up := (i - 1) / 2
		if heap[up].lux >= lux {
			break
		}
		heap[i] = heap[up]
		i = up
	}
	heap[i] = c
	g.closed += lux
}

// take removes the candidate with the largest bound.
func (g *gatherer) take() candidate {
	last := len(g.heap) - 1
	top, c, heap := g.heap[0], g.heap[last], g.heap[:last]
	g.heap = heap
	if last == 0 {
		return top
	}
	i := 0 // where c goes
	for {
		big := 2*i + 1
		if big >= last {
			break
		}
		if big+1 < last && heap[big+1].lux > heap[big].lux {
			big++
		}
		if c.lux >= heap[big].lux {
			break
		}
		heap[i] = heap[big]
		i = big
	}
	heap[i] = c
	return top
}
