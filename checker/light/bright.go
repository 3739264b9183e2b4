package light

import (
	"context"
	"math"
	"slices"
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
	rows := make([][]Share, len(points))
	s := e.newBrightSearch(leastLux, levels)
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
	out := &Field{from: e}
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
			if lux := l.candela * rise / (d2 * math.Sqrt(d2)); lux > most {
				found, most = i, lux
			}
		}
	}
	return found
}

// brightSearch looks for the brightest point in every one of some scenes.
type brightSearch struct {
	e      *Evaluator
	g      gatherer
	scenes []brightScene
}

// brightScene is the search in one scene.
type brightScene struct {
	levels Levels
	most   []float64 // the highest level below each node of the luminaire tree
	best   float64   // the most light found at any point
	// found is the light of luminaires that were looked at, at the point in
	// hand, and closed what the others could add.
	found, closed float64
}

func (e *Evaluator) newBrightSearch(leastLux float64, levels []Levels) *brightSearch {
	s := &brightSearch{e: e, scenes: make([]brightScene, len(levels))}
	for k := range s.scenes {
		s.scenes[k] = brightScene{levels: levels[k], most: e.mostBelow(levels[k]), best: leastLux}
	}
	s.g.search = s
	return s
}

// mostBelow is the highest level below each node of the luminaire tree.
func (e *Evaluator) mostBelow(levels Levels) []float64 {
	most := make([]float64, len(e.order.nodes))
	for i := len(most) - 1; i >= 0; i-- { // children come after their parents
		if n := &e.order.nodes[i]; n.left < 0 {
			most[i] = levels.of(n.item)
		} else {
			most[i] = max(most[n.left], most[n.right])
		}
	}
	return most
}

// row is what luminaires give at a point, nil when it cannot be the brightest.
func (s *brightSearch) row(p Point) []Share {
	for k := range s.scenes {
		s.scenes[k].found, s.scenes[k].closed = 0, 0
	}
	shares := s.g.gather(s.e, p)
	if s.g.gaveUp {
		return nil
	}
	bright := false
	for k := range s.scenes {
		scene := &s.scenes[k]
		if lux := scene.levels.sum(shares); lux >= scene.best {
			scene.best, bright = lux, true
		}
	}
	if !bright {
		return nil
	}
	return append([]Share{}, shares...)
}

// offered notes that a node could give some light.
func (s *brightSearch) offered(node int32, lux float64) {
	for k := range s.scenes {
		s.scenes[k].closed += lux * s.scenes[k].most[node]
	}
}

// taken notes that a node is opened.
func (s *brightSearch) taken(c candidate) {
	for k := range s.scenes {
		s.scenes[k].closed -= c.lux * s.scenes[k].most[c.node]
	}
}

// got notes what a luminaire gives.
func (s *brightSearch) got(share Share) {
	for k := range s.scenes {
		s.scenes[k].found += share.Lux * s.scenes[k].levels.of(share.Luminaire)
	}
}

// hopeless reports whether the point in hand cannot be the brightest in any scene.
func (s *brightSearch) hopeless() bool {
	for k := range s.scenes {
		scene := &s.scenes[k]
		if (scene.found+scene.closed)*(1+roundingSlack) >= scene.best {
			return false
		}
	}
	for k := range s.scenes { // add up afresh, so that rounding of the running sum hides nothing
		scene := &s.scenes[k]
		scene.closed = 0
		for _, c := range s.g.heap {
			scene.closed += c.lux * scene.most[c.node]
		}
	}
	return !slices.ContainsFunc(s.scenes, func(scene brightScene) bool {
		return (scene.found+scene.closed)*(1+roundingSlack) >= scene.best
	})
}
