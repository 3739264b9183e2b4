package mend

import (
	"fmt"
	"slices"
	"strings"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/wire"
)

// areaOf is the cross-section of a cable's conductors in mm2; nought for a size
// that is not known.
func areaOf(c *plan.CableType) float64 {
	material := wire.Material(c.Conductor.Material)
	if material == "tinned-copper" {
		material = wire.Copper
	}
	conductor, err := wire.ParseConductor(c.Conductor.Size, material, wire.Stranding(c.Conductor.Stranding))
	if err != nil {
		return 0
	}
	return conductor.AreaMM2
}

// thicker lists the catalogue's cables that could take the place of one,
// the thinnest first: of the same material, and fit for the same ground.
func (v *view) thicker(old *plan.CableType) []*plan.CableType {
	var out []*plan.CableType
	for _, c := range v.plan.CableTypes {
		if areaOf(c) > areaOf(old) && c.Cores == old.Cores && c.Conductor.Material == old.Conductor.Material && replaces(c, old) {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b *plan.CableType) int { return compareFloat(areaOf(a), areaOf(b)) })
	return out
}

// replaces reports whether a cable may lie wherever another does.
func replaces(c, old *plan.CableType) bool {
	keeps := func(have, had *bool) bool { return had == nil || !*had || have != nil && *have }
	return keeps(c.DirectBurial, old.DirectBurial) && keeps(c.SunlightResistant, old.SunlightResistant) && hasAll(c.Listing, old.Listing)
}

// hasAll reports whether a list has everything that another has.
func hasAll(have, want []string) bool {
	for _, w := range want {
		if !slices.Contains(have, w) {
			return false
		}
	}
	return true
}

func compareFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

const (
	// gainShare is how much of what is lacking a thicker cable must promise to
	// be tried. Drivers draw less as their volts rise, so that a cable gives
	// more than it promises.
	gainShare = 0.6
	// sizesEach is how many sizes are tried for one group of legs.
	sizesEach = 2
)

// thickerCable offers thicker cable for the legs that matter: the one that loses
// most, the first few from the transformer, the whole way, and the whole run. For
// each the sizes are the least that promise enough.
func thickerCable(v *view, f *finding.Finding) []Candidate {
	c, ok := v.circuitOf(f)
	if !ok {
		return nil
	}
	var out []Candidate
	for _, legs := range v.legSets(c.path) {
		n := 0
		for _, cable := range v.sizesFor(legs) {
			if v.gain(legs, cable) < gainShare*c.lackV || !c.carries(cable) || c.keepShare > 0 && c.kept(v, legs, cable) > c.keepShare {
				continue
			}
			if candidate, ok := v.recable(legs, cable); ok && n < sizesEach {
				out = append(out, candidate)
				n++
			}
		}
	}
	return out
}

// legSets are the groups of legs of a way that a person would change together.
func (v *view) legSets(path []*plan.Leg) [][]*plan.Leg {
	var out [][]*plan.Leg
	add := func(legs []*plan.Leg) {
		for _, known := range out {
			if slices.Equal(known, legs) {
				return
			}
		}
		out = append(out, legs)
	}
	byDrop := slices.Clone(path)
	slices.SortStableFunc(byDrop, func(a, b *plan.Leg) int { return compareFloat(v.dropOf(b), v.dropOf(a)) })
	for _, leg := range byDrop[:min(2, len(byDrop))] {
		add([]*plan.Leg{leg})
	}
	for _, n := range firstFew(len(path)) {
		add(path[:n:n])
	}
	if run := path[0].Run; len(run.Legs) > len(path) {
		add(run.Legs)
	}
	return out
}

// firstFew are the lengths of the beginnings of a way that are tried: all of a
// short way, and ever longer ones of a long one.
func firstFew(n int) []int {
	var out []int
	for i := 1; i < n; i += 1 + i/3 {
		out = append(out, i)
	}
	return append(out, n)
}

func (v *view) dropOf(leg *plan.Leg) float64 {
	if fact := v.legFacts[leg.ID]; fact != nil {
		return fact.DropV
	}
	return 0
}

// sizesFor are the cables that are thicker than some of the legs have.
func (v *view) sizesFor(legs []*plan.Leg) []*plan.CableType {
	thinnest := legs[0].Cable
	for _, leg := range legs {
		if areaOf(leg.Cable) < areaOf(thinnest) {
			thinnest = leg.Cable
		}
	}
	return v.thicker(thinnest)
}

// gain is about how many volts a thicker cable on some legs of one way gives
// back to its end.
func (v *view) gain(legs []*plan.Leg, cable *plan.CableType) float64 {
	total := 0.0
	for _, leg := range legs {
		if old := areaOf(leg.Cable); old < areaOf(cable) {
			total += v.dropOf(leg) * (1 - old/areaOf(cable))
		}
	}
	return total
}

// recable gives legs a thicker cable; those that are as thick already, or for
// which it is not fit, stay. It is false when none changes.
func (v *view) recable(legs []*plan.Leg, cable *plan.CableType) (Candidate, bool) {
	e := v.edit()
	var names []string
	lengthM, cost := 0.0, 0.0
	for _, leg := range legs {
		more := areaOf(cable) - areaOf(leg.Cable)
		if more <= 0 || !replaces(cable, leg.Cable) || cable.Cores != leg.Cable.Cores {
			continue
		}
		e.set(leg.Pointer, cable.ID, "cable")
		names = append(names, leg.ID)
		lengthM += legLength(leg)
		cost += legLength(leg) * more * v.weight("cable_per_m_mm2")
	}
	if len(names) == 0 {
		return Candidate{}, false
	}
	text := fmt.Sprintf("Use %s cable on %s, %s in all", cable.ID, theLegs(names), v.say(v.up(lengthM, cableStep)))
	if len(names) == 1 {
		text = fmt.Sprintf("Use %s cable instead of %s on leg %s, %s of it", cable.ID, v.legs[names[0]].Cable.ID, names[0], v.say(v.up(lengthM, cableStep)))
	}
	return Candidate{Kind: "cable", Text: text, Cost: cost, Patch: e.patch()}, true
}

// theLegs lists legs: "leg a", "legs a, b and c".
func theLegs(names []string) string {
	if len(names) == 1 {
		return "leg " + names[0]
	}
	last := len(names) - 1
	return "legs " + strings.Join(names[:last], ", ") + " and " + names[last]
}

// thickerLeg offers the next cable sizes for one leg, alone, with what lies
// between it and the transformer, and with the whole run.
func thickerLeg(v *view, f *finding.Finding) []Candidate {
	leg := v.legs[f.Element]
	if leg == nil {
		return nil
	}
	sets := [][]*plan.Leg{{leg}}
	if path := v.pathTo(leg.Run, leg.To); len(path) > 1 {
		sets = append(sets, path)
	}
	if len(leg.Run.Legs) > 1 {
		sets = append(sets, leg.Run.Legs)
	}
	var out []Candidate
	for _, legs := range sets {
		for _, cable := range v.thicker(leg.Cable) {
			if candidate, ok := v.recable(legs, cable); ok {
				candidate.Wide = len(legs) > 1
				out = append(out, candidate)
			}
		}
	}
	return out
}
