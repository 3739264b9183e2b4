package light

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// mounted is a step wash on a host that shines toward a bearing.
func mounted(t *testing.T, at r3.Vec, host string, bearingDeg float64) Luminaire {
	t.Helper()
	wash, err := NewStepWash(60)
	if err != nil {
		t.Fatal(err)
	}
	return Luminaire{ID: "L", At: at, Light: wash, Lumens: 60, Host: host, AimBearingDeg: bearingDeg, ZeroBearingDeg: bearingDeg}
}

// A lamp on or in its host lights the side it shines to and nothing behind.
func TestHostShadowsOnlyTheBack(t *testing.T) {
	square := []r2.Vec{{X: -1, Y: 0}, {X: 1, Y: 0}, {X: 1, Y: 2}, {X: -1, Y: 2}}
	for _, c := range []struct {
		name string
		host Occluder
		at   r3.Vec
		aim  float64
		lit  r3.Vec
		dark r3.Vec
	}{
		{"in a riser", Wall{ID: "H", A: r2.Vec{X: -1}, B: r2.Vec{X: 1}, TopM: 0.17}, at(0, 0, 0.1), 180, at(0, -0.3, 0), at(0, 0.3, 0)},
		{"in a riser, other side", Wall{ID: "H", A: r2.Vec{X: -1}, B: r2.Vec{X: 1}, TopM: 0.17}, at(0, 0, 0.1), 0, at(0, 0.3, 0), at(0, -0.3, 0)},
		{"a hair behind the face of a sheet", Wall{ID: "H", A: r2.Vec{X: -1}, B: r2.Vec{X: 1}, TopM: 0.17}, at(0, 0.0005, 0.1), 180, at(0, -0.3, 0), at(0, 0.3, 0)},
		{"on the face of a thick wall", Wall{ID: "H", A: r2.Vec{X: -1}, B: r2.Vec{X: 1}, TopM: 1, ThicknessM: 0.2}, at(0, -0.1, 0.5), 180, at(0, -0.5, 0), at(0, 0.5, 0)},
		{"in the middle of a thick wall", Wall{ID: "H", A: r2.Vec{X: -1}, B: r2.Vec{X: 1}, TopM: 1, ThicknessM: 0.2}, at(0, 0, 0.5), 180, at(0, -0.5, 0), at(0, 0.5, 0)},
		{"on a bracket off the wall", Wall{ID: "H", A: r2.Vec{X: -1}, B: r2.Vec{X: 1}, TopM: 1}, at(0, -0.15, 0.5), 180, at(0, -0.5, 0), at(0, 0.5, 0)},
		{"on a house", Prism{ID: "H", Outline: square, TopM: 3}, at(0, 0, 2), 180, at(0, -1, 0), at(0, 3, 0)},
		{"let into a house", Prism{ID: "H", Outline: square, TopM: 3}, at(0, 0.05, 2), 180, at(0, -1, 0), at(0, 3, 0)},
		{"on the side of a post", Post{ID: "H", RadiusM: 0.05, TopM: 1}, at(0, -0.05, 0.8), 180, at(0, -1, 0), at(0, 1, 0)},
	} {
		l := mounted(t, c.at, "H", c.aim)
		bare := mounted(t, c.at, "", c.aim)
		wide := l
		wide.Light, wide.Lumens = NewIsotropic(), 100 // sees every side, so the host alone makes the dark
		e := evaluator(t, []Occluder{c.host}, l)
		lit := Point{At: c.lit, Normal: Up}
		free := evaluator(t, nil, bare).Lux(lit)
		if got := e.Lux(lit); got <= 0 || got != free {
			t.Errorf("%s: in front %g lx, without the host %g lx", c.name, got, free)
		}
		wideOn := evaluator(t, []Occluder{c.host}, wide)
		if got := wideOn.Lux(Point{At: c.dark, Normal: Up}); got != 0 {
			t.Errorf("%s: behind %g lx", c.name, got)
		}
	}
}

