package numeric

import (
	"fmt"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/measure"
	"duskproof/checker/rule"
)

const filament = "filament"

// judgeStarved finds lamps below their window.
//
// Below the window at nominal supply is a defect, and so is an LED lamp below
// its drop-out in any corner, since it goes out. Below the window in a corner
// only is advice: the lamp is dim for a while.
func judgeStarved(v *View, emit func(rule.Hit)) {
	for i := range v.Fixtures {
		f := &v.Fixtures[i]
		if f.NominalVolts == nil || f.LowVolts == nil {
			continue
		}
		if f.DropOutV != nil && f.Load != filament && *f.LowVolts < *f.DropOutV-voltTolerance {
			emit(starved(v, f, *f.LowVolts, *f.DropOutV, f.LowCorner, "drop_out", finding.Defect,
				"its driver goes out below", "it will be dark or flicker"))
			continue
		}
		if f.MinVolts == nil {
			continue
		}
		switch {
		case *f.NominalVolts < *f.MinVolts-voltTolerance:
			emit(starved(v, f, *f.NominalVolts, *f.MinVolts, "nominal supply", "window", finding.Defect,
				"its window starts at", "it will be dim every night"))
		case *f.LowVolts < *f.MinVolts-voltTolerance:
			emit(starved(v, f, *f.LowVolts, *f.MinVolts, f.LowCorner, "window", finding.Advice,
				"its window starts at", "it will be dim when the mains is low"))
		}
	}
}

func starved(v *View, f *facts.Fixture, volts, limit float64, corner, what string, severity finding.Severity, says, so string) rule.Hit {
	have, want := measure.Pair(volts, limit, "V", v.Units)
	return rule.Hit{
		Element: f.ID, Field: []any{"type"}, Case: caseOf(corner, what), Severity: severity.String(),
		Message: fmt.Sprintf("lamp %s gets %s (%s); %s %s, so %s", f.ID, have, corner, says, want, so),
		Value:   ptr(volts), Limit: ptr(limit), Unit: "V",
	}
}

// caseOf is stable while the worst corner moves from one to another of the
// same kind: only nominal is told apart from the corners.
func caseOf(corner, what string) string {
	if corner == "nominal supply" {
		return "nominal"
	}
	return "corner " + what
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
		if f.NominalVolts == nil || f.HighVolts == nil || f.MaxVolts == nil {
			continue
		}
		if f.Load == filament {
			filamentOverfed(v, f, emit)
			continue
		}
		switch {
		case *f.NominalVolts > *f.MaxVolts+voltTolerance:
			emit(overfed(v, f, *f.NominalVolts, "nominal supply", finding.Defect, "its driver will fail early"))
		case *f.HighVolts > *f.MaxVolts+voltTolerance:
			emit(overfed(v, f, *f.HighVolts, f.HighCorner, finding.Defect, "its driver can fail on such a night"))
		}
	}
}

func filamentOverfed(v *View, f *facts.Fixture, emit func(rule.Hit)) {
	share, ok := v.number("wire.filament_over_defect")
	if !ok {
		share = 1
	}
	most := *f.MaxVolts
	switch {
	case *f.NominalVolts > share*most+voltTolerance:
		emit(overfed(v, f, *f.NominalVolts, "nominal supply", finding.Defect, "it will burn out long before its time"))
	case *f.NominalVolts > most+voltTolerance:
		emit(overfed(v, f, *f.NominalVolts, "nominal supply", finding.Advice, "it will live shorter than its rating"))
	case *f.HighVolts > most+voltTolerance:
		emit(overfed(v, f, *f.HighVolts, f.HighCorner, finding.Advice, "it will live shorter where the mains runs high"))
	}
}

func overfed(v *View, f *facts.Fixture, volts float64, corner string, severity finding.Severity, so string) rule.Hit {
	have, want := measure.Pair(volts, *f.MaxVolts, "V", v.Units)
	return rule.Hit{
		Element: f.ID, Field: []any{"type"}, Case: caseOf(corner, "window"), Severity: severity.String(),
		Message: fmt.Sprintf("lamp %s gets %s (%s); its window ends at %s, so %s", f.ID, have, corner, want, so),
		Value:   ptr(volts), Limit: ptr(*f.MaxVolts), Unit: "V",
	}
}
