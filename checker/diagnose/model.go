package diagnose

import (
	"fmt"
	"math"

	"duskproof/checker/wire"
)

// nuisances are what nobody knows exactly, as deviations from 1.
type nuisances [3]float64

// The places of the nuisances.
const (
	cable = iota
	supply
	loads
)

// model predicts readings of a network.
type model struct {
	net      wire.Network
	corner   wire.Corner
	readings []Reading
	sigma    nuisances
	solved   int
}

func newModel(n wire.Network, c Conditions, readings []Reading, o Options) *model {
	factor := c.SupplyFactor
	if factor == 0 {
		factor = 1
	}
	m := &model{
		net: n, readings: readings,
		corner: wire.Corner{Name: "as read", SupplyFactor: factor, GroundC: c.GroundC, Scene: c.Scene},
		sigma:  nuisances{orDefault(o.CableSigma, DefaultCableSigma), orDefault(o.SupplySigma, DefaultSupplySigma), orDefault(o.LoadSigma, DefaultLoadSigma)},
	}
	return m
}

func orDefault(v, otherwise float64) float64 {
	if v == 0 {
		return otherwise
	}
	return v
}

// change is one explanation applied to a network with a size.
type change func(n *wire.Network, size float64)

// solve solves the changed network with the nuisances applied; nil when it has
// no answer.
func (m *model) solve(apply change, size float64, nu nuisances) *wire.Solution {
	n := wire.Network{Source: m.net.Source, Feeds: append([]wire.Feed(nil), m.net.Feeds...),
		Legs: append([]wire.Leg(nil), m.net.Legs...), Loads: append([]wire.Load(nil), m.net.Loads...)}
	for i := range n.Legs {
		n.Legs[i].Conductor.OhmPerM20 *= 1 + nu[cable]
	}
	for i := range n.Loads {
		n.Loads[i].Watts *= 1 + nu[loads]
		n.Loads[i].Amps *= 1 + nu[loads]
	}
	if apply != nil {
		apply(&n, size)
	}
	corner := m.corner
	corner.SupplyFactor *= 1 + nu[supply]
	m.solved++
	s, err := wire.Solve(n, corner)
	if err != nil || s.Status == wire.NoSolution || s.Status == wire.NotConverged {
		return nil
	}
	return &s
}

// predict reads the solution where the meter was put; nil without an answer.
func (m *model) predict(apply change, size float64, nu nuisances) []float64 {
	s := m.solve(apply, size, nu)
	if s == nil {
		return nil
	}
	out := make([]float64, len(m.readings))
	for i, r := range m.readings {
		out[i] = read(s, r.At, r.Quantity)
	}
	return out
}

// read is the value at one place of a solution; NaN where there is none.
func read(s *wire.Solution, at string, q Quantity) float64 {
	switch q {
	case LampVolts:
		for i := range s.Lamps {
			if s.Lamps[i].ID == at {
				return s.Lamps[i].Volts
			}
		}
	case NodeVolts:
		for i := range s.Nodes {
			if s.Nodes[i].ID == at {
				return s.Nodes[i].Volts
			}
		}
	case LegAmps:
		for i := range s.Legs {
			if s.Legs[i].ID == at {
				return math.Abs(s.Legs[i].Amps)
			}
		}
	case CommonAmps:
		for i := range s.Commons {
			if s.Commons[i].ID == at {
				return s.Commons[i].Amps
			}
		}
	}
	return math.NaN()
}

// checkReadings refuses readings of places that the network does not have.
func (m *model) checkReadings(expected []float64) error {
	for i, v := range expected {
		r := m.readings[i]
		if math.IsNaN(v) {
			return fmt.Errorf("no %s to read at %q", r.Quantity, r.At)
		}
		if !(r.Sigma > 0) || math.IsNaN(r.Value) || math.IsInf(r.Value, 0) {
			return fmt.Errorf("reading at %q: value or sigma is not usable", r.At)
		}
	}
	return nil
}
