package plan

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// shortLengthM and shortLengthShare are how far a leg's stated length may
	// fall short of its route before the two contradict each other: six
	// inches, or 2 % of the route where that is more. A drawing is not read
	// more finely.
	shortLengthM     = 0.15
	shortLengthShare = 0.02
	// longLengthM and longLengthShare are how far the stated length may
	// exceed a route that is drawn with bends: ten feet and half the route.
	// A route without bends may stand for any way, so nothing is said of it.
	longLengthM     = 3
	longLengthShare = 0.5
)

// resolveLeg computes a leg. It is false when the leg cannot be part of the
// network.
func (r *resolver) resolveLeg(l *Leg, e *LegEntry) bool {
	s := spotOf(&l.Element)
	from, hasFrom := find[legEnd](r, s.key("from"), legEndKind, e.From)
	to, hasTo := find[legEnd](r, s.key("to"), legEndKind, e.To)
	r.laying(l, e, r.inherit[l.Run])
	bends := r.points(s.key("route"), e.Route)
	if !hasFrom || !hasTo {
		return false
	}
	l.Returns = r.returns(l, e, to)
	if !r.fits(l, s, from, to, e.Returns != nil) {
		return false
	}
	if _, isTransformer := to.(*Transformer); isTransformer && l.Returns == nil {
		return false // where it lands is not known, which is reported
	}
	if bends != nil {
		r.route(l, from, to, bends)
	}
	l.LengthM = r.legLength(l, s.key("length"), e.Length, len(bends) > 0)
	l.SlackM = or(r.extent(s, "slack", e.Slack), 0) + slackOf(from) + slackOf(to)
	return true
}

// slackOf is the spare cable at an end.
func slackOf(end legEnd) float64 {
	if f, isFixture := end.(*Fixture); isFixture {
		return f.SlackM
	}
	return 0
}

// laying reads how a leg is laid: what it says itself, else what it inherits. An
// inherited cover holds only for a leg that is in the ground.
func (r *resolver) laying(l *Leg, e *LegEntry, d inherited) {
	s := spotOf(&l.Element)
	l.Cable, l.Method = d.cable, orText(e.Method, d.method)
	if e.Cable != "" {
		l.Cable = r.cable(s.key("cable"), e.Cable)
	}
	if l.Cable == nil {
		l.Cable = &CableType{} // no cable is stated
	}
	l.Listed = r.extent(s, "listed_cover", e.Listed)
	if v := e.Sleeve; v != nil {
		l.Sleeve = &Sleeve{Material: v.Material, Size: v.Size, Where: orText(v.Where, "whole")}
	}
	l.CoverM = r.extent(s, "cover", e.Cover)
	if !e.Cover.Set && (l.Method == "buried" || l.Method == "sleeved" || l.Method == "") {
		l.CoverM = d.coverM
	}
	if l.CoverM != nil && *l.CoverM > 0 && isOpen(l.Method) {
		r.conflictOnKey(s.key("cover"), "a leg whose method is %q has no cover", l.Method)
		l.CoverM = nil
	}
}

// isOpen says whether a way of laying is never in the ground.
func isOpen(method string) bool {
	return method == "surface" || method == "in-wall" || method == "on-tree"
}

// returns reads where the far end of a loop lands.
func (r *resolver) returns(l *Leg, e *LegEntry, to legEnd) *Returns {
	if e.Returns == nil {
		return nil
	}
	s := spotOf(&l.Element).key("returns")
	t, found := find[*Transformer](r, s.key("transformer"), "transformer", e.Returns.Transformer)
	if !found {
		return nil
	}
	if end, isTransformer := to.(*Transformer); !isTransformer || end != t {
		r.conflict(s.key("transformer"), "the leg returns to %q but ends at %q", t.ID, l.To)
		return nil
	}
	common, tap := r.output(s, t, e.Returns.Common, e.Returns.Tap)
	return &Returns{Transformer: t, Common: common, TapVolts: tap, Swapped: e.Returns.Conductor == "swapped"}
}

// fits says whether a leg can be part of its run's network.
func (r *resolver) fits(l *Leg, s spot, from, to legEnd, returns bool) bool {
	if from == to {
		r.conflict(s.key("to"), "the leg begins and ends at %q", l.To)
		return false
	}
	if start, isTransformer := from.(*Transformer); isTransformer && l.Run.Transformer != nil && start != l.Run.Transformer {
		r.conflict(s.key("from"), "the leg begins at %q, but %q is fed from %q", start.ID, l.Run.ID, l.Run.Transformer.ID)
		return false
	}
	if _, isTransformer := to.(*Transformer); isTransformer && !returns {
		r.conflict(s.key("to"), "the leg ends at transformer %q: write it from there, or say on which terminals it returns if it closes a loop", l.To)
		return false
	}
	return true
}

// route lays a leg from end to end through its bends, and counts the climb between
// its ends where something states the level of both. What rises and falls between
// is not known, so a cable is never made longer than it is.
func (r *resolver) route(l *Leg, from, to legEnd, bends []r2.Vec) {
	a, b := from.place(), to.place()
	if a == nil || b == nil {
		return
	}
	points := append(append([]r2.Vec{*a}, bends...), *b)
	routed := math.Hypot(lengthOf(points), r.climb(from, to))
	l.RoutedM = &routed
	l.Route, _ = distinct(points)
}

// climb is how far the ground rises between two ends; 0 where the level of one of
// them is not known.
func (r *resolver) climb(from, to legEnd) float64 {
	low, lowKnown := r.levelAt(from)
	high, highKnown := r.levelAt(to)
	if !lowKnown || !highKnown {
		return 0
	}
	return high - low
}

// levelAt is the level of the ground at an end that has a place.
func (r *resolver) levelAt(end legEnd) (levelM float64, known bool) {
	if f, isFixture := end.(*Fixture); isFixture {
		return f.GroundM, f.groundKnown
	}
	return r.groundAt(*end.place(), nil)
}

// legLength is a leg's one-way length: as stated, else as routed. The two are
// held against each other.
func (r *resolver) legLength(l *Leg, s spot, q Quantity, bent bool) *float64 {
	stated := r.size(s, "", q, Length)
	if l.RoutedM == nil || stated == nil {
		if !q.Set && l.RoutedM != nil && *l.RoutedM < sameM {
			r.conflict(spotOf(&l.Element), "%q and %q are at the same place, and no length is stated", l.From, l.To)
			return nil
		}
		if stated == nil && !q.Set {
			return l.RoutedM
		}
		return stated
	}
	routed := *l.RoutedM
	if short := routed - *stated; short > math.Max(shortLengthM, shortLengthShare*routed) {
		if straight := r2.Norm(r2.Sub(l.Route[len(l.Route)-1], l.Route[0])); straight-*stated > shortLengthM {
			r.conflict(s, "a length of %s is shorter than the straight line from %q to %q, %s", r.text(*stated), l.From, l.To, r.text(straight))
			return stated
		}
		r.conflict(s, "a length of %s is %s shorter than the route, which measures %s", r.text(*stated), r.text(short), r.text(routed))
		return stated
	}
	if over := *stated - routed; bent && over > longLengthM+longLengthShare*routed {
		r.conflict(s, "a length of %s is %s longer than the route, which measures %s", r.text(*stated), r.text(over), r.text(routed))
	}
	return stated
}
