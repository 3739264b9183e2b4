// Package wire computes what an extra-low-voltage lighting network really
// does: volts at every lamp, amps in every cable, losses, and the current of
// a short circuit. It holds pure functions: no input or output, no clock, and
// no other package of the module.
//
// # Model
//
// The unit of solution is one power unit with everything it feeds, a
// [Network]. Its feeds (one common terminal at one tap) share one internal
// impedance. Cables are resistive; a [Leg] is a two-conductor cable whose
// length is stated one way and whose resistance counts both conductors.
//
// Alternating quantities are RMS and add in phase. The power factor of LED
// drivers is mostly distortion, so a lamp draws P/(V*PF) and the drops of all
// lamps add arithmetically. Where a displaced current is in truth part of the
// mixture, the true drop is smaller: for a lamp of power factor cos(phi) on a
// resistive cable by at most the factor cos(phi). The winding reactance is
// used for faults and left out of the load flow, which makes the loaded tap
// too high by at most (x*u)^2/2 of the tap volts (0.08 % at 4 % reactance and
// full load u = 1).
//
// Left out, with the size of the error: the rise of winding resistance with
// temperature (take it into the impedance bracket); cable reactance, about 0.25
// mohm per metre of cable at 60 Hz (from memory), which raises the impedance of
// 10 AWG by less than 0.1 % and of 8 AWG by less than 0.2 %; core loss and
// magnetising current (no effect on the secondary side); skin effect at mains
// frequency (none at these sizes). On high-frequency electronic
// supplies cable inductance does count; their listed largest distance is the
// limit, not this computation.
//
// # Use
//
// [Solve] answers one corner, [Analyse] a whole set of corners with every
// lamp out in turn, [Faults] the short circuits, [Topology] the mistakes of
// connection. All lists in answers are sorted by id, and the answers do not
// depend on the order of the input.
package wire
