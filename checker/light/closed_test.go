package light

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
)

// Agreement asked of flux in closed form, and of sources with a size.
const (
	fluxRel = 1e-9
	areaRel = 0.005
)

// sphere integrates over the sphere by Gauss-Legendre quadrature of gonum in the
// cosine of the vertical angle, split at the horizon, and equal steps in the
// plane angle: a general-purpose integrator that shares nothing with the package.
func sphere(f func(r3.Vec) float64, n, planes int) float64 {
	half := func(low, high float64) float64 {
		return quad.Fixed(func(gamma float64) float64 {
			sin, cos := math.Sincos(gamma)
			sum := 0.0
			for k := range planes {
				sinC, cosC := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / float64(planes))
				sum += f(r3.Vec{X: sin * cosC, Y: sin * sinC, Z: -cos})
			}
			return sum * 2 * math.Pi / float64(planes) * sin
		}, low, high, n, quad.Legendre{}, 0)
	}
	return half(0, math.Pi/2) + half(math.Pi/2, math.Pi)
}

// frontQuarter integrates over the quarter of the sphere in front and below,
// with both angles drawn together toward the edges, where a wash ends in a cusp.
func frontQuarter(f func(r3.Vec) float64) float64 {
	draw := func(s float64) (angle, slope float64) {
		return math.Pi / 4 * s * (3 - s*s), math.Pi / 4 * 3 * (1 - s*s)
	}
	return quad.Fixed(func(s float64) float64 {
		gamma, dGamma := draw(s)
		sin, cos := math.Sincos(math.Pi/4 + gamma/2)
		return sin * dGamma / 2 * quad.Fixed(func(r float64) float64 {
			c, dC := draw(r)
			sinC, cosC := math.Sincos(c)
			return dC * f(r3.Vec{X: sin * cosC, Y: sin * sinC, Z: -cos})
		}, -1, 1, 200, quad.Legendre{}, 0)
	}, -1, 1, 200, quad.Legendre{}, 0)
}

// Every shape gives the lumens it is said to give: gonum quadrature against the
// closed-form constants.
func TestShapeFluxAgainstQuadrature(t *testing.T) {
	worst := 0.0
	check := func(s *Shape, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		var got float64
		if s.Name() == ShapeStepWash {
			got = frontQuarter(s.PerLumen)
		} else {
			got = sphere(s.PerLumen, 300, 480)
		}
		worst = max(worst, math.Abs(got-1))
		wantRel(t, "flux per lumen of "+s.Name(), got, 1, 1e-5)
	}
	check(NewIsotropic(), nil)
	check(NewLambert(), nil)
	for _, b := range []float64{5, 10, 15, 24, 30, 36, 45, 60, 90, 120, 160} {
		check(NewBeam(b))
	}
	for _, p := range []float64{10, 30, 45, 58, 70, 80} {
		check(NewDownwardRing(p))
	}
	for _, p := range []float64{20, 45, 60, 70, 80} {
		check(NewStepWash(p))
	}
	t.Logf("worst difference of shape flux to gonum quadrature: %.2g", worst)
}

// The peak of every shape is where it is said to be, and nothing is above it.
func TestShapePeaks(t *testing.T) {
	for _, name := range []string{ShapeIsotropic, ShapeLambert, ShapeBeam, ShapeDownwardRing, ShapeStepWash} {
		for _, angle := range []float64{20, 35, 58, 75} {
			s, err := NewShape(name, angle)
			if err != nil {
				t.Fatal(err)
			}
			peak, dir := s.Peak()
			wantRel(t, name+" at its peak", s.PerLumen(dir), peak, closeRel)
			if name == ShapeDownwardRing || name == ShapeStepWash {
				wantRel(t, name+" peak angle", degrees(math.Acos(-dir.Z)), angle, closeRel)
			}
			for g := 0.0; g <= 180; g += 0.5 {
				for c := 0.0; c < 360; c += 15 {
					v := PerLumenAt(s, c, g)
					if v > peak*(1+1e-12) || v < 0 {
						t.Fatalf("%s %g: %g at %g/%g, peak %g", name, angle, v, c, g, peak)
					}
					if g > 90 && v != 0 && name != ShapeIsotropic {
						t.Fatalf("%s %g shines up: %g at %g/%g", name, angle, v, c, g)
					}
					if name == ShapeStepWash && c > 90 && c < 270 && v != 0 {
						t.Fatalf("step wash shines back: %g at %g/%g", v, c, g)
					}
				}
			}
		}
	}
}

func TestShapeAnglesRefused(t *testing.T) {
	for _, c := range []struct {
		name  string
		angle float64
	}{{ShapeBeam, 0}, {ShapeBeam, 180}, {ShapeBeam, math.NaN()}, {ShapeDownwardRing, 5}, {ShapeDownwardRing, 85},
		{ShapeStepWash, 10}, {ShapeStepWash, math.Inf(1)}, {"disco", 3}} {
		if s, err := NewShape(c.name, c.angle); err == nil {
			t.Errorf("%s %g gave %v", c.name, c.angle, s)
		}
	}
	for _, name := range []string{ShapeDownwardRing, ShapeStepWash} {
		if _, err := NewShape(name, 0); err != nil {
			t.Errorf("%s without an angle: %v", name, err)
		}
	}
}

