package light

import (
	"bytes"
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// FuzzReadLM63 holds for any bytes: an error is a FileError with a position, and
// what was read can be written, read back and evaluated.
func FuzzReadLM63(f *testing.F) {
	for _, name := range samples(f) {
		f.Add(sample(f, name))
	}
	f.Add([]byte(goodFile))
	for _, d := range damagedFiles() {
		f.Add([]byte(strings.Replace(goodFile, d.old, d.new, 1)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := ReadLM63(data)
		if err != nil {
			var fe *FileError
			if !errors.As(err, &fe) || fe.Line < 1 || fe.Column < 1 || fe.Message == "" {
				t.Fatalf("error without a position: %v", err)
			}
			return
		}
		d, err := p.Distribution()
		if err != nil {
			t.Fatalf("read but gives no distribution: %v", err)
		}
		peak, dir := d.Peak()
		for _, v := range append(lightAt()[:40], dir) {
			if cd := d.PerLumen(v); !(cd >= 0) || cd > peak*(1+1e-9) {
				t.Fatalf("%g cd/lm toward %v, peak %g", cd, v, peak)
			}
		}
		if o := p.Opening(); o.LengthM < 0 || o.WidthM < 0 || o.HeightM < 0 || math.IsNaN(o.extent()) {
			t.Fatalf("opening %+v", o)
		}
		if len(p.Labels) > 0 {
			return // free text of 1986 may hold a header or tabs that are cut
		}
		again, err := ReadLM63(WriteLM63(p))
		if err != nil {
			t.Fatalf("written but not read: %v\n%s", err, bytes.ToValidUTF8(WriteLM63(p), []byte("?")))
		}
		if len(again.Candela) != len(p.Candela) {
			t.Fatalf("%d planes became %d", len(p.Candela), len(again.Candela))
		}
		p.Unfold()
	})
}

// FuzzEvaluate holds for any numbers: they are refused, or every illuminance is
// a number of 0 or more and the cut-off keeps its bound.
func FuzzEvaluate(f *testing.F) {
	f.Add(0.0, 0.0, 2.0, 30.0, 90.0, 0.1, 1.0, -1.0, 1.0, 0.2, 0.5, 3.0, 0.5, 1.0)
	f.Add(1.0, 0.0, 1.0, 180.0, 0.0, 0.0, 1.0, 0.0, 1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
	f.Add(1e300, -1e300, 1e-300, 1e9, -1e9, 1e200, 1e300, 1e-310, 1e300, 1e300, 1.0, 1e300, 1e-300, 1e300)
	f.Fuzz(func(t *testing.T, x, y, z, tilt, bearing, size, wx, wy, top, thick, through, px, py, nz float64) {
		beam, err := NewBeam(40)
		if err != nil {
			t.Fatal(err)
		}
		ring, err := NewDownwardRing(55)
		if err != nil {
			t.Fatal(err)
		}
		lums := []Luminaire{
			{ID: "a", At: at(x, y, z), TiltDeg: tilt, AimBearingDeg: bearing, Light: beam, Lumens: 200, Opening: Opening{LengthM: size, Round: true}, Host: "w"},
			{ID: "b", At: at(y, z, x), TiltDeg: bearing, AimBearingDeg: tilt, Light: ring, Lumens: 200, Host: "p"},
		}
		blocks := []Occluder{
			Wall{ID: "w", A: flat(at(wx, wy, 0)), B: flat(at(wy, wx, 0)), TopM: top, ThicknessM: thick, Transmission: through},
			Post{ID: "p", Centre: flat(at(wy, wy, 0)), RadiusM: thick, TopM: top, Transmission: through},
			Canopy{ID: "c", Centre: at(wx, wx, top), RadiusM: thick, HalfHeightM: top, Transmission: through},
			Slab{ID: "s", Outline: []r2.Vec{{X: wx, Y: wy}, {X: wy, Y: top}, {X: top, Y: wx}}, TopM: thick, ThicknessM: through},
		}
		e, err := NewEvaluator(lums, blocks, Options{})
		if err != nil {
			return
		}
		exact, err := NewEvaluator(lums, blocks, Options{CutoffLux: -1})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range []Point{{At: at(px, py, 0), Normal: at(py, px, nz)}, ground(x, y), ground(px, wy)} {
			fd, err := e.Evaluate(context.Background(), []Point{p})
			if err != nil {
				continue
			}
			lux, want := fd.LuxAt(0, nil), exact.Lux(p)
			if !(lux >= 0) || math.IsInf(lux, 0) || lux > want*(1+1e-9) || want-lux > e.CutoffLux()*(1+1e-9) {
				t.Fatalf("%g lx, without a cut-off %g lx", lux, want)
			}
			e.Views(p.At, 0)
		}
	})
}
