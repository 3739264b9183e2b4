package facts

import (
	"slices"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// Fallbacks for the multiple of its rating that surely opens a device.
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
	mistakes, err := wire.Topology(n.net)
	if err != nil {
		return err
	}
	for _, m := range mistakes {
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

// faultOf writes the weakest short of one run.
func (j *join) faultOf(n *network, run *plan.Run, set wire.FaultSetting, most float64) error {
	unit := run.Transformer.Type
	out := Fault{ID: run.ID, MostAmps: most, Clears: true, SupplyReacts: unit.Kind == "electronic" && unit.OnOverload != ""}
	device := wire.Device{ID: run.ID, Feeds: []string{run.ID}}
	if i := run.Common - 1; i >= 0 && i < len(run.Transformer.Type.Commons) {
		common := run.Transformer.Type.Commons[i]
		if common.DeviceAmps != nil {
			out.DeviceAmps, out.DeviceKind = common.DeviceAmps, common.DeviceKind
			device.Amps = *common.DeviceAmps
			device.TripMultiple = j.limit("wire.trip_multiple_"+common.DeviceKind, fallbackTrip)
		}
	}
	protections, err := wire.Protect(n.net, set, []wire.Device{device})
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
		if out.HeatedAmps == nil || h.Amps/h.AmpacityAmps > *out.HeatedAmps / *out.HeatedAmpacityA {
			out.HeatedLeg, out.HeatedAmps, out.HeatedAmpacityA = h.Leg, ptr(h.Amps), ptr(h.AmpacityAmps)
		}
	}
	j.doc.Faults = append(j.doc.Faults, out)
	return nil
}
