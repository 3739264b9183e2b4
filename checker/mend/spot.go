package mend

import (
	"cmp"
	"math"
	"slices"

	"github.com/tailscale/hujson"
	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
	"duskproof/checker/site"
	"duskproof/checker/source"
)

// spot is a place near a wanted one that a person can measure out, and how to
// write it where the plan has the old place.
type spot struct {
	at  r2.Vec
	set func(e *edit, element string)
}

// spots are the places near a point that can be written the way a position is
// written now, nearest to the old place first. element is the pointer of what
// stands there, key the member that holds its position.
func (v *view) spots(element, key string, old, near r2.Vec) []spot {
	found := v.find(element, key)
	if found == nil {
		return nil
	}
	var out []spot
	switch {
	case found.Value.Kind() == '[':
		out = v.gridSpots(key, found, near)
	case found.Find("/along") != nil:
		out = v.stationSpots(key, found, near)
	case found.Find("/tapes") != nil:
		out = v.tapeSpots(key, element, old, near)
	}
	slices.SortStableFunc(out, func(a, b spot) int {
		return cmp.Compare(r2.Norm(r2.Sub(a.at, old)), r2.Norm(r2.Sub(b.at, old)))
	})
	return out
}

// around are the values of a tape about a length: one step below the nearest
// below it to one above the nearest above.
func (v *view) around(m float64, s step) []float64 {
	size := v.size(s)
	low := math.Floor(m/size) - 1
	var out []float64
	for i := range 4 {
		out = append(out, (low+float64(i))*size)
	}
	return out
}

// stepOf is the step of the tape that a length is written with: numbers are
// read in tenths of a foot, strings in inches.
func stepOf(found *hujson.Value) step {
	if found != nil && found.Value.Kind() == '"' {
		return placeStep
	}
	return tenthStep
}

// gridSpots are places written as [x, y].
func (v *view) gridSpots(key string, found *hujson.Value, near r2.Vec) []spot {
	x, y := found.Find("/0"), found.Find("/1")
	if x == nil || y == nil {
		return nil
	}
	var out []spot
	for _, px := range v.around(near.X, stepOf(x)) {
		for _, py := range v.around(near.Y, stepOf(y)) {
			out = append(out, spot{r2.Vec{X: px, Y: py}, func(e *edit, element string) {
				e.set(element, list(v.like(x, px), v.like(y, py)), key)
			}})
		}
	}
	return out
}

// stationSpots are places written as station and offset along a path.
func (v *view) stationSpots(key string, found *hujson.Value, near r2.Vec) []spot {
	p := v.pathNamed(found)
	if p == nil {
		return nil
	}
	station, left := project(p.Centreline, near)
	var out []spot
	for _, st := range v.around(station, stepOf(found.Find("/station"))) {
		for _, away := range v.around(math.Abs(left)-p.WidthM/2, stepOf(found.Find("/offset"))) {
			at, ok := beside(p.Centreline, st, math.Copysign(away+p.WidthM/2, left))
			if !ok || away+p.WidthM/2 < 0 {
				continue
			}
			out = append(out, spot{at, func(e *edit, element string) {
				base := element + source.Pointer(key)
				e.set(element, v.length(base+"/station", st), key, "station")
				side := "left"
				if left < 0 {
					side = "right"
				}
				e.set(element, side, key, "side")
				e.set(element, v.length(base+"/offset", away), key, "offset")
			}})
		}
	}
	return out
}

// pathNamed is the path that a position or an array runs along.
func (v *view) pathNamed(found *hujson.Value) *plan.Path {
	along := found.Find("/along")
	if along == nil || v.plan.Site == nil {
		return nil
	}
	literal, _ := along.Value.(hujson.Literal)
	for _, p := range v.plan.Site.Paths {
		if p.ID == literal.String() {
			return p
		}
	}
	return nil
}

// project is the station of the point of a line that is nearest to another
// point, and how far left of the line that is.
func project(line []r2.Vec, p r2.Vec) (station, left float64) {
	least, done := math.Inf(1), 0.0
	for i := 1; i < len(line); i++ {
		way := r2.Sub(line[i], line[i-1])
		long := r2.Norm(way)
		if long < nothing {
			continue
		}
		unit := r2.Scale(1/long, way)
		to := r2.Sub(p, line[i-1])
		along := math.Min(long, math.Max(0, r2.Dot(to, unit)))
		if d := r2.Norm(r2.Sub(to, r2.Scale(along, unit))); d < least {
			least, station = d, done+along
			left = math.Copysign(d, r2.Cross(unit, to))
		}
		done += long
	}
	return station, left
}

