package light

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// gatherer collects the luminaires that matter at one point after another. It
// keeps its storage.
type gatherer struct {
	heap   []candidate
	shares []Share
}

// candidate is a node of the luminaire tree with the most it could give.
type candidate struct {
	lux  float64
	node int32
}

// gather returns what each luminaire gives at p, in order of luminaires, without
// those that give nothing. It opens the node with the largest bound until all
// that is left closed could add no more than the cut-off.
func (g *gatherer) gather(e *Evaluator, p Point) []Share {
	first := len(g.shares)
	p.Normal = r3.Scale(1/length(p.Normal), p.Normal)
	g.heap = g.heap[:0]
	closed := g.offer(e, 0, &p, 0)
	for len(g.heap) > 0 {
		if closed <= e.cutoff {
			// Add up afresh, so that rounding of the running sum hides nothing.
			if closed = g.sum(); closed <= e.cutoff {
				break
			}
		}
		c := g.take()
		closed -= c.lux
		n := &e.order.nodes[c.node]
		if n.left < 0 {
			if lux := e.lamps[n.item].lux(&e.blocks, &p); lux > 0 {
				g.shares = append(g.shares, Share{Luminaire: n.item, Lux: lux})
			}
			continue
		}
		closed = g.offer(e, n.left, &p, closed)
		closed = g.offer(e, n.right, &p, closed)
	}
	row := g.shares[first:len(g.shares):len(g.shares)]
	slices.SortFunc(row, func(a, b Share) int { return int(a.Luminaire) - int(b.Luminaire) })
	return row
}

func (g *gatherer) sum() float64 {
	s := 0.0
	for _, c := range g.heap {
		s += c.lux
	}
	return s
}

// offer puts a node on the heap when it can give light to p at all.
func (g *gatherer) offer(e *Evaluator, node int32, p *Point, closed float64) float64 {
	if int(node) >= len(e.order.nodes) {
		return closed
	}
	lux := boundLux(&e.order.nodes[node].box, e.candela[node], p)
	if lux <= 0 {
		return closed
	}
	g.heap = append(g.heap, candidate{lux, node})
	for i := len(g.heap) - 1; i > 0; {
		up := (i - 1) / 2
		if g.heap[up].lux >= g.heap[i].lux {
			break
		}
		g.heap[up], g.heap[i] = g.heap[i], g.heap[up]
		i = up
	}
	return closed + lux
}

// take removes the candidate with the largest bound.
func (g *gatherer) take() candidate {
	top := g.heap[0]
	last := len(g.heap) - 1
	g.heap[0] = g.heap[last]
	g.heap = g.heap[:last]
	for i := 0; ; {
		big := 2*i + 1
		if big >= last {
			break
		}
		if big+1 < last && g.heap[big+1].lux > g.heap[big].lux {
			big++
		}
		if g.heap[i].lux >= g.heap[big].lux {
			break
		}
		g.heap[i], g.heap[big] = g.heap[big], g.heap[i]
		i = big
	}
	return top
}

// boundLux is the most that sources with that much intensity anywhere in the
// box can give at p: E = I cos/d^2 with d no less than the distance to the box
// and d cos no more than the highest the box reaches above the plane of p.
func boundLux(box *r3.Box, candela float64, p *Point) float64 {
	n := p.Normal
	rise := axisReach(n.X, box.Min.X, box.Max.X, p.At.X) +
		axisReach(n.Y, box.Min.Y, box.Max.Y, p.At.Y) +
		axisReach(n.Z, box.Min.Z, box.Max.Z, p.At.Z)
	if rise <= 0 {
		return 0
	}
	dx := axisGap(box.Min.X, box.Max.X, p.At.X)
	dy := axisGap(box.Min.Y, box.Max.Y, p.At.Y)
	dz := axisGap(box.Min.Z, box.Max.Z, p.At.Z)
	d2 := max(dx*dx+dy*dy+dz*dz, nearestM*nearestM)
	cos := 1.0
	if rise*rise < d2 {
		cos = rise / sqrt(d2)
	}
	return candela * cos / d2
}

// axisReach is the greatest n*(q-at) for q between low and high.
func axisReach(n, low, high, at float64) float64 {
	return max(n*(low-at), n*(high-at))
}

// axisGap is the distance from at to the stretch between low and high.
func axisGap(low, high, at float64) float64 {
	return max(low-at, at-high, 0)
}
