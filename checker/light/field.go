package light

import "slices"

// Share is what one luminaire gives at one point, in lux at full level.
type Share struct {
	Luminaire int32 // index into the evaluator's luminaires
	Lux       float64
}

// Levels is how far each luminaire is on, 0 to 1, by index. nil is everything
// at full level.
type Levels []float64

// Field is what every luminaire gives at every point, computed once and summed
// for as many scenes as wanted. It is immutable and safe for concurrent use.
type Field struct {
	from   *Evaluator
	points []Point
	rows   [][]Share
	extra  extras
}

// Len returns the number of points.
func (f *Field) Len() int { return len(f.rows) }

// Point returns the i-th point.
func (f *Field) Point(i int) Point { return f.points[i] }

// Shares returns what each luminaire gives at point i, in order of luminaires,
// without those that give nothing. Do not change the slice.
func (f *Field) Shares(i int) []Share { return f.rows[i] }

// LuxAt returns the illuminance at point i.
func (f *Field) LuxAt(i int, levels Levels) float64 { return levels.sum(f.rows[i]) }

// sum adds up what luminaires give at these levels.
func (v Levels) sum(shares []Share) float64 {
	sum := 0.0
	for _, s := range shares {
		if v == nil {
			sum += s.Lux
		} else if int(s.Luminaire) < len(v) {
			sum += s.Lux * v[s.Luminaire]
		}
	}
	return sum
}

// of is the level of a luminaire.
func (v Levels) of(luminaire int) float64 {
	switch {
	case v == nil:
		return 1
	case luminaire < len(v):
		return v[luminaire]
	}
	return 0
}

// Lux returns the illuminance at every point.
func (f *Field) Lux(levels Levels) []float64 {
	out := make([]float64, len(f.rows))
	for i := range out {
		out[i] = f.LuxAt(i, levels)
	}
	return out
}

// Behind returns the field with more in the way, such as a gate leaf in one of
// its positions. Only the extra shadows are computed; the result equals a new
// evaluation with the extra occluders among the others.
func (f *Field) Behind(extra ...Occluder) (*Field, error) {
	more, err := newExtras(extra)
	if err != nil {
		return nil, err
	}
	out := &Field{from: f.from, points: f.points, rows: make([][]Share, len(f.rows)), extra: f.extra.join(&more)}
	for i := range f.rows {
		out.rows[i] = f.rowBehind(i, &more, &out.extra)
	}
	return out, nil
}

// MayTake is no less than the light, with every luminaire at full level, that any
// one of some occluders could take from a point.
func (e *Evaluator) MayTake(p Point, extra []Occluder) float64 {
	if len(extra) == 0 {
		return 0
	}
	all := extra[0].box()
	for _, o := range extra[1:] {
		all = joinBoxes(all, o.box())
	}
	p, sum := unitPoint(p), 0.0
	for i := range e.lamps {
		if l := &e.lamps[i]; mayMeet(&all, l.At, p.At, l.half+10*GrazeM) {
			most, _ := l.mostAt(&p, 0)
			sum += most
		}
	}
	return sum
}

// rowBehind is one row with more in the way; the row itself where nothing
// changes. all are the extra occluders counted from the beginning.
func (f *Field) rowBehind(i int, more, all *extras) []Share {
	row, changed := f.rows[i], false
	p := f.points[i]
	for k := range row {
		l := &f.from.lamps[row[k].Luminaire]
		if more.clearOf(l.At, p.At, l.half) {
			continue
		}
		if lux := l.luxBehind(row[k].Lux, &f.from.blocks, more, all, &p); lux != row[k].Lux {
			if !changed {
				row, changed = slices.Clone(row), true
			}
			row[k].Lux = lux
		}
	}
	if changed {
		row = slices.DeleteFunc(row, func(s Share) bool { return s.Lux <= 0 })
	}
	return row
}

// GroupLevels returns the levels of a scene that names control groups. A
// luminaire in several of them takes the highest; one in none is off.
func (e *Evaluator) GroupLevels(groups map[string]float64) Levels {
	levels := make(Levels, len(e.lamps))
	for i := range e.lamps {
		for _, g := range e.lamps[i].Groups {
			levels[i] = max(levels[i], groups[g])
		}
	}
	return levels
}
