package light

import (
	"math"
	"sort"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"
)

// fluxCell is a small piece of the sphere round a luminaire with the share of
// the luminaire's flux that leaves through it.
type fluxCell struct {
	dir   r3.Vec // in the luminaire's frame
	share float64
}

// The sphere is cut into rings of about equal flux about the middle of the
// light, so that narrow beams are cut finely wherever they point, and each ring
// into equal planes. Rings are made of thin steps, which are thinnest at the pole;
// none crosses the plane at 90 degrees, where light often ends.
const (
	profileSteps  = 480
	profilePlanes = 8
)

// cutting is how finely the sphere is cut.
type cutting struct {
	rings, planes int
	widestDeg     float64 // no ring is wider
	spread        bool    // directions lie at all depths of their rings, else in the middle
}

var (
	fineCut   = cutting{rings: 60, planes: 24, widestDeg: 3, spread: true}
	coarseCut = cutting{rings: 16, planes: 12, widestDeg: 8} // for searching, even all round
)

// cellStore keeps the cells of a distribution, made when first asked for.
type cellStore struct{ fine, coarse storedCells }

type storedCells struct {
	once  sync.Once
	cells []fluxCell
}

// store lets a distribution that embeds a cellStore be a keeper.
func (s *cellStore) store() *cellStore { return s }

// keeper is a distribution that keeps its cells.
type keeper interface{ store() *cellStore }

// cellsOf returns the flux cells of a distribution, kept where it can.
func cellsOf(d Distribution, cut cutting) []fluxCell {
	k, ok := d.(keeper)
	if !ok {
		return fluxCells(d, cut)
	}
	s := &k.store().fine
	if cut == coarseCut {
		s = &k.store().coarse
	}
	s.once.Do(func() { s.cells = fluxCells(d, cut) })
	return s.cells
}

// Steps of the golden ratio and of its square root, which spread points evenly
// over a line however many there are.
const (
	goldenStep = 0.6180339887498949
	turnStep   = 0.7548776662466927
	deepStep   = 0.5698402909980532
)

// fluxCells cuts the flux of a distribution into cells whose shares add up to 1;
// nil when it emits nothing. A cell is stood for by one direction in it. Where they
// are spread, no edge of a target goes along with many of them.
func fluxCells(d Distribution, cut cutting) []fluxCell {
	pole := poleOf(d)
	edges := ringEdges(d, &pole, cut)
	cells := make([]fluxCell, 0, (len(edges)-1)*cut.planes)
	total := 0.0
	for i := 1; i < len(edges); i++ {
		top, bottom := math.Cos(edges[i-1]), math.Cos(edges[i])
		area := 2 * math.Pi * (top - bottom) / float64(cut.planes)
		turn := fraction(float64(i) * turnStep)
		for k := range cut.planes {
			deep := 0.5
			if cut.spread {
				deep = fraction((float64(k)+0.5)*goldenStep + float64(i)*deepStep)
			}
			plane := pole.turn(2 * math.Pi * (float64(k) + turn) / float64(cut.planes))
			dir := plane.direction(top + deep*(bottom-top))
			if flux := d.PerLumen(dir) * area; flux > 0 {
				cells = append(cells, fluxCell{dir, flux})
				total += flux
			}
		}
	}
	for i := range cells {
		cells[i].share /= total
	}
	return cells
}

// fraction is what is behind the point of a number that is not negative.
func fraction(v float64) float64 { return v - math.Floor(v) }

// pole is a direction with two others square to it and to each other.
type pole struct{ along, x, y r3.Vec }

// middled is a distribution that knows about where the middle of its light is.
type middled interface{ middle() r3.Vec }

// poleOf is the pole of a distribution's rings: the middle of its light.
func poleOf(d Distribution) pole {
	p := pole{along: r3.Vec{Z: -1}}
	if m, ok := d.(middled); ok {
		p.along = m.middle()
	}
	side := r3.Vec{Y: 1}
	if math.Abs(p.along.Y) > 0.7 {
		side = r3.Vec{X: 1}
	}
	p.x = r3.Unit(r3.Cross(side, p.along))
	p.y = r3.Cross(p.along, p.x)
	return p
}

