package plan

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Which surface is underfoot where several lie on one another: the first in
// this order; of two of one rank, the higher.
const (
	rankTread = iota
	rankLanding
	rankDeck
	rankArea
	rankPath
)

// surface is a place to stand on with its level.
type surface struct {
	element *Element
	rank    int
	outline []r2.Vec  // nil for a path
	line    *pathLine // for a path
	box     r2.Box
	levelM  *float64 // nil when it is not stated, and for a path
	walked  bool
}

// ground is everything with a level that can be stood on.
type ground struct{ surfaces []*surface }

func (g *ground) add(s *surface) { g.surfaces = append(g.surfaces, s) }

func pathSurface(e *Element, line *pathLine) *surface {
	box, half := boxOf(line.points), r2.Vec{X: line.widthM / 2, Y: line.widthM / 2}
	return &surface{
		element: e, rank: rankPath, line: line, walked: true,
		box: r2.Box{Min: r2.Sub(box.Min, half), Max: r2.Add(box.Max, half)},
	}
}

// mayCover says whether p is in the box round the surface.
func (f *surface) mayCover(p r2.Vec) bool {
	return p.X >= f.box.Min.X-sameM && p.Y >= f.box.Min.Y-sameM && p.X <= f.box.Max.X+sameM && p.Y <= f.box.Max.Y+sameM
}

// corners is how much work it is to look at the surface.
func (f *surface) corners() int {
	if f.line != nil {
		return len(f.line.points)
	}
	return len(f.outline)
}

// covers says whether p is on the surface, its edge included.
func (f *surface) covers(p r2.Vec) bool {
	if !f.mayCover(p) {
		return false
	}
	if f.line != nil {
		distance, _ := f.line.nearest(p)
		return distance <= f.line.widthM/2+sameM
	}
	return contains(f.outline, p)
}

// level is the elevation of the surface at p; false when it states none.
func (f *surface) level(p r2.Vec) (float64, bool) {
	if f.line != nil {
		_, elevation := f.line.nearest(p)
		return elevation, f.line.elevations != nil
	}
	return or(f.levelM, 0), f.levelM != nil
}

// at returns the level of the surface underfoot at p, passing over those that
// skip names; 0 and nil where there is none.
func (g *ground) at(p r2.Vec, skip func(*surface) bool) (float64, *Element) {
	best, level := (*surface)(nil), 0.0
	for _, f := range g.surfaces {
		if best != nil && f.rank > best.rank || skip != nil && skip(f) || !f.covers(p) {
			continue
		}
		l, stated := f.level(p)
		if stated && (best == nil || f.rank < best.rank || l > level) {
			best, level = f, l
		}
	}
	if best == nil {
		return 0, nil
	}
	return level, best.element
}

// GroundAt returns the elevation, in metres, of what is underfoot at a point:
// the tread, landing, deck, area or path that covers it and states a level, in
// that order, and the higher of two of one kind. Where nothing does, the ground
// is at 0.
func (p *Plan) GroundAt(at r2.Vec) float64 {
	level, _ := p.ground.at(at, nil)
	return level
}

// mostLooked is how many corners of surfaces may be looked at in one plan to
// find the level of the ground.
const mostLooked = 50_000_000

// groundAt is the level of the ground at a point, passing over what skip names. It
// is 0 and not known where nothing there states a level.
func (r *resolver) groundAt(at r2.Vec, skip func(*surface) bool) (levelM float64, known bool) {
	if r.looked > mostLooked {
		return 0, false
	}
	for _, f := range r.plan.ground.surfaces {
		if f.mayCover(at) {
			r.looked += f.corners()
		}
	}
	if r.looked > mostLooked {
		r.conflict(sectionSpot("site", "/site"), "the site has too many corners to find the level of the ground everywhere; the rest is taken to be at 0")
		return 0, false
	}
	level, element := r.plan.ground.at(at, skip)
	return level, element != nil
}

// treadThing is what the id of a tread names.
type treadThing struct {
	Element
	stair  *Stair
	number int
}

// addTreads gives the treads of every stair their ids and adds them to the
// ground.
func (r *resolver) addTreads(site *Site) {
	for _, stair := range site.Stairs {
		if r.leftOut[&stair.Element] {
			continue
		}
		for i := range stair.Treads {
			t := &stair.Treads[i]
			thing := &treadThing{Element{ID: t.ID, Kind: "tread", Pointer: stair.Pointer}, stair, t.Number}
			r.claim(spotOf(&thing.Element), "", &thing.Element, thing)
			outline := t.Outline[:]
			r.plan.ground.add(&surface{
				element: &stair.Element, rank: rankTread, outline: outline, box: boxOf(outline), levelM: &t.HeightM, walked: true,
			})
		}
	}
}

// distanceTo is how far p is from an outline; 0 inside it.
func distanceTo(outline []r2.Vec, p r2.Vec) float64 {
	if contains(outline, p) {
		return 0
	}
	least := math.Inf(1)
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		least = math.Min(least, squareTo(p, a, b, along(p, a, b)))
	}
	return math.Sqrt(least)
}
