package light

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// roundingSlack widens the bound of a point so that rounding never leaves out
// the brightest.
const roundingSlack = 1e-9

// Bright is [Evaluator.Evaluate] for those who ask for the brightest point alone:
// of the points it leaves out each that it knows to get less than another point,
// or less than leastLux, at every one of some sets of levels. The points that
// remain keep their order.
func (e *Evaluator) Bright(ctx context.Context, points []Point, leastLux float64, levels ...Levels) (*Field, error) {
	if err := usable(points); err != nil {
		return nil, err
	}
	out := &Field{from: e}
	if len(levels) == 0 {
		return out, nil
	}
	rows := make([][]Share, len(points))
	g := e.gatherer()
	defer e.spare.Put(g)
	s := e.newBrightSearch(g, leastLux, levels)
	first := e.promising(points)
	for i := -1; i < len(points); i++ {
		switch {
		case ctx.Err() != nil:
			return nil, stopped(ctx)
		case i < 0 && first >= 0:
			rows[first] = s.row(points[first])
		case i >= 0 && i != first:
			rows[i] = s.row(points[i])
		}
	}
	for i, row := range rows {
		if row != nil {
			out.points, out.rows = append(out.points, points[i]), append(out.rows, row)
		}
	}
	return out, nil
}

// promising is the point that would get most from one luminaire, if each gave its
// greatest intensity everywhere; -1 when all are dark. To begin with a bright one
// leaves out more of the others.
func (e *Evaluator) promising(points []Point) int {
	found, most := -1, 0.0
	for i := range points {
		p := &points[i]
		for k := range e.lamps {
			l := &e.lamps[k]
			x, y, z := l.At.X-p.At.X, l.At.Y-p.At.Y, l.At.Z-p.At.Z
			rise := x*p.Normal.X + y*p.Normal.Y + z*p.Normal.Z
			if rise <= 0 {
				continue
			}
			d2 := x*x + y*y + z*z
			if lux := l.candela * rise; lux*lux > most*(d2*d2*d2) { // squared: I^2 cos^2 / d^4
				found, most = i, lux*lux/(d2*d2*d2)
			}
		}
	}
	return found
}

// brightSearch looks for the brightest point in every one of some scenes.
type brightSearch struct {
	e      *Evaluator
	g      *gatherer
	scenes []Levels
	best   []float64 // the most light found at any point, for each scene
	lamps  []brightLamp
}

// brightLamp is what a luminaire could give at the point in hand.
type brightLamp struct {
	used   bool    // in any scene
	lux    float64 // at full level; no less than it gives
	looked bool    // what stands in the way is counted in
}

func (e *Evaluator) newBrightSearch(g *gatherer, leastLux float64, scenes []Levels) *brightSearch {
	s := &brightSearch{e: e, g: g, scenes: scenes, best: make([]float64, len(scenes)), lamps: make([]brightLamp, len(e.lamps))}
	for k, levels := range scenes {
		s.best[k] = leastLux
		for i := range s.lamps {
			s.lamps[i].used = s.lamps[i].used || levels.of(i) > 0
		}
	}
	return s
}

// row is what luminaires give at a point, nil when it cannot be the brightest.
func (s *brightSearch) row(p Point) []Share {
	if s.hopeless(unitPoint(p)) {
		return nil
	}
	shares, bright := s.g.gather(s.e, p), false
	for k, levels := range s.scenes {
		if lux := levels.sum(shares); lux >= s.best[k] {
			s.best[k], bright = lux, true
		}
	}
	if !bright {
		return nil
	}
	return append([]Share{}, shares...)
}

// hopeless reports whether a point cannot be the brightest in any scene. It begins
// with the light that would come with nothing in the way, and looks at what is in
// the way of one luminaire after another, that which could give most first.
func (s *brightSearch) hopeless(p Point) bool {
	little := slices.Min(s.best) / float64(2*len(s.lamps))
	for i := range s.lamps {
		if b := &s.lamps[i]; b.used {
			b.lux, b.looked = s.e.lamps[i].mostAt(&p, little)
		}
	}
	for {
		next, hope := s.standing()
		if !hope {
			return true
		}
		if next < 0 {
			return false
		}
		b := &s.lamps[next]
		b.lux, b.looked = b.lux*s.e.blocks.through(&s.e.lamps[next].src, p.At), true
	}
}

// standing is the luminaire to look at next, -1 when that can change nothing any
// more, and whether the point can be the brightest in any scene.
func (s *brightSearch) standing() (next int, hope bool) {
	next = -1
	for i, b := range s.lamps {
		if b.used && !b.looked && b.lux > 0 && (next < 0 || b.lux > s.lamps[next].lux) {
			next = i
		}
	}
	for k, levels := range s.scenes {
		sure, sum := 0.0, 0.0
		for i, b := range s.lamps {
			lux := b.lux * levels.of(i)
			if sum += lux; b.looked {
				sure += lux
			}
		}
		if sure >= s.best[k] {
			return -1, true
		}
		hope = hope || sum*(1+roundingSlack) >= s.best[k]
	}
	return next, hope
}

// mostAt is no less than what the lamp gives at p: what it gives with nothing in the
// way, or a bound that is looked at no further, since the lamp is near by or gives
// little.
func (l *lamp) mostAt(p *Point, little float64) (lux float64, bound bool) {
	d := r3.Sub(l.At, p.At)
	d2 := r3.Dot(d, d)
	if d2 < l.reach*l.reach {
		return l.candela / (nearestM * nearestM), true
	}
	if d2 > nearestM*nearestM {
		n, rise := math.Sqrt(d2), r3.Dot(d, p.Normal)
		if most := l.bands.between(d.Z/n, d.Z/n) * rise / (n * d2); most <= little {
			return max(0, most), true
		}
	}
	return l.freeLux(d, d2, &p.Normal), false
}
