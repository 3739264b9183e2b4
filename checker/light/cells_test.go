package light

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
)

// Errors that the doc comments state for shares sampled over cells.
const (
	upTol   = 0.005
	landTol = 0.01
)

// everyLight is every built-in shape over its range of angles, and every sample
// file.
func everyLight(t *testing.T) (names []string, lights []Distribution) {
	t.Helper()
	add := func(name string, d Distribution, err error) {
		if err != nil {
			t.Fatal(err)
		}
		names, lights = append(names, name), append(lights, d)
	}
	for _, deg := range []float64{5, 10, 15, 24, 36, 60, 90, 120, 175} {
		d, err := NewBeam(deg)
		add(fmt.Sprintf("beam %g", deg), d, err)
	}
	for _, deg := range []float64{10, 30, 58, 80} {
		d, err := NewDownwardRing(deg)
		add(fmt.Sprintf("ring %g", deg), d, err)
	}
	for _, deg := range []float64{20, 60, 80} {
		d, err := NewStepWash(deg)
		add(fmt.Sprintf("wash %g", deg), d, err)
	}
	add("all round", NewIsotropic(), nil)
	add("matt", NewLambert(), nil)
	for _, file := range samples(t) {
		add(file, mustDistribution(t, mustRead(t, sample(t, file))), nil)
	}
	return names, lights
}

// cone integrates over the cone of half angle reach about an axis, in the frame
// of a luminaire, by gonum quadrature in the angle and equal steps about it.
// Bands and planes are as many as a narrow beam asks for, and the cusps at the
// sides of a wash.
func cone(d Distribution, axis r3.Vec, reach float64) float64 {
	bands, planes := 6, 90
	if shape, ok := d.(*Shape); !ok || (shape.kind == wash || shape.kind == axial && shape.down > 20) {
		bands, planes = 20, 400
	}
	side := r3.Cross(axis, r3.Vec{X: 0.3, Y: 0.9, Z: 0.1})
	side = r3.Unit(side)
	sum := 0.0
	for k := range bands { // each by itself, since measured light has corners
		sum += quad.Fixed(func(angle float64) float64 {
			sin, cos := math.Sincos(angle)
			ring := 0.0
			for i := range planes {
				away := turnAbout(side, axis, 2*math.Pi*(float64(i)+0.5)/float64(planes))
				ring += d.PerLumen(r3.Add(r3.Scale(cos, axis), r3.Scale(sin, away)))
			}
			return ring * 2 * math.Pi / float64(planes) * sin
		}, reach*float64(k)/float64(bands), reach*float64(k+1)/float64(bands), 12, quad.Legendre{}, 0)
	}
	return sum
}

// The upward share of every light, tilted every way, against a general-purpose
// integral over the half of the sphere above the horizon, which needs no cells.
func TestUpwardShareAgainstQuadrature(t *testing.T) {
	names, lights := everyLight(t)
	worst, where := 0.0, ""
	for i, d := range lights {
		for tilt := 0.0; tilt <= 180; tilt += 11.25 {
			l := bare("L", at(0, 0, 1), d, 100)
			l.AimBearingDeg, l.TiltDeg, l.ZeroBearingDeg = 17, tilt, 17+3*tilt
			f := l.frame()
			got := UpwardShare(&l)
			want := cone(d, f.local(r3.Vec{Z: 1}), math.Pi/2) / d.OutputRatio()
			if off := math.Abs(got - want); off > worst {
				worst, where = off, fmt.Sprintf("%s at tilt %g: %.4f, want %.4f", names[i], tilt, got, want)
			}
		}
	}
	t.Logf("worst difference %.4f: %s", worst, where)
	if worst > upTol {
		t.Errorf("upward share off by %.4f, stated %g: %s", worst, upTol, where)
	}
}

// The share that lands on a round crown, for crowns of the size of the beam and
// about it and for beams that point at its middle or past it, against the same
// integral over the cone that the crown fills.
func TestLandAgainstQuadrature(t *testing.T) {
	names, lights := everyLight(t)
	worst, where := 0.0, ""
	for i, d := range lights {
		_, axis := d.Peak()
		for _, halfDeg := range []float64{5, 12, 35} {
			for _, offDeg := range []float64{0, 0.3 * halfDeg, halfDeg} {
				for bearing := 20.0; bearing < 360; bearing += 200 {
					l := bare("L", at(0, 0, 0), d, 100)
					off := turnAbout(r3.Unit(r3.Cross(axis, r3.Vec{X: 0.2, Y: 1})), axis, radians(bearing))
					toward := turnAbout(axis, off, radians(offDeg))
					f := l.frame()
					crown := Canopy{ID: "T", Centre: r3.Scale(8, f.world(toward)), RadiusM: 8 * math.Sin(radians(halfDeg)), HalfHeightM: 8 * math.Sin(radians(halfDeg))}
					got := evaluator(t, nil, l).Land(0, crown).OnAll()
					want := cone(d, toward, radians(halfDeg)) / d.OutputRatio()
					if off := math.Abs(got - want); off > worst {
						worst, where = off, fmt.Sprintf("%s on %g degrees, %g off, bearing %g: %.4f, want %.4f", names[i], 2*halfDeg, offDeg, bearing, got, want)
					}
				}
			}
		}
	}
	t.Logf("worst difference %.4f: %s", worst, where)
	if worst > landTol {
		t.Errorf("share on a crown off by %.4f, stated %g: %s", worst, landTol, where)
	}
}
