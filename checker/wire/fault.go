package wire

import "math"

// FaultSetting brackets the conditions of a short circuit.
type FaultSetting struct {
	// HighFactor and ColdC give the highest current, LowFactor and HotC the
	// lowest: factor on the volts of an unregulated source, conductor
	// temperature in degrees Celsius.
	HighFactor, ColdC float64
	LowFactor, HotC   float64
}

// Fault is a bolted short circuit at one place, prospective: no device has
// opened yet, and the current of the lamps is left out.
//
//	I = E / sqrt((R_source + R_cable)^2 + X_source^2)
//
// which is exact for resistive cable. (Adding magnitudes of impedance, as
// printed tables do, gives a slightly lower current.)
type Fault struct {
	// At is a node, or a load when Lamp is true (the end of its lead).
	At   string
	Lamp bool
	// Feed supplies the fault; the highest by volts when several do.
	Feed string
	// HighestAmps has cold cable, high supply and the end of the impedance
	// bracket that gives most current; LowestAmps the opposite.
	HighestAmps, LowestAmps float64
	// ColdOhms and HotOhms are the cable from the source's terminals to the
	// fault, both conductors and joints.
	ColdOhms, HotOhms float64
	// Limited is true where the source's electronic limit bounds the current.
	Limited bool
}

// Faults returns the prospective short-circuit current at every node that a
// feed reaches, sorted by node, then at every lamp at the end of a lead. In a
// loop the ways share the current. Where several feeds reach a place they are
// taken as one source with the volts of the highest. The error wraps ErrInput.
func Faults(n Network, set FaultSetting) ([]Fault, error) {
	c, err := Compile(n)
	if err != nil {
		return nil, err
	}
	f, err := c.Shorts(set)
	if err != nil {
		return nil, err
	}
	return f.Faults(), nil
}

// Faults is [Faults] of the circuit.
func (f *Shorts) Faults() []Fault {
	c := f.s.c
	list := make([]Fault, 0, len(c.names)+len(c.loads))
	for k, name := range c.names {
		if c.feedOf[k] >= 0 {
			list = append(list, f.at(k, name, false))
		}
	}
	for i := range c.loads {
		if c.leadOf[i] >= 0 && c.feedOf[c.loadAt[i]] >= 0 {
			list = append(list, f.at(c.loadAt[i], c.loads[i].ID, true))
		}
	}
	return list
}

// Shorts is a circuit with the resistance from the terminals to every node, for
// whoever asks several things about its short circuits. It is not safe for
// concurrent use.
type Shorts struct {
	s         *solver
	set       FaultSetting
	part      []int
	cold, hot []float64
}

// Shorts solves the cables cold and hot. The error wraps ErrInput.
func (c *Circuit) Shorts(set FaultSetting) (*Shorts, error) {
	f := &Shorts{s: newSolver(c), set: set}
	for _, corner := range []Corner{
		{Name: "cold fault", SupplyFactor: set.HighFactor, GroundC: set.ColdC},
		{Name: "hot fault", SupplyFactor: set.LowFactor, GroundC: set.HotC},
	} {
		if err := validateCorner(corner); err != nil {
			return nil, err
		}
		f.s.set(corner)
		f.part = f.s.highestFeeds()
		f.cold, f.hot = f.hot, f.s.resistances()
	}
	return f, nil
}

// resistances returns the resistance from the feeds to every node. On a tree
// it is the sum along the way, otherwise the volts that one amp makes.
func (s *solver) resistances() []float64 {
	ohms := make([]float64, s.c.nodes)
	if s.c.plan.tree {
		steps := s.c.plan.steps
		for t := len(steps) - 1; t >= 0; t-- {
			ohms[steps[t].k] = ohms[steps[t].i] + 1/s.net.edge[steps[t].ki]
		}
		return ohms
	}
	for k := range ohms {
		if s.c.feedOf[k] >= 0 {
			ohms[k] = s.pushAmp(k)
		}
	}
	return ohms
}

// pushAmp drives one amp into node k with every feed at zero volts, leaves the
// volts of all nodes in s.net.volts and returns those of k.
func (s *solver) pushAmp(k int) float64 {
	clear(s.net.shunt)
	clear(s.net.inject)
	clear(s.net.emf)
	s.net.perVA = 0
	s.net.inject[k] = 1
	if !s.net.solve() {
		return 0
	}
	return max(s.net.volts[k], 0)
}

// at writes the fault at node k.
func (f *Shorts) at(k int, name string, lamp bool) Fault {
	feed := &f.s.c.feeds[f.part[k]]
	out := Fault{At: name, Lamp: lamp, Feed: feed.ID, ColdOhms: f.cold[k], HotOhms: f.hot[k]}
	src := &f.s.c.source
	out.LowestAmps = math.Inf(1)
	for _, z := range []Impedance{src.Impedance.Low, src.Impedance.High} {
		out.HighestAmps = max(out.HighestAmps, faultAmps(src, feed.Volts, z, f.set.HighFactor, f.cold[k]))
		out.LowestAmps = min(out.LowestAmps, faultAmps(src, feed.Volts, z, f.set.LowFactor, f.hot[k]))
	}
	if limit := src.CurrentLimitAmps; limit > 0 && out.HighestAmps > limit {
		out.Limited = true
		out.HighestAmps = limit
		out.LowestAmps = min(out.LowestAmps, limit)
	}
	return out
}

// faultAmps is the current of a bolted short behind the given cable.
func faultAmps(src *Source, tapVolts float64, z Impedance, factor, cableOhms float64) float64 {
	if factor == 0 || src.Regulated {
		factor = 1
	}
	emf := tapVolts * factor
	var r, x float64
	if src.RatedVA > 0 && !src.Regulated {
		base := tapVolts * tapVolts / src.RatedVA
		r, x = z.R*base, z.X*base
		if src.TapsAt == AtRatedLoad {
			emf *= 1 + z.R
		}
	}
	return emf / max(math.Hypot(r+cableOhms, x), leastOhms)
}
