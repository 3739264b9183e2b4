package facts

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
	"duskproof/checker/site"
)

// place is a tread or landing to be lit, with its points in the field.
type place struct {
	fact  Tread
	at    r3.Vec
	first int // index of its first point
	names []light.NamedPoint
}

// unknownReach is how near a fixture of unknown light makes a place
// unjudgeable.
const unknownReach = 5.0 // m

// places lists treads, then landings.
func (j *join) places() []place {
	var out []place
	for _, s := range j.plan.Site.Stairs {
		for _, t := range s.Treads {
			names := light.Tread{FrontLeft: t.Outline[0], FrontRight: t.Outline[1], BackRight: t.Outline[2],
				BackLeft: t.Outline[3], ElevationM: t.HeightM}.Points()
			out = append(out, place{names: names, at: names[0].Point.At, fact: Tread{
				ID: t.ID, Stair: s.ID, Number: t.Number, First: t.First, Last: t.Last, Public: s.Public, Unlit: !s.Lit}})
		}
	}
	for _, l := range j.plan.Site.Landings {
		names := landingPoints(l)
		fact := Tread{ID: l.ID, Landing: true, End: l.End, Unlit: !l.Lit}
		if l.Stair != nil {
			fact.Stair, fact.Public = l.Stair.ID, l.Stair.Public
		}
		out = append(out, place{names: names, at: names[0].Point.At, fact: fact})
	}
	for i := 1; i < len(out); i++ {
		out[i].first = out[i-1].first + len(out[i-1].names)
	}
	return out
}

// flushM is how far apart two surfaces are drawn that are one to walk on.
const flushM = 0.05

// onTop lifts points that another surface covers by no more than a little, so
// that it does not throw its shadow on them.
func (j *join) onTop(points []light.Point) []light.Point {
	for i := range points {
		at := &points[i].At
		z, p := at.Z, r2.Vec{X: at.X, Y: at.Y}
		lift := func(outline []r2.Vec, elevation float64) {
			if elevation > at.Z && elevation <= z+flushM && polygonOf(outline).Contains(p) {
				at.Z = elevation
			}
		}
		for _, l := range j.plan.Site.Landings {
			lift(l.Outline, l.ElevationM)
		}
		for _, d := range j.plan.Site.Decks {
			lift(d.Outline, d.ElevationM)
		}
		for _, a := range j.plan.Site.Areas {
			lift(a.Outline, a.ElevationM)
		}
	}
	return points
}

// landingPoints are the middle of a landing and its corners, a little inside.
func landingPoints(l *plan.Landing) []light.NamedPoint {
	at := func(name string, p r2.Vec) light.NamedPoint {
		return light.NamedPoint{Name: name, Point: light.Point{At: r3.Vec{X: p.X, Y: p.Y, Z: l.ElevationM}, Normal: light.Up}}
	}
	middle := middleOf(l.Outline)
	out := []light.NamedPoint{at("strip", middle)}
	for _, p := range l.Outline {
		to := r2.Sub(middle, p)
		out = append(out, at("corner", r2.Add(p, r2.Scale(light.CornerInsetM/math.Max(r2.Norm(to), light.CornerInsetM), to))))
	}
	return out
}

// middleOf is the centre of an outline's area when that lies inside it, else
// the mean of its corners.
func middleOf(outline []r2.Vec) r2.Vec {
	if len(outline) == 0 {
		return r2.Vec{}
	}
	var mean, centre r2.Vec
	area, from := 0.0, outline[0]
	for i := range outline {
		a, b := r2.Sub(outline[i], from), r2.Sub(outline[(i+1)%len(outline)], from)
		cross := r2.Cross(a, b)
		area += cross
		centre = r2.Add(centre, r2.Scale(cross, r2.Add(a, b)))
		mean = r2.Add(mean, r2.Scale(1/float64(len(outline)), a))
	}
	mean = r2.Add(from, mean)
	if area != 0 {
		if c := r2.Add(from, r2.Scale(1/(3*area), centre)); site.Usable(c) && polygonOf(outline).Contains(c) {
			return c
		}
	}
	return mean
}

// treads lights every tread and landing in every scene in use.
func (j *join) treads(ctx context.Context, lit *lighting) error {
	places := lit.places
	var points []light.Point
	if n := len(places); n > 0 {
		points = make([]light.Point, 0, places[n-1].first+len(places[n-1].names))
	}
	for i := range places {
		for _, n := range places[i].names {
			points = append(points, n.Point)
		}
	}
	field, err := lit.eval.Evaluate(ctx, j.onTop(points))
	if err != nil {
		return err
	}
	for i := range places {
		for k := range lit.scenes {
			if s := &lit.scenes[k]; s.InUse {
				j.doc.Treads = append(j.doc.Treads, j.treadIn(lit, field, &places[i], s))
			}
		}
	}
	return j.stairFacts(ctx, lit, field, places)
}

// treadIn is one place in one scene.
func (j *join) treadIn(lit *lighting, field *light.Field, p *place, s *sceneLight) Tread {
	out := p.fact
	out.Scene = s.ID
	lux := make([]float64, len(p.names))
	for i := range lux {
		lux[i] = field.LuxAt(p.first+i, s.levels)
	}
	out.Lamps = lit.strongest(field, p.first, s.levels)
	if lux[0] < j.enough() && s.mayLight(p.at) {
		return out // it may well be lit; the plan does not say
	}
	stats := light.Summarise(lux)
	out.LuxCentre, out.LuxMin, out.LuxAvg = ptr(lux[0]), ptr(stats.MinLux), ptr(stats.AvgLux)
	out.LuxLow = ptr(field.LuxAt(p.first, s.low))
	return out
}

