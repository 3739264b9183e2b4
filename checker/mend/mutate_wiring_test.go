package mend_test

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// thinCable lays a run in thin cable.
func thinCable(s *subject) []finding.Operation {
	run, ok := pick(s, s.Runs)
	if !ok || len(run.Legs) == 0 {
		return nil
	}
	sizes := []string{"stock 14 AWG", "stock 16 AWG", "stock 18 AWG"}
	if slices.ContainsFunc(s.Profiles, func(p string) bool { return strings.HasPrefix(p, "iec") || strings.HasPrefix(p, "uk") }) {
		sizes = []string{"stock 2.5 mm2", "stock 1.5 mm2", "stock 1 mm2"}
	}
	size, _ := pick(s, sizes)
	var ops []finding.Operation
	for _, leg := range run.Legs {
		ops = append(ops, put(leg.Pointer+"/cable", size))
	}
	return ops
}

// anotherTap moves a run to another tap.
func anotherTap(s *subject) []finding.Operation {
	run, ok := pick(s, s.Runs)
	if !ok {
		return nil
	}
	tap, ok := pick(s, run.Transformer.Type.TapVolts)
	if !ok || tap == run.TapVolts {
		return nil
	}
	return []finding.Operation{put(run.Pointer+"/from/tap", tap)}
}

// longerLegs makes the legs of a run longer whose length is stated, or states it.
func longerLegs(s *subject) []finding.Operation {
	run, ok := pick(s, s.Runs)
	if !ok {
		return nil
	}
	factor := s.between(1.5, 4)
	var ops []finding.Operation
	for _, leg := range run.Legs {
		if leg.LengthM != nil && len(leg.Route) <= 2 {
			ops = append(ops, put(leg.Pointer+"/length", s.own(*leg.LengthM*factor)))
		}
	}
	return ops
}

// longWay lays the cables of an electronic unit so that its farthest lamp is beyond
// what its maker allows.
func longWay(s *subject) []finding.Operation {
	t, ok := pick(s, slices.DeleteFunc(slices.Clone(s.Transformers), func(t *plan.Transformer) bool { return t.Type.LargestDistanceM == nil }))
	if !ok {
		return nil
	}
	long := 0.0
	var legs []*plan.Leg
	for _, run := range s.Runs {
		for _, leg := range run.Legs {
			if run.Transformer == t && leg.LengthM != nil && len(leg.Route) <= 2 {
				legs, long = append(legs, leg), long+*leg.LengthM
			}
		}
	}
	factor := s.between(1.05, 1.8) * *t.Type.LargestDistanceM / long
	var ops []finding.Operation
	for _, leg := range legs {
		ops = append(ops, put(leg.Pointer+"/length", s.own(*leg.LengthM*factor)))
	}
	return ops
}

// idleUnit dims the lamps of a unit that needs a least load.
func idleUnit(s *subject) []finding.Operation {
	t, ok := pick(s, slices.DeleteFunc(slices.Clone(s.Transformers), func(t *plan.Transformer) bool { return t.Type.MinimumLoadVA == nil }))
	if !ok {
		return nil
	}
	level := fmt.Sprintf("%.0f %%", s.between(3, 20))
	var ops []finding.Operation
	done := map[string]bool{}
	for _, f := range s.Fixtures {
		if len(f.Runs) > 0 && f.Runs[0].Transformer == t && !done[f.Pointer] {
			done[f.Pointer] = true
			ops = append(ops, put(f.Pointer+"/level", level))
		}
	}
	return ops
}

// largerLamps fits larger lamps than the type comes with.
func largerLamps(s *subject) []finding.Operation {
	run, ok := pick(s, s.Runs)
	if !ok {
		return nil
	}
	factor := s.between(1.5, 5)
	var ops []finding.Operation
	for _, f := range s.Fixtures {
		if e := s.entryOf(f); !slices.Contains(f.Runs, run) || e == nil || e.Array != nil || f.Lamp.Watts == nil {
			continue
		}
		lamp := map[string]any{"watts": math.Round(*f.Lamp.Watts*factor*10) / 10}
		if f.Lamp.VA != nil {
			lamp["va"] = math.Round(*f.Lamp.VA*factor*10) / 10
		}
		ops = append(ops, put(f.Pointer+"/lamp", lamp))
	}
	return ops
}

// smallUnit buys a power unit of half or a quarter of the size.
func smallUnit(s *subject) []finding.Operation {
	t, ok := pick(s, s.Transformers)
	if !ok {
		return nil
	}
	size, _ := pick(s, []string{" x0.25", " x0.5"})
	return []finding.Operation{put(t.Pointer+"/type", t.Type.ID+size)}
}

func growth(s *subject) []finding.Operation {
	t, ok := pick(s, s.Transformers)
	if !ok {
		return nil
	}
	return []finding.Operation{put(t.Pointer+"/growth", fmt.Sprintf("%.0f VA", t.Type.RatingVA*s.between(0.6, 1)))}
}

func lowUnit(s *subject) []finding.Operation {
	t, ok := pick(s, s.Transformers)
	if !ok || t.HeightM == nil {
		return nil
	}
	return []finding.Operation{put(t.Pointer+"/height", s.own(s.between(0, 0.25)))}
}

// farUnit moves a power unit away from its receptacle.
func farUnit(s *subject) []finding.Operation {
	t, ok := pick(s, s.Transformers)
	if !ok || t.At == nil || t.Receptacle == nil || t.Receptacle.At == nil {
		return nil
	}
	return []finding.Operation{put(t.Pointer+"/at", s.point(r2.Add(*t.At, r2.Scale(s.between(1, 3), site.Heading(s.between(0, 360))))))}
}

// oneCommon lands every run of a power unit on one common.
func oneCommon(s *subject) []finding.Operation {
	t, ok := pick(s, s.Transformers)
	if !ok {
		return nil
	}
	var ops []finding.Operation
	for _, run := range s.Runs {
		if run.Transformer == t && run.Common > 1 {
			ops = append(ops, put(run.Pointer+"/from/common", 1))
		}
	}
	return ops
}
