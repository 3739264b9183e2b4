package wire

import (
	"cmp"
	"slices"
)

// leastOhms is the resistance given to a leg that states none, ohm: well
// below any real joint.
const leastOhms = 1e-6

// circuit is a network reduced to numbers and sorted by id.
type circuit struct {
	source Source
	feeds  []Feed // own, landed right way round; sorted
	legs   []Leg
	loads  []Load

	names   []string // of the nodes that the input names; sorted
	nodes   int      // with the terminals of loads behind a lead
	feedAt  []int    // node of each feed
	legEnds [][2]int
	loadAt  []int // node of each load's terminals
	leadOf  []int // edge of each load's lead, -1 when it has none
	edgeOf  []int // edge of each leg, -1 for a leg left open or on one node
	open    []string
	edges   [][2]int
	feedOf  []int // a feed that reaches each node, -1 on an island
	plan    elimination
}

// compile checks and reduces n.
func compile(n Network) (*circuit, error) {
	if err := validate(n); err != nil {
		return nil, err
	}
	c := &circuit{source: n.Source}
	for _, f := range n.Feeds {
		if !f.Swapped && (f.Source == "" || f.Source == n.Source.ID) {
			c.feeds = append(c.feeds, f)
		}
	}
	c.legs, c.loads = slices.Clone(n.Legs), slices.Clone(n.Loads)
	slices.SortFunc(c.feeds, func(a, b Feed) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(c.legs, func(a, b Leg) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(c.loads, func(a, b Load) int { return cmp.Compare(a.ID, b.ID) })
	c.nameNodes(n.Feeds)
	c.connect(c.leftOpen(n))
	c.reach()
	c.plan = planElimination(c)
	return c, nil
}

// nameNodes lists every node; feeds that are left open have nodes too.
func (c *circuit) nameNodes(all []Feed) {
	for _, f := range all {
		c.names = append(c.names, f.Node)
	}
	for _, l := range c.legs {
		c.names = append(c.names, l.From, l.To)
	}
	for _, l := range c.loads {
		c.names = append(c.names, l.Node)
	}
	slices.Sort(c.names)
	c.names = slices.Compact(c.names)
	c.nodes = len(c.names)
}

// leftOpen lists the legs that the load flow leaves out; see Mistake.
func (c *circuit) leftOpen(n Network) map[string]bool {
	out := map[string]bool{}
	for _, m := range closings(c, n) {
		if m.leftOpen() {
			out[m.Leg] = true
			c.open = append(c.open, m.Leg)
		}
	}
	slices.Sort(c.open)
	return out
}

// connect turns ids into indices and makes one edge per pair of nodes.
func (c *circuit) connect(open map[string]bool) {
	index := make(map[string]int, len(c.names))
	for i, name := range c.names {
		index[name] = i
	}
	for _, f := range c.feeds {
		c.feedAt = append(c.feedAt, index[f.Node])
	}
	pairs := make(map[[2]int]int, len(c.legs))
	for _, l := range c.legs {
		a, b := index[l.From], index[l.To]
		c.legEnds = append(c.legEnds, [2]int{a, b})
		if a == b || open[l.ID] {
			c.edgeOf = append(c.edgeOf, -1)
			continue
		}
		key := [2]int{min(a, b), max(a, b)}
		edge, ok := pairs[key]
		if !ok {
			edge = len(c.edges)
			pairs[key] = edge
			c.edges = append(c.edges, key)
		}
		c.edgeOf = append(c.edgeOf, edge)
	}
	for _, l := range c.loads {
		at, lead := index[l.Node], -1
		if l.Lead != nil || l.JointOhms > 0 {
			lead = len(c.edges)
			c.edges = append(c.edges, [2]int{at, c.nodes})
			at = c.nodes
			c.nodes++
		}
		c.loadAt, c.leadOf = append(c.loadAt, at), append(c.leadOf, lead)
	}
}

// reach marks the nodes that a feed reaches; lowest feed first.
func (c *circuit) reach() {
	next := make([][]int, c.nodes)
	for _, e := range c.edges {
		next[e[0]] = append(next[e[0]], e[1])
		next[e[1]] = append(next[e[1]], e[0])
	}
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
			queue = append(queue, next[k]...)
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
