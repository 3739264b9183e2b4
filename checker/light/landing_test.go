package light

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// shareTol is the agreement asked of shares sampled over cells of the sphere.
const shareTol = 0.01

// A sphere of radius r at distance D fills the cone asin(r/D): of a cos^n beam
// aimed at its middle it takes 1 - cos^(n+1), of a matt face (r/D)^2 (view
// factor of a sphere), of a source alike all round (1 - sqrt(1-(r/D)^2))/2.
func TestSphereTakesItsShare(t *testing.T) {
	crown := Canopy{ID: "T", Centre: at(1, 2, 5), RadiusM: 1.2, HalfHeightM: 1.2}
	from := at(-0.5, 0.5, 0.1)
	ratio := 1.2 / length(r3.Sub(crown.Centre, from))
	bearing, tilt := Aim(from, crown.Centre)
	put := func(d Distribution) *Evaluator {
		l := bare("L", from, d, 300)
		l.AimBearingDeg, l.TiltDeg = bearing, tilt
		return evaluator(t, []Occluder{crown}, l)
	}
	check := func(name string, e *Evaluator, want float64) {
		t.Helper()
		got := e.Land(0, crown)
		if math.Abs(got.OnAll()-want) > shareTol {
			t.Errorf("%s: %.4f on the crown, want %.4f", name, got.OnAll(), want)
		}
		if total := got.OnAll() + got.Blocked + got.Sky + got.Ground; math.Abs(total-1) > 1e-9 {
			t.Errorf("%s: shares add up to %g", name, total)
		}
	}
	for _, angle := range []float64{10, 24, 36, 60, 120} {
		beam, err := NewBeam(angle)
		if err != nil {
			t.Fatal(err)
		}
		n := BeamExponent(angle)
		check("beam", put(beam), 1-math.Pow(math.Cos(math.Asin(ratio)), n+1))
	}
	check("matt face", put(NewLambert()), ratio*ratio)
	check("all round", put(NewIsotropic()), (1-math.Sqrt(1-ratio*ratio))/2)
}

// A trunk in front of the crown is hit first; a beam turned away misses and
// goes to the sky; a deck in between blocks all but what its gap lets through.
func TestWhereTheBeamGoes(t *testing.T) {
	trunk := Post{ID: "T", Centre: r2.Vec{X: 2}, RadiusM: 0.2, TopM: 2}
	crown := Canopy{ID: "T", Centre: at(2, 0, 4), RadiusM: 2, HalfHeightM: 2}
	beam, _ := NewBeam(24)
	l := bare("L", at(0, 0, 0.1), beam, 300)
	l.AimBearingDeg, l.TiltDeg = 90, 100
	e := evaluator(t, []Occluder{trunk, crown}, l)
	low := e.Land(0, trunk, crown)
	if low.On[0] < 0.3 || low.On[1] > low.On[0] {
		t.Errorf("aimed at the trunk: %+v", low)
	}
	l.TiltDeg, l.AimBearingDeg = 150, 270
	away := evaluator(t, []Occluder{trunk, crown}, l).Land(0, trunk, crown)
	if away.OnAll() > 0.02 || away.Sky < 0.95 {
		t.Errorf("aimed away: %+v", away)
	}
	l.TiltDeg, l.AimBearingDeg = 154, 90 // toward the crown again
	open := evaluator(t, nil, l).Land(0, trunk, crown)
	outline := []r2.Vec{{X: -2, Y: -2}, {X: 3, Y: -2}, {X: 3, Y: 2}, {X: -2, Y: 2}}
	closed := evaluator(t, []Occluder{Slab{ID: "D", Outline: outline, TopM: 0.4, ThicknessM: 0.03}}, l).Land(0, trunk, crown)
	if closed.OnAll() > 0.001 || closed.Blocked < 0.97 {
		t.Errorf("under a closed deck: %+v", closed)
	}
	gap := []r2.Vec{{X: -0.2, Y: -0.4}, {X: 0.6, Y: -0.4}, {X: 0.6, Y: 0.4}, {X: -0.2, Y: 0.4}}
	wide := evaluator(t, []Occluder{Slab{ID: "D", Outline: outline, Openings: [][]r2.Vec{gap}, TopM: 0.4, ThicknessM: 0.03}}, l).Land(0, trunk, crown)
	if math.Abs(wide.OnAll()-open.OnAll()) > 0.02 {
		t.Errorf("through a wide gap %+v, in the open %+v", wide, open)
	}
	slit := []r2.Vec{{X: 0.1, Y: -0.01}, {X: 0.3, Y: -0.01}, {X: 0.3, Y: 0.01}, {X: 0.1, Y: 0.01}}
	narrow := evaluator(t, []Occluder{Slab{ID: "D", Outline: outline, Openings: [][]r2.Vec{slit}, TopM: 0.4, ThicknessM: 0.03}}, l).Land(0, trunk, crown)
	if narrow.OnAll() > wide.OnAll()/2 || narrow.OnAll() <= 0 {
		t.Errorf("through a slit %+v", narrow)
	}
}

// The suggested aim is at least as good as the middle of the crown, and for a
// lone round crown it is the middle.
func TestBestAim(t *testing.T) {
	crown := Canopy{ID: "T", Centre: at(2, 1, 4), RadiusM: 1, HalfHeightM: 1}
	beam, _ := NewBeam(36)
	l := bare("L", at(0, 0, 0.1), beam, 300)
	l.AimBearingDeg, l.TiltDeg = 250, 170
	e := evaluator(t, []Occluder{crown}, l)
	bearing, tilt, share := e.BestAim(0, crown)
	wantBearing, wantTilt := Aim(l.At, crown.Centre)
	if math.Abs(bearing-wantBearing) > 2 || math.Abs(tilt-wantTilt) > 2 || share < 0.3 {
		t.Errorf("aim %g/%g gives %g; the middle is at %g/%g", bearing, tilt, share, wantBearing, wantTilt)
	}
	hedge := Wall{ID: "W", A: r2.Vec{X: -1, Y: 0.5}, B: r2.Vec{X: 3, Y: 0.5}, TopM: 1.6}
	middle := e.Land(0, crown).OnAll()
	b, c, behind := evaluator(t, []Occluder{crown, hedge}, l).BestAim(0, crown)
	if behind <= middle {
		t.Errorf("aim %g/%g past the hedge gives %g, no better than %g", b, c, behind, middle)
	}
	if _, _, none := e.BestAim(0); none != 0 {
		t.Errorf("aimed at nothing: %g", none)
	}
}
