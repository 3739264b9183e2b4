package light

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"
)

// Table is a measured distribution: intensities at angles, with values between
// them interpolated evenly along both angles. Nothing is emitted outside the
// angles of a file, but for the symmetry it declares.
type Table struct {
	kind    Goniometry
	mirror  mirror
	outer   axis // horizontal angles
	inner   axis // vertical angles
	values  []float64
	rings   []float64 // the greatest value at each vertical angle
	peak    float64
	peakDir r3.Vec
	ratio   float64
	cellStore
}

// mirror is the symmetry declared by the range of horizontal angles.
type mirror uint8

const (
	mirrorNone    mirror = iota
	mirrorAxis           // one plane serves for all
	mirrorQuarter        // about both vertical planes
	mirrorFront          // about the 0-180 plane, or left and right of a type A or B file
	mirrorSide           // about the 90-270 plane
)

// axis is a rising list of angles with a quick look-up.
type axis struct {
	at      []float64
	perStep float64 // steps per degree where the steps are equal, else 0
}

func newAxis(at []float64) axis {
	a := axis{at: at}
	n := len(at)
	if n < 2 {
		return a
	}
	step := (at[n-1] - at[0]) / float64(n-1)
	for i, v := range at {
		if math.Abs(v-(at[0]+float64(i)*step)) > 1e-9*math.Abs(at[n-1]-at[0]) {
			return a
		}
	}
	a.perStep = 1 / step
	return a
}

// find returns the interval that holds v and how far along it v is, 0 to 1.
// Values outside are brought to the ends.
func (a *axis) find(v float64) (i int, u float64) {
	n := len(a.at)
	if n < 2 || v <= a.at[0] {
		return 0, 0
	}
	if v >= a.at[n-1] {
		return n - 2, 1
	}
	if a.perStep > 0 {
		i = int((v - a.at[0]) * a.perStep)
		i = min(max(i, 0), n-2)
	} else {
		i = sort.SearchFloat64s(a.at, v) - 1
		i = min(max(i, 0), n-2)
	}
	u = (v - a.at[i]) / (a.at[i+1] - a.at[i])
	return i, min(1, max(0, u))
}

// covers reports whether v lies within the angles, allowing for rounding.
func (a *axis) covers(v float64) bool {
	const slack = 1e-9
	return v >= a.at[0]-slack && v <= a.at[len(a.at)-1]+slack
}

// Distribution makes the interpolating distribution of a file. Its values are
// per lumen of [Photometry.RatedLumens].
func (p *Photometry) Distribution() (*Table, error) {
	rated, flux := p.RatedLumens(), p.Flux().IntegratedLumens
	if !(rated > 0 && flux > 0) || !finite(rated, flux) {
		return nil, fmt.Errorf("the candela of the file add up to %g lm", flux)
	}
	t := &Table{kind: p.Type, mirror: p.symmetry(), ratio: flux / rated}
	outer := append([]float64(nil), p.HorizontalDeg...)
	rows := append([][]float64(nil), p.Candela...)
	if t.kind == TypeC && t.mirror == mirrorNone && outer[len(outer)-1] < 360 {
		outer = append(outer, 360)
		rows = append(rows, rows[0])
	}
	t.outer, t.inner = newAxis(outer), newAxis(append([]float64(nil), p.VerticalDeg...))
	t.values = make([]float64, 0, len(outer)*len(p.VerticalDeg))
	t.rings = make([]float64, len(p.VerticalDeg))
	scale := p.Scale() / rated
	t.peak = -1
	for i, row := range rows {
		for j, cd := range row {
			v := cd * scale
			t.values = append(t.values, v)
			t.rings[j] = max(t.rings[j], v)
			if v > t.peak {
				t.peak, t.peakDir = v, t.direction(outer[i], p.VerticalDeg[j])
			}
		}
	}
	return t, nil
}

// symmetry reads the declared symmetry off the horizontal angles.
func (p *Photometry) symmetry() mirror {
	first, last := p.HorizontalDeg[0], p.HorizontalDeg[len(p.HorizontalDeg)-1]
	if p.Type != TypeC {
		if first == 0 {
			return mirrorFront
		}
		return mirrorNone
	}
	switch {
	case len(p.HorizontalDeg) == 1:
		return mirrorAxis
	case first == 90:
		return mirrorSide
	case last == 90:
		return mirrorQuarter
	case last == 180:
		return mirrorFront
	}
	return mirrorNone
}

