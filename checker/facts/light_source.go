package facts

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"duskproof/checker/light"
	"duskproof/checker/plan"
)

// luminaire places one fixture; false when its light cannot be known. Its flux
// is what the lamp gives at its own volts at nominal supply: a filament lamp
// follows them, a driver holds until it drops out. A fixture that no run
// reaches is dark, unless the plan has no runs at all.
func (j *join) luminaire(f *plan.Fixture, kind *lightKind) (light.Luminaire, bool) {
	out := j.fixtures[f.ID]
	out.HasLight, out.Light = false, kind.name
	if f.HeightM == nil && sunk(f) {
		out.HeightM = ptr(0.0) // it lies level with what it is in
	}
	lamp, emitted, lumens := kind.lampLumens(f.Lamp.Lumens)
	if lumens {
		out.EmittedLm = ptr(emitted)
	}
	l := light.Luminaire{ID: f.ID, Light: kind.light, Maintenance: j.maintenance(), Host: j.hostOf(f)}
	if f.At != nil {
		l.At = r3.Vec{X: f.At.X, Y: f.At.Y, Z: f.GroundM}
	}
	if out.HeightM != nil {
		l.At.Z += *out.HeightM
	}
	j.intoRiser(f, &l)
	aimed := j.aim(f, kind, &l)
	if out.Aim = aimWord(f); !aimed {
		out.Aim = ""
	}
	if kind.light == nil || f.At == nil || out.HeightM == nil || !aimed {
		return light.Luminaire{}, false
	}
	out.AimTiltDeg = ptr(l.TiltDeg)
	l.TiltDeg -= kind.fileTilt(f)
	if !lumens {
		out.UpShare = ptr(light.UpwardShare(&l)) // how much is not known, where to is
		return light.Luminaire{}, false
	}
	out.HasLight = true
	l.Lumens = lamp * j.share(f) * kind.leaning(l.TiltDeg)
	l.Opening = opening(f.Type, kind)
	return l, true
}

// aimWord says where the aim of a fixture is from.
func aimWord(f *plan.Fixture) string {
	if f.AimAt != nil || f.AimBearing != nil || f.AimTilt != nil {
		return "stated"
	}
	return "own"
}

// leaning is how the flux of a lamp changes as its fixture leans.
func (k *lightKind) leaning(tiltDeg float64) float64 {
	if k.file == nil {
		return 1
	}
	return k.file.Tilt.Factor(tiltDeg)
}

// share is the light of a fixture's lamp at nominal supply over its rated light.
func (j *join) share(f *plan.Fixture) float64 {
	lamp, solved := j.lamps[f.ID]
	switch {
	case solved:
		return lamp.share
	case j.dead(f):
		return 0
	}
	return 1
}

// sunk reports whether a fixture is stated to lie level with what it is in, so
// that its light leaves at that level.
func sunk(f *plan.Fixture) bool {
	switch f.Mount {
	case "flush", "tread":
		return true
	case "":
		return f.Type.Mounting == "flush"
	}
	return false
}

// opening is the glowing part: as the plan states it, else as the file does.
func opening(t *plan.FixtureType, kind *lightKind) light.Opening {
	switch {
	case t.LuminousM != nil:
		return light.Opening{LengthM: *t.LuminousM, Round: true}
	case kind.file != nil:
		if o := kind.file.Opening(); max(o.LengthM, o.WidthM, o.HeightM) <= widestOpeningM {
			return o
		}
	}
	return light.Opening{}
}

// widestOpeningM is beyond the opening of any luminaire; a file that states a
// wider one is wrong about it, and its light is taken to come from one point.
const widestOpeningM = 10.0

// fileTilt is how far the main axis of a file is tipped already when the
// fixture is not. It counts only for a fixture that is aimed.
func (k *lightKind) fileTilt(f *plan.Fixture) float64 {
	if k.file == nil || f.AimAt == nil && f.AimTilt == nil {
		return 0
	}
	return k.file.BeamTiltDeg()
}

