package plan

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// goingSlackM is how far the stated going may differ from the distance
	// between foot and head divided by the treads: half an inch and a little.
	goingSlackM = 0.015
	// widthSlackM is how far the stated width may differ from the foot line.
	widthSlackM = 0.05
	// landingSlackM is how far a landing's stated level may differ from the
	// end of its stair.
	landingSlackM = 0.05
	// leastAcrossM is how wide a stair is at least, measured across the way
	// up.
	leastAcrossM = 0.05
	// landingReachM is how far a landing may lie from the end of its stair.
	landingReachM = 0.3
	// aheadM is how far beyond the head a stair looks for what it leads to:
	// half a common going.
	aheadM = 0.15
	// topDepthM is the depth of the top level of a stair whose going is not
	// known, as of a single riser. Common practice, no source.
	topDepthM = 0.3
)

// flight is the plan view of a stair: the lines of its first and its last
// riser. Left and right are as seen going up.
type flight struct {
	footLeft, footRight, headLeft, headRight r2.Vec
	up                                       r2.Vec // unit vector
	risers                                   int
	goingM                                   float64 // of one tread; of the top level too
}

// flightOf looks up a stair and returns its flight, nil when there is none.
func (r *resolver) flightOf(s spot, id string) *flight {
	t, found := find[*stairThing](r, s, "stair", id)
	if !found {
		return nil
	}
	return r.flight(t)
}

// flight computes a stair's flight when it is first asked for.
func (r *resolver) flight(t *stairThing) *flight {
	s := spotOf(&t.Element)
	r.once(r.nameOf(&t.Element), s, func() { t.flight = r.computeFlight(t.entry, s) })
	return t.flight
}

func (r *resolver) computeFlight(e *StairEntry, s spot) *flight {
	foot, head := r.points(s.key("foot"), e.Foot), r.points(s.key("head"), e.Head)
	going := r.size(s, "going", e.Going, Length)
	if len(foot) != 2 || len(head) != 2 || e.Risers < 1 {
		return nil
	}
	if !r.isLine(s.key("foot"), foot) || !r.isLine(s.key("head"), head) {
		return nil
	}
	// Foot and head may be drawn in opposite directions: their ends belong
	// together so that the sides of the stair do not cross.
	if segmentsMeet(foot[0], head[0], foot[1], head[1]) && !segmentsMeet(foot[0], head[1], foot[1], head[0]) {
		head[0], head[1] = head[1], head[0]
	}
	f := &flight{risers: e.Risers}
	way := r2.Sub(middle(head[0], head[1]), middle(foot[0], foot[1]))
	run := r2.Norm(way)
	if run < sameM {
		if e.Risers > 1 {
			r.conflict(s.key("head"), "head and foot are at the same place, but %d risers need %s between them", e.Risers, treadCount(e.Risers-1))
			return nil
		}
		across := r2.Sub(foot[1], foot[0]) // drawn from left to right
		way, run = r2.Vec{X: -across.Y, Y: across.X}, r2.Norm(across)
	}
	f.up = r2.Scale(1/run, way)
	if across := math.Abs(r2.Cross(f.up, r2.Sub(foot[1], foot[0]))); across < leastAcrossM {
		r.conflict(s.key("foot"), "the foot does not lie across the way from foot to head")
		return nil
	}
	f.footLeft, f.footRight, f.headLeft, f.headRight = foot[0], foot[1], head[0], head[1]
	if r2.Cross(f.up, r2.Sub(foot[0], foot[1])) < 0 {
		f.footLeft, f.footRight, f.headLeft, f.headRight = foot[1], foot[0], head[1], head[0]
	}
	f.goingM = r.goingOf(e, s, run, going)
	return f
}

// isLine reports a line across a stair that has no length.
func (r *resolver) isLine(s spot, line []r2.Vec) bool {
	if lengthOf(line) < sameM {
		r.conflict(s, "the two ends of this line are at the same place")
		return false
	}
	return true
}

// goingOf is the depth of a tread: as drawn, checked against as stated.
func (r *resolver) goingOf(e *StairEntry, s spot, run float64, stated *float64) float64 {
	if e.Risers < 2 {
		return or(stated, topDepthM)
	}
	drawn := run / float64(e.Risers-1)
	if stated != nil && math.Abs(drawn-*stated) > goingSlackM {
		r.conflict(s.key("going"), "a going of %s does not fit: foot and head are %s apart, which is %s for each of %s",
			r.text(*stated), r.text(run), r.text(drawn), treadCount(e.Risers-1))
	}
	return drawn
}

func treadCount(n int) string {
	if n == 0 {
		return "no treads"
	}
	return countOf(n, "tread")
}

