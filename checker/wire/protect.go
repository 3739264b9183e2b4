package wire

import (
	"cmp"
	"slices"
)

// Device is a breaker or fuse.
type Device struct {
	ID string
	// Amps is the rating; TripMultiple the multiple of it that surely opens
	// the device soon enough (a choice of the caller).
	Amps, TripMultiple float64
	// OverloadMultiple is how far above its ampacity a leg may be loaded until
	// the device opens, where the rating is not above that ampacity: 1.45 by
	// IEC 60364-4-43, 433.1 (rating <= ampacity, and the current that opens
	// the device <= 1.45 times ampacity). Cable so protected counts as
	// protected against faults of that size too. 0 means 1.
	OverloadMultiple float64
	// Feeds lists the feeds behind the device: those of a common or of a
	// tap, or all of them for a device on the primary.
	Feeds []string
	// PrimaryVolts is set for a device on the primary: its amps are then
	// compared after the turns ratio, secondary amps times tap volts over
	// primary volts.
	PrimaryVolts float64
}

// Protection is what one device does for the cables behind it.
type Protection struct {
	Device string
	// NeededAmps is rating times multiple, on the device's own side.
	NeededAmps float64
	// FarAt is the node where the lowest fault current is smallest, FarAmps
	// that current at the device. Ends of factory leads are left out. Clears
	// says that it is at least NeededAmps. FarAt is empty, and Clears true,
	// when nothing hangs on the device.
	FarAt   string
	FarAmps float64
	Clears  bool
	// Smallest is the leg with the smallest conductor behind the device.
	Smallest Behind
	// Weakest is the leg with the lowest stated ampacity behind it.
	Weakest Behind
	// Unknown lists the legs behind it without an ampacity.
	Unknown []string
	// Heated lists the legs that some bolted fault loads beyond what they may
	// carry without opening the device, one entry a leg.
	Heated []Heated
}

// Behind is a leg behind a device; Leg is empty when there is none.
type Behind struct {
	Leg           string
	Conductor     Conductor
	AmpacityAmps  float64
	AmpacityBasis string
}

// Heated is a leg that a fault loads for as long as the device stays closed.
type Heated struct {
	Leg string
	// At is the node of the fault, Amps the current in the leg: the largest
	// for which the device stays closed.
	At           string
	Amps         float64
	AmpacityAmps float64
	// AllowedAmps is what it may carry until the device opens: the ampacity,
	// or more behind a device that suits it; see Device.OverloadMultiple.
	AllowedAmps float64
}

// sameAmps is the rounding left in a current, relative.
const sameAmps = 1e-9

// allowed is what a leg of the given ampacity may carry until the device opens.
// Amps are on the device's own side, ratio turns the leg's into them.
func (d Device) allowed(ampacity, ratio float64) float64 {
	if d.Amps > ampacity*ratio {
		return ampacity
	}
	return ampacity * max(1, d.OverloadMultiple)
}

// Protect judges each device against the faults behind it. The error wraps
// ErrInput. Results are in the order of the devices.
func Protect(n Network, set FaultSetting, devices []Device) ([]Protection, error) {
	c, err := Compile(n)
	if err != nil {
		return nil, err
	}
	f, err := c.Shorts(set)
	if err != nil {
		return nil, err
	}
	return f.Protect(devices)
}

// Protect is [Protect] of the circuit.
func (f *Shorts) Protect(devices []Device) ([]Protection, error) {
	share := f.shares()
	out := make([]Protection, 0, len(devices))
	for _, d := range devices {
		if !sane(d.Amps, 0) || !sane(d.TripMultiple, 0) || !sane(d.OverloadMultiple, 0) ||
			!divisor(d.PrimaryVolts) {
			return nil, deviceError(d.ID)
		}
		out = append(out, f.protect(d, share))
	}
	return out, nil
}

