package light

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"
)

// bandCount is the number of bands into which the directions round a luminaire
// are cut for the cut-off, equal in the cosine of the angle from straight down.
// Light on the ground far away leaves close to the horizon, where garden
// luminaires give little; one bound for all directions would hide that.
const bandCount = 20

// bands is the most a luminaire, or all luminaires below a node, can give in any
// direction of each band, in candela.
type bands [bandCount]float64

// enveloped distributions know their greatest intensity between two angles from
// the photometric axis, over all planes, in candela per lumen.
type enveloped interface {
	maxBetween(lowDeg, highDeg float64) float64
}

// bandSlack widens angle ranges so that rounding never narrows a bound.
const bandSlack = 1e-6

// newBands bounds a luminaire's intensity in each band of world directions. A
// direction at angle a from straight down is between |a-t| and a+t from an axis
// that leans by t.
func newBands(l *lamp) bands {
	var b bands
	env, ok := l.Light.(enveloped)
	lean := leanDeg(&l.frame)
	for k := range b {
		b[k] = l.candela
		if !ok {
			continue
		}
		near := degrees(math.Acos(1 - 2*float64(k)/bandCount))
		far := degrees(math.Acos(max(-1, 1-2*float64(k+1)/bandCount)))
		low := max(0, near-lean, lean-far)
		high := far + lean
		switch {
		case near+lean >= 180:
			high = 360 - near - lean
		case high > 180:
			high = 180
		}
		b[k] = min(l.candela, l.flux*env.maxBetween(low-bandSlack, high+bandSlack))
	}
	return b
}

// leanDeg is the angle between the photometric axis and straight down.
func leanDeg(f *frame) float64 { return degrees(math.Acos(max(-1, min(1, f.z.Z)))) }

func (b *bands) add(other *bands) {
	for k := range b {
		b[k] += other[k]
	}
}

// between is the greatest of the bands from one cosine to another.
func (b *bands) between(lowCos, highCos float64) float64 {
	const slack = 1e-9
	first := max(0, int((1-highCos-slack)*bandCount/2))
	last := min(bandCount-1, int((1-lowCos+slack)*bandCount/2))
	most := 0.0
	for k := first; k <= last; k++ {
		most = max(most, b[k])
	}
	return most
}

// maxBetween implements enveloped: every shape falls off evenly from one peak.
func (s *Shape) maxBetween(lowDeg, highDeg float64) float64 {
	if s.kind == isotropic {
		return s.scale
	}
	peakDeg := degrees(math.Acos(-s.peakDir.Z))
	return s.PerLumen(planeDirection(0, min(max(peakDeg, lowDeg), highDeg))) * (1 + 1e-12)
}

// maxBetween implements enveloped: between two angles of a table no value is
// above those at its corners.
func (t *Table) maxBetween(lowDeg, highDeg float64) float64 {
	angles := t.inner.at
	n := len(angles)
	switch {
	case t.kind != TypeC:
		return t.peak
	case highDeg < angles[0] || lowDeg > angles[n-1]:
		return 0
	}
	first := max(0, sort.SearchFloat64s(angles, lowDeg)-1)
	last := min(n-1, sort.SearchFloat64s(angles, highDeg))
	most := 0.0
	for j := first; j <= last; j++ {
		most = max(most, t.rings[j])
	}
	return most * (1 + 1e-12)
}

// boundLux is the most that the luminaires in a box can give at p. In
// E = I cos/d^2, d is no less than the distance to the box, d cos no more than
// the highest the box reaches above the plane of p, and I no more than the
// bands hold for the directions from the box to p.
func boundLux(box *r3.Box, b *bands, p *Point) float64 {
	n := p.Normal
	rise := axisReach(n.X, box.Min.X, box.Max.X, p.At.X) +
		axisReach(n.Y, box.Min.Y, box.Max.Y, p.At.Y) +
		axisReach(n.Z, box.Min.Z, box.Max.Z, p.At.Z)
	if rise <= 0 {
		return 0
	}
	dx := axisGap(box.Min.X, box.Max.X, p.At.X)
	dy := axisGap(box.Min.Y, box.Max.Y, p.At.Y)
	dz := axisGap(box.Min.Z, box.Max.Z, p.At.Z)
	d2 := dx*dx + dy*dy + dz*dz
	cos := 1.0
	if rise*rise < d2 {
		cos = rise / math.Sqrt(d2)
	}
	lowCos, highCos := fallCosines(box, p, dx*dx+dy*dy)
	return b.between(lowCos, highCos) * cos / max(d2, nearestM*nearestM)
}

// fallCosines is the range of the cosine between straight down and the
// directions from the box to p; near2 is the square of the level gap.
func fallCosines(box *r3.Box, p *Point, near2 float64) (low, high float64) {
	fx := max(p.At.X-box.Min.X, box.Max.X-p.At.X)
	fy := max(p.At.Y-box.Min.Y, box.Max.Y-p.At.Y)
	far2 := fx*fx + fy*fy
	return fallCosine(box.Min.Z-p.At.Z, near2, far2), fallCosine(box.Max.Z-p.At.Z, far2, near2)
}

// fallCosine is the cosine for a luminaire that stands up above p, at the level
// distance that makes it least (below) or greatest (above).
func fallCosine(up, ifBelow2, ifAbove2 float64) float64 {
	level2 := ifAbove2
	if up < 0 {
		level2 = ifBelow2
	}
	d2 := up*up + level2
	if d2 == 0 {
		return 0
	}
	return up / math.Sqrt(d2)
}

// axisReach is the greatest n*(q-at) for q between low and high.
func axisReach(n, low, high, at float64) float64 {
	return max(n*(low-at), n*(high-at))
}

// axisGap is the distance from at to the stretch between low and high.
func axisGap(low, high, at float64) float64 {
	return max(low-at, at-high, 0)
}