func middle(a, b r2.Vec) r2.Vec { return r2.Scale(0.5, r2.Add(a, b)) }

// riser returns the ends of riser line k, 0 at the foot and risers-1 at the
// head.
func (f *flight) riser(k int) (left, right r2.Vec) {
	if f.risers < 2 {
		return f.footLeft, f.footRight
	}
	t := float64(k) / float64(f.risers-1)
	left = r2.Add(f.footLeft, r2.Scale(t, r2.Sub(f.headLeft, f.footLeft)))
	right = r2.Add(f.footRight, r2.Scale(t, r2.Sub(f.headRight, f.footRight)))
	return left, right
}

// tread returns the outline of tread n, 1 the lowest: front left, front right,
// back right, back left. Tread number risers is the top level, one going deep.
func (f *flight) tread(n int) [4]r2.Vec {
	frontLeft, frontRight := f.riser(n - 1)
	if n >= f.risers {
		frontLeft, frontRight = f.headLeft, f.headRight
		deep := r2.Scale(f.goingM, f.up)
		return [4]r2.Vec{frontLeft, frontRight, r2.Add(frontRight, deep), r2.Add(frontLeft, deep)}
	}
	backLeft, backRight := f.riser(n)
	return [4]r2.Vec{frontLeft, frontRight, backRight, backLeft}
}

// resolveStair fills in a stair and its treads, all but the top level.
func (r *resolver) resolveStair(t *stairThing) {
	st, e, s := t.Stair, t.entry, spotOf(&t.Element)
	st.Title, st.Risers, st.Handrails, st.Material = e.Title, e.Risers, e.Handrails, e.Material
	st.OpenRisers, st.Public, st.Lit = or(e.OpenRisers, false), or(e.Public, false), or(e.Lit, true)
	st.RiseM = r.need(&t.Element, "rise", e.Rise)
	width := r.size(s, "width", e.Width, Length)
	st.BaseM = or(r.length(s, "base_elevation", e.BaseElevation), 0)
	f := r.flight(t)
	r.leaveOut(&t.Element, f == nil)
	if f == nil {
		return
	}
	st.FootLeft, st.FootRight, st.HeadLeft, st.HeadRight = f.footLeft, f.footRight, f.headLeft, f.headRight
	st.GoingM = f.goingM
	drawn := r2.Norm(r2.Sub(f.footRight, f.footLeft))
	st.WidthM = or(width, drawn)
	if math.Abs(st.WidthM-drawn) > widthSlackM {
		r.conflict(s.key("width"), "a width of %s does not fit: the foot line is %s long", r.text(st.WidthM), r.text(drawn))
	}
	for n := 1; n < e.Risers && n <= mostTreads; n++ {
		st.Treads = append(st.Treads, r.treadOf(t, n))
	}
	if e.Risers > mostTreads {
		r.conflict(s.key("risers"), "%d risers are more than a stair can have here (%d)", e.Risers, mostTreads)
	}
	r.markEnds(st)
}

// mostTreads bounds the treads of one stair.
const mostTreads = 1000

func (r *resolver) treadOf(t *stairThing, n int) Tread {
	height := t.BaseM + float64(n)*t.RiseM
	return Tread{
		ID: fmt.Sprintf("%s/%d", t.ID, n), Number: n, Outline: t.flight.tread(n),
		HeightM: height, RiserTop: height + t.RiseM,
	}
}

func (r *resolver) markEnds(st *Stair) {
	for i := range st.Treads {
		st.Treads[i].First = i == 0
		st.Treads[i].Last = i == len(st.Treads)-1
	}
}

// addTopLevel adds the level at the head as a tread, unless a surface that
// people walk on covers it, or a landing is said to be there.
func (r *resolver) addTopLevel(t *stairThing) {
	f := t.flight
	if f == nil || r.leftOut[&t.Element] || t.Risers > mostTreads {
		return
	}
	ahead := r2.Add(middle(f.headLeft, f.headRight), r2.Scale(aheadM, f.up))
	for _, l := range r.site.landings {
		if l.Stair == t.Stair && l.End == "top" {
			return
		}
	}
	for _, surface := range r.plan.ground.surfaces {
		if surface.walked && surface.covers(ahead) {
			return
		}
	}
	top := r.treadOf(t, t.Risers)
	top.Top, top.RiserTop = true, top.HeightM
	t.Treads = append(t.Treads, top)
	r.markEnds(t.Stair)
}

// outline is the whole flight from foot to head.
func (f *flight) outline() []r2.Vec {
	return []r2.Vec{f.footLeft, f.footRight, f.headRight, f.headLeft}
}
