package facts

import (
	"fmt"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// Fallbacks for limits that every shipped profile states; they only count for
// a set of profiles that leaves them out.
const (
	fallbackLow       = 0.95
	fallbackHigh      = 1.05
	fallbackRiseK     = 30
	fallbackColdC     = 0
	fallbackPF        = 0.7
	fallbackLowZPct   = 3
	fallbackHighZPct  = 6
	mostXOverR        = 1 // below about 1 kVA, common practice
	fallbackHotGround = 30
)

// network is one transformer's network as wire wants it, with the way back to
// the plan.
type network struct {
	transformer *plan.Transformer
	net         wire.Network
	loads       map[string]wire.Load
	assumedPF   map[string]bool
	zPct        float64
	zAssumed    bool
	supply      float64           // factor of nominal mains volts over rated primary volts
	ends        map[string]string // run of each feed that is a returning end
	primary     []atPrimary       // once it is solved
	circuit     *wire.Circuit     // once it is asked for
	shorts      *wire.Shorts      // once they are asked for
}

// compiled is the network made ready for solving.
func (n *network) compiled() (*wire.Circuit, error) {
	if n.circuit != nil {
		return n.circuit, nil
	}
	circuit, err := wire.Compile(n.net)
	if err == nil {
		n.circuit = circuit
	}
	return circuit, err
}

// shorted is the network made ready for short circuits.
func (n *network) shorted(set wire.FaultSetting) (*wire.Shorts, error) {
	if n.shorts != nil {
		return n.shorts, nil
	}
	circuit, err := n.compiled()
	if err != nil {
		return nil, err
	}
	shorts, err := circuit.Shorts(set)
	if err == nil {
		n.shorts = shorts
	}
	return shorts, err
}

// runOf names the run of a feed.
func (n *network) runOf(feed string) string {
	if run, ok := n.ends[feed]; ok {
		return run
	}
	return feed
}

// comesHome reports whether a returning end lands on its run's own terminals,
// conductors in order: then the loop closes on one feed.
func comesHome(run *plan.Run, r *plan.Returns) bool {
	return r.Transformer == run.Transformer && r.Common == run.Common && r.TapVolts == run.TapVolts && !r.Swapped
}

// terminal names the network node where a run starts.
func terminal(run *plan.Run) string { return "run " + run.ID }

// landing names the network node where a loop's far end lands.
func landing(leg *plan.Leg) string { return "landing " + leg.ID }

// common names a common terminal.
func common(transformer string, number int) string { return fmt.Sprintf("%s/%d", transformer, number) }

// networkOf gathers the runs of one transformer.
func (j *join) networkOf(t *plan.Transformer) (*network, error) {
	n := &network{transformer: t, loads: map[string]wire.Load{}, assumedPF: map[string]bool{}, ends: map[string]string{}, supply: 1}
	n.net.Source = wire.Source{
		ID: t.ID, RatedVA: t.Type.RatingVA, Regulated: t.Type.Regulated, TapsAt: wire.TapBasis(t.Type.TapsStatedAt),
		CurrentLimitAmps: electronicLimit(t.Type),
	}
	n.net.Source.Impedance = j.impedance(n)
	if s := j.plan.Supply; s != nil && s.Volts != nil && t.Type.PrimaryVolts != nil && !t.Type.Regulated {
		n.supply = *s.Volts / *t.Type.PrimaryVolts
	}
	for _, run := range j.plan.Runs {
		if run.Transformer != t {
			continue
		}
		n.net.Feeds = append(n.net.Feeds, wire.Feed{
			ID: run.ID, Node: terminal(run), Common: common(t.ID, run.Common), Tap: tapName(run.TapVolts),
			Volts: run.TapVolts * n.supply, Source: t.ID,
		})
		if err := j.addLegs(n, run); err != nil {
			return nil, err
		}
	}
	j.addLoads(n)
	return n, nil
}

func tapName(volts float64) string { return fmt.Sprintf("%g V", volts) }

func electronicLimit(t *plan.TransformerType) float64 {
	if t.OnOverload == "trip" || t.OnOverload == "" {
		return 0
	}
	for _, c := range t.Commons {
		if c.DeviceKind == "electronic" && c.DeviceAmps != nil {
			return *c.DeviceAmps
		}
	}
	return 0
}

// impedance takes what the type states, or the profile's bracket.
func (j *join) impedance(n *network) wire.ImpedanceRange {
	t := n.transformer.Type
	basis := wire.TapBasis(t.TapsStatedAt)
	switch {
	case t.ImpedancePct != nil && t.RegulationPct != nil:
		n.zPct = *t.ImpedancePct
		return wire.ImpedanceFromBoth(*t.ImpedancePct, *t.RegulationPct, basis)
	case t.ImpedancePct != nil:
		n.zPct = *t.ImpedancePct
		return wire.ImpedanceOf(*t.ImpedancePct, mostXOverR)
	case t.RegulationPct != nil:
		n.zPct = *t.RegulationPct
		return wire.ImpedanceFromRegulation(*t.RegulationPct, mostXOverR, basis)
	case t.Regulated:
		return wire.ImpedanceRange{}
	}
	low := j.limit("wire.assumed_impedance_low_pct", fallbackLowZPct)
	high := j.limit("wire.assumed_impedance_high_pct", fallbackHighZPct)
	n.zPct, n.zAssumed = (low+high)/2, true
	return wire.ImpedanceBetween(low, high, mostXOverR)
}

// addLegs adds the legs of one run, and a feed for each loop end that lands on
// a transformer.
func (j *join) addLegs(n *network, run *plan.Run) error {
	for _, leg := range run.Legs {
		conductor, known, err := j.conductorIn(leg)
		if err != nil {
			return fmt.Errorf("leg %s: %w", leg.ID, err)
		}
		w := wire.Leg{
			ID: leg.ID, From: j.nodeOf(run, leg, leg.From), To: j.nodeOf(run, leg, leg.To), SlackM: leg.SlackM,
			Conductor: conductor, FromJointOhms: j.jointOhms(leg.From) / 2, ToJointOhms: j.jointOhms(leg.To) / 2,
		}
		if leg.LengthM != nil && known {
			w.LengthM = *leg.LengthM
		}
		if amps, basis, _ := j.ampacity(leg.Cable); amps != nil {
			w.AmpacityAmps, w.AmpacityBasis = *amps, basis
		}
		n.net.Legs = append(n.net.Legs, w)
		if r := leg.Returns; r != nil && !comesHome(run, r) {
			n.ends[leg.ID+" end"] = run.ID
			n.net.Feeds = append(n.net.Feeds, wire.Feed{
				ID: leg.ID + " end", Node: landing(leg), Common: common(r.Transformer.ID, r.Common), Tap: tapName(r.TapVolts),
				Volts: r.TapVolts * n.supply, Source: r.Transformer.ID, Swapped: r.Swapped,
			})
		}
	}
	return nil
}

// nodeOf names the network node at one end of a leg: a transformer's id means
// the run's own terminals, or the landing of a loop's far end.
func (j *join) nodeOf(run *plan.Run, leg *plan.Leg, end string) string {
	if end == leg.To && leg.Returns != nil && end == leg.Returns.Transformer.ID && !comesHome(run, leg.Returns) {
		return landing(leg)
	}
	if end == run.Transformer.ID {
		return terminal(run)
	}
	return end
}

// conductorIn is the conductor of a leg. Where the plan states no cable it is any
// conductor, without length: the leg joins its ends and drops nothing, and the
// rules that need its cable say so.
func (j *join) conductorIn(leg *plan.Leg) (conductor wire.Conductor, known bool, err error) {
	if leg.Cable.Conductor.Size == "" {
		conductor, err = wire.ParseConductor("12 AWG", wire.Copper, "")
		return conductor, false, err
	}
	conductor, err = j.conductorOf(leg.Cable.Conductor)
	return conductor, true, err
}

// conductorOf is a conductor with its resistance, worked out once for each that a
// plan states.
func (j *join) conductorOf(c plan.Conductor) (wire.Conductor, error) {
	if known, found := j.conductors[c]; found {
		return known, nil
	}
	conductor, err := wire.ParseConductor(c.Size, wire.Material(c.Material), wire.Stranding(c.Stranding))
	if err == nil {
		j.conductors[c] = conductor
	}
	return conductor, err
}

// jointOhms is the resistance of the joint at a node or fixture, from one
// conductor to another through it. Half of it stands at each cable's end.
func (j *join) jointOhms(end string) float64 {
	if c := j.connectorAt(end); c != nil && c.ResistanceOhm != nil {
		return *c.ResistanceOhm
	}
	return 0
}

func (j *join) connectorAt(end string) *plan.ConnectorType {
	if f := j.planFixture[end]; f != nil {
		return f.Connector
	}
	if n := j.planNode[end]; n != nil {
		return n.Connector
	}
	return nil
}

// ampacity is the mark on the cable, else the profile's table, which holds for
// copper.
func (j *join) ampacity(c *plan.CableType) (amps *float64, basis string, marked bool) {
	if c.AmpacityA != nil {
		return c.AmpacityA, "marked on the cable", true
	}
	amps, basis = j.ofCopper("wire.ampacity", c)
	return amps, basis, false
}

// ofCopper is the row of a cable's conductor in a table for copper, and the source of
// the table.
func (j *join) ofCopper(table string, c *plan.CableType) (amps *float64, source string) {
	conductor, err := j.conductorOf(c.Conductor)
	if err != nil || conductor.Material != wire.Copper && conductor.Material != wire.TinnedCopper {
		return nil, ""
	}
	if amps, ok := j.row(table, conductor.Name); ok {
		return &amps, j.limits[table].Source
	}
	return nil, ""
}

// addLoads adds every fixture that a leg of the network touches.
func (j *join) addLoads(n *network) {
	touched := map[string]bool{}
	for _, leg := range n.net.Legs {
		touched[leg.From], touched[leg.To] = true, true
	}
	for _, f := range j.plan.Fixtures {
		if !touched[f.ID] || f.Level <= 0 {
			continue
		}
		load, assumed := j.loadOf(f)
		load.Node, load.JointOhms = f.ID, j.jointOhms(f.ID)/2
		n.net.Loads = append(n.net.Loads, load)
		n.loads[f.ID], n.assumedPF[f.ID] = load, assumed
	}
}

// loadOf turns a lamp into a load; assumed is true when its power factor rests
// on the profile's pessimistic value.
func (j *join) loadOf(f *plan.Fixture) (load wire.Load, assumed bool) {
	lamp := f.Lamp
	load = wire.Load{ID: f.ID, Kind: wire.LoadKind(lamp.Load), RatedVolts: lamp.RatedVolts, Level: f.Level}
	if lamp.DropOutV != nil {
		load.MinVolts = *lamp.DropOutV
	}
	if f.Type.Lead != nil {
		load.Lead = j.leadOf(f)
	}
	watts, pf, assumed := j.power(lamp, onDirectCurrent(f))
	switch load.Kind {
	case wire.ConstantCurrent:
		load.PowerFactor = pf
		load.Amps = watts / pf / lamp.RatedVolts
		if lamp.Amps != nil {
			load.Amps, assumed = *lamp.Amps, false
		}
	case wire.ConstantPower:
		load.Watts, load.PowerFactor = watts, pf
	default:
		load.Watts, assumed = watts, false
	}
	return load, assumed
}

func (j *join) leadOf(f *plan.Fixture) *wire.Lead {
	conductor, err := j.conductorOf(*f.Type.Lead)
	if err != nil {
		return nil // the plan step has reported the conductor
	}
	lead := &wire.Lead{Conductor: conductor}
	switch {
	case f.LeadM != nil:
		lead.LengthM = *f.LeadM
	case f.Type.LeadM != nil:
		lead.LengthM = *f.Type.LeadM
	}
	return lead
}