// direction is the unit vector in the luminaire's frame of a pair of angles. By
// LM-63-2002 section 3, horizontal angles run counter-clockwise for type C and
// clockwise for types A and B, and straight down is vertical 0 for types B and
// C and -90 for type A.
func (t *Table) direction(hDeg, vDeg float64) r3.Vec {
	sinH, cosH := math.Sincos(radians(hDeg))
	sinV, cosV := math.Sincos(radians(vDeg))
	switch t.kind {
	case TypeA:
		return r3.Vec{X: cosV * cosH, Y: -cosV * sinH, Z: sinV}
	case TypeB:
		return r3.Vec{X: cosH * sinV, Y: -sinH, Z: -cosH * cosV}
	}
	return r3.Vec{X: sinV * cosH, Y: sinV * sinH, Z: -cosV}
}

// angles is the inverse of direction.
func (t *Table) angles(d r3.Vec) (hDeg, vDeg float64) {
	switch t.kind {
	case TypeA:
		return degrees(math.Atan2(-d.Y, d.X)), degrees(math.Atan2(d.Z, math.Hypot(d.X, d.Y)))
	case TypeB:
		return degrees(math.Atan2(-d.Y, math.Hypot(d.X, d.Z))), degrees(math.Atan2(d.X, -d.Z))
	}
	return degrees(math.Atan2(d.Y, d.X)), upright(d)
}

// PerLumen implements [Distribution].
func (t *Table) PerLumen(dir r3.Vec) float64 {
	if t.Round() {
		return t.lookUp(0, upright(dir))
	}
	return t.lookUp(t.angles(dir))
}

// Round reports whether the file declares that the light is the same all round.
func (t *Table) Round() bool { return t.mirror == mirrorAxis }

// upright is the vertical angle of a direction in a file of type C.
func upright(d r3.Vec) float64 {
	return degrees(math.Atan2(math.Sqrt(d.X*d.X+d.Y*d.Y), -d.Z))
}

// lookUp interpolates at a pair of angles.
func (t *Table) lookUp(h, v float64) float64 {
	if !t.inner.covers(v) {
		return 0
	}
	h, ok := t.fold(h)
	if !ok {
		return 0
	}
	i, u := t.outer.find(h)
	j, w := t.inner.find(v)
	n := len(t.inner.at)
	row := t.values[i*n:]
	value := row[j] + w*(row[j+1]-row[j])
	if u > 0 {
		next := t.values[(i+1)*n:]
		value += u * (next[j] + w*(next[j+1]-next[j]) - value)
	}
	return value
}

// fold brings a horizontal angle into the range that the table stores.
func (t *Table) fold(h float64) (float64, bool) {
	if t.kind != TypeC {
		if t.mirror == mirrorFront {
			h = math.Abs(h)
		}
		return h, t.outer.covers(h)
	}
	if h < 0 {
		h += 360
	}
	switch t.mirror {
	case mirrorAxis:
		return 0, true
	case mirrorQuarter:
		h = min(h, 360-h)
		return min(h, 180-h), true
	case mirrorFront:
		return min(h, 360-h), true
	case mirrorSide:
		if h < 90 {
			return 180 - h, true
		}
		if h > 270 {
			return 540 - h, true
		}
	}
	return h, true
}

// Peak implements [Distribution]. Values between the angles never exceed those
// at them, so the greatest value of the table is the greatest of all.
func (t *Table) Peak() (float64, r3.Vec) { return t.peak, t.peakDir }

// OutputRatio implements [Distribution]: the light output ratio of the file.
func (t *Table) OutputRatio() float64 { return t.ratio }

// middle is the mean direction of the light, from the values at the angles of the
// file. Light that points nowhere in particular has its middle on its main axis:
// level for type A, else straight down.
func (t *Table) middle() r3.Vec {
	var sum r3.Vec
	all, n := 0.0, len(t.inner.at)
	for i, h := range t.outer.at {
		for j, v := range t.inner.at {
			dir := t.direction(h, v)
			area := math.Sqrt(max(0, 1-dir.Z*dir.Z)) // type C and A: circles about the upright axis
			if t.kind == TypeB {
				area = math.Sqrt(max(0, 1-dir.Y*dir.Y))
			}
			weight := t.values[i*n+j] * area * t.outer.around(i) * t.inner.around(j)
			sum, all = r3.Add(sum, r3.Scale(weight, dir)), all+weight
		}
	}
	switch t.mirror { // what the file leaves out lies opposite
	case mirrorAxis, mirrorQuarter:
		sum.X, sum.Y = 0, 0
	case mirrorSide:
		sum.X = 0
	case mirrorFront:
		sum.Y = 0
	}
	const lopsided = 0.2 // of all light
	if size := length(sum); all > 0 && size > lopsided*all {
		return r3.Scale(1/size, sum)
	}
	return t.direction(0, 0)
}

// around is half of the way to the angles on either side of angle i.
func (a *axis) around(i int) float64 {
	if len(a.at) < 2 {
		return 1
	}
	return (a.at[min(i+1, len(a.at)-1)] - a.at[max(i-1, 0)]) / 2
}