// aim turns a luminaire to its target, or as the plan states; false when the
// plan leaves open which way it shines. A step wash keeps its own slope,
// whatever it is aimed at. What is let into a riser or fixed to a wall faces
// away from it.
func (j *join) aim(f *plan.Fixture, kind *lightKind, l *light.Luminaire) bool {
	known := true
	switch {
	case f.AimAt != nil:
		l.AimBearingDeg, l.TiltDeg = light.Aim(l.At, r3.Vec{X: f.AimAt.At.X, Y: f.AimAt.At.Y, Z: f.AimAt.HeightM})
	case f.AimBearing != nil:
		l.AimBearingDeg = *f.AimBearing
	default:
		l.AimBearingDeg, known = j.facing(f, l)
	}
	switch {
	case f.AimAt != nil:
	case f.AimTilt != nil:
		l.TiltDeg = *f.AimTilt
	case pointsUp(f, kind):
		return false // it shines up, and nobody says how steeply
	}
	if kind.wash {
		l.TiltDeg = 0
	}
	l.ZeroBearingDeg = l.AimBearingDeg
	if f.Type.Light != nil {
		l.ZeroBearingDeg += f.Type.Light.ZeroPlaneDeg
	}
	tipped := l.TiltDeg != 0 && l.TiltDeg != 180
	return known || kind.round || !tipped && !kind.turns
}

// pointsUp reports whether a fixture is of a kind that lies in the ground and
// shines out of it, so that straight down cannot be meant.
func pointsUp(f *plan.Fixture, kind *lightKind) bool {
	return (f.Type.Kind == "well" || f.Type.Kind == "in-ground") && !kind.round && !kind.wash
}

// facing is the bearing away from what a fixture is mounted on; false where
// that is not clear.
func (j *join) facing(f *plan.Fixture, l *light.Luminaire) (bearing float64, known bool) {
	if j.plan.Site == nil || l.Host == "" {
		return 0, false
	}
	at := r2.Vec{X: l.At.X, Y: l.At.Y}
	for _, s := range j.plan.Site.Stairs {
		if s.ID == l.Host {
			return bearingOf(r2.Scale(-1, upOf(s))), f.Mount != "rail" && f.Mount != "post"
		}
	}
	for _, w := range j.plan.Site.Screens {
		if w.ID == l.Host {
			return awayFromScreen(w, at)
		}
	}
	for _, b := range j.plan.Site.Buildings {
		if b.ID == l.Host {
			return outOf(b.Outline, at)
		}
	}
	return j.outOfBody(l.Host, at, l.At.Z)
}

// outOfBody is the way out of the side of a landing or terrace that a light is
// let into, below its level.
func (j *join) outOfBody(id string, at r2.Vec, z float64) (bearing float64, known bool) {
	for _, s := range j.plan.Site.Landings {
		if s.ID == id && z < s.ElevationM-light.GrazeM {
			return outOf(s.Outline, at)
		}
	}
	for _, s := range j.plan.Site.Areas {
		if s.ID == id && z < s.ElevationM-light.GrazeM {
			return outOf(s.Outline, at)
		}
	}
	return 0, false
}

// bearingOf is the bearing of a level direction.
func bearingOf(v r2.Vec) float64 {
	bearing, _ := light.Aim(r3.Vec{}, r3.Vec{X: v.X, Y: v.Y})
	return bearing
}

// upOf is the way up a stair: from foot to head, or across the foot of a
// single riser, whose left end is on the left going up.
func upOf(s *plan.Stair) r2.Vec {
	foot, head := r2.Add(s.FootLeft, s.FootRight), r2.Add(s.HeadLeft, s.HeadRight)
	if up := r2.Sub(head, foot); r2.Norm(up) > 2*light.GrazeM {
		return r2.Unit(up)
	}
	across := r2.Sub(s.FootRight, s.FootLeft)
	return r2.Unit(r2.Vec{X: -across.Y, Y: across.X})
}

// besideM is how far from the middle line of a thin wall a fixture stands
// clearly on one side of it.
const besideM = 0.01

// awayFromScreen is the side of a wall, fence or hedge that a point is on.
func awayFromScreen(w *plan.Screen, at r2.Vec) (bearing float64, known bool) {
	near, gap := nearestOn(w.Line, at)
	away := r2.Sub(at, near)
	return bearingOf(away), gap > math.Max(w.ThicknessM/4, besideM)
}

// outOf is the way out of an outline through the edge nearest to a point.
func outOf(outline []r2.Vec, at r2.Vec) (bearing float64, known bool) {
	normal, ok := outwardAt(outline, at)
	return bearingOf(normal), ok
}