// Table 6.2: n = ln 0.5/ln cos(B/2), field = 2 acos(0.1^(1/n)), I0 = (n+1)/2pi,
// share inside the beam 1 - cos^(n+1)(B/2); derived values.
func TestBeamTable(t *testing.T) {
	for _, row := range []struct{ beam, n, field, i0, share float64 }{
		{10, 181.81, 18.2, 29.094, 0.502}, {15, 80.67, 27.2, 12.999, 0.504}, {24, 31.37, 43.4, 5.152, 0.511},
		{30, 19.99, 53.9, 3.341, 0.517}, {36, 13.81, 64.3, 2.357, 0.525}, {45, 8.755, 79.5, 1.552, 0.538},
		{60, 4.819, 103.3, 0.9261, 0.567}, {90, 2.000, 143.1, 0.4775, 0.646}, {120, 1.000, 168.5, 0.3183, 0.750},
	} {
		b, err := NewBeam(row.beam)
		if err != nil {
			t.Fatal(err)
		}
		name := fmt.Sprintf("beam %g: ", row.beam)
		wantRel(t, name+"n", BeamExponent(row.beam), row.n, 2e-4)
		peak, _ := b.Peak()
		wantRel(t, name+"I0", peak, row.i0, 4e-4)
		wantRel(t, name+"beam angle", BeamAngle(b, 0.5), row.beam, 1e-4)
		wantRel(t, name+"field angle", BeamAngle(b, 0.1), row.field, 2e-3)
		wantRel(t, name+"share inside", ConeShare(b, row.beam/2), row.share, 1e-3)
		exact := 1 - math.Pow(math.Cos(radians(row.beam/2)), BeamExponent(row.beam)+1)
		wantRel(t, name+"share inside by zones of 0.1 degrees", ZonalFlux(b, 0, row.beam/2, 0.1), exact, 1e-4)
	}
}

// Section 6.1: zonal constants 2 pi (cos t1 - cos t2), 10 and 5 degree zones.
func TestZonalConstants(t *testing.T) {
	ten := []float64{0.09546, 0.28347, 0.46286, 0.62820, 0.77445, 0.89716, 0.99262, 1.05791, 1.09106}
	five := []float64{0.02391, 0.07155, 0.11864, 0.16483, 0.20976, 0.25310, 0.29451, 0.33368, 0.37032,
		0.40413, 0.43487, 0.46229, 0.48620, 0.50641, 0.52277, 0.53514, 0.54345, 0.54762}
	check := func(table []float64, step float64) {
		sum := 0.0
		for i, want := range table {
			low := float64(i) * step
			got, back := ZonalConstant(low, low+step), ZonalConstant(180-low-step, 180-low)
			if math.Abs(got-want) > 0.5e-5+1e-12 || math.Abs(got-back) > 1e-12 {
				t.Errorf("zone %g-%g: %.6f and %.6f, want %.5f", low, low+step, got, back, want)
			}
			sum += got + back
		}
		wantRel(t, "whole sphere", sum, 4*math.Pi, 1e-12)
	}
	check(ten, 10)
	check(five, 5)
	// TM-15-11 solid angles of the half-round zones (derived): FL, FM, FH, FVH, UL, UH.
	for _, z := range []struct{ from, to, share, want float64 }{
		{0, 30, 0.5, 0.42089}, {30, 60, 0.5, 1.14990}, {60, 80, 0.5, 1.02526}, {80, 90, 0.5, 0.54553},
		{90, 100, 1, 1.09106}, {100, 180, 1, 5.19212},
	} {
		wantRel(t, fmt.Sprintf("zone %g-%g", z.from, z.to), z.share*ZonalConstant(z.from, z.to), z.want, 1e-5)
	}
}

// Examples 24 and 25: nine ten-degree zones overstate a cosine source by 0.38 %
// and the 60 degree beam by 0.6 %.
func TestTenDegreeZones(t *testing.T) {
	t.Log("example 24, derived: a cosine source by nine zones; example 25, derived: the beam of example 22 by nine zones")
	wantRel(t, "example 24", 100*math.Pi*ZonalFlux(NewLambert(), 0, 90, 10), 315.36, 2e-5)
	beam, _ := NewBeam(60)
	wantRel(t, "example 25", 300*ZonalFlux(beam, 0, 90, 10), 301.86, 2e-5)
	wantRel(t, "fine zones", 300*ZonalFlux(beam, 0, 180, 0.1), 300, 1e-5)
}

