// Package profile holds the limits that rules judge against. A profile is a
// named set of limits for a jurisdiction or a place, data and not code: each
// number says its unit, its source, and how sure that source is. Profiles
// stack; later ones win, and what they overrode is remembered.
//
//	set, err := profile.Bundled()
//	limits, err := set.Stack([]string{"us-nec-2020", "shore-wildlife"})
//	setback, ok := limits.In("ft").Number("water.setback_m")
//
// The profile "common" is always at the bottom of a stack. It holds common
// practice only, so that it never passes for law. A profile may stand on
// others, which are then put below it. Profiles of different electrical codes
// do not mix: a profile of another code family takes the place of those stacked
// before it, so that a plan judged under one code never borrows a table of
// another.
package profile
