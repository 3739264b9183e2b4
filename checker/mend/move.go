package mend

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
	"duskproof/checker/source"
)

const (
	// farthestMove is how far a thing is moved at most, in metres: beyond that
	// it is another design.
	farthestMove = 4.0
	// sectors is how many ways a thing may be moved, so that where one makes
	// a step dark another may not.
	sectors = 8
	// mostMoves is how many moves are offered for one finding.
	mostMoves = 6
)

// moveFixture offers the least moves that take a fixture out of what it stands
// in the way of, in any direction.
func moveFixture(v *view, f *finding.Finding) []Candidate {
	fixture := v.fixtures[f.Element]
	if fixture == nil || fixture.At == nil {
		return nil
	}
	if v.isArray(fixture) {
		return v.shiftArray(fixture)
	}
	r := v.roomFor(fixture)
	if len(r.harsh) == 0 {
		return nil
	}
	var out []Candidate
	for _, at := range r.ways() {
		if candidate, ok := v.moveTo(fixture, at, r.clear); ok {
			out = append(out, candidate)
		}
	}
	slices.SortStableFunc(out, func(a, b Candidate) int { return cmp.Compare(a.Cost, b.Cost) })
	return out[:min(len(out), mostMoves)]
}

// moveEnds offers to move what a leg ends at, where that stands in the way itself.
func moveEnds(v *view, f *finding.Finding) []Candidate {
	leg := v.legs[f.Element]
	if leg == nil {
		return nil
	}
	var out []Candidate
	for _, end := range []string{leg.From, leg.To} {
		of := *f
		of.Element = end
		out = append(out, moveFixture(v, &of)...)
		out = append(out, moveUnit(v, &of)...)
	}
	return out
}

// ways are the nearest places with room, one in each sector about the old one.
func (r *room) ways() []r2.Vec {
	var out []r2.Vec
	for i := range sectors {
		middle := site.Heading(360 * float64(i) / sectors)
		in := func(p r2.Vec) float64 { return math.Min(r.clear(p), r.wedge(p, middle)) }
		if at, ok := site.LeastMove(r.at, in, farthestMove); ok {
			out = append(out, at)
		}
	}
	return out
}

// wedge is how far inside a sector about a direction a point is.
func (r *room) wedge(p, middle r2.Vec) float64 {
	to := r2.Sub(p, r.at)
	half := math.Pi / sectors
	return r2.Dot(to, middle)*math.Sin(half) - math.Abs(r2.Cross(middle, to))*math.Cos(half) + nothing
}

// moveTo moves a fixture to the measurable place nearest to its old one, of
// those about a point that have room.
func (v *view) moveTo(f *plan.Fixture, near r2.Vec, clear func(r2.Vec) float64) (Candidate, bool) {
	for _, s := range v.spots(f.Pointer, "at", *f.At, near) {
		if clear(s.at) >= 0 && r2.Norm(r2.Sub(s.at, *f.At)) > nothing {
			return v.move(f, s)
		}
	}
	return Candidate{}, false
}

// moveAbout moves a fixture to the measurable place nearest to a point, of those
// that have room.
func (v *view) moveAbout(f *plan.Fixture, point r2.Vec, clear func(r2.Vec) float64) (Candidate, bool) {
	all := v.spots(f.Pointer, "at", *f.At, point)
	slices.SortStableFunc(all, func(a, b spot) int {
		return cmp.Compare(r2.Norm(r2.Sub(a.at, point)), r2.Norm(r2.Sub(b.at, point)))
	})
	for _, s := range all {
		if clear(s.at) >= 0 && r2.Norm(r2.Sub(s.at, *f.At)) > leastShift {
			return v.move(f, s)
		}
	}
	return Candidate{}, false
}

// leastShift is how far a light is moved at least for its light's sake, in metres.
const leastShift = 0.15

func (v *view) move(f *plan.Fixture, s spot) (Candidate, bool) {
	e := v.edit()
	s.set(e, f.Pointer)
	by := r2.Norm(r2.Sub(s.at, *f.At))
	cost := v.weight("fixture_moved") + by*v.weight("fixture_moved_per_m") + v.stretch(e, f.ID, *f.At, s.at)
	text := fmt.Sprintf("Move %s %s to the %s", f.ID, v.say(v.about(by)), compass(site.Bearing(*f.At, s.at)))
	return Candidate{Kind: "move", Text: text, Cost: cost, Patch: e.patch()}, true
}

