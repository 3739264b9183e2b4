package plan

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
)

// lineOf looks up a path and returns its line, nil when there is none.
func (r *resolver) lineOf(s spot, id string) *pathLine {
	t, found := find[*pathThing](r, s, "path", id)
	if !found {
		return nil
	}
	return r.pathLine(t)
}

// pathLine computes a path's line when it is first asked for.
func (r *resolver) pathLine(t *pathThing) *pathLine {
	s := spotOf(&t.Element)
	r.once(r.nameOf(&t.Element), s, func() { t.line = r.computeLine(t, s) })
	return t.line
}

// nameOf names an element for messages and for [resolver.once]: its id, or its
// place when another has taken the id.
func (r *resolver) nameOf(e *Element) string {
	if r.plan.Elements[e.ID] == e {
		return e.ID
	}
	return e.ID + " at " + e.Pointer
}

func (r *resolver) computeLine(t *pathThing, s spot) *pathLine {
	e := t.entry
	elevations := r.pathElevations(e, s)
	points := r.points(s.key("centreline"), e.Centreline)
	kept, indices := distinct(points)
	width := r.size(s, "width", e.Width, Length)
	if points == nil || width == nil {
		return nil
	}
	if len(kept) < 2 {
		r.conflict(s.key("centreline"), "the centreline has no length")
		return nil
	}
	if elevations != nil {
		for i, index := range indices {
			elevations[i] = elevations[index]
		}
		elevations = elevations[:len(kept)]
	}
	return newPathLine(kept, elevations, *width)
}

// pathElevations returns one elevation for each vertex; nil when the path
// states none.
func (r *resolver) pathElevations(e *PathEntry, s spot) []float64 {
	if e.Elevations != nil {
		if len(e.Elevations) != len(e.Centreline) {
			r.conflict(s.key("elevations"), "there are %d elevations for %d points of the centreline", len(e.Elevations), len(e.Centreline))
			return nil
		}
		if e.Elevation.Set {
			r.conflictOnKey(s.key("elevation"), "the path has one elevation and a list of elevations: keep one of them")
		}
	}
	elevations := make([]float64, len(e.Centreline))
	for i, q := range e.Elevations {
		elevations[i] = or(r.length(s.key("elevations"), strconv.Itoa(i), q), 0)
	}
	if e.Elevations != nil {
		return elevations
	}
	one := r.length(s, "elevation", e.Elevation)
	if one == nil {
		return nil
	}
	for i := range elevations {
		elevations[i] = *one
	}
	return elevations
}

func (r *resolver) resolvePath(t *pathThing) {
	p, e := t.Path, t.entry
	p.Title, p.Surface, p.Lit = e.Title, e.Surface, or(e.Lit, true)
	line := r.pathLine(t)
	r.leaveOut(&t.Element, line == nil)
	if line == nil {
		return
	}
	r.plan.ground.add(pathSurface(&t.Element, line))
	p.Centreline, p.WidthM = line.points, line.widthM
	p.ElevationsM = line.elevations
	if p.ElevationsM == nil {
		p.ElevationsM = make([]float64, len(line.points))
	}
}

// resolveLanding computes a landing. Its level is as stated, else that of the
// end of the stair that it is at, else 0.
func (r *resolver) resolveLanding(t *landingThing) {
	l, e, s := t.Landing, t.entry, spotOf(&t.Element)
	l.Outline = r.outlineOf(&t.Element, e.Outline)
	l.End, l.Lit = e.End, or(e.Lit, true)
	level := r.length(s, "elevation", e.Elevation)
	stair, found := find[*stairThing](r, s.key("stair"), "stair", e.Stair)
	if found {
		l.Stair = stair.Stair
	}
	if found && !r.leftOut[&stair.Element] {
		end := stair.BaseM
		if e.End == "top" {
			end += float64(stair.Risers) * stair.RiseM
		}
		if level == nil {
			level = &end
		} else if math.Abs(end-*level) > landingSlackM {
			r.conflict(s.key("elevation"), "the landing is at %s, but the %s of %q is at %s",
				r.text(*level), e.End, stair.ID, r.text(end))
		}
	}
	l.ElevationM = or(level, 0)
	r.checkReach(t)
	r.addSurface(&t.Element, rankLanding, l.Outline, level, true)
}

// checkReach reports a landing that does not lie at its end of its stair.
func (r *resolver) checkReach(t *landingThing) {
	stair, _ := r.things[t.entry.Stair].(*stairThing)
	if stair == nil || stair.flight == nil || t.Outline == nil {
		return
	}
	f, end := stair.flight, "foot"
	at := middle(f.footLeft, f.footRight)
	if t.End == "top" {
		at, end = middle(f.headLeft, f.headRight), "head"
	}
	if gap := distanceTo(t.Outline, at); gap > landingReachM {
		r.conflict(spotOf(&t.Element).key("outline"), "the landing is said to be at the %s of %q, but lies %s from the middle of its %s",
			t.End, t.Stair.ID, r.text(gap), end)
	}
}

func (r *resolver) resolveDecks(e *SiteEntry, site *Site) {
	for i := range e.Decks {
		d, de := site.Decks[i], &e.Decks[i]
		s := spotOf(&d.Element)
		d.Outline = r.outlineOf(&d.Element, de.Outline)
		d.Material, d.Lit = de.Material, or(de.Lit, true)
		d.BoardGapM = r.extent(s, "board_gap", de.BoardGap)
		level := r.length(s, "elevation", de.Elevation)
		d.ElevationM = or(level, 0)
		r.addSurface(&d.Element, rankDeck, d.Outline, level, true)
	}
}

func (r *resolver) resolveAreas(e *SiteEntry, site *Site) {
	for i := range e.Areas {
		a, ae := site.Areas[i], &e.Areas[i]
		s := spotOf(&a.Element)
		a.Outline = r.outlineOf(&a.Element, ae.Outline)
		a.Title, a.Kind, a.Surface, a.Lit = ae.Title, ae.Kind, ae.Surface, or(ae.Lit, true)
		a.ThicknessM = r.extent(s, "thickness", ae.Thickness)
		level := r.length(s, "elevation", ae.Elevation)
		a.ElevationM = or(level, 0)
		r.addSurface(&a.Element, rankArea, a.Outline, level, isWalked(a.Kind))
	}
}

// isWalked says whether people walk on a kind of area.
func isWalked(kind string) bool {
	switch kind {
	case "planting", "mower-strip", "snow-store":
		return false
	}
	return true
}

func (r *resolver) addSurface(e *Element, rank int, outline []r2.Vec, level *float64, walked bool) {
	if outline == nil {
		return
	}
	r.plan.ground.add(&surface{
		element: e, rank: rank, outline: outline, box: boxOf(outline), levelM: level, walked: walked,
	})
}
