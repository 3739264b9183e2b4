package light

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Many lamps give the sum of what each gives alone, shadows and all.
func TestSuperposition(t *testing.T) {
	lums, blocks := mixed(t, 40)
	all := evaluator(t, blocks, lums...)
	rng := rand.New(rand.NewPCG(67, 71))
	for range 60 {
		p := randomPoint(rng, 20)
		sum := 0.0
		for i := range lums {
			sum += evaluator(t, blocks, lums[i]).Lux(p)
		}
		if got := all.Lux(p); math.Abs(got-sum) > 1e-9*max(sum, 1e-9) {
			t.Fatalf("together %g, one by one %g at %v", got, sum, p)
		}
	}
}

// Twice as far from a point source is a quarter of the light, for every
// distribution and direction.
func TestInverseSquare(t *testing.T) {
	lums, _ := mixed(t, 60)
	rng := rand.New(rand.NewPCG(73, 79))
	for i := range lums {
		lums[i].Opening = Opening{}
		e := evaluator(t, nil, lums[i])
		dir := Direction(360*rng.Float64(), 180*rng.Float64())
		put := func(d float64) Point {
			return Point{At: r3.Add(lums[i].At, r3.Scale(d, dir)), Normal: r3.Scale(-1, dir)}
		}
		near, far := e.Lux(put(1.5)), e.Lux(put(3))
		if math.Abs(near-4*far) > 1e-9*near {
			t.Errorf("luminaire %d: %g lx at 1.5 m, %g lx at 3 m", i, near, far)
		}
		if near > 0 {
			wantRel(t, "candela over distance squared", near, lums[i].Candela(dir)/2.25, closeRel)
		}
	}
}

// Turning the whole site, moving it or mirroring it changes nothing.
func TestTurnAndMirror(t *testing.T) {
	ring, _ := NewDownwardRing(50)
	wash, _ := NewStepWash(60)
	beam, _ := NewBeam(36)
	build := func(turnDeg float64, mirror bool, shift r3.Vec) *Evaluator {
		sin, cos := math.Sincos(-radians(turnDeg)) // bearings run clockwise
		put := func(v r3.Vec) r3.Vec {
			if mirror {
				v.X = -v.X
			}
			return r3.Add(r3.Vec{X: v.X*cos - v.Y*sin, Y: v.X*sin + v.Y*cos, Z: v.Z}, shift)
		}
		aim := func(b float64) float64 {
			if mirror {
				b = -b
			}
			return b + turnDeg
		}
		lums := []Luminaire{
			bare("R", put(at(1, 2, 0.5)), ring, 180),
			bare("W", put(at(-1, 1, 0.3)), wash, 60),
			bare("B", put(at(2, -1, 2.5)), beam, 300),
		}
		lums[1].ZeroBearingDeg = aim(120)
		lums[2].AimBearingDeg, lums[2].TiltDeg, lums[2].ZeroBearingDeg = aim(300), 25, aim(300)
		a, b := put(at(0.5, 0, 0)), put(at(0.5, 3, 0))
		wall := Wall{ID: "H", A: flat(a), B: flat(b), BaseM: shift.Z, TopM: shift.Z + 0.4, ThicknessM: 0.1, Transmission: 0.2}
		return evaluator(t, []Occluder{wall}, lums...)
	}
	place := func(x, y, turnDeg float64, mirror bool, shift r3.Vec) Point {
		if mirror {
			x = -x
		}
		sin, cos := math.Sincos(-radians(turnDeg))
		return Point{At: r3.Add(r3.Vec{X: x*cos - y*sin, Y: x*sin + y*cos}, shift), Normal: Up}
	}
	base := build(0, false, r3.Vec{})
	shift := r3.Vec{X: 100, Y: -40, Z: 7}
	rng := rand.New(rand.NewPCG(83, 89))
	for _, turn := range []float64{0, 37, 90, 200} {
		for _, mirror := range []bool{false, true} {
			e := build(turn, mirror, shift)
			for range 50 {
				x, y := 6*rng.Float64()-3, 6*rng.Float64()-3
				want, got := base.Lux(ground(x, y)), e.Lux(place(x, y, turn, mirror, shift))
				if math.Abs(want-got) > 1e-9*max(want, 1e-3) {
					t.Fatalf("turn %g, mirror %v at %g/%g: %g, want %g", turn, mirror, x, y, got, want)
				}
			}
		}
	}
}

