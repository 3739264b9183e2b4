package facts

import (
	"context"
	"fmt"
	"math"
	"slices"

	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// Spare is how much more one run could carry.
type Spare struct {
	// VA is the largest further load at the end of the run with which nothing
	// fails, to within 0.1 VA below; nought when something fails already.
	VA float64
	// Until says what fails first with more.
	Until string
}

// sparesWithinVA is how closely the largest further load is found.
const sparesWithinVA = 0.1

// SpareVA finds for each run how much more it could carry, all else as it is.
// The further load is one constant-power load of power factor 1 at the lamp
// that is farthest along the cable, which is the hardest place for it. It grows,
// by halving a bracket, until one of these fails in the nominal, the low or the
// high corner with everything on: the solution, the low end of the window or the
// drop-out of a lamp, the ampacity of a cable, the rating of the transformer, the
// device of the common, what the profile or the listing allows on a common, or,
// where the profile makes it a defect, the drop. The mains side is not looked at,
// nor is the window of a lamp that is not there yet.
//
// A run without lamps, without an answer, or of a transformer that has none, is
// left out. doc is the facts of the same plan, for its limits.
func SpareVA(ctx context.Context, p *plan.Plan, doc *Document) (map[string]Spare, error) {
	j := newJoin(Input{Plan: p, Limits: doc.Limits})
	j.supplyFacts()
	out := map[string]Spare{}
	for _, t := range p.Transformers {
		n, err := j.networkOf(t)
		if err != nil {
			return nil, fmt.Errorf("transformer %s: %w", t.ID, err)
		}
		for i := range doc.Runs {
			run := &doc.Runs[i]
			if run.Transformer != t.ID || !run.Solved || len(run.Lamps) == 0 {
				continue
			}
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			spare, known, err := j.spareOf(n, run)
			if err != nil {
				return nil, fmt.Errorf("run %s: %w", run.ID, err)
			}
			if known {
				out[run.ID] = spare
			}
		}
	}
	return out, nil
}

// spareOf searches for the largest further load of one run.
func (j *join) spareOf(n *network, run *Run) (Spare, bool, error) {
	corners, end := j.allOn(n), j.endOf(n, run)
	fails, err := j.failsWith(n, corners, end, 0)
	if err != nil || fails == noAnswer {
		return Spare{}, false, err
	}
	if fails != "" {
		return Spare{Until: fails}, true, nil
	}
	low, high := 0.0, n.net.Source.RatedVA
	if fails, err = j.failsWith(n, corners, end, high); err != nil || fails == "" {
		return Spare{VA: high, Until: "the rating of the transformer"}, true, err
	}
	for high-low > sparesWithinVA {
		middle := (low + high) / 2
		why, err := j.failsWith(n, corners, end, middle)
		if err != nil {
			return Spare{}, false, err
		}
		if why == "" {
			low = middle
			continue
		}
		high, fails = middle, why
	}
	return Spare{VA: low, Until: fails}, true, nil
}

// endOf is the lamp of a run that is farthest along the cable; of several, the
// first by the plan's order.
func (j *join) endOf(n *network, run *Run) string {
	next := map[string][]*plan.Leg{}
	for _, r := range j.plan.Runs {
		if r.ID != run.ID {
			continue
		}
		for _, leg := range r.Legs {
			next[leg.From] = append(next[leg.From], leg)
			if leg.To != n.transformer.ID {
				next[leg.To] = append(next[leg.To], leg)
			}
		}
	}
	away := farthest(n.transformer.ID, next)
	end := run.Lamps[0]
	for _, id := range run.Lamps {
		if away[id] > away[end]+1e-9 {
			end = id
		}
	}
	return end
}

// allOn are the corners with everything on.
func (j *join) allOn(n *network) []wire.Corner {
	s := j.setting(n)
	return []wire.Corner{
		{Name: wire.CornerNominal, SupplyFactor: 1, End: wire.Middle, GroundC: s.NominalC},
		{Name: wire.CornerLow, SupplyFactor: s.LowFactor, End: wire.LowestVolts, GroundC: s.HotGroundC, RiseK: s.RiseK},
		{Name: wire.CornerHigh, SupplyFactor: s.HighFactor, End: wire.HighestVolts, GroundC: s.ColdGroundC},
	}
}

// furtherLoad is the id of the further load; no element's id has a space.
const furtherLoad = "further load"

const noAnswer = "there is no stable answer"

// failsWith says what fails with a further load at a place; nothing when all
// holds.
func (j *join) failsWith(n *network, corners []wire.Corner, at string, va float64) (string, error) {
	net := n.net
	if va > 0 {
		net.Loads = append(append([]wire.Load{}, net.Loads...),
			wire.Load{ID: furtherLoad, Node: at, Kind: wire.ConstantPower, Watts: va, PowerFactor: 1, RatedVolts: 12, Level: 1})
	}
	for _, corner := range corners {
		answer, err := wire.Solve(net, corner)
		if err != nil {
			return "", err
		}
		if answer.Status == wire.NoSolution || answer.Status == wire.NotConverged {
			return noAnswer, nil
		}
		if why := j.failsIn(n, &answer); why != "" {
			return why, nil
		}
	}
	return "", nil
}

// failsIn says what fails in one solved corner.
func (j *join) failsIn(n *network, s *wire.Solution) string {
	where := " at " + cornerWords(s.Corner)
	if s.Source.OutputVA > n.net.Source.RatedVA+sparesTolerance {
		return "the rating of the transformer" + where
	}
	if why := j.commonFails(n, s); why != "" {
		return why + where
	}
	if id := overAmpacity(n, s); id != "" {
		return "the ampacity of " + id + where
	}
	for _, l := range s.Lamps {
		if why := j.lampFails(n, l, s.Corner); why != "" {
			return why + where
		}
	}
	return ""
}

// overAmpacity is the first leg that carries more than its cable may.
func overAmpacity(n *network, s *wire.Solution) string {
	most := make(map[string]float64, len(n.net.Legs))
	for _, leg := range n.net.Legs {
		most[leg.ID] = leg.AmpacityAmps
	}
	for _, l := range s.Legs {
		if amps := max(l.Amps, -l.Amps); most[l.ID] > 0 && amps > most[l.ID]+sparesTolerance {
			return l.ID
		}
	}
	return ""
}

// sparesTolerance is what rounding may add to an amp, a volt or a volt-ampere.
const sparesTolerance = 1e-6

func (j *join) commonFails(n *network, s *wire.Solution) string {
	t := n.transformer.Type
	mostAmps, mostVA := j.limit("power.common_max_a", math.Inf(1)), math.Inf(1)
	switch {
	case t.LargestVA != nil:
		mostVA = *t.LargestVA
	case slices.Contains(t.Listing, "landscape-system"):
		mostVA = j.limit("power.common_max_va", math.Inf(1))
	}
	for _, c := range s.Commons {
		for i, device := range t.Commons {
			if c.ID == common(n.transformer.ID, i+1) && device.DeviceAmps != nil && c.Amps > *device.DeviceAmps+sparesTolerance {
				return "the device of common " + c.ID
			}
		}
		if c.Amps > mostAmps+sparesTolerance {
			return "the amps allowed on common " + c.ID
		}
		if c.VA > mostVA+sparesTolerance {
			return "the VA allowed on common " + c.ID
		}
	}
	return ""
}

func (j *join) lampFails(n *network, l wire.LampResult, corner string) string {
	f := j.planFixture[l.ID]
	if f == nil || !l.On || l.Feed == "" {
		return ""
	}
	switch {
	case l.Dropped:
		return "lamp " + l.ID + " goes out"
	case f.Lamp.MinVolts != nil && l.Volts < *f.Lamp.MinVolts-sparesTolerance:
		return "lamp " + l.ID + " falls below its window"
	}
	most := j.limit("wire.drop_max", 0)
	strict := j.limits["wire.drop_severity"] != nil && j.limits["wire.drop_severity"].Text == "defect"
	if run := j.runOf(l.ID); strict && run != nil && most > 0 && corner == wire.CornerNominal && l.DropVolts > most*run.TapVolts+sparesTolerance {
		return "the drop at lamp " + l.ID
	}
	return ""
}
