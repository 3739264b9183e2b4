package numeric

import (
	"fmt"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/measure"
	"duskproof/checker/rule"
)

// Kinds of load, as facts name them.
const (
	filament        = "filament"
	resistive       = "resistive"
	constantPower   = "constant-power"
	constantCurrent = "constant-current"
)

// led reports whether a lamp has a driver.
func led(f *facts.Fixture) bool { return f.Load == constantPower || f.Load == constantCurrent }

// Cases of the lamp rules. They stay the same while the worst corner moves from
// one to another.
const (
	caseNominal = "nominal"
	caseCorner  = "corner"
	caseDropOut = "drop-out"
	caseAssumed = "no stated window"
)

const nominalSupply = "nominal supply"

// windowSource is what a judgment by a stated window rests on.
const windowSource = "the fixture's stated voltage window"

// lampVolts is one judgment on the volts of one lamp.
type lampVolts struct {
	volts, limit float64
	corner       string // where the volts were found
	says         string // what the limit is
	so           string // what comes of it
	severity     finding.Severity
	name         string // of the case
	limitName    string // when the limit comes from the profile
}

func (l lampVolts) hit(v *View, f *facts.Fixture) rule.Hit {
	have, want := measure.Pair(l.volts, l.limit, "V", v.Units)
	source := ""
	if f.MinVolts != nil && l.limit == *f.MinVolts || f.MaxVolts != nil && l.limit == *f.MaxVolts {
		source = windowSource
	}
	return rule.Hit{
		Element: f.ID, Field: []any{"type"}, Case: l.name, Severity: l.severity.String(), LimitName: l.limitName, Source: source,
		Message: fmt.Sprintf("lamp %s gets %s at %s; %s %s, so %s", f.ID, have, l.telling(v, f, have), l.says, want, l.so),
		Value:   ptr(l.volts), Limit: ptr(l.limit), Unit: "V",
	}
}

// telling names the first corner with every lamp on, or of a scene, whose volts
// print the same; a difference that nobody can read is no reason to speak of a
// lamp that is out.
func (l lampVolts) telling(v *View, f *facts.Fixture, have string) string {
	for _, c := range f.Corners {
		if other, _ := measure.Pair(c.Volts, l.limit, "V", v.Units); other == have {
			return c.Corner
		}
	}
	return l.corner
}

// judgeStarved finds lamps below their window.
//
// Below the window at nominal supply is a defect, and so is a driver that drops
// out in any corner, since its lamp goes out. Below the window in a corner
// only is advice: the lamp is dim for a while. A lamp without a stated window is
// held against what the trade expects of its kind; see [assumedStarved].
func judgeStarved(v *View, emit func(rule.Hit)) {
	for i := range v.Fixtures {
		f := &v.Fixtures[i]
		if f.NominalVolts == nil || f.LowVolts == nil {
			continue
		}
		if f.DropsOut && f.DropOutV != nil {
			emit(droppedOut(v, f))
		} else if found, ok := starved(v, f); ok {
			emit(found.hit(v, f))
		}
	}
}

// droppedOut is a lamp whose driver goes out: once it is out it draws less and
// its volts rise, so they are no measure of what it lacked.
func droppedOut(v *View, f *facts.Fixture) rule.Hit {
	return rule.Hit{
		Element: f.ID, Field: []any{"type"}, Case: caseDropOut, Severity: finding.Defect.String(),
		Message: fmt.Sprintf("lamp %s goes out at %s: its driver needs %s and cannot hold them, so it will be dark or flicker",
			f.ID, f.DropsOutAt, measure.Text(*f.DropOutV, "V", v.Units)),
		Limit: ptr(*f.DropOutV), Unit: "V",
	}
}

func starved(v *View, f *facts.Fixture) (lampVolts, bool) {
	switch {
	case f.MinVolts == nil:
		return assumedStarved(v, f)
	case *f.NominalVolts < *f.MinVolts-voltTolerance:
		return lampVolts{*f.NominalVolts, *f.MinVolts, nominalSupply, "its window starts at", "it will be dim every night",
			finding.Defect, caseNominal, ""}, true
	case *f.LowVolts < *f.MinVolts-voltTolerance:
		return lampVolts{*f.LowVolts, *f.MinVolts, f.LowCorner, "its window starts at", "it will be dim on such nights",
			finding.Advice, caseCorner, ""}, true
	}
	return lampVolts{}, false
}

