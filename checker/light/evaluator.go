package light

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"
)

// Point is a place where illuminance is wanted, on a surface that faces along
// Normal. Normal need not be a unit vector; (0, 0, 1) is horizontal illuminance.
type Point struct {
	At, Normal r3.Vec
}

// Up is the normal of horizontal illuminance.
var Up = r3.Vec{Z: 1}

// Options tune an [Evaluator]. The zero value is the default.
type Options struct {
	// CutoffLux bounds the light left out at any one point: luminaires too
	// far away to matter are skipped, and together, with every luminaire at
	// full level and nothing in the way, they could add no more than this.
	// 0 means [DefaultCutoffLux]; negative means nothing is left out.
	CutoffLux float64
	// Workers is the number of points computed at the same time; 0 means one
	// for each processor. The result does not depend on it.
	Workers int
}

// DefaultCutoffLux is a hundredth of the lowest level a step is judged by.
const DefaultCutoffLux = 0.01

// Evaluator computes illuminance from fixed luminaires among fixed occluders.
// It is safe for concurrent use, and its answers never change.
type Evaluator struct {
	lamps   []lamp
	order   tree
	bands   []bands // per node of order
	blocks  obstacles
	cutoff  float64
	workers int
	spare   sync.Pool // of gatherers that nobody uses
}

// lamp is a luminaire made ready.
type lamp struct {
	*Luminaire
	frame   frame
	flux    float64 // maintained lumens
	candela float64 // greatest intensity
	half    float64 // no place of the opening is farther from its middle
	reach   float64 // distance within which it is split
	src     source
	bands   *bands // the most it gives in any direction of each
}

// NewEvaluator makes luminaires and occluders ready. The slices must not change
// afterwards. Sums run in the order of the luminaires; give them in id order.
func NewEvaluator(luminaires []Luminaire, occluders []Occluder, opt Options) (*Evaluator, error) {
	e := &Evaluator{lamps: make([]lamp, len(luminaires)), cutoff: opt.CutoffLux, workers: opt.Workers}
	if e.cutoff == 0 {
		e.cutoff = DefaultCutoffLux
	}
	if e.workers <= 0 {
		e.workers = runtime.GOMAXPROCS(0)
	}
	var err error
	if e.blocks, err = newObstacles(occluders); err != nil {
		return nil, err
	}
	boxes := make([]r3.Box, len(luminaires))
	for i := range luminaires {
		if err := luminaires[i].check(); err != nil {
			return nil, err
		}
		e.lamps[i] = newLamp(&luminaires[i], &e.blocks)
		e.lamps[i].src.outlook = e.blocks.newOutlook(&e.lamps[i].src)
		half := e.lamps[i].half
		grow := r3.Vec{X: half, Y: half, Z: half}
		at := luminaires[i].At
		boxes[i] = r3.Box{Min: r3.Sub(at, grow), Max: r3.Add(at, grow)}
	}
	e.order = newTree(boxes)
	e.sumBands()
	return e, nil
}

func newLamp(l *Luminaire, blocks *obstacles) lamp {
	perLumen, peakDir := l.Light.Peak()
	f := l.frame()
	aim := f.world(peakDir)
	if math.Hypot(aim.X, aim.Y) < aimAside {
		level := Direction(l.AimBearingDeg, 90)
		aim.X, aim.Y = level.X, level.Y
	}
	flux := l.maintained()
	src := source{at: l.At, aim: aim, host: l.Host}
	if l.Host != "" {
		src.hosts = blocks.named[l.Host]
	}
	src.leave(l.At)
	return lamp{
		Luminaire: l, frame: f, flux: flux, candela: flux * perLumen,
		half:  l.Opening.extent() / 2,
		reach: splitWithin * l.Opening.extent(),
		src:   src,
	}
}

// sumBands adds up what the luminaires below every node can give; children come
// after their parents.
func (e *Evaluator) sumBands() {
	e.bands = make([]bands, len(e.order.nodes))
	known := map[leaning]*bands{} // luminaires of one type lean alike
	for i := len(e.order.nodes) - 1; i >= 0; i-- {
		n := &e.order.nodes[i]
		if n.left < 0 {
			l := &e.lamps[n.item]
			kind := leaning{l.Light, leanDeg(&l.frame)}
			if known[kind] == nil {
				known[kind] = kind.bands()
			}
			e.bands[i] = newBands(l, known[kind])
			l.bands = &e.bands[i]
			continue
		}
		e.bands[i] = e.bands[n.left]
		e.bands[i].add(&e.bands[n.right])
	}
}

// Luminaires returns the number of luminaires.
func (e *Evaluator) Luminaires() int { return len(e.lamps) }

// Luminaire returns the i-th luminaire as it was given.
func (e *Evaluator) Luminaire(i int) *Luminaire { return e.lamps[i].Luminaire }

// CutoffLux is the error bound of every point of a [Field], in lux; see
// [Options]. What a field leaves out is never negative, so the true value lies
// between the value and the value plus this.
func (e *Evaluator) CutoffLux() float64 { return max(0, e.cutoff) }

// pointsAtOnce is the number of points a worker takes from the pile.
const pointsAtOnce = 32

// Evaluate computes what every luminaire gives at every point. It stops early
// with the context's error.
func (e *Evaluator) Evaluate(ctx context.Context, points []Point) (*Field, error) {
	if err := usable(points); err != nil {
		return nil, err
	}
	rows := make([][]Share, len(points))
	piles := (len(points) + pointsAtOnce - 1) / pointsAtOnce
	var taken atomic.Int64
	work := func() {
		g := e.gatherer()
		defer e.spare.Put(g)
		for ctx.Err() == nil {
			first := int(taken.Add(1)-1) * pointsAtOnce
			if first >= len(points) {
				return
			}
			last := min(first+pointsAtOnce, len(points))
			g.fill(e, points[first:last], rows[first:last])
		}
	}
	var wg sync.WaitGroup
	for range min(e.workers, piles) - 1 {
		wg.Go(work)
	}
	work()
	wg.Wait()
	if ctx.Err() != nil {
		return nil, stopped(ctx)
	}
	return &Field{from: e, points: points, rows: rows}, nil
}

// gatherer is one that is ready, with the storage of an earlier one.
func (e *Evaluator) gatherer() *gatherer {
	if g, ok := e.spare.Get().(*gatherer); ok {
		return g
	}
	return &gatherer{}
}

// usable reports a point that cannot be reckoned with.
func usable(points []Point) error {
	for i, p := range points {
		if !finite(p.At.X, p.At.Y, p.At.Z, p.Normal.X, p.Normal.Y, p.Normal.Z) || length(p.Normal) == 0 {
			return fmt.Errorf("point %d has a position or normal that cannot be used", i)
		}
	}
	return nil
}

func stopped(ctx context.Context) error { return fmt.Errorf("computing illuminance: %w", ctx.Err()) }

// Lux returns the illuminance at one point with every luminaire at full level,
// within the same error bound.
func (e *Evaluator) Lux(p Point) float64 {
	if length(p.Normal) == 0 {
		return 0
	}
	g := e.gatherer()
	defer e.spare.Put(g)
	sum := 0.0
	for _, s := range g.gather(e, p) {
		sum += s.Lux
	}
	return sum
}
