package facts

import (
	"cmp"
	"slices"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// fallbackTrip is the multiple of its rating that surely opens a device, where
// no profile has one.
const fallbackTrip = 2

// faultSetting is what short circuits are computed with.
func (j *join) faultSetting() wire.FaultSetting {
	return wire.FaultSetting{
		HighFactor: j.doc.Supply.HighFactor, ColdC: j.limit("wire.cold_c", fallbackColdC),
		LowFactor: j.doc.Supply.LowFactor,
		HotC:      j.hotGround() + j.limit("wire.rise_k", fallbackRiseK),
	}
}

// faultFacts writes the mistakes of connection of one network, and its short
// circuits against the devices.
func (j *join) faultFacts(n *network, set wire.FaultSetting, faults []wire.Fault) error {
	circuit, err := n.compiled()
	if err != nil {
		return err
	}
	for _, m := range circuit.Topology() {
		j.doc.Misfeeds = append(j.doc.Misfeeds, j.misfeed(n, m))
	}
	most := map[string]float64{}
	for _, f := range faults {
		most[f.At] = f.HighestAmps
	}
	for _, run := range j.plan.Runs {
		if run.Transformer == n.transformer {
			if err := j.faultOf(n, run, set, most[terminal(run)]); err != nil {
				return err
			}
		}
	}
	return nil
}

func (j *join) misfeed(n *network, m wire.Mistake) Misfeed {
	out := Misfeed{ID: m.Leg, Kind: string(m.Kind), Members: m.Nodes, Volts: m.Volts}
	for _, feed := range m.Feeds {
		if run := n.runOf(feed); !slices.Contains(out.Runs, run) {
			out.Runs = append(out.Runs, run)
		}
	}
	if out.ID == "" && len(m.Nodes) > 0 {
		out.ID = m.Nodes[0]
	}
	if out.ID == "" {
		out.ID = n.transformer.ID
	}
	return out
}

// guard is a device that may end a short on a run, its amps on the side of the
// run.
type guard struct {
	wire.Device
	kind, where string
	amps        *float64 // as marked, on its own side
}

// guards are the devices that a short on a run goes through: the one of its
// common, those of its tap, and those of the primary.
func (j *join) guards(run *plan.Run) []guard {
	unit := run.Transformer.Type
	var list []guard
	add := func(kind, where string, amps, share float64) {
		list = append(list, guard{
			Device: wire.Device{
				ID: run.ID, Feeds: []string{run.ID}, Amps: amps * share,
				TripMultiple:     j.limit("wire.trip_multiple_"+kind, fallbackTrip),
				OverloadMultiple: j.limit("wire.overload_multiple", 1),
			},
			kind: kind, where: where, amps: &amps,
		})
	}
	if i := run.Common - 1; i >= 0 && i < len(unit.Commons) && unit.Commons[i].DeviceAmps != nil {
		add(unit.Commons[i].DeviceKind, "common", *unit.Commons[i].DeviceAmps, 1)
	}
	for _, p := range unit.Protection {
		switch {
		case p.Protects == "tap" && (p.TapVolts == nil || *p.TapVolts == run.TapVolts):
			add(p.Kind, "tap", p.Amps, 1)
		case p.Protects == "primary" && j.primaryVolts(unit) > 0 && run.TapVolts > 0:
			add(p.Kind, "primary", p.Amps, j.primaryVolts(unit)/run.TapVolts)
		}
	}
	return list
}

// primaryVolts are the rated volts of a unit's primary, or those of the mains;
// nought when neither is stated.
func (j *join) primaryVolts(unit *plan.TransformerType) float64 {
	if unit.PrimaryVolts != nil {
		return *unit.PrimaryVolts
	}
	if s := j.plan.Supply; s != nil && s.Volts != nil {
		return *s.Volts
	}
	return 0
}

// faultOf writes the weakest short of one run against the device that opens at
// the least current.
func (j *join) faultOf(n *network, run *plan.Run, set wire.FaultSetting, most float64) error {
	unit := run.Transformer.Type
	out := Fault{ID: run.ID, MostAmps: most, Clears: true, Protection: protectionOf(unit, run.Common-1),
		SupplyReacts: unit.Kind == "electronic" && unit.OnOverload != ""}
	device := wire.Device{ID: run.ID, Feeds: []string{run.ID}}
	guards := j.guards(run)
	needs := func(a, b guard) int { return cmp.Compare(a.Amps*a.TripMultiple, b.Amps*b.TripMultiple) }
	if len(guards) > 0 {
		first := slices.MinFunc(guards, needs)
		device, out.DeviceAmps, out.DeviceKind, out.DeviceWhere = first.Device, first.amps, first.kind, first.where
	}
	shorts, err := n.shorted(set)
	if err != nil {
		return err
	}
	protections, err := shorts.Protect([]wire.Device{device})
	if err != nil {
		return err
	}
	p := protections[0]
	if p.FarAt == "" {
		return nil
	}
	out.At, out.LeastAmps = p.FarAt, p.FarAmps
	if out.DeviceAmps != nil {
		out.NeededAmps, out.Clears = ptr(p.NeededAmps), p.Clears
	}
	for _, h := range p.Heated {
		if out.HeatedAmps == nil || h.Amps/h.AllowedAmps > *out.HeatedAmps / *out.HeatedAllowedA {
			out.HeatedLeg, out.HeatedAmps, out.HeatedAmpacityA = h.Leg, ptr(h.Amps), ptr(h.AmpacityAmps)
			out.HeatedAllowedA = ptr(h.AllowedAmps)
		}
	}
	j.doc.Faults = append(j.doc.Faults, out)
	return nil
}
