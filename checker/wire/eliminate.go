package wire

import (
	"cmp"
	"slices"
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
func planElimination(c *Circuit, near [][]link) elimination {
	p := elimination{edges: len(c.edges), tree: true, steps: make([]step, 0, c.nodes)}
	left := remainder{near, make([]int, c.nodes), make([]bool, c.nodes)}
	for k := range near {
		left.degree[k] = len(near[k])
	}
	feed := make([]int, c.nodes)
	for f, at := range c.feedAt {
		feed[at] = f + 1
	}
	queue := make([]int, 0, 3*c.nodes)
	for degree := 1; degree <= 2; degree++ {
		queue = queue[:0]
		for k := range c.nodes {
			queue = append(queue, k)
		}
		for next := 0; next < len(queue); next++ {
			k := queue[next]
			if left.gone[k] || feed[k] > 0 || c.feedOf[k] < 0 || left.degree[k] == 0 || left.degree[k] > degree {
				continue
			}
			s := p.remove(&left, k)
			if queue = append(queue, s.i); s.j >= 0 {
				queue = append(queue, s.j)
			}
		}
	}
	p.finish(c, &left, feed)
	return p
}

// remainder is what is left of the network while nodes are removed. Links to nodes
// that are gone stay in the lists.
type remainder struct {
	near   [][]link
	degree []int // links of each node to nodes that are left
	gone   []bool
}

// around lists the links of node k to nodes that are left, in the order of the
// nodes.
func (r *remainder) around(k int, list []link) []link {
	for _, l := range r.near[k] {
		if !r.gone[l.node] {
			list = append(list, l)
		}
	}
	slices.SortFunc(list, func(a, b link) int { return cmp.Compare(a.node, b.node) })
	return list
}

// between returns the edge between two nodes, -1 when there is none.
func (r *remainder) between(i, j int) int {
	if len(r.near[j]) < len(r.near[i]) {
		i, j = j, i
	}
	for _, l := range r.near[i] {
		if l.node == j {
			return l.edge
		}
	}
	return -1
}

// remove removes node k, which has one or two neighbours left, and records and
// returns the step.
func (p *elimination) remove(left *remainder, k int) step {
	var room [2]link
	around := left.around(k, room[:0])
	s := step{k: k, i: around[0].node, j: -1, ki: around[0].edge, kj: -1, into: -1}
	left.gone[k] = true
	left.degree[s.i]--
	if len(around) == 2 {
		p.tree = false
		s.j, s.kj = around[1].node, around[1].edge
		left.degree[s.j]--
		if s.into = left.between(s.i, s.j); s.into < 0 {
			s.into = p.edges
			p.edges++
			left.near[s.i], left.near[s.j] = append(left.near[s.i], link{s.j, s.into}), append(left.near[s.j], link{s.i, s.into})
			left.degree[s.i]++
			left.degree[s.j]++
		}
	}
	p.steps = append(p.steps, s)
	return s
}

// finish lists the core that is left.
func (p *elimination) finish(c *Circuit, left *remainder, feed []int) {
	place := make([]int, c.nodes)
	for k := range c.nodes {
		switch {
		case feed[k] > 0:
			place[k] = -feed[k]
		case !left.gone[k] && c.feedOf[k] >= 0:
			place[k] = len(p.core)
			p.core = append(p.core, k)
		}
	}
	for k := range c.nodes {
		if left.gone[k] || c.feedOf[k] < 0 || left.degree[k] == 0 {
			continue
		}
		for _, l := range left.around(k, nil) {
			if l.node > k {
				p.rest = append(p.rest, restEdge{l.edge, place[k], place[l.node]})
			}
		}
	}
	if len(p.core) > 0 || len(p.rest) > 0 {
		p.tree = false
	}
}
