package site_test

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/site"
)

// A gate closed towards the west opens to the left, southwards. A path light of
// 50 mm radius stands half a metre from the swept ground.
func ExampleLeaf_Sweep() {
	gate := site.Leaf{
		ID: "side-gate", Hinge: r2.Vec{X: 2, Y: 18}, LengthM: 1,
		ClosedDeg: 270, Opens: site.OpensLeft, AngleDeg: 90, BottomM: 0.05, TopM: 1.2,
	}
	clear := gate.Sweep().Clearance(r2.Vec{X: 1, Y: 18.55}, 0.05)
	fmt.Printf("clear by %.2f m; a light 0.45 m tall would be struck: %v; a flush one: %v\n",
		clear.GapM, gate.Strikes(0, 0.45), gate.Strikes(0, 0))
	// Output: clear by 0.50 m; a light 0.45 m tall would be struck: true; a flush one: false
}

// A cable crosses a drive and a lawn; each piece has its own least cover.
func ExampleGround_Cut() {
	ground := site.NewGround([]site.Surface{
		{ID: "drive", Kind: "home-drive", Region: site.Polygon{{X: 0, Y: 0}, {X: 9, Y: 0}, {X: 9, Y: 4}, {X: 0, Y: 4}}},
		{ID: "turf", Kind: "lawn", Region: site.Polygon{{X: 0, Y: 4}, {X: 9, Y: 4}, {X: 9, Y: 10}, {X: 0, Y: 10}}},
	})
	rows := map[string]site.RowKey{"home-drive": site.RowHomeDrive, "lawn": site.RowOpen}
	circuit := site.Circuit{Volts: 12, Landscape: true}
	for _, p := range ground.Cut(site.Line{{X: 3, Y: -1}, {X: 3, Y: 7}}) {
		var above []site.RowKey
		for _, kind := range p.Kinds {
			above = append(above, rows[kind])
		}
		need, _, err := site.NECCover(circuit, above, math.NaN(), site.Inches)
		fmt.Printf("%.0f to %.0f m under %v: %.0f in, %v\n", p.From, p.To, p.Above, need.MinM/0.0254, err)
	}
	// Output:
	// 0 to 1 m under []: 6 in, <nil>
	// 1 to 5 m under [drive]: 18 in, <nil>
	// 5 to 8 m under [turf]: 6 in, <nil>
}

// A light set out by tape: 3 m along the path and 0.6 m to its left.
func ExampleLine_PointAt() {
	path := site.Line{{X: 0, Y: 0}, {X: 0, Y: 10}}
	p, _ := path.PointAt(3, 0.6, site.Left)
	back, _ := path.Locate(p)
	fmt.Printf("(%.1f, %.1f); %.1f m along, %.1f m to the %v\n", p.X, p.Y, back.StationM, back.OffsetM, back.Side)
	// Output: (-0.6, 3.0); 3.0 m along, 0.6 m to the left
}