// beside is the point at a station of a line, left of it. It is false for a
// station that the line does not have.
func beside(line []r2.Vec, station, left float64) (r2.Vec, bool) {
	for i := 1; i < len(line); i++ {
		way := r2.Sub(line[i], line[i-1])
		long := r2.Norm(way)
		if long > nothing && station >= 0 && station <= long+nothing {
			unit := r2.Scale(1/long, way)
			on := r2.Add(line[i-1], r2.Scale(station, unit))
			return r2.Add(on, r2.Scale(left, r2.Vec{X: -unit.Y, Y: unit.X})), true
		}
		station -= long
	}
	return r2.Vec{}, false
}

// tapeSpots are places written as two tapes from known points.
func (v *view) tapeSpots(key, element string, old, near r2.Vec) []spot {
	a, okA := v.tapePoint(element, key, 0)
	b, okB := v.tapePoint(element, key, 1)
	if !okA || !okB || r2.Norm(r2.Sub(a, b)) < nothing {
		return nil
	}
	base := element + source.Pointer(key)
	first, second := base+"/tapes/0/distance", base+"/tapes/1/distance"
	left := r2.Cross(r2.Sub(b, a), r2.Sub(near, a)) > 0
	var out []spot
	for _, ra := range v.around(r2.Norm(r2.Sub(near, a)), stepOf(v.tree.Find(first))) {
		for _, rb := range v.around(r2.Norm(r2.Sub(near, b)), stepOf(v.tree.Find(second))) {
			at, ok := crossing(a, b, ra, rb, left)
			if !ok {
				continue
			}
			out = append(out, spot{at, func(e *edit, element string) {
				e.set(element, v.length(first, ra), key, "tapes", 0, "distance")
				e.set(element, v.length(second, rb), key, "tapes", 1, "distance")
				if was := r2.Cross(r2.Sub(b, a), r2.Sub(old, a)) > 0; was != left {
					e.set(element, map[bool]string{true: "left", false: "right"}[left], key, "side")
				}
			}})
		}
	}
	return out
}

// tapePoint is the known point that a tape of a position is pulled from.
func (v *view) tapePoint(element, key string, i int) (r2.Vec, bool) {
	from := v.find(element, key, "tapes", i, "from")
	if from == nil {
		return r2.Vec{}, false
	}
	if literal, ok := from.Value.(hujson.Literal); ok {
		return v.placeOf(literal.String())
	}
	x, okX := v.metres(from.Find("/0"))
	y, okY := v.metres(from.Find("/1"))
	return r2.Vec{X: x, Y: y}, okX && okY
}

// metres reads a length of the file.
func (v *view) metres(found *hujson.Value) (float64, bool) {
	if found == nil {
		return 0, false
	}
	literal, ok := found.Value.(hujson.Literal)
	if !ok {
		return 0, false
	}
	q := plan.Quantity{Set: true, Numeric: literal.Kind() == '0'}
	if q.Numeric {
		q.Number = literal.Float()
	} else {
		q.Text = literal.String()
	}
	m, err := q.Value(plan.Length, v.plan.Units)
	return m, err == nil
}

// placeOf is where an element stands.
func (v *view) placeOf(id string) (r2.Vec, bool) {
	var at *r2.Vec
	switch {
	case v.fixtures[id] != nil:
		at = v.fixtures[id].At
	case v.nodes[id] != nil:
		at = v.nodes[id].At
	case v.transformers[id] != nil:
		at = v.transformers[id].At
	default:
		return v.siteplace(id)
	}
	if at == nil {
		return r2.Vec{}, false
	}
	return *at, true
}

// siteplace is where a tree, post, gate or receptacle stands.
func (v *view) siteplace(id string) (r2.Vec, bool) {
	if s := v.plan.Supply; s != nil {
		for _, r := range s.Receptacles {
			if r.ID == id && r.At != nil {
				return *r.At, true
			}
		}
	}
	if v.plan.Site == nil {
		return r2.Vec{}, false
	}
	for _, t := range v.plan.Site.Trees {
		if t.ID == id {
			return t.At, true
		}
	}
	for _, p := range v.plan.Site.Posts {
		if p.ID == id {
			return p.At, true
		}
	}
	for _, l := range v.plan.Site.Leaves {
		if l.ID == id {
			return l.Hinge, true
		}
	}
	return r2.Vec{}, false
}

// crossing is where two tapes meet, on one side of the line between them.
func crossing(a, b r2.Vec, ra, rb float64, left bool) (r2.Vec, bool) {
	between := r2.Norm(r2.Sub(b, a))
	along := (ra*ra - rb*rb + between*between) / (2 * between)
	square := ra*ra - along*along
	if square < 0 || ra < 0 || rb < 0 || !site.Known(along) {
		return r2.Vec{}, false
	}
	unit := r2.Scale(1/between, r2.Sub(b, a))
	off := r2.Scale(math.Sqrt(square), r2.Vec{X: -unit.Y, Y: unit.X})
	if !left {
		off = r2.Scale(-1, off)
	}
	return r2.Add(a, r2.Add(r2.Scale(along, unit), off)), true
}
