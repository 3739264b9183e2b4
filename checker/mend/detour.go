package mend

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/finding"
	"duskproof/checker/plan"
	"duskproof/checker/site"
	"duskproof/checker/source"
)

// detour offers to lead a leg round what it should not lie in, on either side.
func detour(v *view, f *finding.Finding) []Candidate {
	leg := v.legs[f.Element]
	if leg == nil || leg.Chained || len(leg.Route) < 2 || v.plan.Site == nil {
		return nil
	}
	gap := v.obstacle(f)
	if gap == nil {
		return nil
	}
	var out []Candidate
	for _, side := range []float64{1, -1} {
		if bends, ok := v.round(leg.Route, side, gap); ok {
			out = append(out, v.reroute(leg, bends, f.Case))
		}
	}
	return out
}

// obstacle is how far a line stays clear of what a finding names, with the room
// that is asked for; negative when it does not.
func (v *view) obstacle(f *finding.Finding) func(site.Line) float64 {
	s := v.plan.Site
	outline := func(points []r2.Vec, room float64) func(site.Line) float64 {
		g := site.Polygon(points)
		return func(l site.Line) float64 { return site.LinePolygon(l, g).M - room }
	}
	for _, t := range s.Trees {
		if t.ID == f.Case {
			radius := t.RootM * v.limit("earth.root_zone_factor", 1)
			return func(l site.Line) float64 { return site.PointLine(t.At, l).M - radius }
		}
	}
	for _, b := range s.Beds {
		if b.ID == f.Case {
			return outline(b.Outline, v.size(depthStep))
		}
	}
	for _, b := range s.Buildings {
		if b.ID == f.Case {
			return outline(b.Outline, v.size(depthStep))
		}
	}
	for _, w := range s.Water {
		if w.ID == f.Case {
			return outline(w.Outline, math.Max(v.limit("water.setback_m", 0), v.limit("water.natural_setback_m", 0)))
		}
	}
	for _, l := range s.Services {
		if l.ID == f.Case && f.Limit != nil {
			room, route := *f.Limit, site.Line(l.Route)
			return func(line site.Line) float64 { return site.LineLine(line, route).M - room }
		}
	}
	if f.Rule == "site.off-land" && len(s.PropertyLine) > 2 {
		land := site.Polygon(s.PropertyLine)
		return func(l site.Line) float64 {
			least := math.Inf(1)
			for _, p := range l {
				least = math.Min(least, -land.Distance(p))
			}
			return least
		}
	}
	return nil
}

const (
	// farthestBend is how far a leg is led aside at most, in metres.
	farthestBend = 6.0
	// bendShare is how near to its ends a leg that goes round something leaves
	// the straight way, as a share of it.
	bendShare = 0.15
)

// round leads the first stretch of a route that is in the way aside by the least
// step that clears it: by one bend in its middle, else by two.
func (v *view) round(route []r2.Vec, side float64, gap func(site.Line) float64) ([]r2.Vec, bool) {
	for i := 1; i < len(route); i++ {
		a, b := route[i-1], route[i]
		if gap(site.Line{a, b}) >= 0 {
			continue
		}
		way := r2.Sub(b, a)
		if r2.Norm(way) < nothing {
			return nil, false
		}
		out := r2.Scale(side, r2.Unit(r2.Vec{X: -way.Y, Y: way.X}))
		for _, at := range [][]float64{{0.5}, {bendShare, 1 - bendShare}} {
			if bends, ok := v.pushOut(a, way, out, at, gap); ok {
				return slices.Concat(route[1:i], bends, route[i:len(route)-1]), true
			}
		}
		return nil, false
	}
	return nil, false
}

// pushOut pushes bends out from a straight way until the line through them is
// clear.
func (v *view) pushOut(a, way, out r2.Vec, shares []float64, gap func(site.Line) float64) ([]r2.Vec, bool) {
	size := v.size(tenthStep) * 2
	for by := size; by <= farthestBend; by += size {
		var bends []r2.Vec
		for _, share := range shares {
			p := r2.Add(a, r2.Add(r2.Scale(share, way), r2.Scale(by, out)))
			bends = append(bends, v.onTape(p))
		}
		line := append(append(site.Line{a}, bends...), r2.Add(a, way))
		if gap(line) >= 0 {
			return bends, true
		}
	}
	return nil, false
}

// onTape is the measurable point nearest to another.
func (v *view) onTape(p r2.Vec) r2.Vec {
	size := v.size(tenthStep)
	return r2.Vec{X: math.Round(p.X/size) * size, Y: math.Round(p.Y/size) * size}
}

// reroute gives a leg other bends, and the length that it then needs.
func (v *view) reroute(leg *plan.Leg, bends []r2.Vec, round string) Candidate {
	e := v.edit()
	var route []any
	for _, p := range bends {
		route = append(route, v.pair(p))
	}
	e.set(leg.Pointer, list(route...), "route")
	line := slices.Concat(leg.Route[:1], bends, leg.Route[len(leg.Route)-1:])
	longer := site.Line(line).Length() - site.Line(leg.Route).Length()
	pointer := leg.Pointer + source.Pointer("length")
	if v.tree.Find(pointer) != nil && leg.LengthM != nil {
		e.set(leg.Pointer, v.length(pointer, v.up(*leg.LengthM+math.Max(0, longer), cableStep)), "length")
	}
	cost := v.weight("setting_changed") + math.Max(0, longer)*(v.weight("trench_per_m")+areaOf(leg.Cable)*v.weight("cable_per_m_mm2"))
	return Candidate{Kind: "route", Text: fmt.Sprintf("Lead leg %s round %s, %s longer", leg.ID, round, v.say(math.Max(0, longer))),
		Cost: cost, Patch: e.patch()}
}