// A lamp on top of its host, on the axis of its post or in a crown is not
// shadowed by it at all.
func TestHostLeftOut(t *testing.T) {
	for _, c := range []struct {
		name string
		host Occluder
		at   r3.Vec
	}{
		{"on top of a wall", Wall{ID: "H", A: r2.Vec{X: -1}, B: r2.Vec{X: 1}, TopM: 1, ThicknessM: 0.2}, at(0, 0, 1)},
		{"in a bollard", Post{ID: "H", RadiusM: 0.08, TopM: 0.9}, at(0, 0, 0.8)},
		{"on top of a post", Post{ID: "H", RadiusM: 0.08, TopM: 0.9}, at(0, 0, 0.9)},
		{"hung in a tree", Canopy{ID: "H", Centre: at(0, 0, 3), RadiusM: 1, HalfHeightM: 1}, at(0, 0, 2.5)},
		{"on a flat roof", Prism{ID: "H", Outline: []r2.Vec{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}}, TopM: 1}, at(0, 0, 1)},
	} {
		l := candelas("L", c.at, 10)
		l.Host = "H"
		e := evaluator(t, []Occluder{c.host}, l)
		for _, p := range []Point{ground(2, 0), ground(-2, 0), ground(0, 2), ground(0, -2)} {
			if e.Lux(p) <= 0 {
				t.Errorf("%s: dark at %v", c.name, p.At)
			}
		}
	}
}

// A lamp let into a deck shines up past it; one fixed under it shines down only.
func TestHostSlab(t *testing.T) {
	deck := Slab{ID: "D", Outline: []r2.Vec{{X: -2, Y: -2}, {X: 2, Y: -2}, {X: 2, Y: 2}, {X: -2, Y: 2}}, TopM: 1, ThicknessM: 0.04}
	up := Luminaire{ID: "U", At: at(0, 0, 0.99), Light: NewLambert(), Lumens: 100, TiltDeg: 180, Host: "D"}
	down := Luminaire{ID: "N", At: at(0, 0, 0.97), Light: NewLambert(), Lumens: 100, Host: "D"}
	ceiling := Point{At: at(0.5, 0, 3), Normal: r3.Vec{Z: -1}}
	e := evaluator(t, []Occluder{deck}, up)
	if e.Lux(ceiling) <= 0 {
		t.Error("let in: nothing above")
	}
	f := evaluator(t, []Occluder{deck}, down)
	if f.Lux(ground(0.5, 0)) <= 0 {
		t.Error("under the deck: nothing below")
	}
	if lux := f.Lux(ceiling); lux != 0 {
		t.Errorf("under the deck: %g lx above", lux)
	}
}

// Steps: a lamp in a riser lights the tread in front of it and none behind, and
// the riser above keeps a lamp at the head from the tread below it.
func TestRisersBetweenTreads(t *testing.T) {
	const rise, going = 0.17, 0.3
	var risers []Occluder
	for i := range 3 {
		y := going * float64(i)
		risers = append(risers, Wall{ID: string(rune('a' + i)), A: r2.Vec{X: -0.6, Y: y}, B: r2.Vec{X: 0.6, Y: y},
			BaseM: rise * float64(i), TopM: rise * float64(i+1)})
	}
	tread := func(i int) Tread { // behind riser i
		y := going * float64(i)
		return Tread{FrontLeft: r2.Vec{X: -0.6, Y: y}, FrontRight: r2.Vec{X: 0.6, Y: y},
			BackRight: r2.Vec{X: 0.6, Y: y + going}, BackLeft: r2.Vec{X: -0.6, Y: y + going}, ElevationM: rise * float64(i+1)}
	}
	low := mounted(t, at(0, going, 1.6*rise), "b", 180) // in the second riser, facing down the flight
	e := evaluator(t, risers, low)
	for _, n := range tread(0).Points() {
		if e.Lux(n.Point) <= 0 {
			t.Errorf("first tread, %s: dark", n.Name)
		}
	}
	for _, n := range tread(1).Points() {
		if lux := e.Lux(n.Point); lux != 0 {
			t.Errorf("second tread, %s: %g lx through its own riser", n.Name, lux)
		}
	}
	head := candelas("H", at(0, 2, 3*rise+0.3), 20) // stands back from the head of the flight
	e = evaluator(t, risers, head)
	for _, n := range tread(2).Points() {
		if e.Lux(n.Point) <= 0 {
			t.Errorf("third tread, %s: dark", n.Name)
		}
	}
	for _, n := range tread(0).Points() {
		if lux := e.Lux(n.Point); n.Name != "front-left" && n.Name != "front-right" && lux != 0 {
			t.Errorf("first tread, %s: %g lx through the risers above it", n.Name, lux)
		}
	}
}
