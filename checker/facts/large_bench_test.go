package facts_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// object is a JSON object of a plan that is written by a program.
type object = map[string]any

// avenue is an invented plan: a winding path with two fixtures to the metre, in
// runs of twenty, with a wall, a tree and a flight of steps every few metres.
func avenue(fixtures int) object {
	const runLamps, unitLamps = 20, 120
	length := float64(fixtures) / 2
	bend := func(x, left float64) []float64 { return []float64{x, 6*math.Sin(x/25) + left} }
	var centre [][]float64
	var walls, trees, stairs, units, runs, lamps []object
	for x := 0.0; x <= length; x += 5 {
		centre = append(centre, bend(x, 0))
		walls = append(walls, object{"id": fmt.Sprintf("wall-%g", x), "line": [][]float64{bend(x+1, 2), bend(x+3, 2)}, "height": 1})
		trees = append(trees, object{"id": fmt.Sprintf("tree-%g", x), "at": bend(x, 6), "canopy": object{"radius": 1.5, "base": 1, "top": 4}})
	}
	for x := 0.0; x < length; x += 20 {
		stairs = append(stairs, object{"id": fmt.Sprintf("stair-%g", x), "risers": 5, "rise": 0.15, "going": 0.3,
			"foot": [][]float64{{x + 3, 20}, {x + 5, 20}}, "head": [][]float64{{x + 3, 21.2}, {x + 5, 21.2}}})
	}
	kinds := []string{"ring", "ring", "wash", "spot"}
	for i := range fixtures {
		x := length * float64(i) / float64(fixtures)
		unit, run := fmt.Sprintf("T%d", i/unitLamps), fmt.Sprintf("R%d", i/runLamps)
		lamp := object{"id": fmt.Sprintf("L%d", i), "type": kinds[i%4], "at": bend(x, []float64{-0.8, 0.8, 0.9, 3}[i%4])}
		if i%4 >= 2 {
			lamp["aim"] = object{"bearing": (i * 37) % 360, "tilt": []int{60, 150}[i%2]}
		}
		if i%unitLamps == 0 {
			units = append(units, object{"id": unit, "type": "unit"})
		}
		if i%runLamps == 0 {
			runs = append(runs, object{"id": run, "from": object{"transformer": unit, "common": 1, "tap": "12 V"}, "cable": "c", "chain": []object{}})
		}
		last := runs[len(runs)-1]
		last["chain"] = append(last["chain"].([]object), object{"to": lamp["id"], "length": 5})
		lamps = append(lamps, lamp)
	}
	shape := func(kind, shape string, more object) object {
		more["shape"] = shape
		return object{"kind": kind, "load": "constant-power", "watts": 3, "va": 4, "window": []string{"9 V", "15 V"}, "lumens": 150, "light": more}
	}
	return object{
		"format": "1.0", "plan": object{"title": "Invented"}, "units": "m", "supply": object{"volts": 230},
		"defaults": object{"fixtures": object{"height": "0.5 m", "mount": "stake"}},
		"catalogue": object{
			"fixtures": object{
				"ring": shape("path", "downward-ring", object{"peak_angle": 58}), "wash": shape("wash", "step-wash", object{}),
				"spot": shape("spot", "beam", object{"beam_angle": 24}),
			},
			"cables":       object{"c": object{"conductor": "6 mm2"}},
			"transformers": object{"unit": object{"kind": "magnetic", "rating": "600 VA", "impedance": "4 %", "taps": []string{"12 V"}}},
		},
		"site": object{
			"paths": []object{{"id": "walk", "centreline": centre, "width": 1.2}}, "walls": walls, "trees": trees, "stairs": stairs,
			"property_line": [][]float64{{-10, -20}, {length + 10, -20}, {length + 10, 30}, {-10, 30}},
		},
		"transformers": units, "runs": runs, "fixtures": lamps,
	}
}

// BenchmarkLarge computes all facts of an avenue. The largest is 2,000 fixtures
// on 1 km of path.
func BenchmarkLarge(b *testing.B) {
	for _, n := range []int{250, 500, 1000, 2000} {
		b.Run(fmt.Sprintf("fixtures=%d", n), func(b *testing.B) {
			text, err := json.Marshal(avenue(n))
			if err != nil {
				b.Fatal(err)
			}
			document, err := plan.Decode(text)
			if err != nil {
				b.Fatal(err)
			}
			p, issues := plan.Resolve(document)
			if len(issues) > 0 {
				b.Fatalf("%d issues, the first: %s", len(issues), issues[0].Message)
			}
			b.ReportAllocs()
			for b.Loop() {
				doc, err := facts.Compute(context.Background(), facts.Input{Plan: p, Today: "2026-06-01"})
				if err != nil || len(doc.Paths) != 1 || doc.Paths[0].LuxMin == nil {
					b.Fatal(err, doc.Paths)
				}
				b.ReportMetric(float64(doc.Paths[0].Points), "points")
			}
		})
	}
}
