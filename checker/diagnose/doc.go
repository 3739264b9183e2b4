// Package diagnose compares meter readings of a finished system with its model
// and ranks what would explain the difference: one bad joint, one dead lamp,
// one lamp of another wattage, a leak, a wrong tap, a swapped cable.
//
// Everything here is a pure function. The network is that of package wire, one
// power unit at a time.
//
// # How it works
//
// Each explanation is one change to the network with at most one unknown size.
// The size is fitted to the readings together with what nobody knows exactly:
// the resistance of all cable (its temperature and make), the mains voltage,
// and the power of all lamps. The misfit of an explanation is
//
//	sum ((reading - predicted)/sigma)^2 + sum (nuisance/its sigma)^2
//
// the smaller the better. An explanation counts only when its misfit is smaller
// than that of the healthy model by more than chance allows. Explanations that
// predict the same readings, to within the meter, cannot be told apart: they
// are one group, and the next reading to take is the one that splits the
// leading groups best.
package diagnose
