package facts

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
)

const (
	eyeStepM   = 1.0  // between the eyes of a walker
	ownReachM  = 20.0 // farther sources on the same land are not judged
	farReachM  = 50.0 // farther sources are not judged from beyond it
	dullestLux = 0.05 // at the eye; fainter sources are not listed
	// steepestDeg is how far above or below the horizon a walker sees what
	// shines at him: the brow covers what is higher, and nobody walks with
	// his eyes on what is right below (common practice, no source).
	steepestDeg = 60.0
	// hiddenDeg is how far from its axis a shroud or louvre hides a source
	// (common practice, no source).
	hiddenDeg = 45.0
)

// eyes are the places that people look from.
type eyes struct {
	from, kind string
	at         []r3.Vec
	reachM     float64
	walking    bool
}

// sightlines finds, for each place where people look from, the sources that
// shine into the eye, each at its worst.
func (j *join) sightlines(lit *lighting) {
	height := j.limit("light.eye_height_m", 1.6)
	for _, p := range j.plan.Site.Paths {
		from := eyes{from: p.ID, kind: "path", at: paces(p, eyeStepM), reachM: ownReachM, walking: true}
		for i := range from.at {
			from.at[i].Z += height
		}
		j.seenFrom(lit, from)
	}
	for _, s := range j.plan.Site.Stairs {
		from := eyes{from: s.ID, kind: "stair", reachM: ownReachM, walking: true}
		for _, t := range s.Treads {
			middle := r2.Scale(0.25, r2.Add(r2.Add(t.Outline[0], t.Outline[1]), r2.Add(t.Outline[2], t.Outline[3])))
			from.at = append(from.at, r3.Vec{X: middle.X, Y: middle.Y, Z: t.HeightM + height})
		}
		j.seenFrom(lit, from)
	}
	for _, w := range j.plan.Site.Windows {
		from := eyes{from: w.ID, kind: "window", reachM: ownReachM}
		if w.Whose == "neighbour" {
			from.kind, from.reachM = "neighbour-window", farReachM
		}
		for _, p := range j.panes(w) {
			from.at = append(from.at, p[0].At) // the centre of each side
		}
		j.seenFrom(lit, from)
	}
	j.seenFrom(lit, eyes{from: "property-line", kind: "boundary", at: j.passers(height), reachM: farReachM})
}

// passers are the eyes of people who stand at the property line.
func (j *join) passers(height float64) []r3.Vec {
	land := polygonOf(j.plan.Site.PropertyLine)
	if len(land) < 3 {
		return nil
	}
	var out []r3.Vec
	for edge := range land {
		s := land.Edge(edge)
		n := math.Ceil(r2.Norm(r2.Sub(s.B, s.A))/eyeStepM - 1e-9)
		for i := 0.0; i < n; i++ {
			at := r2.Add(s.A, r2.Scale((i+0.5)/n, r2.Sub(s.B, s.A)))
			out = append(out, r3.Vec{X: at.X, Y: at.Y, Z: j.plan.GroundAt(at) + height})
		}
	}
	return out
}

func (j *join) seenFrom(lit *lighting, from eyes) {
	worst := map[string]Sightline{}
	for _, eye := range from.at {
		for _, v := range lit.eval.ViewsAbove(eye, from.reachM, dullestLux*j.maintenance()) {
			f, l := lit.lamps[v.Luminaire], lit.eval.Luminaire(v.Luminaire)
			off := between(lit.axis(v.Luminaire), r3.Sub(eye, l.At))
			if from.walking && math.Abs(v.GammaDeg-90) > steepestDeg || covered(f, v.GammaDeg, off) {
				continue
			}
			s := Sightline{ID: f.ID, From: from.from, FromKind: from.kind, DistanceM: v.DistanceM,
				Candela: v.Candela * lit.fresh[v.Luminaire], OffAxisDeg: off, FromDownDeg: v.GammaDeg}
			s.Lux = s.Candela / (v.DistanceM * v.DistanceM)
			if s.Lux < dullestLux || s.Lux <= worst[f.ID].Lux {
				continue
			}
			if flux := l.Lumens * l.Maintenance * l.Light.OutputRatio(); flux > 0 {
				s.CandelaPerKlm = 1000 * v.Candela / flux
			}
			worst[f.ID] = s
		}
	}
	for _, id := range sortedKeys(worst) {
		j.doc.Sightlines = append(j.doc.Sightlines, worst[id])
	}
}

// axis is where the main axis of a luminaire points: that of a file of type A lies
// level when the luminaire does not lean.
func (lit *lighting) axis(i int) r3.Vec {
	l, kind := lit.eval.Luminaire(i), lit.kinds[lit.lamps[i].Type.ID]
	tilt := l.TiltDeg
	if kind.file != nil {
		tilt += kind.file.BeamTiltDeg()
	}
	return light.Direction(l.AimBearingDeg, tilt)
}

// covered reports whether the shield that is stated hides the source from an
// eye. gammaDeg is the eye's direction from straight down, offDeg from the axis.
func covered(f *plan.Fixture, gammaDeg, offDeg float64) bool {
	switch f.Shield {
	case "full-cutoff":
		return gammaDeg >= 90
	case "shrouded", "louvred":
		return offDeg > hiddenDeg
	}
	return false
}

const (
	windowDepthM = 0.5 // how far from the face of a wall a window in it is drawn
	squareWithin = 0.2 // cosine between a window and the way out of its wall
)

// panes are the points of a window on each side that light can reach: the
// outside alone where it lies in the wall of a building.
func (j *join) panes(w *plan.Window) [][]light.Point {
	pane := light.Window{A: w.Line[0], B: w.Line[1], SillM: w.SillM, HeadM: w.HeadM}
	if out, depth, ok := j.wallOf(pane); ok {
		along := r2.Sub(pane.B, pane.A)
		if outside := (r2.Vec{X: along.Y, Y: -along.X}); r2.Dot(outside, out) < 0 {
			pane.A, pane.B = pane.B, pane.A
		}
		shift := r2.Scale(depth+light.CornerInsetM, out)
		pane.A, pane.B = r2.Add(pane.A, shift), r2.Add(pane.B, shift)
		return sides(pane)
	}
	back := pane
	back.A, back.B = pane.B, pane.A
	return sides(pane, back)
}

// wallOf is the way out of the wall that a window is in, and how deep behind the
// face of that wall it is drawn.
func (j *join) wallOf(pane light.Window) (out r2.Vec, depthM float64, ok bool) {
	middle, along := r2.Scale(0.5, r2.Add(pane.A, pane.B)), r2.Sub(pane.B, pane.A)
	length, least := r2.Norm(along), windowDepthM
	if length == 0 {
		return out, 0, false
	}
	for _, b := range j.plan.Site.Buildings {
		gap := polygonOf(b.Outline).Distance(middle)
		normal, found := outwardAt(b.Outline, middle)
		if found && math.Abs(gap) <= least && math.Abs(r2.Dot(normal, along))/length <= squareWithin {
			out, depthM, ok, least = normal, math.Max(0, -gap), true, math.Abs(gap)
		}
	}
	return out, depthM, ok
}

// sides are the points of panes; a pane without length has none.
func sides(panes ...light.Window) [][]light.Point {
	var out [][]light.Point
	for _, p := range panes {
		if points := light.PointsOf(p.Points()); len(points) > 0 {
			out = append(out, points)
		}
	}
	return out
}