// shares returns, for a fault at each named node, the part of its current
// that each leg carries, as a function to be called node by node.
func (f *Shorts) shares() func(k int, visit func(leg int, share float64)) {
	s := f.s
	if !s.c.plan.tree {
		return func(k int, visit func(int, float64)) {
			s.pushAmp(k)
			for i, ends := range s.c.legEnds {
				amps := s.legG[i] * (s.net.volts[ends[0]] - s.net.volts[ends[1]])
				if amps < 0 {
					amps = -amps
				}
				if amps > 1e-9 {
					visit(i, amps)
				}
			}
		}
	}
	up := make([]int, s.c.nodes) // step that removed each node, plus 1
	for t := range s.c.plan.steps {
		up[s.c.plan.steps[t].k] = t + 1
	}
	legs := make([][]int, len(s.c.edges))
	for i, e := range s.c.edgeOf {
		if e >= 0 {
			legs[e] = append(legs[e], i)
		}
	}
	return func(k int, visit func(int, float64)) {
		for up[k] > 0 {
			st := &s.c.plan.steps[up[k]-1]
			for _, i := range legs[st.ki] {
				visit(i, s.legG[i]/s.net.edge[st.ki])
			}
			k = st.i
		}
	}
}

// protect judges one device.
func (f *Shorts) protect(d Device, share func(int, func(int, float64))) Protection {
	c := f.s.c
	out := Protection{Device: d.ID, NeededAmps: d.Amps * d.TripMultiple, Clears: true}
	behind := f.behind(d)
	heated := map[int]Heated{}
	for k, name := range c.names {
		if c.feedOf[k] < 0 || !behind[c.feedOf[k]] {
			continue
		}
		fault := f.at(k, name, false)
		ratio := f.ratio(d, k)
		if amps := fault.LowestAmps * ratio; out.FarAt == "" || amps < out.FarAmps {
			out.FarAt, out.FarAmps = name, amps
		}
		if fault.LowestAmps*ratio >= out.NeededAmps {
			continue
		}
		most := min(fault.HighestAmps, out.NeededAmps/ratio)
		share(k, func(leg int, part float64) {
			amps, ampacity := most*part, c.legs[leg].AmpacityAmps
			allowed := d.allowed(ampacity, ratio)
			if ampacity > 0 && amps > allowed*(1+sameAmps) && amps > heated[leg].Amps {
				heated[leg] = Heated{c.legs[leg].ID, name, amps, ampacity, allowed}
			}
		})
	}
	out.Clears = out.FarAt == "" || out.FarAmps >= out.NeededAmps
	for _, h := range heated {
		out.Heated = append(out.Heated, h)
	}
	slices.SortFunc(out.Heated, func(a, b Heated) int { return cmp.Compare(a.Leg, b.Leg) })
	f.smallest(&out, behind)
	return out
}

// behind marks the parts of the network (by their first feed) that hang on
// the device.
func (f *Shorts) behind(d Device) map[int]bool {
	c := f.s.c
	parts := map[int]bool{}
	for i := range c.feeds {
		if slices.Contains(d.Feeds, c.feeds[i].ID) {
			parts[c.feedOf[c.feedAt[i]]] = true
		}
	}
	return parts
}

// ratio turns secondary amps at node k into amps at the device.
func (f *Shorts) ratio(d Device, k int) float64 {
	if d.PrimaryVolts == 0 {
		return 1
	}
	return f.s.c.feeds[f.part[k]].Volts / d.PrimaryVolts
}

// smallest finds the smallest conductor, the lowest ampacity and the legs
// without one.
func (f *Shorts) smallest(out *Protection, behind map[int]bool) {
	c := f.s.c
	for i := range c.legs {
		l := &c.legs[i]
		if part := c.feedOf[c.legEnds[i][0]]; part < 0 || !behind[part] {
			continue
		}
		b := Behind{l.ID, l.Conductor, l.AmpacityAmps, l.AmpacityBasis}
		if out.Smallest.Leg == "" || l.Conductor.OhmPerM20 > out.Smallest.Conductor.OhmPerM20 {
			out.Smallest = b
		}
		if l.AmpacityAmps <= 0 {
			out.Unknown = append(out.Unknown, l.ID)
		} else if out.Weakest.Leg == "" || l.AmpacityAmps < out.Weakest.AmpacityAmps {
			out.Weakest = b
		}
	}
}
