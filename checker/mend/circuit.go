package mend

import (
	"maps"
	"math"
	"slices"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// circuit is the run that a finding is about, and the lamp or place on it that
// is worst off.
type circuit struct {
	run *plan.Run
	end string
	// path are the legs from the run's transformer to end, the first one at
	// the transformer.
	path []*plan.Leg
	// lackV is how many volts end lacks at nominal supply, or about; nought
	// when it is not known.
	lackV float64
	// leastA is what a cable has to carry, leastMM2 how thick it has to be, so
	// that a short on the run ends; nought for other findings.
	leastA, leastMM2 float64
	// keepShare is how much of its resistance the way may keep, weighed by load,
	// so that a run without a solution has one; nought for other findings.
	keepShare float64
}

// steadyShare is how much of the most that a run could carry it carries in good
// order. The most is where half of the volts are lost; a share d of the volts lost
// goes with 4d(1-d) of that, and a seventh is about what lamps bear.
const steadyShare = 0.5

// kept is how much of its resistance the way keeps when some of its legs get
// another cable: each leg weighs as much as the load behind it.
func (c *circuit) kept(v *view, legs []*plan.Leg, cable *plan.CableType) float64 {
	now, then := 0.0, 0.0
	at := c.run.Transformer.ID
	for _, leg := range c.path {
		at = otherEnd(leg, at)
		weight := v.loadOn(downstream(c.run, leg, at)) * legLength(leg)
		now += weight / areaOf(leg.Cable)
		then += weight / math.Max(areaOf(leg.Cable), areaIf(slices.Contains(legs, leg), cable))
	}
	return then / now
}

func areaIf(used bool, cable *plan.CableType) float64 {
	if used {
		return areaOf(cable)
	}
	return 0
}

// carries reports whether a cable may be enough.
func (c *circuit) carries(cable *plan.CableType) bool {
	if c.leastA > 0 && cable.AmpacityA != nil && *cable.AmpacityA < c.leastA {
		return false
	}
	return areaOf(cable) >= c.leastMM2
}

// shorted works out what a short on the run asks of its cable: that it carries
// the current for as long as that flows, which a cable that suits its device may
// do somewhat beyond its ampacity, or that it lets enough flow.
func (c *circuit) shorted(f *finding.Finding, beyond float64) {
	if f.Rule != "wire.fault-not-cleared" || f.Value == nil || f.Limit == nil || *f.Value <= 0 || len(c.path) == 0 {
		return
	}
	if *f.Value > *f.Limit {
		c.leastA = *f.Value / beyond
		return
	}
	thinnest := math.Inf(1)
	for _, leg := range c.path {
		thinnest = math.Min(thinnest, areaOf(leg.Cable))
	}
	c.leastMM2 = thinnest * *f.Limit / *f.Value
}

// limitOr is the number of a limit, or another where no profile has it.
func (v *view) limitOr(name string, other float64) float64 {
	if l := v.limits[name]; l != nil && l.Value != nil {
		return *l.Value
	}
	return other
}

// circuitOf works out which run, and which end of it, a finding is about.
func (v *view) circuitOf(f *finding.Finding) (circuit, bool) {
	c := circuit{}
	switch {
	case v.runs[f.Element] != nil:
		c.run = v.runs[f.Element]
		c.end = v.worstEnd(f, c.run)
	case v.fixtures[f.Element] != nil:
		c.run, c.end = v.runOf(f.Element), f.Element
	case v.legs[f.Element] != nil:
		c.run, c.end = v.legs[f.Element].Run, v.legs[f.Element].To
	}
	if c.run == nil || c.run.Transformer == nil || c.end == "" {
		return circuit{}, false
	}
	c.path = v.pathTo(c.run, c.end)
	c.lackV = v.lack(f, c.run)
	c.shorted(f, v.limitOr("wire.overload_multiple", 1))
	if f.Rule == "wire.no-solution" && f.Value != nil && f.Limit != nil && *f.Value > 0 {
		c.keepShare = steadyShare * *f.Limit / *f.Value
	}
	return c, len(c.path) > 0
}

// worstEnd is the end of a run that a finding on the run is about: where a
// short is weakest, or the lamp that loses most.
func (v *view) worstEnd(f *finding.Finding, run *plan.Run) string {
	if f.Rule == "wire.fault-not-cleared" {
		for i := range v.facts.Faults {
			if fault := &v.facts.Faults[i]; fault.ID == run.ID {
				if leg := v.legs[fault.HeatedLeg]; leg != nil {
					return leg.To
				}
				return fault.At
			}
		}
	}
	worst, drop := "", -1.0
	for _, id := range v.runFacts[run.ID].Lamps {
		d := v.losesTo(run, id)
		if d > drop {
			worst, drop = id, d
		}
	}
	return worst
}

// losesTo is the drop from a run's start to a lamp, or the length of cable where
// the run has no answer.
func (v *view) losesTo(run *plan.Run, lamp string) float64 {
	if f := v.fixtureFacts[lamp]; f != nil && f.DropV != nil {
		return *f.DropV
	}
	total := 0.0
	for _, leg := range v.pathTo(run, lamp) {
		total += legLength(leg)
	}
	return total
}

// lack is how many volts a finding is short of, as far as its numbers say.
func (v *view) lack(f *finding.Finding, run *plan.Run) float64 {
	if f.Value == nil || f.Limit == nil {
		return 0
	}
	by := math.Abs(*f.Limit - *f.Value)
	switch f.Unit {
	case "V":
		return by
	case "1":
		return by * run.TapVolts
	}
	return 0
}

func legLength(leg *plan.Leg) float64 {
	if leg.LengthM == nil {
		return 0
	}
	return *leg.LengthM + leg.SlackM
}

// pathTo is the way of cable with the fewest legs from a run's start to an end.
func (v *view) pathTo(run *plan.Run, end string) []*plan.Leg {
	came := map[string]*plan.Leg{}
	queue := []string{run.Transformer.ID}
	seen := map[string]bool{run.Transformer.ID: true}
	for len(queue) > 0 && !seen[end] {
		at := queue[0]
		queue = queue[1:]
		for _, leg := range run.Legs {
			next := otherEnd(leg, at)
			if next == "" || seen[next] {
				continue
			}
			seen[next], came[next] = true, leg
			queue = append(queue, next)
		}
	}
	var path []*plan.Leg
	for at := end; came[at] != nil; {
		path = append(path, came[at])
		at = otherEnd(came[at], at)
	}
	slices.Reverse(path)
	return path
}

// otherEnd is the far end of a leg from one of its ends, empty when it does not
// touch it.
func otherEnd(leg *plan.Leg, end string) string {
	switch end {
	case leg.From:
		return leg.To
	case leg.To:
		return leg.From
	}
	return ""
}

// downstream are the ends that hang on an end of a run, it included, away from
// the leg that feeds it.
func downstream(run *plan.Run, feed *plan.Leg, end string) map[string]bool {
	reached := map[string]bool{end: true}
	for grew := true; grew; {
		grew = false
		for _, leg := range run.Legs {
			if leg == feed {
				continue
			}
			if reached[leg.From] != reached[leg.To] {
				reached[leg.From], reached[leg.To], grew = true, true, true
			}
		}
	}
	return reached
}

// loadOn is the load in VA of the lamps among some ends.
func (v *view) loadOn(ends map[string]bool) float64 {
	total := 0.0
	for _, id := range sortedKeys(ends) {
		if f := v.fixtureFacts[id]; f != nil {
			total += f.VAUsed
		}
	}
	return total
}