// turned is a half-plane that the pole bounds.
type turned struct {
	*pole
	sin, cos float64 // of the angle by which it is turned about the pole
}

func (p *pole) turn(angle float64) turned {
	sin, cos := math.Sincos(angle)
	return turned{p, sin, cos}
}

// direction is in the half-plane, at an angle of that cosine from the pole.
func (t *turned) direction(cos float64) r3.Vec {
	sin := math.Sqrt(max(0, 1-cos*cos))
	return r3.Add(r3.Scale(cos, t.along), r3.Add(r3.Scale(sin*t.cos, t.x), r3.Scale(sin*t.sin, t.y)))
}

// stepAngle is the angle from the pole at which step i begins.
func stepAngle(i int) float64 {
	const half = profileSteps / 2
	if i > half {
		s := float64(profileSteps-i) / half
		return math.Pi - math.Pi/2*s*s
	}
	s := float64(i) / half
	return math.Pi / 2 * s * s
}

// ringEdges returns the angles from the pole in radians between rings: each ring
// holds an equal part of the flux or is as wide as any may be.
func ringEdges(d Distribution, pole *pole, cut cutting) []float64 {
	var turns [profilePlanes]turned
	for k := range turns {
		turns[k] = pole.turn(2 * math.Pi * (float64(k) + 0.5) / profilePlanes)
	}
	sums := make([]float64, profileSteps+1)
	for i := range profileSteps {
		low, high := stepAngle(i), stepAngle(i+1)
		cos, sum := math.Cos((low+high)/2), 0.0
		for k := range turns {
			sum += d.PerLumen(turns[k].direction(cos))
		}
		sums[i+1] = sums[i] + sum*(math.Cos(low)-math.Cos(high))
	}
	part, last := sums[profileSteps]/float64(cut.rings), 0
	edges := []float64{0}
	for last < profileSteps {
		full := sort.SearchFloat64s(sums, sums[last]+part)
		wide := sort.Search(profileSteps, func(i int) bool { return stepAngle(i) > stepAngle(last)+radians(cut.widestDeg) }) - 1
		next := min(profileSteps, max(last+1, min(full, wide)))
		if last < profileSteps/2 {
			next = min(next, profileSteps/2)
		}
		last = next
		edges = append(edges, stepAngle(last))
	}
	return edges
}

// shareAbove is the share of flux in cells of a distribution toward the side that
// a direction of its frame, a unit vector, points to. A cell that lies across the
// edge counts by the part of its arc on that side.
func shareAbove(d Distribution, up r3.Vec) float64 {
	pole := poleOf(d)
	along, side := r3.Dot(up, pole.along), r3.Vec{X: r3.Dot(up, pole.x), Y: r3.Dot(up, pole.y)}
	level, half := length(side), math.Pi/float64(fineCut.planes)
	sum := 0.0
	for _, c := range cellsOf(d, fineCut) {
		cos := r3.Dot(c.dir, pole.along)
		x, y := r3.Dot(c.dir, pole.x), r3.Dot(c.dir, pole.y)
		if far := cos * along; far*far > (x*x+y*y)*level*level*(1+angleSlack) { // clearly off the rim
			if far > 0 {
				sum += c.share
			}
			continue
		}
		sin := math.Hypot(x, y)
		if rim := sin * level; math.Abs(cos*along) >= rim {
			if cos*along > 0 {
				sum += c.share
			}
			continue
		}
		arc := math.Acos(-cos * along / (sin * level)) // half of the arc of the whole circle
		off := math.Acos(max(-1, min(1, (x*side.X+y*side.Y)/(sin*level))))
		sum += c.share * arcWithin(off, half, arc)
	}
	return min(1, sum)
}

// arcWithin is the part of an arc, half as wide as told and off from the middle
// of another on the same circle, that lies within that other.
func arcWithin(off, half, other float64) float64 {
	if other > math.Pi/2 {
		return 1 - arcWithin(math.Pi-off, half, math.Pi-other)
	}
	return max(0, min(off+half, other)-max(off-half, -other)) / (2 * half)
}
