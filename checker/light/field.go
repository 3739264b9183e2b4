package light

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
	extra  []Occluder
}

// Len returns the number of points.
func (f *Field) Len() int { return len(f.rows) }

// Point returns the i-th point.
func (f *Field) Point(i int) Point { return f.points[i] }

// Shares returns what each luminaire gives at point i, in order of luminaires,
// without those that give nothing. Do not change the slice.
func (f *Field) Shares(i int) []Share { return f.rows[i] }

// LuxAt returns the illuminance at point i.
func (f *Field) LuxAt(i int, levels Levels) float64 {
	sum := 0.0
	for _, s := range f.rows[i] {
		if levels == nil {
			sum += s.Lux
		} else if int(s.Luminaire) < len(levels) {
			sum += s.Lux * levels[s.Luminaire]
		}
	}
	return sum
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
	for _, o := range extra {
		if err := checkOccluder(o); err != nil {
			return nil, err
		}
	}
	all := append(append([]Occluder(nil), f.extra...), extra...)
	out := &Field{from: f.from, points: f.points, rows: make([][]Share, len(f.rows)), extra: all}
	for i, row := range f.rows {
		p := unitPoint(f.points[i])
		for _, s := range row {
			l := &f.from.lamps[s.Luminaire]
			if s.Lux = l.luxBehind(s.Lux, &f.from.blocks, extra, all, &p); s.Lux > 0 {
				out.rows[i] = append(out.rows[i], s)
			}
		}
	}
	return out, nil
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
