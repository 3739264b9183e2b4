package plan

import (
	"maps"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
)

// deepestTie is how many positions may hang on one another in a row.
const deepestTie = 1000

// visits watches over values that are computed when they are first asked for,
// and may ask for one another: positions, path lines, elevations. It sees to it
// that nothing waits for itself, and remembers who asked for whom.
type visits struct {
	open  []string // being computed, outermost first
	state map[string]visitState
	spots map[string]spot
	asked map[[2]string]bool // who asked for whom
	loops bool               // something asked for itself
}

type visitState int

const (
	unvisited visitState = iota
	visiting
	visited
)

// once runs compute the first time that name is asked for. A name that waits
// for itself is left alone: its value stays unset, and [resolver.reportCircles]
// tells of it.
func (r *resolver) once(name string, s spot, compute func()) {
	v := &r.visits
	if v.state == nil {
		v.state, v.spots, v.asked = map[string]visitState{}, map[string]spot{}, map[[2]string]bool{}
	}
	if n := len(v.open); n > 0 {
		v.asked[[2]string{v.open[n-1], name}] = true
	}
	switch v.state[name] {
	case visited:
		return
	case visiting:
		v.loops = true
		return
	}
	if len(v.open) >= deepestTie {
		r.conflict(s, "more than %d positions hang on one another", deepestTie)
		v.state[name] = visited
		return
	}
	v.state[name], v.spots[name] = visiting, s
	v.open = append(v.open, name)
	compute()
	v.open = v.open[:len(v.open)-1]
	v.state[name] = visited
}

// reportCircles reports each set of values that wait for one another, once, at
// the member that comes first in order of names.
func (r *resolver) reportCircles() {
	if !r.visits.loops {
		return
	}
	for _, names := range r.visits.circles() {
		slices.Sort(names)
		s := r.visits.spots[names[0]]
		if len(names) == 1 {
			r.conflict(s, "%q is measured from itself", names[0])
			continue
		}
		shown := make([]string, 0, mostListed+1)
		for _, name := range names[:min(len(names), mostListed)] {
			shown = append(shown, strconv.Quote(name))
		}
		if len(names) > mostListed {
			shown = append(shown, countOf(len(names)-mostListed, "other"))
		}
		r.conflict(s, "%s are measured from one another in a circle, so none of them has a place", join(shown, "and"))
	}
}

// circles lists the sets of names that can reach themselves.
func (v *visits) circles() [][]string {
	names := slices.Sorted(maps.Keys(v.state))
	ids := make(map[string]int64, len(names))
	g := simple.NewDirectedGraph()
	for i, name := range names {
		ids[name] = int64(i)
		g.AddNode(simple.Node(i))
	}
	var circles [][]string
	for pair := range v.asked {
		if pair[0] == pair[1] {
			circles = append(circles, []string{pair[0]})
			continue
		}
		g.SetEdge(g.NewEdge(simple.Node(ids[pair[0]]), simple.Node(ids[pair[1]])))
	}
	for _, nodes := range topo.TarjanSCC(g) {
		if len(nodes) < 2 {
			continue
		}
		members := make([]string, len(nodes))
		for i, node := range nodes {
			members[i] = names[node.ID()]
		}
		circles = append(circles, members)
	}
	return circles
}