// compass is a bearing in words, with plan north at 0.
func compass(deg float64) string {
	names := [...]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
	return names[int(math.Round(deg/45))%len(names)]
}

// stretch gives the cables that end at a thing the length they need when it
// moves: those whose length is stated, where the drawn way becomes longer than
// that. It returns the cost of what all of them need more.
func (v *view) stretch(e *edit, id string, from, to r2.Vec) float64 {
	cost := 0.0
	for _, run := range v.plan.Runs {
		for _, leg := range run.Legs {
			if leg.From != id && leg.To != id || len(leg.Route) < 2 {
				continue
			}
			next := leg.Route[1]
			if leg.To == id {
				next = leg.Route[len(leg.Route)-2]
			}
			longer := r2.Norm(r2.Sub(next, to)) - r2.Norm(r2.Sub(next, from))
			cost += math.Max(0, longer) * (areaOf(leg.Cable)*v.weight("cable_per_m_mm2") + v.weight("trench_per_m"))
			pointer := leg.Pointer + source.Pointer("length")
			if v.tree.Find(pointer) != nil && leg.RoutedM != nil && leg.LengthM != nil && *leg.RoutedM+longer > *leg.LengthM {
				need := math.Max(*leg.LengthM, *leg.RoutedM) + longer // a length shorter than the way is a mistake of its own
				e.set(leg.Pointer, v.length(pointer, v.up(need, cableStep)), "length")
			}
		}
	}
	return cost
}

// shiftArray offers to shift an array along its path, or farther from it, until
// one of its fixtures has room.
func (v *view) shiftArray(f *plan.Fixture) []Candidate {
	array := v.find(f.Pointer, "array")
	p := v.pathNamed(array)
	if p == nil {
		return nil
	}
	r := v.roomFor(f)
	station, left := project(p.Centreline, *f.At)
	var out []Candidate
	for _, way := range []struct{ along, away float64 }{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		size := v.size(tenthStep)
		for n := 1.0; n*size <= farthestMove; n++ {
			at, ok := beside(p.Centreline, station+way.along*n*size, left+math.Copysign(way.away*n*size, left))
			if !ok {
				break
			}
			if r.clear(at) >= 0 {
				if c, ok := v.shifted(f, way.along*n*size, way.away*n*size); ok {
					out = append(out, c)
				}
				break
			}
		}
	}
	return out
}

// shifted moves a whole array along its path and away from it.
func (v *view) shifted(f *plan.Fixture, along, away float64) (Candidate, bool) {
	e := v.edit()
	base := f.Pointer + "/array"
	shift := func(name string, by float64) bool {
		pointer := base + source.Pointer(name)
		now, has := v.metres(v.tree.Find(pointer))
		if !has && v.tree.Find(pointer) != nil || now+by < 0 && name != "offset" {
			return false
		}
		e.set(f.Pointer, v.length(pointer, now+by), "array", name)
		return true
	}
	var (
		ok   bool
		text string
	)
	name := f.Pointer
	if id := v.find(f.Pointer, "id"); id != nil {
		name = string(raw(id))
		name = name[1 : len(name)-1]
	}
	switch {
	case away != 0:
		ok, text = shift("offset", away), fmt.Sprintf("Set the lights of array %s %s farther from the path", name, v.say(away))
		if away < 0 {
			text = fmt.Sprintf("Set the lights of array %s %s nearer to the path", name, v.say(-away))
		}
	default:
		ok = shift("start", along)
		if v.tree.Find(base+"/end") != nil {
			ok = ok && shift("end", along)
		}
		text = fmt.Sprintf("Shift array %s by %s along its path", name, v.say(math.Abs(along)))
	}
	n := float64(v.membersOf(f.Pointer))
	cost := n * (v.weight("fixture_moved") + (math.Abs(along)+math.Abs(away))*v.weight("fixture_moved_per_m"))
	return Candidate{Kind: "shift", Text: text, Cost: cost, Patch: e.patch()}, ok
}

// membersOf is how many fixtures an entry of the file stands for.
func (v *view) membersOf(pointer string) int {
	n := 0
	for _, f := range v.plan.Fixtures {
		if f.Pointer == pointer {
			n++
		}
	}
	return n
}
