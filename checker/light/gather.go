package light

import "slices"

// gatherer collects the luminaires that matter at one point after another. It
// keeps its storage.
type gatherer struct {
	heap   []candidate
	shares []Share // of one point
	pile   []Share // of a few points
	ends   []int   // where the shares of each end in the pile
	opened int     // nodes looked into, all points together
}

// candidate is a node of the luminaire tree with the most it could give.
type candidate struct {
	lux  float64
	node int32
}

// gather returns what each luminaire gives at p, in order of luminaires, without
// those that give nothing; they are overwritten by the next call. It opens the node
// with the largest bound until all that is left closed could add no more than the
// cut-off.
func (g *gatherer) gather(e *Evaluator, p Point) []Share {
	p = unitPoint(p)
	g.heap, g.shares = g.heap[:0], g.shares[:0]
	closed := g.offer(e, 0, &p)
	for len(g.heap) > 0 {
		if closed <= e.cutoff {
			// Add up afresh, so that rounding of the running sum hides nothing.
			if closed = g.sum(); closed <= e.cutoff {
				break
			}
		}
		c := g.take()
		g.opened++
		closed -= c.lux
		n := &e.order.nodes[c.node]
		if n.left < 0 {
			if lux := e.lamps[n.item].lux(&e.blocks, &p); lux > 0 {
				g.shares = append(g.shares, Share{Luminaire: n.item, Lux: lux})
			}
			continue
		}
		closed += g.offer(e, n.left, &p)
		closed += g.offer(e, n.right, &p)
	}
	slices.SortFunc(g.shares, func(a, b Share) int { return int(a.Luminaire) - int(b.Luminaire) })
	return g.shares
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

func (g *gatherer) sum() float64 {
	s := 0.0
	for _, c := range g.heap {
		s += c.lux
	}
	return s
}

// offer puts a node on the heap when it can give light to p at all, and returns
// the most that it could give.
func (g *gatherer) offer(e *Evaluator, node int32, p *Point) float64 {
	if int(node) >= len(e.order.nodes) {
		return 0
	}
	lux := boundLux(&e.order.nodes[node].box, &e.bands[node], p)
	if lux <= 0 {
		return 0
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
	return lux
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
