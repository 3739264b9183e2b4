package light_test

import (
	"context"
	"fmt"

	"duskproof/checker/light"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// A tread of an invented flight, lit by a step light in the riser above it and
// by a path light beside the flight, in two scenes and behind an open gate.
func Example() {
	wash, _ := light.NewStepWash(light.DefaultWashPeakDeg)
	ring, _ := light.NewDownwardRing(light.DefaultRingPeakDeg)
	riser := light.Wall{ID: "riser 2", A: r2.Vec{Y: 0.3}, B: r2.Vec{X: 1.2, Y: 0.3}, BaseM: 0.17, TopM: 0.34}
	e, err := light.NewEvaluator([]light.Luminaire{
		{ID: "P1", At: r3.Vec{X: -0.3, Y: 0.1, Z: 0.5}, Light: ring, Lumens: 150, Groups: []string{"path"}},
		{ID: "S1", At: r3.Vec{X: 0.6, Y: 0.3, Z: 0.27}, Light: wash, Lumens: 40, Groups: []string{"steps"},
			AimBearingDeg: 180, ZeroBearingDeg: 180, Host: "riser 2"},
	}, []light.Occluder{riser}, light.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	tread := light.Tread{FrontRight: r2.Vec{X: 1.2}, BackRight: r2.Vec{X: 1.2, Y: 0.3}, BackLeft: r2.Vec{Y: 0.3}, ElevationM: 0.17}
	points := tread.Points()
	field, err := e.Evaluate(context.Background(), light.PointsOf(points))
	if err != nil {
		fmt.Println(err)
		return
	}
	gate := light.Wall{ID: "gate", A: r2.Vec{X: -0.05, Y: -1}, B: r2.Vec{X: -0.05, Y: 0.3}, BaseM: 0.05, TopM: 1}
	behind, err := field.Behind(gate)
	if err != nil {
		fmt.Println(err)
		return
	}
	late := e.GroupLevels(map[string]float64{"path": 0.5})
	fmt.Printf("%s, all on: %.1f lx\n", points[0].Name, field.LuxAt(0, nil))
	fmt.Printf("%s, late: %.1f lx\n", points[0].Name, field.LuxAt(0, late))
	fmt.Printf("%s, late, gate open: %.1f lx\n", points[0].Name, behind.LuxAt(0, late))
	for _, s := range field.Shares(0) {
		fmt.Printf("%s gives %.1f lx\n", e.Luminaire(int(s.Luminaire)).ID, s.Lux)
	}
	// Output:
	// strip, all on: 533.2 lx
	// strip, late: 6.0 lx
	// strip, late, gate open: 0.0 lx
	// P1 gives 12.1 lx
	// S1 gives 521.2 lx
}
