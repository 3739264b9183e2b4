package numeric

import (
	"fmt"
	"strings"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/measure"
	"duskproof/checker/rule"
)

// judgeExcessDrop finds runs that lose more than the profile's limit on the way
// to their worst lamp. A tap above the lamps' rating that is used on purpose, with
// every window of the run held, is left alone where the limit is advice.
func judgeExcessDrop(v *View, emit func(rule.Hit)) {
	limit, ok := v.number("wire.drop_max")
	if !ok {
		return
	}
	severity := v.word("wire.drop_severity", finding.Advice.String())
	lamps := byRun(v.Fixtures)
	for i := range v.Runs {
		run := &v.Runs[i]
		worst := worstDrop(lamps[run.ID])
		if !run.Solved || worst == nil || *worst.DropShare <= limit+ratioTolerance {
			continue
		}
		if severity == finding.Advice.String() && deliberateTap(run, lamps[run.ID]) {
			continue
		}
		share, most := measure.SharePair(*worst.DropShare, limit)
		emit(rule.Hit{
			Element: run.ID, Field: []any{"from"}, Severity: severity, LimitName: "wire.drop_max",
			Message: fmt.Sprintf("run %s loses %s on the way to lamp %s, %s of its %s tap; the limit is %s%s (wire and joints, nominal supply)",
				run.ID, measure.Text(*worst.DropV, "V", v.Units), worst.ID, share, measure.Text(run.TapVolts, "V", v.Units), most, advised(v, limit)),
			Value: ptr(*worst.DropShare), Limit: ptr(limit), Unit: "1",
		})
	}
}

// advised tells of a lower drop that the profile advises.
func advised(v *View, limit float64) string {
	lower, ok := v.number("wire.drop_advice")
	if !ok || lower >= limit-ratioTolerance {
		return ""
	}
	share, _ := measure.SharePair(lower, limit)
	return fmt.Sprintf(", and %s is advised", share)
}

func byRun(fixtures []facts.Fixture) map[string][]*facts.Fixture {
	lamps := map[string][]*facts.Fixture{}
	for i := range fixtures {
		f := &fixtures[i]
		lamps[f.Run] = append(lamps[f.Run], f)
	}
	return lamps
}

func worstDrop(lamps []*facts.Fixture) *facts.Fixture {
	var worst *facts.Fixture
	for _, f := range lamps {
		if f.DropShare != nil && (worst == nil || *f.DropShare > *worst.DropShare+ratioTolerance) {
			worst = f
		}
	}
	return worst
}

// deliberateTap reports whether the run sits on a tap above every lamp's
// rating while every lamp's window holds.
func deliberateTap(run *facts.Run, lamps []*facts.Fixture) bool {
	for _, f := range lamps {
		if run.TapVolts <= f.RatedVolts+voltTolerance || !windowHolds(f) {
			return false
		}
	}
	return true
}

// windowHolds reports whether a lamp stays in its window: in every corner, or at
// nominal supply for a filament lamp, whose life is an average over years.
func windowHolds(f *facts.Fixture) bool {
	low, high := f.LowVolts, f.HighVolts
	if f.Load == filament {
		low, high = f.NominalVolts, f.NominalVolts
	}
	if f.MinVolts == nil || f.MaxVolts == nil || low == nil || high == nil {
		return false
	}
	return *low >= *f.MinVolts-voltTolerance && *high <= *f.MaxVolts+voltTolerance
}

// judgeUndersized finds legs that carry more than their ampacity (danger), sit
// behind a larger device than the ampacity marked on them, or are thinner than
// the profile allows (both advice).
func judgeUndersized(v *View, emit func(rule.Hit)) {
	for i := range v.Legs {
		leg := &v.Legs[i]
		if leg.AmpacityA != nil {
			judgeAmpacity(v, leg, emit)
		}
		judgeSmallest(v, leg, emit)
	}
}