// The middle of a square of four lamps is lit alike by all, and the field says
// which lamp gives what.
func TestSharesAndScenes(t *testing.T) {
	lums := []Luminaire{
		candelas("A", at(0, 0, 6), 250), candelas("B", at(4, 0, 6), 250),
		candelas("C", at(0, 4, 6), 250), candelas("D", at(4, 4, 6), 250),
	}
	lums[0].Groups = []string{"steps", "late"}
	lums[1].Groups = []string{"steps"}
	lums[2].Groups = []string{"late"}
	e := evaluator(t, nil, lums...)
	f, err := e.Evaluate(context.Background(), []Point{ground(2, 2), ground(0, 0)})
	if err != nil {
		t.Fatal(err)
	}
	shares := f.Shares(0)
	if len(shares) != 4 {
		t.Fatalf("shares %v", shares)
	}
	for i, s := range shares {
		if int(s.Luminaire) != i {
			t.Errorf("share %d is of luminaire %d", i, s.Luminaire)
		}
		wantRel(t, "quarter", s.Lux, f.LuxAt(0, nil)/4, closeRel)
	}
	one := shares[0].Lux
	for _, c := range []struct {
		groups map[string]float64
		want   float64
	}{
		{map[string]float64{"steps": 1}, 2 * one},
		{map[string]float64{"steps": 0.5, "late": 0.2}, 0.5*one + 0.5*one + 0.2*one},
		{map[string]float64{"late": 1, "steps": 0}, 2 * one},
		{nil, 0},
	} {
		got := f.LuxAt(0, e.GroupLevels(c.groups))
		if math.Abs(got-c.want) > 1e-9 {
			t.Errorf("groups %v: %g, want %g", c.groups, got, c.want)
		}
	}
	if e.Luminaires() != 4 || e.Luminaire(2).ID != "C" || f.Len() != 2 || f.Point(1).At != at(0, 0, 0) {
		t.Error("the evaluator does not give back what it was given")
	}
	if f.LuxAt(0, Levels{1}) != one {
		t.Error("levels shorter than the luminaires: the rest is off")
	}
}

// The maintenance factor and the flux scale everything.
func TestMaintenance(t *testing.T) {
	l := candelas("L", at(0, 0, 2), 100)
	full := evaluator(t, nil, l).Lux(ground(1, 0))
	l.Maintenance = 0.8
	wantRel(t, "maintained", evaluator(t, nil, l).Lux(ground(1, 0)), 0.8*full, closeRel)
	l.Maintenance, l.Lumens = 1, l.Lumens/3
	wantRel(t, "a third of the flux", evaluator(t, nil, l).Lux(ground(1, 0)), full/3, closeRel)
}

// Direction and Aim undo each other; bearings are clockwise from +y and tilts
// from straight down.
func TestAim(t *testing.T) {
	for _, c := range []struct {
		bearing, tilt float64
		want          r3.Vec
	}{{0, 90, r3.Vec{Y: 1}}, {90, 90, r3.Vec{X: 1}}, {180, 90, r3.Vec{Y: -1}}, {270, 90, r3.Vec{X: -1}}, {33, 0, r3.Vec{Z: -1}}, {0, 180, r3.Vec{Z: 1}}} {
		if got := Direction(c.bearing, c.tilt); length(r3.Sub(got, c.want)) > 1e-12 {
			t.Errorf("bearing %g, tilt %g points to %v", c.bearing, c.tilt, got)
		}
		f := newFrame(c.bearing, c.tilt, c.bearing)
		if axis := r3.Scale(-1, f.z); length(r3.Sub(axis, c.want)) > 1e-12 {
			t.Errorf("a luminaire at bearing %g, tilt %g shines to %v", c.bearing, c.tilt, axis)
		}
		if l := length(r3.Sub(r3.Cross(f.x, f.y), f.z)); l > 1e-12 {
			t.Errorf("bearing %g, tilt %g: not a right-handed frame", c.bearing, c.tilt)
		}
	}
	for bearing := 0.0; bearing < 360; bearing += 17 {
		for tilt := 5.0; tilt < 180; tilt += 13 {
			b, a := Aim(at(1, 2, 3), r3.Add(at(1, 2, 3), r3.Scale(4, Direction(bearing, tilt))))
			if math.Abs(b-bearing) > 1e-9 || math.Abs(a-tilt) > 1e-9 {
				t.Fatalf("%g/%g came back as %g/%g", bearing, tilt, b, a)
			}
		}
	}
	if b, a := Aim(at(1, 1, 5), at(1, 1, 0)); b != 0 || a != 0 {
		t.Errorf("straight down is %g/%g", b, a)
	}
}
