// Package site is the plane geometry of a lighting plan: what a gate sweeps,
// what lies above a buried cable, how far a thing is from water, a path edge
// or the property line, and how deep a cable must lie under what is above it.
//
// Everything here is a pure function of its arguments. Nothing reads a file, a
// clock or the environment, and nothing knows the plan format: elements are
// named by their ids, as strings.
//
// # Conventions
//
// Points are in metres, x to the east and y to plan north. Bearings are in
// degrees, clockwise from plan north, in [0, 360). Left and right are as seen
// by someone who walks along a line from its first point to its last, or who
// stands at a hinge and looks along the closed leaf.
//
// A polygon is a ring; its last point is joined to its first, and repeating
// the first point at the end changes nothing. Either orientation is accepted.
// Regions are closed: a point on the boundary is in the region, and a cable
// that runs exactly along the edge of a drive is under the drive.
//
// # Tolerance
//
// Two things nearer than [TouchM] touch. Coordinates up to [MaxCoordM] are
// resolved to about 1e-10 m by a float64, four orders finer than TouchM, so a
// comparison with TouchM cannot be upset by rounding.
//
// # Bad input
//
// A coordinate is usable when it is finite and not beyond MaxCoordM either
// way. No function panics on unusable input. Unless a function says otherwise,
// a distance, length or area is NaN when any coordinate or size it depends on
// is unusable, a distance to something with no points is +Inf, a point is in
// no region that is unusable, and a list of spans, pieces or crossings is nil.
// NaN and +Inf fail every "is it too near" comparison, so a caller that must
// not pass in silence asks [Known] first.
package site
