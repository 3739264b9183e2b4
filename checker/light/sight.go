package light

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// View is what an eye sees of one luminaire.
type View struct {
	Luminaire int
	// Candela is the intensity toward the eye at full level, after what
	// stands between.
	Candela float64
	// Through is the share of light that what stands between lets pass.
	Through   float64
	DistanceM float64
	// GammaDeg is the direction toward the eye at the luminaire, in degrees
	// from straight down: glare classes speak of 70, 80 and 90 degrees.
	GammaDeg float64
	// AreaM2 is the luminous opening as seen from the eye; 0 for a point.
	AreaM2 float64
}

// Views returns the luminaires that shine into an eye, in order: those with an
// intensity toward it and with a line of sight that is not wholly blocked.
// Luminaires farther away than withinM are left out; 0 means none are.
func (e *Evaluator) Views(eye r3.Vec, withinM float64) []View {
	return e.ViewsAbove(eye, withinM, 0)
}

// ViewsAbove is Views without the luminaires that give less than leastLux at the
// eye, on a face that is turned to them.
func (e *Evaluator) ViewsAbove(eye r3.Vec, withinM, leastLux float64) []View {
	var out []View
	for i := range e.lamps {
		l := &e.lamps[i]
		d := r3.Sub(eye, l.At)
		n := length(d)
		if n < nearestM || (withinM > 0 && n > withinM) {
			continue
		}
		if down := -d.Z / n; l.bands.between(down, down)*(1+roundingSlack) < leastLux*n*n {
			continue
		}
		local := l.frame.local(r3.Scale(1/n, d))
		candela := l.flux * l.Light.PerLumen(local)
		if candela <= 0 || candela < leastLux*n*n {
			continue
		}
		through := e.blocks.through(&l.src, eye)
		if through <= 0 || candela*through < leastLux*n*n {
			continue
		}
		out = append(out, View{
			Luminaire: i, Candela: candela * through, Through: through, DistanceM: n,
			GammaDeg: degrees(math.Acos(max(-1, min(1, -d.Z/n)))),
			AreaM2:   l.Opening.ProjectedM2(local),
		})
	}
	return out
}

// ProjectedM2 is the area in square metres that the opening shows in a direction
// of the luminaire's frame (a unit vector): the flat face by its cosine, and for
// an opening with height its sides too.
func (o Opening) ProjectedM2(dir r3.Vec) float64 {
	if o.Round {
		face := math.Pi / 4 * o.LengthM * o.LengthM * math.Abs(dir.Z)
		return face + o.LengthM*o.HeightM*math.Hypot(dir.X, dir.Y)
	}
	return o.LengthM*o.WidthM*math.Abs(dir.Z) +
		o.WidthM*o.HeightM*math.Abs(dir.X) +
		o.LengthM*o.HeightM*math.Abs(dir.Y)
}

// UpwardShare is [UpwardShare] of luminaire i.
func (e *Evaluator) UpwardShare(i int) float64 { return UpwardShare(e.lamps[i].Luminaire) }

// UpwardRatio is the share of the flux of all luminaires at the given levels
// that leaves at or above the horizon: the upward light ratio of the
// installation before anything reflects or stops it. ok is false when all are off.
func (e *Evaluator) UpwardRatio(levels Levels) (ratio float64, ok bool) {
	up, all := 0.0, 0.0
	for i := range e.lamps {
		l := &e.lamps[i]
		flux := l.flux * l.Light.OutputRatio()
		if levels != nil {
			flux *= levels[i]
		}
		if flux <= 0 {
			continue
		}
		up += flux * e.UpwardShare(i)
		all += flux
	}
	if all <= 0 {
		return 0, false
	}
	return up / all, true
}