// A flat matt face whose axis leans by t from straight down sends (1 - cos t)/2
// of its flux up: the view factor from a tilted plane to the sky.
func TestUpwardShareOfTiltedFace(t *testing.T) {
	worst := 0.0
	for tilt := 0.0; tilt <= 180; tilt += 7.5 {
		l := bare("L", at(0, 0, 1), NewLambert(), 100)
		l.AimBearingDeg, l.TiltDeg = 33, tilt
		got, want := UpwardShare(&l), (1-math.Cos(radians(tilt)))/2
		worst = max(worst, math.Abs(got-want))
		if math.Abs(got-want) > 0.003 {
			t.Errorf("tilt %g: %.5f up, want %.5f", tilt, got, want)
		}
	}
	t.Logf("worst difference of upward share to the view factor: %.2g", worst)
	for _, name := range []string{ShapeLambert, ShapeDownwardRing, ShapeStepWash} {
		s, _ := NewShape(name, 0)
		l := bare("L", at(0, 0, 1), s, 100)
		if up := UpwardShare(&l); up != 0 {
			t.Errorf("%s used upright sends %g up", name, up)
		}
		l.TiltDeg = 180
		wantRel(t, name+" upside down", UpwardShare(&l), 1, 1e-12)
	}
}

// sized is a luminaire with an opening; candela keep their meaning as the light
// of the whole.
func sized(l Luminaire, o Opening) Luminaire {
	l.Opening = o
	return l
}

// Closed forms of matt sources with a size (textbook photometry): on the axis of
// a disc E = pi L r^2/(r^2+d^2), so I0/(r^2+d^2); for a point d in front of one
// end of a thin strip of length s that faces it,
// E = I0/(2 s d) [ s d/(d^2+s^2) + atan(s/d) ], with I0 of the whole.
func TestSizedSourcesAgainstClosedForms(t *testing.T) {
	worst, where := 0.0, ""
	check := func(name string, got, want float64) {
		t.Helper()
		wantRel(t, name, got, want, areaRel)
		if d := math.Abs(got-want) / want; d > worst {
			worst, where = d, name
		}
	}
	const lumens = 100.0
	i0 := lumens / math.Pi
	for _, ratio := range []float64{0.5, 0.7, 1, 1.5, 2, 3, 5, 7.9, 8.1, 12, 40} { // distance over size
		const size = 0.2
		d := ratio * size
		disc := sized(bare("D", at(0, 0, d), NewLambert(), lumens), Opening{LengthM: size, Round: true})
		check(fmt.Sprintf("disc at %g sizes", ratio), evaluator(t, nil, disc).Lux(ground(0, 0)),
			i0/(size*size/4+d*d))
		strip := sized(bare("S", at(0, 0, d), NewLambert(), lumens), Opening{LengthM: size})
		check(fmt.Sprintf("below the middle of a strip at %g sizes", ratio), evaluator(t, nil, strip).Lux(ground(0, 0)),
			2*stripEnd(i0/2, size/2, d))
		if ratio > 0.6 { // from half a size the far end is beyond eight distances
			off := evaluator(t, nil, strip).Lux(ground(0, size/2)) // zero plane is north
			check(fmt.Sprintf("below the end of a strip at %g sizes", ratio), off, stripEnd(i0, size, d))
		}
		square := sized(bare("Q", at(0, 0, d), NewLambert(), lumens), Opening{LengthM: size, WidthM: size})
		check(fmt.Sprintf("square at %g sizes", ratio), evaluator(t, nil, square).Lux(ground(0, 0)),
			squareMiddle(i0, size, d))
	}
	t.Logf("worst relative difference of sized sources to their closed forms: %.2g %% (%s)", 100*worst, where)
}

// stripEnd is the level under one end of a matt strip of length s and whole
// intensity i0.
func stripEnd(i0, s, d float64) float64 {
	return i0 / (2 * s * d) * (s*d/(d*d+s*s) + math.Atan(s/d))
}

// squareMiddle is the level under the middle of a matt square: four times the
// corner formula E = (L/2)[ a/sqrt(a2+d2) atan(b/sqrt(a2+d2)) + b/sqrt(b2+d2) atan(a/sqrt(b2+d2)) ].
func squareMiddle(i0, s, d float64) float64 {
	a := s / 2
	r := math.Hypot(a, d)
	return 4 * (i0 / (s * s)) / 2 * 2 * a / r * math.Atan(a/r)
}

// The same strip off the axis against gonum quadrature, so that parts are placed
// along the right axis of a turned and tilted luminaire.
func TestSplitFollowsTheFrame(t *testing.T) {
	l := sized(bare("S", at(0.1, -0.2, 0.5), NewLambert(), 100), Opening{LengthM: 0.4})
	l.AimBearingDeg, l.TiltDeg, l.ZeroBearingDeg = 70, 35, 20
	p := ground(0.3, 0.1)
	f := newFrame(70, 35, 20)
	want := quad.Fixed(func(x float64) float64 {
		part := l
		part.At = r3.Add(l.At, r3.Scale(x, f.x))
		d := r3.Sub(p.At, part.At)
		return part.Candela(d) * part.At.Z / math.Pow(length(d), 3) / 0.4
	}, -0.2, 0.2, 60, quad.Legendre{}, 0)
	wantRel(t, "tilted strip", evaluator(t, nil, l).Lux(p), want, areaRel)
}
