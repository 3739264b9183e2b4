package wire

import "slices"

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
