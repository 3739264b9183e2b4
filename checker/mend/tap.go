package mend

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
)

const voltsTolerance = 1e-9

// otherTaps offers the transformer's other taps, the nearest first.
func otherTaps(v *view, f *finding.Finding) []Candidate {
	c, ok := v.circuitOf(f)
	if !ok {
		return nil
	}
	taps := slices.Clone(c.run.Transformer.Type.TapVolts)
	slices.SortStableFunc(taps, func(a, b float64) int {
		return cmp.Or(cmp.Compare(math.Abs(a-c.run.TapVolts), math.Abs(b-c.run.TapVolts)), cmp.Compare(a, b))
	})
	var out []Candidate
	for i, tap := range taps {
		if math.Abs(tap-c.run.TapVolts) > voltsTolerance {
			out = append(out, v.retap(c.run, tap, i))
		}
	}
	return out
}

// tapStep makes a tap that is farther away dearer by a little, so that the
// nearest that holds is offered.
const tapStep = 1e-3

func (v *view) retap(run *plan.Run, tap float64, rank int) Candidate {
	e := v.edit()
	e.set(run.Pointer, v.volts(run.Pointer+"/from/tap", tap), "from", "tap")
	return Candidate{
		Kind:  "tap",
		Text:  fmt.Sprintf("Move run %s from the %g V tap of %s to the %g V tap", run.ID, run.TapVolts, run.Transformer.ID, tap),
		Cost:  v.weight("tap_changed") + tapStep*float64(rank),
		Patch: e.patch(),
	}
}

// volts writes volts as the place has them: a bare number or a string.
func (v *view) volts(pointer string, volts float64) any {
	if found := v.tree.Find(pointer); found != nil && found.Value.Kind() == '0' {
		return plainNumber(volts, 3)
	}
	return string(plainNumber(volts, 3)) + " V"
}

// otherOutput offers the other commons of a run's transformer, the least loaded
// first.
func otherOutput(v *view, f *finding.Finding) []Candidate {
	c, ok := v.circuitOf(f)
	if !ok {
		return nil
	}
	return v.otherCommons(c.run)
}

func (v *view) otherCommons(run *plan.Run) []Candidate {
	t := run.Transformer
	loads := map[int]float64{}
	for i := range v.facts.Commons {
		if common := &v.facts.Commons[i]; common.Transformer == t.ID {
			loads[common.Number] = common.Amps
		}
	}
	var out []Candidate
	for number := 1; number <= len(t.Type.Commons); number++ {
		if number == run.Common {
			continue
		}
		e := v.edit()
		e.set(run.Pointer, number, "from", "common")
		out = append(out, Candidate{
			Kind: "common",
			Text: fmt.Sprintf("Move run %s from common %d of %s to common %d", run.ID, run.Common, t.ID, number),
			Cost: v.weight("tap_changed") + tapStep*loads[number], Patch: e.patch(),
		})
	}
	return out
}
