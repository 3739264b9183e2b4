package wire

import (
	"cmp"
	"slices"
)

// leastOhms is the resistance given to a leg that states none, ohm: well
// below any real joint.
const leastOhms = 1e-6

// Circuit is a network that was checked, reduced to numbers and sorted by id, for
// whoever asks several things about one network. It is not changed, and is safe for
// concurrent use.
type Circuit struct {
	source Source
	all    []Feed // as they were given
	feeds  []Feed // own, landed right way round; sorted
	legs   []Leg
	loads  []Load

	names   []string // of the nodes that the input names; sorted
	index   map[string]int
	nodes   int   // with the terminals of loads behind a lead
	feedAt  []int // node of each feed
	legEnds [][2]int
	loadAt  []int     // node of each load's terminals
	leadOf  []int     // edge of each load's lead, -1 when it has none
	edgeOf  []int     // edge of each leg, -1 for a leg left open or on one node
	closed  []Mistake // legs that close what must stay apart
	open    []string
	edges   [][2]int
	feedOf  []int // a feed that reaches each node, -1 on an island
	plan    elimination
}

// Compile checks and reduces a network. The error wraps ErrInput and means that the
// numbers or ids make no sense.
func Compile(n Network) (*Circuit, error) {
	if err := validate(n); err != nil {
		return nil, err
	}
	c := &Circuit{source: n.Source, all: n.Feeds}
	for _, f := range n.Feeds {
		if !f.Swapped && (f.Source == "" || f.Source == n.Source.ID) {
			c.feeds = append(c.feeds, f)
		}
	}
	c.legs, c.loads = slices.Clone(n.Legs), slices.Clone(n.Loads)
	slices.SortFunc(c.feeds, func(a, b Feed) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(c.legs, func(a, b Leg) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(c.loads, func(a, b Load) int { return cmp.Compare(a.ID, b.ID) })
	c.nameNodes()
	c.connect(c.leftOpen())
	near := c.neighbours()
	c.reach(near)
	c.plan = planElimination(c, near)
	return c, nil
}

// nameNodes lists every node; feeds that are left open have nodes too.
func (c *Circuit) nameNodes() {
	c.names = make([]string, 0, len(c.all)+2*len(c.legs)+len(c.loads))
	for i := range c.all {
		c.names = append(c.names, c.all[i].Node)
	}
	for i := range c.legs {
		c.names = append(c.names, c.legs[i].From, c.legs[i].To)
	}
	for i := range c.loads {
		c.names = append(c.names, c.loads[i].Node)
	}
	slices.Sort(c.names)
	c.names = slices.Compact(c.names)
	c.nodes = len(c.names)
	c.index = make(map[string]int, len(c.names))
	for i, name := range c.names {
		c.index[name] = i
	}
	c.legEnds = make([][2]int, len(c.legs))
	for i := range c.legs {
		c.legEnds[i] = [2]int{c.index[c.legs[i].From], c.index[c.legs[i].To]}
	}
}

// leftOpen lists the legs that the load flow leaves out; see Mistake.
func (c *Circuit) leftOpen() map[string]bool {
	c.closed = closings(c)
	out := map[string]bool{}
	for _, m := range c.closed {
		if m.leftOpen() {
			out[m.Leg] = true
			c.open = append(c.open, m.Leg)
		}
	}
	slices.Sort(c.open)
	return out
}

// connect makes one edge per pair of nodes.
func (c *Circuit) connect(open map[string]bool) {
	c.feedAt = make([]int, len(c.feeds))
	for f := range c.feeds {
		c.feedAt[f] = c.index[c.feeds[f].Node]
	}
	c.edges, c.edgeOf = make([][2]int, 0, len(c.legs)+len(c.loads)), make([]int, len(c.legs))
	pairs := make(map[[2]int]int, len(c.legs))
	for i, ends := range c.legEnds {
		a, b := ends[0], ends[1]
		if a == b || open[c.legs[i].ID] {
			c.edgeOf[i] = -1
			continue
		}
		key := [2]int{min(a, b), max(a, b)}
		edge, ok := pairs[key]
		if !ok {
			edge = len(c.edges)
			pairs[key] = edge
			c.edges = append(c.edges, key)
		}
		c.edgeOf[i] = edge
	}
	c.loadAt, c.leadOf = make([]int, len(c.loads)), make([]int, len(c.loads))
	for i := range c.loads {
		l := &c.loads[i]
		at, lead := c.index[l.Node], -1
		if l.Lead != nil || l.JointOhms > 0 {
			lead = len(c.edges)
			c.edges = append(c.edges, [2]int{at, c.nodes})
			at = c.nodes
			c.nodes++
		}
		c.loadAt[i], c.leadOf[i] = at, lead
	}
}

// link is a neighbour of a node, and the edge between them.
type link struct{ node, edge int }

// neighbours lists the links of each node, in the order of the edges.
func (c *Circuit) neighbours() [][]link {
	count := make([]int, c.nodes)
	for _, ends := range c.edges {
		count[ends[0]]++
		count[ends[1]]++
	}
	near, room := make([][]link, c.nodes), make([]link, 2*len(c.edges))
	for k, n := range count {
		near[k], room = room[:0:n], room[n:]
	}
	for e, ends := range c.edges {
		near[ends[0]] = append(near[ends[0]], link{ends[1], e})
		near[ends[1]] = append(near[ends[1]], link{ends[0], e})
	}
	return near
}

// reach marks the nodes that a feed reaches; lowest feed first.
func (c *Circuit) reach(near [][]link) {
	c.feedOf = make([]int, c.nodes)
	for i := range c.feedOf {
		c.feedOf[i] = -1
	}
	for f, at := range c.feedAt {
		queue := []int{at}
		for len(queue) > 0 {
			k := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			if c.feedOf[k] >= 0 {
				continue
			}
			c.feedOf[k] = f
			for _, l := range near[k] {
				queue = append(queue, l.node)
			}
		}
	}
}

// legOhms returns both conductors and all joints of a leg.
func legOhms(l *Leg, tempC float64) float64 {
	ohms := 2*(l.LengthM+l.SlackM)*l.Conductor.OhmPerMetre(tempC) + 2*(l.FromJointOhms+l.ToJointOhms)
	return max(ohms, leastOhms)
}

// leadOhms returns both conductors and joints of a load's lead.
func leadOhms(l *Load, tempC float64) float64 {
	ohms := 2 * l.JointOhms
	if l.Lead != nil {
		ohms += 2 * l.Lead.LengthM * l.Lead.Conductor.OhmPerMetre(tempC)
	}
	return max(ohms, leastOhms)
}
