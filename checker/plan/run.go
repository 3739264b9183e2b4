package plan

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"
)

// legEnd is what a leg can begin and end at.
type legEnd interface{ place() *r2.Vec }

func (t *Transformer) place() *r2.Vec { return t.At }
func (n *Node) place() *r2.Vec        { return n.At }
func (f *Fixture) place() *r2.Vec     { return f.At }

// legEndKind is how messages name what a leg ends at.
const legEndKind = "transformer, node or fixture"

func (r *resolver) declareRuns() {
	for i := range r.doc.Runs {
		e, run := &r.doc.Runs[i], &Run{}
		r.enter(&run.Element, "run", e.ID, fmt.Sprintf("/runs/%d", i), run)
		r.plan.Runs = append(r.plan.Runs, run)
		s := spotOf(&run.Element)
		for j := range e.Nodes {
			n := &Node{Run: run}
			r.enter(&n.Element, "node", e.Nodes[j].ID, s.at("nodes", j).pointer, n)
			r.anchorAt(&n.Element, "at", &e.Nodes[j].At)
			run.Nodes = append(run.Nodes, n)
		}
		for j := range e.Legs {
			l := &Leg{Run: run}
			r.enter(&l.Element, "leg", e.Legs[j].ID, s.at("legs", j).pointer, l)
			run.Legs = append(run.Legs, l)
		}
	}
}

// resolveRuns computes the nodes of every run first, since a leg may end at the
// node of another run.
func (r *resolver) resolveRuns() {
	for i, run := range r.plan.Runs {
		e, s := &r.doc.Runs[i], spotOf(&run.Element)
		run.Title, run.EqualLeads = e.Title, e.Hub
		run.Transformer, _ = find[*Transformer](r, s.key("from/transformer"), "transformer", e.From.Transformer)
		run.Common, run.TapVolts = r.output(s.key("from"), run.Transformer, e.From.Common, e.From.Tap)
		r.inherit[run] = r.runDefaults(run, e)
		for j, n := range run.Nodes {
			r.resolveNode(n, &e.Nodes[j], r.inherit[run])
		}
	}
	for i, run := range r.plan.Runs {
		r.resolveLegs(run, &r.doc.Runs[i])
	}
}

func (r *resolver) resolveNode(n *Node, e *NodeEntry, d inherited) {
	s := spotOf(&n.Element)
	n.At = r.pointOf(&n.Element, "at", &e.At)
	n.Kind, n.Place, n.Accessible = e.Kind, e.Place, e.Accessible
	n.Connector = d.nodeConnector
	if e.Connector != "" {
		n.Connector = r.connector(s.key("connector"), e.Connector)
	}
}

// resolveLegs computes the legs of a run and expands its chain. A leg that
// cannot be part of the network is left out, and reported.
func (r *resolver) resolveLegs(run *Run, e *RunEntry) {
	legs := run.Legs[:0]
	for i, l := range run.Legs {
		le := &e.Legs[i]
		l.From, l.To = le.From, le.To
		if r.resolveLeg(l, le) {
			legs = append(legs, l)
		} else {
			r.gaps = true
		}
	}
	run.Legs = append(legs, r.chainLegs(run, e)...)
	for _, l := range run.Legs {
		r.reach(run, l.From)
		r.reach(run, l.To)
	}
}

// reach notes that a run reaches a fixture.
func (r *resolver) reach(run *Run, id string) {
	f, isFixture := r.things[id].(*Fixture)
	if !isFixture {
		return
	}
	for _, known := range f.Runs {
		if known == run {
			return
		}
	}
	f.Runs = append(f.Runs, run)
}