// assumedStarved judges a lamp without a stated window: a filament lamp by the
// profile's shares of its rating (a defect, or advice), an LED by the window that
// is usual for its volts (advice: its driver may well be made for less).
func assumedStarved(v *View, f *facts.Fixture) (lampVolts, bool) {
	low := func(limit, so string, severity finding.Severity) (lampVolts, bool) {
		share, ok := v.number(limit)
		least := share * f.RatedVolts
		return lampVolts{*f.NominalVolts, least, nominalSupply, "it states no window, and lamps of its kind want at least",
			so, severity, caseAssumed, limit}, ok && *f.NominalVolts < least-voltTolerance
	}
	switch {
	case f.Load == filament:
		if found, ok := low("wire.filament_low_defect", "it will be dim and yellow, and its glass blackens", finding.Defect); ok {
			return found, true
		}
		return low("wire.filament_low_advice", "it will be dim and yellow", finding.Advice)
	case led(f) && ratedForTap(f):
		return low("wire.led_window_low", "look up whether its driver works there", finding.Advice)
	}
	return lampVolts{}, false
}

// otherVolts is how far a tap may lie above a lamp's volts before the lamp is
// taken to be made for other volts than the plan's usual ones: 24 V on a lamp
// that states nothing.
const otherVolts = 1.5

func ratedForTap(f *facts.Fixture) bool {
	return f.TapVolts != nil && *f.TapVolts < otherVolts*f.RatedVolts
}

// judgeOverfed finds lamps above their window.
//
// An LED lamp above its window at nominal or high supply is a defect: its
// driver fails early. A filament lamp above its rating is advice up to the
// profile's share and a defect above it, at nominal supply; in a corner it is
// advice, since lamp life is an average over years.
func judgeOverfed(v *View, emit func(rule.Hit)) {
	for i := range v.Fixtures {
		f := &v.Fixtures[i]
		if f.NominalVolts == nil || f.HighVolts == nil {
			continue
		}
		if found, ok := overfed(v, f); ok {
			emit(found.hit(v, f))
		}
	}
}

func overfed(v *View, f *facts.Fixture) (lampVolts, bool) {
	if f.Load == filament {
		return filamentOverfed(v, f)
	}
	if f.MaxVolts == nil {
		return assumedOverfed(v, f)
	}
	switch most := *f.MaxVolts; {
	case *f.NominalVolts > most+voltTolerance:
		return lampVolts{*f.NominalVolts, most, nominalSupply, "its window ends at", "it will fail early",
			finding.Defect, caseNominal, ""}, true
	case *f.HighVolts > most+voltTolerance:
		severity, so := finding.Advice, "it will live shorter where the mains runs high"
		if led(f) {
			severity, so = finding.Defect, "its driver can fail on such a night"
		}
		return lampVolts{*f.HighVolts, most, f.HighCorner, "its window ends at", so, severity, caseCorner, ""}, true
	}
	return lampVolts{}, false
}

// filamentOverfed judges a filament lamp by its window, or by its rating when
// it states none. The profile's shares are of the rating; a window that ends
// higher is the maker's word and goes before them.
func filamentOverfed(v *View, f *facts.Fixture) (lampVolts, bool) {
	top, says, limit := f.RatedVolts*v.numberOr("wire.filament_over_advice", 1), "it is rated for", "wire.filament_over_advice"
	if f.MaxVolts != nil {
		top, says, limit = *f.MaxVolts, "its window ends at", ""
	}
	grave := max(top, f.RatedVolts*v.numberOr("wire.filament_over_defect", 1))
	switch {
	case *f.NominalVolts > grave+voltTolerance:
		return lampVolts{*f.NominalVolts, top, nominalSupply, says, "it will burn out long before its time", finding.Defect, caseNominal, limit}, true
	case *f.NominalVolts > top+voltTolerance:
		return lampVolts{*f.NominalVolts, top, nominalSupply, says, "it will live shorter than its rating", finding.Advice, caseNominal, limit}, true
	case *f.HighVolts > top+voltTolerance:
		return lampVolts{*f.HighVolts, top, f.HighCorner, says, "it will live shorter where the mains runs high", finding.Advice, caseCorner, limit}, true
	}
	return lampVolts{}, false
}

// assumedOverfed judges an LED without a stated window by the window that is
// usual for its volts.
func assumedOverfed(v *View, f *facts.Fixture) (lampVolts, bool) {
	share, ok := v.number("wire.led_window_high")
	most := share * f.RatedVolts
	if !ok || !led(f) || !ratedForTap(f) || *f.NominalVolts <= most+voltTolerance {
		return lampVolts{}, false
	}
	return lampVolts{*f.NominalVolts, most, nominalSupply, "it states no window, and lamps of its kind stand at most",
		"look up whether its driver bears that", finding.Advice, caseAssumed, "wire.led_window_high"}, true
}
