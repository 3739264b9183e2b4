package wire

import (
	"cmp"
	"math"
	"slices"
)

// MistakeKind is a mistake of connection.
type MistakeKind string

// The mistakes of connection.
const (
	// Island: nodes that no feed reaches.
	Island MistakeKind = "island"
	// JoinedTaps: a cable closes between two taps of one common.
	JoinedTaps MistakeKind = "joined-taps"
	// JoinedCommons: a cable closes between two commons, so that two
	// devices feed one cable.
	JoinedCommons MistakeKind = "joined-commons"
	// JoinedSources: a cable closes between two power units.
	JoinedSources MistakeKind = "joined-sources"
	// Swapped: a returning end has its conductors exchanged: a dead short.
	Swapped MistakeKind = "swapped"
	// OnItself: a leg starts and ends on one node.
	OnItself MistakeKind = "on-itself"
)

// Mistake is one mistake of connection.
type Mistake struct {
	Kind MistakeKind
	// Leg closes the fault: the one that comes back to a terminal, or else
	// the last by id. Empty for an island.
	Leg string
	// Feeds are the two feeds that the leg joins, sorted.
	Feeds []string
	// Volts drive the current round the closed loop when no lamp is on: the
	// difference of the stated tap volts, their sum where swapped. 0 between
	// two power units, whose phase is unknown.
	Volts float64
	// Nodes and Loads are the members of an island, sorted. Loads may be
	// empty: a cable that leads nowhere.
	Nodes, Loads []string
}

// Topology finds the mistakes of connection of a network, sorted by kind, leg
// and first node. A loop that returns to its own tap and common is none. The
// error wraps ErrInput.
func Topology(n Network) ([]Mistake, error) {
	c, err := Compile(n)
	if err != nil {
		return nil, err
	}
	return c.Topology(), nil
}

// Topology is [Topology] of the circuit.
func (c *Circuit) Topology() []Mistake {
	list := append(islands(c), c.closed...)
	slices.SortFunc(list, func(a, b Mistake) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Leg, b.Leg), slices.Compare(a.Nodes, b.Nodes),
			slices.Compare(a.Feeds, b.Feeds))
	})
	return list
}

// groups is a disjoint-set forest over nodes: the parent of each, itself at a root.
type groups []int

func newGroups(nodes int) groups {
	g := make(groups, nodes)
	for k := range g {
		g[k] = k
	}
	return g
}

// find returns the representative of a node.
func (g groups) find(node int) int {
	root := node
	for g[root] != root {
		root = g[root]
	}
	for g[node] != root {
		node, g[node] = g[node], root
	}
	return root
}

// islands lists the parts that no feed touches.
func islands(c *Circuit) []Mistake {
	g := newGroups(len(c.names))
	for _, ends := range c.legEnds {
		if a, b := g.find(ends[0]), g.find(ends[1]); a != b {
			g[a] = b
		}
	}
	fed := make([]bool, len(c.names))
	for i := range c.all {
		fed[g.find(c.index[c.all[i].Node])] = true
	}
	parts := map[int]*Mistake{}
	part := func(node int) *Mistake {
		root := g.find(node)
		if fed[root] {
			return nil
		}
		if parts[root] == nil {
			parts[root] = &Mistake{Kind: Island}
		}
		return parts[root]
	}
	for k, name := range c.names {
		if m := part(k); m != nil {
			m.Nodes = append(m.Nodes, name)
		}
	}
	for i := range c.loads {
		if m := part(c.index[c.loads[i].Node]); m != nil {
			m.Loads = append(m.Loads, c.loads[i].ID)
		}
	}
	var list []Mistake
	for _, m := range parts {
		list = append(list, *m)
	}
	return list
}

// closings adds the legs one by one, those that come back to a terminal last,
// and records each that joins feeds which must stay apart.
func closings(c *Circuit) []Mistake {
	feed := make([]*Feed, len(c.names)) // of the group that a node stands for
	for i := range c.all {
		feed[c.index[c.all[i].Node]] = &c.all[i]
	}
	last, legs := make([]int, len(c.legs)), make([]int, len(c.legs))
	for i, ends := range c.legEnds {
		legs[i], last[i] = i, returns(feed[ends[1]], c.source.ID)
	}
	slices.SortStableFunc(legs, func(a, b int) int { return cmp.Compare(last[a], last[b]) })
	g := newGroups(len(c.names))
	var list []Mistake
	for _, i := range legs {
		id, ends := c.legs[i].ID, c.legEnds[i]
		if ends[0] == ends[1] {
			list = append(list, Mistake{Kind: OnItself, Leg: id})
			continue
		}
		a, b := g.find(ends[0]), g.find(ends[1])
		if a == b {
			continue
		}
		fa, fb := feed[a], feed[b]
		if kind, bad := clash(fa, fb, c.source.ID); bad {
			names := []string{fa.ID, fb.ID}
			slices.Sort(names)
			m := Mistake{Kind: kind, Leg: id, Feeds: names, Volts: drive(kind, fa, fb)}
			list = append(list, m)
			if m.leftOpen() {
				continue // the parts stay apart, so that a second such leg shows too
			}
		}
		g[a] = b
		if fb == nil {
			feed[b] = fa
		}
	}
	return list
}

// leftOpen reports whether the load flow leaves the leg of the mistake out:
// one that closes between feeds of different volts, sources or conductor
// order. What flows there depends on how the windings are joined inside the
// case; it is a mistake to be put right, not a state to be computed. Commons
// of equal volts share their load and stay joined.
func (m *Mistake) leftOpen() bool {
	return m.Kind != OnItself && m.Kind != Island && !(m.Kind == JoinedCommons && m.Volts == 0)
}

// drive returns the volts round a loop closed by a mistake.
func drive(kind MistakeKind, a, b *Feed) float64 {
	switch kind {
	case Swapped:
		return a.Volts + b.Volts
	case JoinedSources:
		return 0
	}
	return math.Abs(a.Volts - b.Volts)
}

// returns is 1 for a leg that ends on the terminals of feed f, 2 when that landing
// is swapped or foreign, so that such legs close a loop rather than open it.
func returns(f *Feed, own string) int {
	switch {
	case f == nil:
		return 0
	case f.Swapped || foreign(f, own):
		return 2
	}
	return 1
}

// foreign reports whether the feed belongs to another power unit.
func foreign(f *Feed, own string) bool { return f.Source != "" && f.Source != own }

// clash names what is wrong with joining two feeds, if anything.
func clash(a, b *Feed, own string) (MistakeKind, bool) {
	switch {
	case a == nil || b == nil:
		return "", false
	case foreign(a, own) != foreign(b, own) || (foreign(a, own) && a.Source != b.Source):
		return JoinedSources, true
	case a.Swapped != b.Swapped:
		return Swapped, true
	case a.Common != b.Common:
		return JoinedCommons, true
	case a.Tap != b.Tap:
		return JoinedTaps, true
	}
	return "", false
}
