package facts

import (
	"context"
	"errors"
	"fmt"
	"math"

	"duskproof/checker/diagnose"
	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// What an ordinary meter shows, for readings whose meter is not described.
// Common practice, no source.
const (
	usualVoltStep    = 0.1   // V
	usualAmpStep     = 0.1   // A
	usualAccuracyPct = 0.8   // of the reading
	modelVolts       = 0.02  // V; what the model cannot know of each leg and lamp
	modelAmps        = 0.01  // of the reading
	suspectsListed   = 12    // explanations printed for one diagnosis
	unknownSupply    = 0.025 // deviation of the mains when it was not measured
)

// readings compares every visit's readings with the model and diagnoses.
func (j *join) readings(ctx context.Context) error {
	for _, set := range j.plan.Readings {
		for _, n := range j.networks {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := j.visit(set, n); err != nil {
				return err
			}
		}
		j.strays(set)
	}
	return nil
}

// visit compares the readings of one visit at one transformer.
func (j *join) visit(set *plan.ReadingSet, n *network) error {
	var used []diagnose.Reading
	var at []int
	for i := range set.Values {
		r, ok := j.readingOf(set, i, n)
		if !ok {
			continue
		}
		fact := Reading{ID: set.ID + "/" + r.At, Latest: j.latest(set), Set: set.ID, Index: i, At: set.Values[i].At,
			Quantity: quantityWord(r.Quantity), Measured: r.Value}
		if r.Quantity == diagnose.NodeVolts {
			fact.ID = set.ID + "/" + set.Values[i].At
		}
		if fact.Refused = j.refused(set, n); fact.Refused == "" {
			used, at = append(used, r), append(at, len(j.doc.Readings))
		}
		j.doc.Readings = append(j.doc.Readings, fact)
	}
	if len(used) == 0 {
		return nil
	}
	result, err := diagnose.Diagnose(n.net, j.conditions(set, n), used, j.diagnoseOptions(set, n))
	if errors.Is(err, diagnose.ErrInput) {
		for _, i := range at {
			j.doc.Readings[i].Refused = "the network has no answer to compare it with"
		}
		return nil
	}
	if err != nil {
		return fmt.Errorf("readings %s: %w", set.ID, err)
	}
	for k, i := range at {
		j.doc.Readings[i].Expected, j.doc.Readings[i].Tolerance = ptr(result.Expected[k]), ptr(result.Tolerance[k])
	}
	j.diagnosis(set, n, &result)
	return nil
}

// latest reports whether a visit is the last one; visits of one day are one.
func (j *join) latest(set *plan.ReadingSet) bool {
	for _, other := range j.plan.Readings {
		if other.Date > set.Date {
			return false
		}
	}
	return true
}

// readingOf turns a reading into one of the network; false when it is not of
// this transformer.
func (j *join) readingOf(set *plan.ReadingSet, i int, n *network) (diagnose.Reading, bool) {
	v := set.Values[i]
	out := diagnose.Reading{At: v.At}
	switch {
	case v.Volts != nil:
		out.Value, out.Quantity = *v.Volts, diagnose.NodeVolts
		if run := j.runAt(n, v); v.At == n.transformer.ID && run != nil {
			out.At = terminal(run)
		} else if _, lamp := n.loads[v.At]; lamp {
			out.Quantity = diagnose.LampVolts
		} else if !n.hasNode(v.At) {
			return out, false
		}
		step := orElse(set.VoltStep, usualVoltStep)
		out.Sigma = math.Hypot(math.Hypot(step/2, accuracy(set)*out.Value/2), modelVolts)
	case v.Amps != nil:
		out.Value, out.Quantity = *v.Amps, diagnose.LegAmps
		if run := j.runAt(n, v); v.At == n.transformer.ID && run != nil {
			out.Quantity, out.At = diagnose.CommonAmps, common(v.At, max(1, v.Common))
		} else if !n.hasLeg(v.At) {
			return out, false
		}
		step := orElse(set.AmpStep, usualAmpStep)
		out.Sigma = math.Hypot(math.Hypot(step/2, accuracy(set)*out.Value/2), modelAmps*out.Value)
	}
	return out, v.Volts != nil || v.Amps != nil
}

// runAt is the first run on the common that a reading at the transformer names.
func (j *join) runAt(n *network, v plan.Reading) *plan.Run {
	for _, run := range j.plan.Runs {
		if run.Transformer == n.transformer && run.Common == max(1, v.Common) {
			return run
		}
	}
	return nil
}

func accuracy(set *plan.ReadingSet) float64 { return orElse(set.AccuracyPct, usualAccuracyPct) / 100 }

func orElse(v, otherwise float64) float64 {
	if v == 0 {
		return otherwise
	}
	return v
}

func quantityWord(q diagnose.Quantity) string {
	if q == diagnose.LegAmps || q == diagnose.CommonAmps {
		return "amps"
	}
	return "volts"
}

func (n *network) hasNode(id string) bool {
	for i := range n.net.Legs {
		if n.net.Legs[i].From == id || n.net.Legs[i].To == id {
			return true
		}
	}
	return false
}

func (n *network) hasLeg(id string) bool {
	for i := range n.net.Legs {
		if n.net.Legs[i].ID == id {
			return true
		}
	}
	return false
}

// conditions are the state of the system during the visit.
func (j *join) conditions(set *plan.ReadingSet, n *network) diagnose.Conditions {
	c := diagnose.Conditions{SupplyFactor: 1, GroundC: j.limit("wire.ground_c", wire.NominalC)}
	if s := j.plan.Supply; s != nil && s.Volts != nil && set.SupplyVolts != nil && *s.Volts > 0 {
		c.SupplyFactor = *set.SupplyVolts / *s.Volts
	}
	for _, scene := range j.plan.Scenes {
		if scene.ID != set.Scene {
			continue
		}
		levels := make(map[string]float64, len(n.net.Loads))
		for _, load := range n.net.Loads {
			levels[load.ID] = scene.Levels[load.ID]
		}
		c.Scene = &wire.Scene{Name: scene.ID, Levels: levels}
	}
	return c
}

// diagnoseOptions lists the taps and cables that the plan knows: those are what
// gets mixed up on site.
func (j *join) diagnoseOptions(set *plan.ReadingSet, n *network) diagnose.Options {
	o := diagnose.Options{Taps: map[string][]float64{}}
	if set.SupplyVolts == nil {
		o.SupplySigma = unknownSupply
	}
	for _, f := range n.net.Feeds {
		for _, volts := range n.transformer.Type.TapVolts {
			o.Taps[f.ID] = append(o.Taps[f.ID], volts*n.supply)
		}
	}
	seen := map[string]bool{}
	for i := range n.net.Legs {
		c := n.net.Legs[i].Conductor
		if !seen[c.Name] {
			seen[c.Name] = true
			o.Conductors = append(o.Conductors, c)
		}
	}
	return o
}

// diagnosis writes what a visit's readings come to.
func (j *join) diagnosis(set *plan.ReadingSet, n *network, r *diagnose.Result) {
	out := Diagnosis{ID: set.ID + "/" + n.transformer.ID, Latest: j.latest(set), Set: set.ID, Transformer: n.transformer.ID,
		Outcome: string(r.Outcome), GroupSize: r.GroupSize}
	if next := r.Next; next != nil {
		out.NextAt, out.NextQuantity = next.At, quantityWord(next.Quantity)
		low, high := math.Inf(1), math.Inf(-1)
		for _, v := range next.Predicted {
			low, high = math.Min(low, v), math.Max(high, v)
		}
		out.NextLow, out.NextHigh = ptr(low), ptr(high)
	}
	j.doc.Diagnoses = append(j.doc.Diagnoses, out)
	for i := range r.Explanations {
		if i >= suspectsListed {
			break
		}
		e := &r.Explanations[i]
		s := Suspect{ID: suspectElement(e.Element), Latest: out.Latest, Set: set.ID, Transformer: n.transformer.ID, Kind: string(e.Kind),
			Words: suspectWords(e), Confidence: e.Confidence, Group: e.Group, Rank: i + 1}
		if e.Kind == diagnose.Joint || e.Kind == diagnose.LampJoint {
			s.ExtraOhm, s.Watts = ptr(e.Size), ptr(e.Watts)
		}
		j.doc.Suspects = append(j.doc.Suspects, s)
	}
}

// suspectElement is the plan's element: a feed is its run.
func suspectElement(id string) string {
	run, _ := cutEnd(id)
	return run
}

// cutEnd removes the mark of a loop's far end from a feed's id.
func cutEnd(id string) (string, bool) {
	const mark = " end"
	if len(id) > len(mark) && id[len(id)-len(mark):] == mark {
		return id[:len(id)-len(mark)], true
	}
	return id, false
}

// suspectWords says an explanation in a few words.
func suspectWords(e *diagnose.Explanation) string {
	switch e.Kind {
	case diagnose.Joint:
		return fmt.Sprintf("leg %s, or a joint at its ends, has %.2f ohm too much and burns %.1f W", e.Element, e.Size, e.Watts)
	case diagnose.LampJoint:
		return fmt.Sprintf("the joint or lead of lamp %s has %.2f ohm too much and burns %.1f W", e.Element, e.Size, e.Watts)
	case diagnose.DeadLamp:
		return fmt.Sprintf("lamp %s draws nothing", e.Element)
	case diagnose.OtherLamp:
		return fmt.Sprintf("lamp %s draws %.1f times its load", e.Element, e.Size)
	case diagnose.Leak:
		return fmt.Sprintf("%.1f A leaks or is drawn by something else at %s", e.Size, e.Element)
	case diagnose.WrongTap:
		return fmt.Sprintf("run %s is on the %g V tap", suspectElement(e.Element), e.Size)
	case diagnose.OtherCable:
		return fmt.Sprintf("leg %s is %s", e.Element, e.Detail)
	}
	return string(e.Kind)
}

// strays lists readings of places that no network has.
func (j *join) strays(set *plan.ReadingSet) {
	found := map[int]bool{}
	for i := range j.doc.Readings {
		if j.doc.Readings[i].Set == set.ID {
			found[j.doc.Readings[i].Index] = true
		}
	}
	for i, v := range set.Values {
		if found[i] || v.Volts == nil && v.Amps == nil {
			continue
		}
		out := Reading{ID: set.ID + "/" + v.At, Latest: j.latest(set), Set: set.ID, Index: i, At: v.At, Quantity: "volts",
			Refused: "no cable of the plan reaches it"}
		if v.Volts != nil {
			out.Measured = *v.Volts
		} else {
			out.Quantity, out.Measured = "amps", *v.Amps
		}
		j.doc.Readings = append(j.doc.Readings, out)
	}
}
