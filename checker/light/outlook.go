package light

import (
	"math"
	"math/bits"

	"gonum.org/v1/gonum/spatial/r3"
)

// outlook is what may stand in the way of light from one place: sets of obstacles,
// one bit for each in the order of the tree. What may meet a ray is in the set of
// its bearing, in that of its length, and in that of rays which rise or fall. It
// answers sooner than the tree does, and the same.
type outlook struct {
	words int      // of a set
	sets  []uint64 // sectors, then reaches, then those for rays that fall and rise
}

const (
	outlookSectors = 32
	mostOutlook    = 256 // more obstacles are left to the tree
)

// outlookReachM are the lengths that rays are sorted by; the last is any.
var outlookReachM = [...]float64{1, 1.5, 2, 3, 4, 6, 9, 13, 20, math.Inf(1)}

const (
	outlookFalling = outlookSectors + len(outlookReachM)
	outlookRising  = outlookFalling + 1
	outlookSets    = outlookRising + 1
)

// newOutlook looks round from a source, past its own host; nil where the tree is
// better.
func (o *obstacles) newOutlook(src *source) *outlook {
	if len(o.items) == 0 || len(o.items) > mostOutlook {
		return nil
	}
	v := &outlook{words: (len(o.items) + 63) / 64}
	v.sets = make([]uint64, outlookSets*v.words)
	for i, item := range o.inOrder {
		if isHost(item.Occluder, src) {
			continue
		}
		column, bit := v.sets[i/64:], uint64(1)<<(i%64)
		add := func(set int) { column[set*v.words] |= bit }
		b := growBox(item.bounds, 2*GrazeM)
		first, count := sectorsOf(&b, src.at)
		for k := range count {
			add((first + k) % outlookSectors)
		}
		gap := boxGap(&b, src.at)
		for k := len(outlookReachM) - 1; k >= 0 && gap <= outlookReachM[k]; k-- {
			add(outlookSectors + k)
		}
		if b.Min.Z <= src.at.Z {
			add(outlookFalling)
		}
		if b.Max.Z >= src.at.Z {
			add(outlookRising)
		}
	}
	return v
}

func growBox(b r3.Box, by float64) r3.Box {
	grow := r3.Vec{X: by, Y: by, Z: by}
	return r3.Box{Min: r3.Sub(b.Min, grow), Max: r3.Add(b.Max, grow)}
}

// boxGap is the distance from a place to a box.
func boxGap(b *r3.Box, at r3.Vec) float64 {
	low, high := r3.Sub(b.Min, at), r3.Sub(b.Max, at)
	return length(r3.Vec{X: axisGap(low.X, high.X), Y: axisGap(low.Y, high.Y), Z: axisGap(low.Z, high.Z)})
}

// turnOf says how far a level direction is turned: it grows from 0 to 4 once round,
// as an angle does, but not evenly.
func turnOf(x, y float64) float64 {
	switch size := math.Abs(x) + math.Abs(y); {
	case size == 0:
		return 0
	case y < 0:
		return 3 + x/size
	default:
		return 1 - x/size
	}
}

// sectorsOf are the sectors that a box lies in, seen from above: how many, and the
// first. After the last one comes the first.
func sectorsOf(b *r3.Box, at r3.Vec) (first, count int) {
	left, right, below, above := b.Min.X-at.X, b.Max.X-at.X, b.Min.Y-at.Y, b.Max.Y-at.Y
	if left <= 0 && right >= 0 && below <= 0 && above >= 0 {
		return 0, outlookSectors
	}
	middle := turnOf(left+right, below+above)
	low, high := middle, middle
	for _, turn := range [...]float64{turnOf(left, below), turnOf(right, below), turnOf(right, above), turnOf(left, above)} {
		switch { // less than half of the way round from the middle
		case turn > middle+2:
			turn -= 4
		case turn < middle-2:
			turn += 4
		}
		low, high = min(low, turn), max(high, turn)
	}
	if low < 0 {
		low, high = low+4, high+4
	}
	first = int(low * outlookSectors / 4)
	return first, int(high*outlookSectors/4) - first + 1
}

// through is how much of a share of light gets past what may stand in the way of a
// ray.
func (v *outlook) through(share float64, o *obstacles, s *ray) float64 {
	probe := s.probe()
	sector, reach, slope := int(turnOf(s.along.X, s.along.Y)*outlookSectors/4)%outlookSectors, outlookSectors, outlookFalling
	for s.length > outlookReachM[reach-outlookSectors] {
		reach++
	}
	if s.along.Z > 0 {
		slope = outlookRising
	}
	for w := range v.words {
		set := v.sets[sector*v.words+w] & v.sets[reach*v.words+w] & v.sets[slope*v.words+w]
		for ; set != 0 && share > 0; set &= set - 1 {
			item := &o.inOrder[w*64+bits.TrailingZeros64(set)]
			if probe.touches(&item.bounds) {
				share *= passOne(item.Occluder, s)
			}
		}
	}
	return share
}
