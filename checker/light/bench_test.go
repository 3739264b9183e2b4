package light

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// garden is an invented site: a winding path two fixtures to the metre, of the
// kinds that gardens have, with a wall, post or tree every few metres.
func garden(fixtures int) ([]Luminaire, []Occluder, []r3.Vec) {
	rng := rand.New(rand.NewPCG(7, 11))
	ring, _ := NewDownwardRing(58)
	wash, _ := NewStepWash(60)
	beam, _ := NewBeam(24)
	pathM := float64(fixtures) / 2
	var centre []r3.Vec
	for s := 0.0; s <= pathM; s += 5 {
		centre = append(centre, r3.Vec{X: s, Y: 6 * math.Sin(s/25)})
	}
	var lums []Luminaire
	var blocks []Occluder
	for i := range fixtures {
		x := pathM * float64(i) / float64(fixtures)
		y := 6 * math.Sin(x/25)
		l := Luminaire{ID: fmt.Sprintf("L%04d", i), Lumens: 120 + 80*rng.Float64(), Maintenance: 0.8, Groups: []string{"all"}}
		switch i % 4 {
		case 0, 1:
			l.Light, l.At = ring, r3.Vec{X: x, Y: y + 0.8*float64(i%4*2-1), Z: 0.5}
			l.Opening = Opening{LengthM: 0.12, Round: true}
		case 2:
			l.Light, l.At = wash, r3.Vec{X: x, Y: y + 0.9, Z: 0.3}
			l.ZeroBearingDeg = 180
		default:
			l.Light, l.At = beam, r3.Vec{X: x, Y: y + 3 + 2*rng.Float64(), Z: 0.1}
			l.AimBearingDeg, l.TiltDeg = 360*rng.Float64(), 150
		}
		lums = append(lums, l)
		if i%8 == 0 {
			a := r2.Vec{X: x, Y: y + 1.5 + rng.Float64()}
			b := r2.Add(a, r2.Vec{X: 2 * rng.Float64(), Y: rng.Float64()})
			blocks = append(blocks, Wall{ID: fmt.Sprintf("W%d", i), A: a, B: b, TopM: 1, ThicknessM: 0.2},
				Post{ID: fmt.Sprintf("P%d", i), Centre: r2.Vec{X: x + 1, Y: y - 1.2}, RadiusM: 0.06, TopM: 1},
				Canopy{ID: fmt.Sprintf("T%d", i), Centre: r3.Vec{X: x, Y: y + 5, Z: 3}, RadiusM: 1.5, HalfHeightM: 1.5, Transmission: 0.2})
		}
	}
	return lums, blocks, centre
}

// BenchmarkSite computes a path grid at half-metre steps with three rows. The
// largest is 2,000 fixtures on 1 km of path.
func BenchmarkSite(b *testing.B) {
	for _, n := range []int{250, 500, 1000, 2000} {
		b.Run(fmt.Sprintf("fixtures=%d", n), func(b *testing.B) {
			lums, blocks, centre := garden(n)
			b.ReportAllocs()
			for b.Loop() {
				e, err := NewEvaluator(lums, blocks, Options{})
				if err != nil {
					b.Fatal(err)
				}
				g, err := PathGrid(centre, 1.2, 0)
				if err != nil {
					b.Fatal(err)
				}
				f, err := e.Evaluate(context.Background(), g.Points)
				if err != nil {
					b.Fatal(err)
				}
				shares := 0
				for i := range f.Len() {
					shares += len(f.Shares(i))
				}
				b.ReportMetric(float64(len(g.Points)), "points")
				b.ReportMetric(float64(shares)/float64(len(g.Points)), "shares/point")
			}
		})
	}
}

// BenchmarkPlan is one garden of 40 fixtures: path grid, ten treads and a
// property line, two scenes and a gate leaf in seven positions.
func BenchmarkPlan(b *testing.B) {
	lums, blocks, centre := garden(40)
	var points []Point
	for i := range 10 {
		y := 3 + 0.3*float64(i)
		points = append(points, PointsOf(Tread{FrontLeft: r2.Vec{X: 5, Y: y}, FrontRight: r2.Vec{X: 6.2, Y: y},
			BackRight: r2.Vec{X: 6.2, Y: y + 0.3}, BackLeft: r2.Vec{X: 5, Y: y + 0.3}, ElevationM: 0.17 * float64(i)}.Points())...)
	}
	b.ReportAllocs()
	for b.Loop() {
		e, err := NewEvaluator(lums, blocks, Options{Workers: 1})
		if err != nil {
			b.Fatal(err)
		}
		path, err := PathGrid(centre, 1.2, 0)
		if err != nil {
			b.Fatal(err)
		}
		line, err := UprightGrid([]r3.Vec{{Y: -15}, {X: 20, Y: -15}}, 1.5, 0, FacingLeft)
		if err != nil {
			b.Fatal(err)
		}
		f, err := e.Evaluate(context.Background(), append(append(path.Points, line.Points...), points...))
		if err != nil {
			b.Fatal(err)
		}
		_ = Summarise(f.Lux(nil))
		_ = Summarise(f.Lux(e.GroupLevels(map[string]float64{"all": 0.5})))
		for swing := 0.0; swing <= 90; swing += 15 {
			tip := r2.Add(r2.Vec{X: 10}, r2.Scale(1.1, flat(Direction(swing, 90))))
			if _, err := f.Behind(Wall{ID: "leaf", A: r2.Vec{X: 10}, B: tip, TopM: 1.2}); err != nil {
				b.Fatal(err)
			}
		}
	}
}
