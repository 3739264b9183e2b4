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

// newBands bounds a luminaire's intensity in each band of world directions, given
// those of its light.
func newBands(l *lamp, perLumen *bands) bands {
	var b bands
	for k := range b {
		b[k] = min(l.candela, l.flux*perLumen[k])
	}
	return b
}

// leaning is a distribution whose axis leans by an angle from straight down.
type leaning struct {
	light   Distribution
	leanDeg float64
}

// bands are the most that it gives in each band, per lumen. A direction at angle a
// from straight down is between |a-t| and a+t from an axis that leans by t.
func (l leaning) bands() *bands {
	b := &bands{}
	env, ok := l.light.(enveloped)
	lean := l.leanDeg
	for k := range b {
		if !ok {
			b[k] = math.MaxFloat64 // no more than the greatest intensity
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
		b[k] = env.maxBetween(low-bandSlack, high+bandSlack)
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
		if b[k] > most {
			most = b[k]
		}
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
	low, high := r3.Sub(box.Min, p.At), r3.Sub(box.Max, p.At) // the box as seen from p
	rise := axisReach(p.Normal.X, low.X, high.X) + axisReach(p.Normal.Y, low.Y, high.Y) + axisReach(p.Normal.Z, low.Z, high.Z)
	if rise <= 0 {
		return 0
	}
	dx, dy, dz := axisGap(low.X, high.X), axisGap(low.Y, high.Y), axisGap(low.Z, high.Z)
	near2 := dx*dx + dy*dy // of the level distance
	fx, fy := axisFar(low.X, high.X), axisFar(low.Y, high.Y)
	far2 := fx*fx + fy*fy
	d2 := near2 + dz*dz
	cos := 1.0
	if rise*rise < d2 {
		cos = rise / math.Sqrt(d2)
	}
	if d2 < nearestM*nearestM {
		d2 = nearestM * nearestM
	}
	return b.between(fallCosine(low.Z, near2, far2), fallCosine(high.Z, far2, near2)) * cos / d2
}

// fallCosine is the cosine between straight down and the direction from a
// luminaire that stands up above p, at the level distance that makes it least
// (below) or greatest (above).
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

// axisReach is the greatest n*q for q between low and high.
func axisReach(n, low, high float64) float64 {
	if n < 0 {
		return n * low
	}
	return n * high
}

// axisGap is the distance from 0 to the stretch between low and high.
func axisGap(low, high float64) float64 {
	switch {
	case low > 0:
		return low
	case high < 0:
		return -high
	}
	return 0
}

// axisFar is the distance from 0 to the farther end of a stretch.
func axisFar(low, high float64) float64 {
	if -low > high {
		return -low
	}
	return high
}
