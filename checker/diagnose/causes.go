package diagnose

import (
	"cmp"
	"math"
	"slices"

	"duskproof/checker/wire"
)

// cause is one single explanation before its size is known.
type cause struct {
	kind    Kind
	element string
	detail  string
	apply   change
	// sizes is the coarse search; a single size is not searched.
	sizes []float64
}

// The coarse searches. Ohms of a joint run from what a fresh joint has to an
// open circuit for all purposes; leaks from a tenth of an amp.
var (
	jointOhms  = []float64{0.01, 0.03, 0.1, 0.25, 0.6, 1.5, 4, 12}
	lampFactor = []float64{0.25, 0.45, 0.7, 1.4, 2, 3}
	leakAmps   = []float64{0.1, 0.3, 0.8, 2, 5}
)

// unlikely is added to the misfit of kinds that are rarer than a bad joint or a
// dead lamp: minus twice the logarithm of how much rarer. That joints fail first
// and lamps next is common practice, no source; the numbers are this program's.
var unlikely = map[Kind]float64{OtherLamp: 1, WrongTap: 1, OtherCable: 2, Leak: 3}

// causes lists every single explanation of a network, in a fixed order.
func causes(n wire.Network, o Options) []cause {
	var out []cause
	for i, leg := range n.Legs {
		out = append(out, cause{Joint, leg.ID, "", func(n *wire.Network, ohms float64) {
			// One conductor's joint; the solver counts both conductors.
			n.Legs[i].ToJointOhms += ohms / 2
		}, jointOhms})
		for _, other := range o.Conductors {
			if ratio := other.OhmPerM20 / leg.Conductor.OhmPerM20; math.Abs(ratio-1) > 0.1 && other.Material == leg.Conductor.Material {
				out = append(out, cause{OtherCable, leg.ID, other.Name, func(n *wire.Network, _ float64) {
					n.Legs[i].Conductor.OhmPerM20 *= ratio
				}, []float64{ratio}})
			}
		}
	}
	for i, load := range n.Loads {
		out = append(out,
			cause{LampJoint, load.ID, "", func(n *wire.Network, ohms float64) { n.Loads[i].JointOhms += ohms / 2 }, jointOhms},
			cause{DeadLamp, load.ID, "", func(n *wire.Network, _ float64) { n.Loads[i].Watts, n.Loads[i].Amps = 0, 0 }, []float64{0}},
			cause{OtherLamp, load.ID, "", func(n *wire.Network, factor float64) {
				n.Loads[i].Watts *= factor
				n.Loads[i].Amps *= factor
			}, lampFactor})
	}
	for _, node := range nodesOf(n) {
		out = append(out, cause{Leak, node, "", func(n *wire.Network, amps float64) {
			volts := n.Feeds[0].Volts
			n.Loads = append(n.Loads, wire.Load{ID: "leak at " + node, Node: node, Kind: wire.Resistive, Watts: amps * volts, RatedVolts: volts})
		}, leakAmps})
	}
	for i, feed := range n.Feeds {
		for _, volts := range o.Taps[feed.ID] {
			if math.Abs(volts-feed.Volts) > 0.2 {
				out = append(out, cause{WrongTap, feed.ID, "", func(n *wire.Network, volts float64) { n.Feeds[i].Volts = volts }, []float64{volts}})
			}
		}
	}
	return out
}

// nodesOf lists the nodes at the ends of legs, without the terminals.
func nodesOf(n wire.Network) []string {
	terminal := map[string]bool{}
	for _, f := range n.Feeds {
		terminal[f.Node] = true
	}
	var out []string
	for _, l := range n.Legs {
		for _, end := range []string{l.From, l.To} {
			if !terminal[end] {
				out = append(out, end)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// order puts explanations in their final order.
func order(list []Explanation) {
	slices.SortStableFunc(list, func(a, b Explanation) int {
		return cmp.Or(cmp.Compare(a.Misfit, b.Misfit), cmp.Compare(a.Kind, b.Kind),
			cmp.Compare(a.Element, b.Element), cmp.Compare(a.Detail, b.Detail))
	})
}