// judgeSmallest holds a leg against the profile's smallest conductor, which is
// smaller for a short flexible cable.
func judgeSmallest(v *View, leg *facts.Leg, emit func(rule.Hit)) {
	name := "wire.smallest_mm2"
	if longest, ok := v.number("wire.smallest_flexible_m"); ok && leg.Flexible && leg.LengthM != nil && *leg.LengthM <= longest+lengthTolerance {
		name = "wire.smallest_flexible_mm2"
	}
	smallest, ok := v.number(name)
	if !ok || leg.Conductor == "" || leg.AreaMM2 >= smallest-ratioTolerance {
		return
	}
	area, limit := measure.Pair(leg.AreaMM2, smallest, "mm2", v.Units)
	size := area
	if !strings.HasSuffix(leg.Conductor, "mm2") {
		size = fmt.Sprintf("%s (%s)", leg.Conductor, area)
	}
	emit(rule.Hit{
		Element: leg.ID, Field: cableField(), Case: "smallest size", Severity: finding.Advice.String(), LimitName: name,
		Message: fmt.Sprintf("leg %s has conductors of %s; the profile's smallest conductor is %s", leg.ID, size, limit),
		Value:   ptr(leg.AreaMM2), Limit: ptr(smallest), Unit: "mm2",
	})
}

func judgeAmpacity(v *View, leg *facts.Leg, emit func(rule.Hit)) {
	most := *leg.AmpacityA
	switch {
	case leg.Amps > most+ampTolerance:
		emit(overloaded(v, leg))
	case leg.AmpacityMarked && leg.DeviceAmps != nil && *leg.DeviceAmps > most+ampTolerance:
		device, limit := measure.Pair(*leg.DeviceAmps, most, "A", v.Units)
		emit(rule.Hit{
			Element: leg.ID, Field: cableField(), Case: "device", Severity: finding.Advice.String(),
			Basis: string(finding.Listing), Source: markSource,
			Message: fmt.Sprintf("leg %s (%s, marked %s) sits behind a %s device; a fault can load the cable beyond its mark without a trip%s",
				leg.ID, leg.Conductor, limit, device, deviceTable(v, leg)),
			Value: ptr(*leg.DeviceAmps), Limit: ptr(most), Unit: "A",
		})
	}
}

// deviceTable tells what the profile's table has for the conductor, where the device
// is larger than that as well.
func deviceTable(v *View, leg *facts.Leg) string {
	if leg.LargestDeviceA == nil || *leg.DeviceAmps <= *leg.LargestDeviceA+ampTolerance {
		return ""
	}
	return fmt.Sprintf(" (for reference: %s has %s as the largest device on %s)",
		leg.LargestDeviceSource, measure.Text(*leg.LargestDeviceA, "A", v.Units), leg.Conductor)
}

const markSource = "ampacity marked on the cable"

// overloaded is a leg that carries more than its mark, or than the profile's
// table where it has none.
func overloaded(v *View, leg *facts.Leg) rule.Hit {
	amps, limit := measure.Pair(leg.Amps, *leg.AmpacityA, "A", v.Units)
	hit := rule.Hit{
		Element: leg.ID, Field: cableField(), Case: "load", LimitName: "wire.ampacity",
		Message: fmt.Sprintf("leg %s carries %s at %s; its %s cable may carry %s (%s): it will run hot where nobody sees it",
			leg.ID, amps, leg.AmpsCorner, leg.Conductor, limit, leg.AmpacitySource),
		Value: ptr(leg.Amps), Limit: ptr(*leg.AmpacityA), Unit: "A",
	}
	if leg.AmpacityMarked {
		hit.LimitName, hit.Basis, hit.Source = "", string(finding.Listing), markSource
	}
	return hit
}

func cableField() []any {
	return []any{"cable"}
}

// judgeNoSolution finds runs whose constant-power lamps have no stable volts.
func judgeNoSolution(v *View, emit func(rule.Hit)) {
	for i := range v.Runs {
		run := &v.Runs[i]
		if run.Solved {
			continue
		}
		var could strings.Builder
		if run.CouldCarryVA != nil {
			fmt.Fprintf(&could, "; the most it could feed is about %s", measure.Text(*run.CouldCarryVA, "VA", v.Units))
		}
		emit(rule.Hit{
			Element: run.ID, Field: []any{"from"},
			Message: fmt.Sprintf("run %s cannot carry its %s of constant-power lamps (%s): their drivers pull more current as the volts fall, and the volts collapse%s",
				run.ID, measure.Text(run.ConnectedVA, "VA", v.Units), run.Corner, could.String()),
			Value: ptr(run.ConnectedVA), Limit: run.CouldCarryVA, Unit: "VA",
		})
	}
}
