package light

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// sampleFolder holds invented photometric files of every edition and type.
const sampleFolder = "../../testdata/light"

func sample(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(sampleFolder, name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func samples(t testing.TB) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(sampleFolder, "*.ies"))
	if err != nil || len(names) < 9 {
		t.Fatalf("found %d sample files, %v", len(names), err)
	}
	for i := range names {
		names[i] = filepath.Base(names[i])
	}
	return names
}

func mustRead(t testing.TB, data []byte) *Photometry {
	t.Helper()
	p, err := ReadLM63(data)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func mustDistribution(t testing.TB, p *Photometry) *Table {
	t.Helper()
	d, err := p.Distribution()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// What each edition says, and which of its factors multiply (LM-63 of the
// edition; the meaning of the field after the ballast factor in 1995 and later
// is confirmed for 2019, the factors of 1986 are from memory).
func TestReadEveryEdition(t *testing.T) {
	for _, c := range []struct {
		name     string
		edition  Edition
		kind     Goniometry
		scale    float64
		stated   float64
		opening  Opening
		keywords int
	}{
		{"ring-1986.ies", Edition1986, TypeC, 0.9 * 0.95, 220, Opening{LengthM: 0.12, Round: true}, 0},
		{"wash-1991.ies", Edition1991, TypeC, 1, 90, Opening{LengthM: 0.125 * 0.3048, WidthM: 0.25 * 0.3048}, 3},
		{"spot-1995.ies", Edition1995, TypeC, 1, 0, Opening{LengthM: 0.05, Round: true}, 3},
		{"tilting-1995.ies", Edition1995, TypeC, 1, 600, Opening{}, 2},
		{"post-2002.ies", Edition2002, TypeC, 1.25, 600, Opening{LengthM: 0.2, WidthM: 0.1, HeightM: 0.15}, 4},
		{"verge-2002.ies", Edition2002, TypeC, 1, 400, Opening{}, 4},
		{"flood-b-2002.ies", Edition2002, TypeB, 1, 500, Opening{LengthM: 0.08, WidthM: 0.1}, 4},
		{"flood-a-2002.ies", Edition2002, TypeA, 1, 500, Opening{LengthM: 0.08, WidthM: 0.1}, 4},
		{"bollard-2019.ies", Edition2019, TypeC, 1, 0, Opening{LengthM: 0.15, HeightM: 0.2, Round: true}, 5},
	} {
		p := mustRead(t, sample(t, c.name))
		if p.Edition != c.edition || p.Type != c.kind || len(p.Keywords) != c.keywords {
			t.Errorf("%s: edition %d, type %s, %d keywords", c.name, p.Edition, p.Type, len(p.Keywords))
		}
		wantRel(t, c.name+" scale", p.Scale(), c.scale, 1e-12)
		if f := p.Flux(); f.StatedLumens != c.stated {
			t.Errorf("%s: states %g lm, want %g", c.name, f.StatedLumens, c.stated)
		}
		o := p.Opening()
		if o.Round != c.opening.Round || math.Abs(o.LengthM-c.opening.LengthM)+math.Abs(o.WidthM-c.opening.WidthM)+math.Abs(o.HeightM-c.opening.HeightM) > 1e-12 {
			t.Errorf("%s: opening %+v, want %+v", c.name, o, c.opening)
		}
	}
	p := mustRead(t, sample(t, "wash-1991.ies"))
	if text, _ := p.Keyword("LUMINAIRE"); text != "step light with a louvre" {
		t.Errorf("[MORE] gave %q", text)
	}
}

// A 2019 file must give the same light whatever its file generation type is: the
// field stands where a factor stood, and multiplying by it would inflate every
// candela by up to 11 %.
func TestGenerationTypeIsNoFactor(t *testing.T) {
	data := sample(t, "bollard-2019.ies")
	a := mustDistribution(t, mustRead(t, data))
	b := mustDistribution(t, mustRead(t, bytes.Replace(data, []byte("1 1.1 9"), []byte("1 1.00001 9"), 1)))
	pa, _ := a.Peak()
	pb, _ := b.Peak()
	wantRel(t, "peak", pa, pb, 1e-15)
	p := mustRead(t, data)
	wantRel(t, "candela as written", p.Candela[0][0]*p.Scale(), p.Candela[0][0], 1e-15)
}

// Flux by exact integration of the file against gonum quadrature of the
// interpolated distribution over the sphere.
func TestFileFluxAgainstQuadrature(t *testing.T) {
	for _, name := range samples(t) {
		p := mustRead(t, sample(t, name))
		d := mustDistribution(t, p)
		got := p.Flux().IntegratedLumens / p.RatedLumens()
		wantRel(t, name, sphere(d.PerLumen, 500, 720), got, 1e-4)
		wantRel(t, name+" output ratio", d.OutputRatio(), got, 1e-12)
		if p.Absolute() {
			wantRel(t, name+" absolute", got, 1, 1e-12)
		}
	}
	// The axial spot was written from 1500 cos^n, n of a 24 degree beam: its
	// straight-line table stays within 1 % of the closed form 2 pi I0/(n+1).
	p := mustRead(t, sample(t, "spot-1995.ies"))
	wantRel(t, "spot", p.Flux().IntegratedLumens, 2*math.Pi*1500/(BeamExponent(24)+1), 0.01)
}

func TestWriteAndReadBack(t *testing.T) {
	for _, name := range samples(t) {
		p := mustRead(t, sample(t, name))
		q := mustRead(t, WriteLM63(p))
		for i := range q.Keywords { // joined [MORE] lines move what follows
			q.Keywords[i].Line = p.Keywords[i].Line
		}
		for _, m := range []struct{ a, b *float64 }{{&p.WidthM, &q.WidthM}, {&p.LengthM, &q.LengthM}, {&p.HeightM, &q.HeightM}} {
			if math.Abs(*m.a-*m.b) > 1e-12 { // feet go there and back
				t.Errorf("%s: opening %g, back %g", name, *m.a, *m.b)
			}
			*m.b = *m.a
		}
		if !reflect.DeepEqual(p, q) {
			t.Errorf("%s: reading back gives\n%+v\nwant\n%+v", name, q, p)
		}
	}
}

// Line ends, commas, a byte-order mark, a closing control-Z and other wrapping
// change nothing.
func TestSameFileInOtherDress(t *testing.T) {
	for _, name := range samples(t) {
		data := sample(t, name)
		want := mustRead(t, data)
		at := bytes.Index(data, []byte("\nTILT=NONE"))
		if at < 0 {
			continue
		}
		lf := bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
		head, body, _ := bytes.Cut(lf, []byte("TILT=NONE\n"))
		head = append(head, "TILT=NONE\n"...)
		one := append(bytes.Clone(head), bytes.ReplaceAll(bytes.TrimSpace(body), []byte("\n"), []byte(" "))...)
		each := append(bytes.Clone(head), bytes.ReplaceAll(bytes.ReplaceAll(body, []byte(" "), []byte("\n")), []byte(","), []byte("\n"))...)
		for what, dress := range map[string][]byte{
			"LF": lf, "CR": bytes.ReplaceAll(lf, []byte("\n"), []byte("\r")), "one line": one, "a line for each number": each,
			"byte-order mark": append([]byte("\xEF\xBB\xBF"), data...), "control-Z": append(bytes.Clone(data), 0x1a),
			"commas": append(bytes.Clone(head), bytes.ReplaceAll(bytes.ReplaceAll(body, []byte(" "), []byte(", ")), []byte("\n"), []byte(" \n"))...),
		} {
			got, err := ReadLM63(dress)
			if err != nil {
				t.Errorf("%s, %s: %v", name, what, err)
			} else if !reflect.DeepEqual(got.Candela, want.Candela) || !reflect.DeepEqual(got.HorizontalDeg, want.HorizontalDeg) {
				t.Errorf("%s, %s: other candela", name, what)
			}
		}
	}
}

// lightAt are directions all round, poles and seams among them.
func lightAt() []r3.Vec {
	var out []r3.Vec
	for c := -180.0; c <= 180; c += 7.5 {
		for g := 0.0; g <= 180; g += 3.75 {
			out = append(out, planeDirection(c, g))
		}
	}
	return out
}

// A file written in another symmetry gives the same light in every direction
// and the same illuminance from a turned and tilted luminaire.
func TestOtherSymmetrySameLight(t *testing.T) {
	worst := 0.0
	for _, name := range samples(t) {
		p := mustRead(t, sample(t, name))
		whole := mustRead(t, WriteLM63(p.Unfold()))
		if n := len(whole.HorizontalDeg); whole.Type == TypeC && (n < 5 || whole.HorizontalDeg[n-1] != 360) {
			t.Errorf("%s: unfolded to %v", name, whole.HorizontalDeg)
		}
		a, b := mustDistribution(t, p), mustDistribution(t, whole)
		wantRel(t, name+" rated", whole.RatedLumens(), p.RatedLumens(), 1e-12)
		for _, dir := range lightAt() {
			va, vb := a.PerLumen(dir), b.PerLumen(dir)
			if d := math.Abs(va - vb); d > 1e-12*a.peak {
				t.Fatalf("%s: %g and %g toward %v", name, va, vb, dir)
			}
		}
		l, m := bare("L", at(0.3, -0.4, 2), a, 200), bare("L", at(0.3, -0.4, 2), b, 200)
		for _, turn := range []float64{0, 33, 145, 260} {
			l.AimBearingDeg, l.TiltDeg, l.ZeroBearingDeg = turn, turn/3, turn+50
			m.AimBearingDeg, m.TiltDeg, m.ZeroBearingDeg = turn, turn/3, turn+50
			for x := -3.0; x <= 3; x += 0.75 {
				ea, eb := evaluator(t, nil, l).Lux(ground(x, x/2+1)), evaluator(t, nil, m).Lux(ground(x, x/2+1))
				if ea != 0 || eb != 0 {
					worst = max(worst, math.Abs(ea-eb)/max(ea, eb))
				}
				if math.Abs(ea-eb) > 1e-9*max(ea, eb) {
					t.Errorf("%s turned %g at %g: %g lx and %g lx", name, turn, x, ea, eb)
				}
			}
		}
	}
	t.Logf("worst relative difference of illuminance after a change of symmetry: %.2g", worst)
}

// Folding what is symmetric gives the file back; folding what is not is refused.
func TestFold(t *testing.T) {
	for _, c := range []struct {
		name string
		last float64
		ok   bool
	}{
		{"ring-1986.ies", 0, true}, {"ring-1986.ies", 90, true}, {"ring-1986.ies", 180, true}, {"ring-1986.ies", 270, true},
		{"wash-1991.ies", 180, true}, {"wash-1991.ies", 90, false}, {"wash-1991.ies", 0, false},
		{"post-2002.ies", 90, true}, {"post-2002.ies", 180, true}, {"post-2002.ies", 270, true}, {"post-2002.ies", 0, false},
		{"verge-2002.ies", 270, true}, {"verge-2002.ies", 180, false},
		{"bollard-2019.ies", 180, false}, {"flood-a-2002.ies", 90, true}, {"flood-b-2002.ies", 90, false},
	} {
		p := mustRead(t, sample(t, c.name))
		q, err := p.Fold(c.last)
		if (err == nil) != c.ok {
			t.Errorf("%s to %g: %v", c.name, c.last, err)
			continue
		}
		if err != nil {
			continue
		}
		back := mustRead(t, WriteLM63(q))
		a, b := mustDistribution(t, p), mustDistribution(t, back)
		for _, dir := range lightAt() {
			if d := math.Abs(a.PerLumen(dir) - b.PerLumen(dir)); d > 1e-12*a.peak {
				t.Fatalf("%s to %g: differs toward %v", c.name, c.last, dir)
			}
		}
	}
}

// Where the angles of each type point, by the definitions of LM-63-2002 section
// 3: horizontal angles counter-clockwise for C and clockwise for A and B; straight
// down is vertical 0 for B and C, -90 for A; level forward is 0/90 for B and C,
// 0/0 for A.
func TestAnglesOfEachType(t *testing.T) {
	down, ahead := r3.Vec{Z: -1}, r3.Vec{X: 1}
	left, right := r3.Vec{Y: 1}, r3.Vec{Y: -1}
	for _, c := range []struct {
		kind Goniometry
		h, v float64
		want r3.Vec
	}{
		{TypeC, 0, 0, down}, {TypeC, 0, 90, ahead}, {TypeC, 90, 90, left}, {TypeC, 270, 90, right},
		{TypeB, 0, 0, down}, {TypeB, 0, 90, ahead}, {TypeB, 90, 0, right}, {TypeB, -90, 0, left},
		{TypeA, 0, -90, down}, {TypeA, 0, 0, ahead}, {TypeA, 90, 0, right}, {TypeA, -90, 0, left}, {TypeA, 0, 90, r3.Vec{Z: 1}},
	} {
		tab := &Table{kind: c.kind}
		got := tab.direction(c.h, c.v)
		if length(r3.Sub(got, c.want)) > 1e-12 {
			t.Errorf("type %s at %g/%g points to %v, want %v", c.kind, c.h, c.v, got, c.want)
		}
	}
	for _, kind := range []Goniometry{TypeA, TypeB, TypeC} {
		tab := &Table{kind: kind}
		for _, d := range lightAt() {
			h, v := tab.angles(d)
			if back := tab.direction(h, v); length(r3.Sub(back, d)) > 1e-9 {
				t.Fatalf("type %s: %v there and back is %v", kind, d, back)
			}
		}
	}
}

func TestLampTilt(t *testing.T) {
	p := mustRead(t, sample(t, "tilting-1995.ies"))
	for _, c := range [][2]float64{{0, 1}, {30, 0.97}, {45, 0.945}, {-45, 0.945}, {90, 0.88}, {120, 0.88}} {
		wantRel(t, "factor", p.Tilt.Factor(c[0]), c[1], 1e-12)
	}
	p.Tilt.Geometry = 2
	wantRel(t, "lamp that stays level", p.Tilt.Factor(45), 1, 0)
	var none *LampTilt
	wantRel(t, "no table", none.Factor(45), 1, 0)
}

func TestMissingKeywords(t *testing.T) {
	data := bytes.Replace(sample(t, "verge-2002.ies"), []byte("[TESTLAB] none\r\n"), nil, 1)
	if got := mustRead(t, data).MissingKeywords(); !reflect.DeepEqual(got, []string{"TESTLAB"}) {
		t.Errorf("got %q", got)
	}
	if got := mustRead(t, sample(t, "wash-1991.ies")).MissingKeywords(); got != nil {
		t.Errorf("1991 requires no keywords, got %q", got)
	}
}

// Round shapes by the signs of the dimensions (2002 on, and width alone in 1995;
// from memory).
func TestOpeningSigns(t *testing.T) {
	for _, c := range []struct {
		w, l, h float64
		want    Opening
	}{
		{0, 0, 0, Opening{}},
		{0.2, 0.3, 0, Opening{LengthM: 0.3, WidthM: 0.2}},
		{-0.2, -0.2, 0, Opening{LengthM: 0.2, Round: true}},
		{-0.2, 0, 0, Opening{LengthM: 0.2, Round: true}},
		{-0.2, -0.2, 0.4, Opening{LengthM: 0.2, HeightM: 0.4, Round: true}},
		{-0.2, -0.2, -0.2, Opening{LengthM: 0.2, HeightM: 0.2, Round: true}},
	} {
		p := Photometry{WidthM: c.w, LengthM: c.l, HeightM: c.h}
		if got := p.Opening(); got != c.want {
			t.Errorf("%g %g %g: %+v, want %+v", c.w, c.l, c.h, got, c.want)
		}
	}
}

// Every error is a FileError with a position inside the file.
func wantPosition(t *testing.T, what string, err error, line, column int, words string) {
	t.Helper()
	var fe *FileError
	if !errors.As(err, &fe) {
		t.Errorf("%s: no FileError but %v", what, err)
		return
	}
	if fe.Line != line || fe.Column != column || !strings.Contains(fe.Message, words) {
		t.Errorf("%s: %v, want %d:%d with %q", what, err, line, column, words)
	}
}
