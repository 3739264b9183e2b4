package light

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// seen is an occluder as it is seen from a luminaire: how far from an axis.
type seen struct {
	bounded
	// near and far are cosines of the least and the greatest angle to the
	// axis at which a place of it may be.
	near, far float64
}

// angleSlack widens the cosines of angles so that rounding never hides a thing.
const angleSlack = 1e-9

// newSeen takes the sphere round the box of an occluder, as much of it as is above a
// level, for the occluder.
func newSeen(o bounded, from, axis r3.Vec, aboveM float64) seen {
	out := seen{bounded: o, near: 1, far: -1}
	low, high := o.bounds.Min, o.bounds.Max
	low.Z = max(low.Z, aboveM)
	to := r3.Sub(r3.Scale(0.5, r3.Add(low, high)), from)
	d, radius := length(to), length(r3.Sub(high, low))/2+10*GrazeM
	if d <= radius {
		return out
	}
	middle, half := math.Acos(max(-1, min(1, r3.Dot(axis, to)/d))), math.Asin(radius/d)
	if middle > half {
		out.near = math.Cos(middle-half) + angleSlack
	}
	if middle+half < math.Pi {
		out.far = math.Cos(middle+half) - angleSlack
	}
	return out
}

// seenFrom lists what may stand in the way of light from a source, without its
// own host and without the occluders of the given names, in the order in which
// through meets them. What is below a level is not in the way.
func (o *obstacles) seenFrom(src *source, axis r3.Vec, except []string, aboveM float64) []seen {
	out := make([]seen, 0, len(o.items))
	for _, item := range o.inOrder {
		if item.bounds.Max.Z >= aboveM && !isHost(item, src) && !slices.Contains(except, item.Name()) {
			out = append(out, newSeen(item, src.at, axis, aboveM))
		}
	}
	return out
}

// within appends those of all that light may meet which leaves at angles to the
// axis whose cosines are from low to high.
func within(out, all []seen, low, high float64) []seen {
	for i := range all {
		if all[i].between(low, high) {
			out = append(out, all[i])
		}
	}
	return out
}

// between reports whether a place of the occluder may be at an angle to the axis
// whose cosine is from low to high.
func (s *seen) between(low, high float64) bool { return s.near >= low && s.far <= high }

// pastThese is the share of light from the source that gets past its own hosts,
// unless they are let out, and past what is listed, along one ray.
func pastThese(src *source, hosts bool, ahead []seen, s *ray, to r3.Vec) float64 {
	share := 1.0
	if hosts {
		share = src.pastHosts(to)
	}
	if len(ahead) == 0 {
		return share
	}
	probe := s.probe()
	for i := range ahead {
		if share <= 0 {
			break
		}
		if probe.touches(&ahead[i].bounds) {
			share *= passOne(ahead[i].Occluder, s)
		}
	}
	return share
}
