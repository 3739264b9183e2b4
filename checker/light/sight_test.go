package light

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// An eye sees the lamps that shine toward it past what stands between; the
// intensity is the one of the distribution in that direction.
func TestViews(t *testing.T) {
	ring, _ := NewDownwardRing(58)
	lums := []Luminaire{
		candelas("bare", at(0, 0, 0.5), 40),
		bare("shaded", at(0, 1, 0.5), ring, 200),
		candelas("behind the fence", at(0, 5, 0.5), 40),
		candelas("far", at(-90, 0, 0.5), 40),
	}
	lums[0].Opening = Opening{LengthM: 0.1, Round: true, HeightM: 0.2}
	fence := Wall{ID: "F", A: r2.Vec{X: 1, Y: 3}, B: r2.Vec{X: 1, Y: 6}, TopM: 1.4}
	e := evaluator(t, []Occluder{fence}, lums...)
	eye := at(4, 0, 1.6) // standing, above the level of every lamp
	views := e.Views(eye, 50)
	if len(views) != 1 || views[0].Luminaire != 0 {
		t.Fatalf("seen: %+v", views)
	}
	d := math.Hypot(4, 1.1)
	wantRel(t, "candela", views[0].Candela, 40, closeRel)
	wantRel(t, "distance", views[0].DistanceM, d, closeRel)
	wantRel(t, "angle from straight down", views[0].GammaDeg, degrees(math.Acos(-1.1/d)), closeRel)
	wantRel(t, "area", views[0].AreaM2, math.Pi/4*0.01*1.1/d+0.02*4/d, closeRel)
	if n := len(e.Views(eye, 0)); n != 2 {
		t.Errorf("without a limit %d lamps are seen", n)
	}
	// A seated eye below the shade sees into it: the published rule of thumb
	// that a shade hides its lamp only from above its rim.
	if views := e.Views(at(1, 1, 0.2), 2); len(views) != 2 {
		t.Errorf("from below: %+v", views)
	}
	half := fence
	half.Transmission = 0.25
	e = evaluator(t, []Occluder{half}, lums...)
	for _, v := range e.Views(at(4, 5, 0.5), 10) {
		if v.Luminaire == 2 {
			wantRel(t, "through a fence that lets a quarter by", v.Candela, 10, closeRel)
			return
		}
	}
	t.Error("not seen through the fence")
}

// The upward light ratio of an installation weighs luminaires by flux and level.
func TestUpwardRatio(t *testing.T) {
	up := bare("U", at(0, 0, 0), NewLambert(), 300)
	up.TiltDeg = 180
	e := evaluator(t, nil, bare("D", at(0, 0, 2), NewLambert(), 100), up)
	for _, c := range []struct {
		levels Levels
		want   float64
	}{{nil, 0.75}, {Levels{1, 1}, 0.75}, {Levels{1, 0}, 0}, {Levels{0, 0.5}, 1}, {Levels{1, 1.0 / 3}, 0.5}} {
		got, ok := e.UpwardRatio(c.levels)
		if !ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("levels %v: %g %v, want %g", c.levels, got, ok, c.want)
		}
	}
	if _, ok := e.UpwardRatio(Levels{0, 0}); ok {
		t.Error("a ratio of darkness")
	}
}

// Vertical illuminance at a window in front of a lamp: E = I/d^2 at the point
// level with it, and nothing through the back of the house.
func TestWindow(t *testing.T) {
	house := Prism{ID: "B", Outline: []r2.Vec{{X: -3, Y: 0}, {X: 3, Y: 0}, {X: 3, Y: 6}, {X: -3, Y: 6}}, TopM: 5}
	front := Window{A: r2.Vec{X: -0.6}, B: r2.Vec{X: 0.6}, SillM: 1, HeadM: 2}
	back := Window{A: r2.Vec{X: 0.6, Y: 6}, B: r2.Vec{X: -0.6, Y: 6}, SillM: 1, HeadM: 2}
	e := evaluator(t, []Occluder{house}, candelas("L", at(0, -5, 1.5), 50))
	points := front.Points()
	if len(points) != 5 || points[0].Name != "centre" {
		t.Fatalf("points %+v", points)
	}
	wantRel(t, "centre", e.Lux(points[0].Point), 2, closeRel)
	for _, n := range points {
		if e.Lux(n.Point) <= 0 {
			t.Errorf("front window, %s: dark", n.Name)
		}
	}
	for _, n := range back.Points() {
		if lux := e.Lux(n.Point); lux != 0 {
			t.Errorf("back window, %s: %g lx", n.Name, lux)
		}
	}
	if (Window{}).Points() != nil {
		t.Error("a window without width has points")
	}
}
