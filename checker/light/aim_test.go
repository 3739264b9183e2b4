package light

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A file of any type aims where it is told to: toward the aim the intensity is
// the one at its main axis, once the tilt of that axis is taken off.
func TestFilesAimAlike(t *testing.T) {
	for _, c := range []struct {
		name string
		h, v float64 // the main axis: level ahead for type A, straight down for B and C
	}{{"flood-a-2002.ies", 0, 0}, {"flood-b-2002.ies", 0, 0}, {"spot-1995.ies", 0, 0}} {
		p := mustRead(t, sample(t, c.name))
		d := mustDistribution(t, p)
		l := bare("L", at(1, 2, 3), d, p.RatedLumens())
		for _, aim := range [][2]float64{{0, 30}, {75, 90}, {200, 150}, {310, 5}} {
			l.AimBearingDeg, l.ZeroBearingDeg = aim[0], aim[0]
			l.TiltDeg = aim[1] - p.BeamTiltDeg()
			got := l.Candela(Direction(aim[0], aim[1]))
			want := d.lookUp(c.h, c.v) * p.RatedLumens()
			wantRel(t, c.name, got, want, 1e-9)
		}
	}
	// Right of the aim is the positive horizontal angle of types A and B
	// (clockwise): a beam aimed north at the horizon has it to the east.
	for _, name := range []string{"flood-a-2002.ies", "flood-b-2002.ies"} {
		p := mustRead(t, sample(t, name))
		d := mustDistribution(t, p)
		l := bare("L", at(0, 0, 1), d, p.RatedLumens())
		l.TiltDeg = 90 - p.BeamTiltDeg()
		wantRel(t, name+" to the right", l.Candela(Direction(30, 90)), d.lookUp(30, 0)*p.RatedLumens(), 1e-9)
		wantRel(t, name+" upward", l.Candela(Direction(0, 110)), d.lookUp(0, 20)*p.RatedLumens(), 1e-9)
	}
}

// The greatest intensity round a luminaire at glare angles: a tilted spot is
// worst toward its aim, and there it has its table value.
func TestGreatestAround(t *testing.T) {
	beam, _ := NewBeam(60)
	l := bare("L", at(0, 0, 3), beam, 300)
	l.AimBearingDeg, l.TiltDeg = 135, 40
	peak, _ := beam.Peak()
	cd, bearing := GreatestAround(&l, 80)
	wantRel(t, "at 80 degrees", cd, 300*peak*math.Pow(math.Cos(radians(40)), BeamExponent(60)), 1e-9)
	if bearing != 135 {
		t.Errorf("worst at bearing %g", bearing)
	}
	l.TiltDeg = 0
	if cd, _ := GreatestAround(&l, 90); cd > 1e-9 {
		t.Errorf("straight down it still shows %g cd at the horizon", cd)
	}
	if cd := l.Candela(r3.Vec{}); cd != 0 {
		t.Errorf("toward nowhere %g cd", cd)
	}
}

func TestConeShareEdges(t *testing.T) {
	for _, c := range [][2]float64{{-5, 0}, {0, 0}, {90, 1}, {180, 1}, {400, 1}} {
		if got := ConeShare(NewLambert(), c[0]); math.Abs(got-c[1]) > 1e-4 {
			t.Errorf("within %g degrees: %g, want %g", c[0], got, c[1])
		}
	}
	// Half angle t of a matt face holds sin^2 t.
	wantRel(t, "within 30 degrees", ConeShare(NewLambert(), 30), 0.25, 1e-4)
}

// An area whose only cell middle lies outside gets a point inside.
func TestInnerPoint(t *testing.T) {
	horseshoe := []r2.Vec{{X: 0, Y: 0}, {X: 3, Y: 0}, {X: 3, Y: 3}, {X: 2.4, Y: 3}, {X: 2.4, Y: 0.5}, {X: 0.5, Y: 0.5}, {X: 0.5, Y: 3}, {X: 0, Y: 3}}
	g, err := AreaGrid(horseshoe, 0, 10)
	if err != nil || len(g.Points) != 1 {
		t.Fatalf("%d points, %v", len(g.Points), err)
	}
	if p := g.Points[0].At; !insideRing(flat(p), horseshoe) {
		t.Errorf("%v lies outside", p)
	}
}

func TestDefaultCutoff(t *testing.T) {
	for _, c := range [][2]float64{{0, DefaultCutoffLux}, {0.5, 0.5}, {-1, 0}} {
		e, err := NewEvaluator(nil, nil, Options{CutoffLux: c[0]})
		if err != nil || e.CutoffLux() != c[1] {
			t.Errorf("option %g: %g, %v", c[0], e.CutoffLux(), err)
		}
	}
	err := &FileError{Line: 3, Column: 7, Message: "no"}
	if err.Error() != "line 3, column 7: no" {
		t.Errorf("got %q", err)
	}
}
