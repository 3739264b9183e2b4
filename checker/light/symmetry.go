package light

import (
	"fmt"
	"slices"
)

// Unfold returns the same photometry with its symmetry written out: a whole
// round of horizontal angles for type C, -90 to 90 for types A and B. The light
// is the same in every direction. An axially symmetric table is written out in
// planes of 90 degrees.
func (p *Photometry) Unfold() *Photometry {
	q := *p
	q.HorizontalDeg, q.Candela = nil, nil
	add := func(h float64, row []float64) {
		q.HorizontalDeg = append(q.HorizontalDeg, h)
		q.Candela = append(q.Candela, row)
	}
	n := len(p.HorizontalDeg)
	switch p.symmetry() {
	case mirrorAxis:
		for h := 0.0; h <= 360; h += 90 {
			add(h, p.Candela[0])
		}
	case mirrorQuarter:
		half := *p
		half.HorizontalDeg, half.Candela = slices.Clone(p.HorizontalDeg), slices.Clone(p.Candela)
		for i := n - 2; i >= 0; i-- {
			half.HorizontalDeg = append(half.HorizontalDeg, 180-p.HorizontalDeg[i])
			half.Candela = append(half.Candela, p.Candela[i])
		}
		return half.Unfold()
	case mirrorFront:
		unfoldFront(p, add)
	case mirrorSide:
		unfoldSide(p, add)
	default:
		for i, h := range p.HorizontalDeg {
			add(h, p.Candela[i])
		}
	}
	return &q
}

// unfoldFront mirrors about horizontal angle 0.
func unfoldFront(p *Photometry, add func(float64, []float64)) {
	n := len(p.HorizontalDeg)
	if p.Type != TypeC {
		for i := n - 1; i > 0; i-- {
			add(-p.HorizontalDeg[i], p.Candela[i])
		}
	}
	for i, h := range p.HorizontalDeg {
		add(h, p.Candela[i])
	}
	if p.Type == TypeC {
		for i := n - 2; i >= 0; i-- {
			add(360-p.HorizontalDeg[i], p.Candela[i])
		}
	}
}

// unfoldSide mirrors 90 to 270 about the 90-270 plane: the plane at h has the
// light of the plane at 180 - h.
func unfoldSide(p *Photometry, add func(float64, []float64)) {
	n := len(p.HorizontalDeg)
	if i := slices.Index(p.HorizontalDeg, 180); i >= 0 {
		for ; i > 0; i-- {
			add(180-p.HorizontalDeg[i], p.Candela[i])
		}
	} else {
		// No plane at 180, so none at 0: the round begins between two planes
		// that mirror each other, and its value there is between them.
		i := slices.IndexFunc(p.HorizontalDeg, func(h float64) bool { return h > 180 })
		row := between(p, i)
		add(0, row)
		for i--; i > 0; i-- {
			add(180-p.HorizontalDeg[i], p.Candela[i])
		}
	}
	for i := range n - 1 {
		add(p.HorizontalDeg[i], p.Candela[i])
	}
	for i := n - 1; i >= 0 && p.HorizontalDeg[i] > 180; i-- {
		add(540-p.HorizontalDeg[i], p.Candela[i])
	}
	if i := slices.Index(p.HorizontalDeg, 180); i >= 0 {
		add(360, p.Candela[i])
	} else {
		add(360, between(p, slices.IndexFunc(p.HorizontalDeg, func(h float64) bool { return h > 180 })))
	}
}

// between interpolates the plane at 180 between plane i-1 and plane i.
func between(p *Photometry, i int) []float64 {
	a, b := p.HorizontalDeg[i-1], p.HorizontalDeg[i]
	u := (180 - a) / (b - a)
	row := make([]float64, len(p.VerticalDeg))
	for j := range row {
		row[j] = p.Candela[i-1][j] + u*(p.Candela[i][j]-p.Candela[i-1][j])
	}
	return row
}

// Fold returns the same photometry with the horizontal angles of a symmetry:
// last is 0, 90 or 180 for type C (270 for the 90 to 270 set) and 90 for types A
// and B. It fails where the light does not have that symmetry exactly.
func (p *Photometry) Fold(last float64) (*Photometry, error) {
	whole := p.Unfold()
	q := *whole
	q.HorizontalDeg, q.Candela = nil, nil
	first := 0.0
	if last == 270 {
		first = 90
	}
	for i, h := range whole.HorizontalDeg {
		if h >= first && h <= last {
			q.HorizontalDeg = append(q.HorizontalDeg, h)
			q.Candela = append(q.Candela, whole.Candela[i])
		}
	}
	n := len(q.HorizontalDeg)
	if n == 0 || q.HorizontalDeg[0] != first || q.HorizontalDeg[n-1] != last {
		return nil, fmt.Errorf("the horizontal angles have no plane at %g or none at %g", first, last)
	}
	if !sameLight(whole, &q) {
		return nil, fmt.Errorf("the light is not symmetric as horizontal angles %g to %g declare", first, last)
	}
	return &q, nil
}

// sameLight compares every plane of the whole with what the folded one gives.
func sameLight(whole, folded *Photometry) bool {
	t, err := folded.Distribution()
	if err != nil {
		return false
	}
	rated := folded.RatedLumens()
	if folded.Absolute() != whole.Absolute() || rated <= 0 {
		return false
	}
	const same = 1e-9
	limit := same * t.peak
	scale := folded.Scale() / rated
	for i, h := range whole.HorizontalDeg {
		for j, v := range whole.VerticalDeg {
			got := t.lookUp(h, v)
			if d := got - whole.Candela[i][j]*scale; d > limit || d < -limit {
				return false
			}
		}
	}
	return true
}