// stepLimits are the levels that treads and landings are judged by.
var stepLimits = []string{
	"light.step_dark_lx", "light.step_low_lx", "light.step_code_lx", "light.step_public_lx",
	"light.landing_dark_lx", "light.landing_low_lx", "light.landing_code_lx", "light.landing_public_lx",
}

// plainLux is light enough where no profile says what is.
const plainLux = 5.0

// enough is the light from which no rule says a word, whatever else may add
// to it.
func (j *join) enough() float64 {
	most := plainLux
	for _, name := range stepLimits {
		most = math.Max(most, j.limit(name, 0))
	}
	return most * (1 + j.limit("light.near_limit", 0))
}

// mayLight reports whether a fixture of unknown light is on that may light a
// point: one that stands near it, or one without a place.
func (s *sceneLight) mayLight(p r3.Vec) bool {
	if s.unplaced {
		return true
	}
	for _, f := range s.unknown {
		if math.Hypot(f.At.X-p.X, f.At.Y-p.Y) < unknownReach {
			return true
		}
	}
	return false
}

// leastLux is the light below which a lamp is not named.
const leastLux = 0.05

// giver is a lamp with the light that it gives.
type giver struct {
	id  string
	lux float64
}

// strongest names the lamps that light a point, the strongest first.
func (lit *lighting) strongest(field *light.Field, point int, levels light.Levels) []string {
	var room [16]giver
	givers := room[:0]
	for _, s := range field.Shares(point) {
		if lux := s.Lux * levels[s.Luminaire]; lux >= leastLux {
			givers = append(givers, giver{lit.lamps[s.Luminaire].ID, lux})
		}
	}
	return inOrder(givers)
}

// strongestOver names the lamps that light any of the points where people walk,
// in order of what they give to all of them together.
func (lit *lighting) strongestOver(field *light.Field, walked []bool, levels light.Levels) []string {
	sums, named := make([]float64, len(lit.lamps)), make([]bool, len(lit.lamps))
	for i := range walked {
		if !walked[i] {
			continue
		}
		for _, s := range field.Shares(i) {
			lux := s.Lux * levels[s.Luminaire]
			sums[s.Luminaire] += lux
			named[s.Luminaire] = named[s.Luminaire] || lux >= leastLux
		}
	}
	var givers []giver
	for i, f := range lit.lamps {
		if named[i] {
			givers = append(givers, giver{f.ID, sums[i]})
		}
	}
	return inOrder(givers)
}

// inOrder is the ids of lamps, the one that gives most first.
func inOrder(givers []giver) []string {
	slices.SortFunc(givers, func(a, b giver) int {
		return cmp.Or(cmp.Compare(b.lux, a.lux), cmp.Compare(a.id, b.id))
	})
	ids := make([]string, len(givers))
	for i, g := range givers {
		ids[i] = g.id
	}
	return ids
}

// litFrom marks the fixtures whose light has to be known, because they stand
// near a place that is meant to be lit, or near the neighbours, or are aimed at a
// tree. A fixture without a place may stand near any.
func (j *join) litFrom() {
	if j.plan.Site == nil {
		return
	}
	lit := j.litPlaces()
	line, windows := j.neighbourPlaces()
	for _, f := range j.plan.Fixtures {
		out := j.fixtures[f.ID]
		out.LightsSite = f.AimAt != nil && f.AimAt.Tree != "" || mayReach(f, lit)
		out.NearLine, out.NearWindow = mayReach(f, line), mayReach(f, windows)
	}
}

// measured is a place that has a distance.
type measured interface{ Distance(r2.Vec) float64 }

// mayReach reports whether a fixture stands near one of some places, or may.
func mayReach(f *plan.Fixture, places []measured) bool {
	for _, p := range places {
		if f.At == nil || p.Distance(*f.At) < unknownReach {
			return true
		}
	}
	return false
}

// neighbourPlaces are the property line and the neighbours' windows.
func (j *join) neighbourPlaces() (line, windows []measured) {
	if land := j.plan.Site.PropertyLine; len(land) > 2 {
		line = append(line, site.Strip{Centreline: append(append(site.Line{}, land...), land[0])})
	}
	for _, w := range j.plan.Site.Windows {
		if w.Whose == "neighbour" {
			windows = append(windows, site.Strip{Centreline: site.Line{w.Line[0], w.Line[1]}})
		}
	}
	return line, windows
}

// litPlaces are the places that are meant to be lit.
func (j *join) litPlaces() []measured {
	var out []measured
	for _, st := range j.plan.Site.Stairs {
		if st.Lit {
			out = append(out, site.Polygon{st.FootLeft, st.FootRight, st.HeadRight, st.HeadLeft})
		}
	}
	for _, l := range j.plan.Site.Landings {
		if l.Lit {
			out = append(out, polygonOf(l.Outline))
		}
	}
	for _, p := range j.plan.Site.Paths {
		if p.Lit {
			out = append(out, site.Strip{Centreline: site.Line(p.Centreline), WidthM: p.WidthM})
		}
	}
	for _, a := range j.plan.Site.Areas {
		if a.Lit && a.Kind == "terrace" {
			out = append(out, polygonOf(a.Outline))
		}
	}
	for _, d := range j.plan.Site.Decks {
		if d.Lit {
			out = append(out, polygonOf(d.Outline))
		}
	}
	return out
}
