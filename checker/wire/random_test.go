package wire

import (
	"fmt"
	"math/rand/v2"
)

// shapes are the forms of random networks.
var shapes = []string{"chain", "tree", "loop", "mesh", "commons"}

// randomNetwork makes a plausible garden of the given shape: one power unit,
// one to three feeds, cables of mixed sizes with joints and slack, loads of
// every kind, some behind a lead.
func randomNetwork(r *rand.Rand, shape string) Network {
	sizes := []string{"8 AWG", "10 AWG", "12 AWG", "14 AWG", "16 AWG", "1.5 mm2", "2.5 mm2", "4 mm2"}
	n := Network{Source: randomSource(r)}
	feeds := 1
	if shape == "commons" {
		feeds = 2 + r.IntN(2)
	}
	for f := range feeds {
		n.Feeds = append(n.Feeds, Feed{ID: fmt.Sprintf("run%d", f), Node: fmt.Sprintf("t%d", f), Common: fmt.Sprintf("%d", 1+f/2),
			Tap: fmt.Sprintf("%d", f), Volts: 11 + 4*r.Float64()})
		grow(r, &n, f, shape, sizes)
	}
	return n
}

// randomSource is ideal, behind an impedance, or regulated.
func randomSource(r *rand.Rand) Source {
	s := Source{ID: "T", RatedVA: 150 + 600*r.Float64()}
	switch r.IntN(4) {
	case 0:
		s.Regulated = true
	case 1:
		s.Impedance = ImpedanceOf(2+5*r.Float64(), 0)
		s.TapsAt = AtRatedLoad
	default:
		s.Impedance = ImpedanceOf(2+5*r.Float64(), 0)
	}
	return s
}

// grow adds the part of the network behind feed f.
func grow(r *rand.Rand, n *Network, f int, shape string, sizes []string) {
	nodes := []string{n.Feeds[f].Node}
	leg := func(from, to string) {
		c, _ := ParseConductor(sizes[r.IntN(len(sizes))], Copper, Stranded)
		n.Legs = append(n.Legs, Leg{ID: fmt.Sprintf("w%d.%02d", f, len(n.Legs)), From: from, To: to,
			LengthM: 0.5 + 8*r.Float64(), SlackM: r.Float64(), Conductor: c,
			FromJointOhms: 0.004 * r.Float64(), ToJointOhms: 0.004 * r.Float64(), AmpacityAmps: 15 + 20*r.Float64()})
	}
	for i := range 2 + r.IntN(12) {
		from := nodes[len(nodes)-1]
		if shape != "chain" {
			from = nodes[r.IntN(len(nodes))]
		}
		to := fmt.Sprintf("n%d.%02d", f, i)
		if r.IntN(2) == 0 {
			leg(from, to)
		} else {
			leg(to, from)
		}
		nodes = append(nodes, to)
		count := r.IntN(3)
		if i == 1 {
			count++ // at least one lamp in every part
		}
		for range count {
			n.Loads = append(n.Loads, randomLoad(r, fmt.Sprintf("L%d.%02d", f, len(n.Loads)), to))
		}
	}
	chords := map[string]int{"loop": 1, "mesh": 3 + r.IntN(4), "commons": r.IntN(3)}[shape]
	for range chords {
		from, to := nodes[r.IntN(len(nodes))], nodes[r.IntN(len(nodes))]
		if shape == "loop" {
			from, to = nodes[len(nodes)-1], nodes[0]
		}
		if from != to {
			leg(from, to)
		}
	}
}

// randomLoad is one lamp of any kind.
func randomLoad(r *rand.Rand, id, node string) Load {
	l := Load{ID: id, Node: node, Kind: []LoadKind{ConstantPower, ConstantPower, ConstantCurrent, Filament, Resistive}[r.IntN(5)],
		Watts: 2 + 18*r.Float64(), RatedVolts: 12, Amps: 0.2 + r.Float64(), PowerFactor: 0.5 + 0.5*r.Float64()}
	if r.IntN(3) == 0 {
		c, _ := ParseConductor("18 AWG", Copper, Stranded)
		l.Lead = &Lead{LengthM: 0.3 + 3*r.Float64(), Conductor: c}
		l.JointOhms = 0.005 * r.Float64()
	}
	if r.IntN(4) == 0 {
		l.Level = 0.3 + 0.7*r.Float64()
	}
	return l
}

// scaleLoads multiplies the draw of every load.
func scaleLoads(n *Network, by float64) {
	for i := range n.Loads {
		n.Loads[i].Watts *= by
		n.Loads[i].Amps *= by
	}
}

// solvable makes a random network and lightens it until it has a solution.
func solvable(r *rand.Rand, shape string, corner Corner) (Network, Solution) {
	n := randomNetwork(r, shape)
	for {
		a, err := Solve(n, corner)
		if err != nil {
			panic(err) // the generator is wrong
		}
		if a.Status == Solved {
			return n, a
		}
		scaleLoads(&n, 0.7)
	}
}
