package light

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// BestAim searches for the aim of luminaire i that puts the most flux on the
// targets. It starts at the middle of the first target and moves in ever smaller
// steps down to one degree; the result is a good aim, not a proved best one. The
// search samples the light coarsely, and the share that it returns is sampled
// as finely as that of [Evaluator.Land].
func (e *Evaluator) BestAim(i int, targets ...Occluder) (bearingDeg, tiltDeg, share float64) {
	l := *e.lamps[i].Luminaire
	if len(targets) == 0 {
		return l.AimBearingDeg, l.TiltDeg, 0
	}
	s := newAimSearch(e, &l, targets)
	b := targets[0].box()
	bearingDeg, tiltDeg = Aim(l.At, r3.Scale(0.5, r3.Add(b.Min, b.Max)))
	share = s.try(bearingDeg, tiltDeg)
	for step := 8.0; step >= 1; {
		moves := [][2]float64{{step, 0}, {-step, 0}, {0, step}, {0, -step}}
		found := 0.0
		better := slices.IndexFunc(moves, func(m [2]float64) bool {
			tilt := tiltDeg + m[1]
			if tilt < 0 || tilt > 180 {
				return false
			}
			found = s.try(bearingDeg+m[0], tilt)
			return found > share+1e-6
		})
		if better < 0 {
			step /= 2
			continue
		}
		bearingDeg, tiltDeg, share = normalBearing(bearingDeg+moves[better][0]), tiltDeg+moves[better][1], found
	}
	s.turn(bearingDeg, tiltDeg)
	return bearingDeg, tiltDeg, e.land(&l, targets).OnAll()
}

// aimSearch tries aims of one luminaire on one set of targets.
type aimSearch struct {
	e       *Evaluator
	l       *Luminaire
	targets []Occluder
	hosts   bool   // its own hosts may stand in the way
	ahead   []seen // so may these
	cells   []fluxCell
	zero    float64 // bearing of the zero plane, counted from the aim
	toward  r3.Vec  // from the luminaire to the middle of all targets, length 1
	cone    float64 // cosine of the angle about it within which all targets lie
}

func newAimSearch(e *Evaluator, l *Luminaire, targets []Occluder) *aimSearch {
	s := &aimSearch{
		e: e, l: l, targets: targets,
		cells: cellsOf(l.Light, coarseCut), zero: l.ZeroBearingDeg - l.AimBearingDeg, cone: -1,
	}
	all := targets[0].box()
	for _, t := range targets {
		all = joinBoxes(all, t.box())
	}
	to := r3.Sub(r3.Scale(0.5, r3.Add(all.Min, all.Max)), l.At)
	d, radius := length(to), length(r3.Sub(all.Max, all.Min))/2
	if d > radius {
		s.toward, s.cone = r3.Scale(1/d, to), math.Sqrt(1-radius*radius/(d*d))-1e-9
	}
	names := namesOf(targets)
	obstacles := e.blocks.seenFrom(&source{at: l.At, host: l.Host}, s.toward, names, math.Inf(-1))
	s.hosts, s.ahead = !slices.Contains(names, l.Host), within(nil, obstacles, s.cone, 1)
	return s
}

// turn aims the luminaire.
func (s *aimSearch) turn(bearingDeg, tiltDeg float64) {
	s.l.AimBearingDeg, s.l.TiltDeg, s.l.ZeroBearingDeg = bearingDeg, tiltDeg, bearingDeg+s.zero
}

// try returns the share that lands on the targets from one aim.
func (s *aimSearch) try(bearingDeg, tiltDeg float64) float64 {
	s.turn(bearingDeg, tiltDeg)
	lamp := newLamp(s.l, &s.e.blocks)
	share := 0.0
	for i := range s.cells {
		c := &s.cells[i]
		dir := lamp.frame.world(c.dir)
		if s.cone > -1 && r3.Dot(dir, s.toward) < s.cone {
			continue
		}
		way := newRay(s.l.At, r3.Add(s.l.At, r3.Scale(pastM, dir)))
		if hit, at := firstTarget(&way, r3.Vec{}, s.targets); hit >= 0 {
			way = newRay(s.l.At, at)
			share += c.share * pastThese(&lamp.src, s.hosts, s.ahead, &way, at)
		}
	}
	return share
}
