package takeoff_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"duskproof/checker"
	"duskproof/checker/facts"
	"duskproof/checker/plan"
	"duskproof/checker/takeoff"
)

const plans = "../../testdata/plans"

var rules = sync.OnceValues(func() (*checker.Checker, error) { return checker.New(checker.Options{Today: "2026-06-01"}) })

// checked checks a plan of the test data, or a text.
func checked(t *testing.T, name, text string) (*plan.Plan, *facts.Document) {
	t.Helper()
	c, err := rules()
	if err != nil {
		t.Fatal(err)
	}
	data := []byte(text)
	if text == "" {
		if data, err = os.ReadFile(filepath.Join(plans, name)); err != nil {
			t.Fatal(err)
		}
	}
	result, err := c.Check(context.Background(), checker.Input{Name: name, Bytes: data, FS: os.DirFS(filepath.Dir(filepath.Join(plans, name)))})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range result.Problems {
		t.Fatalf("%s:%d: %s", name, p.Line, p.Message)
	}
	return result.Model, result.Facts
}

func scheduled(t *testing.T, name, text string) *takeoff.Schedule {
	t.Helper()
	p, doc := checked(t, name, text)
	s, err := takeoff.Of(context.Background(), p, doc, "This is a check of a plan, not an approval.")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

const (
	foot = 0.3048 // m, international yard and pound agreement, 1959
	// tolFt is how far a length may be from one worked out by hand, in feet.
	tolFt = 0.01
)

func near(t *testing.T, what string, have, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(have-want) <= tolerance) {
		t.Errorf("%s: %.4f, want %.4f", what, have, want)
	}
}

// demo is the demo as first drawn. All counts below were made by hand on its
// drawing: lengths are those of straight lines between the coordinates that the
// plan states, in feet.
const demo = "tern-cottage/draft.lighting.json"

// purchase finds a line of what to buy.
func purchase(t *testing.T, s *takeoff.Schedule, what, name string) takeoff.Purchase {
	t.Helper()
	for _, p := range s.Purchases {
		if p.What == what && p.Name == name {
			return p
		}
	}
	t.Fatalf("no %s %s to buy", what, name)
	return takeoff.Purchase{}
}

// TestCableByHand adds up the cable of the demo by hand, leg by leg.
func TestCableByHand(t *testing.T) {
	s := scheduled(t, demo, "")
	// A light that stands 10 in from the edge of a path 4 ft wide stands
	// 2.8333 ft from its middle. P1 (-2.8333, -0.5), P2 (2.8333, 7), P4: 8 ft
	// along the bend from (0, 18) to (6, 27), which is 10.8167 ft long, so
	// (2.0801, 26.2281); P5 (8.8333, 27.6833); P6 (8.8333, 51), P7 (9.4798,
	// 57.4524), P8 (16.3297, 52.8492). S1 (4.0833, 29.5), S2 (7.9167, 31.5), S3
	// (4.0833, 38.5), S4 (7.9167, 40.5).
	walk := []float64{ // legs w1 to w6
		math.Hypot(2.4, 2), math.Hypot(0.7667, 4.5), math.Hypot(6.4333, 3), math.Hypot(0.8, 12.6), math.Hypot(4.8801, 9.6281), math.Hypot(6.7532, 1.4552),
		2 + 2 + 2 + 4 + 4, // slack of 2 ft at each end at a lamp
	}
	drive := []float64{ // d1 to d6
		math.Hypot(2, 4), math.Hypot(1.8, 2), 9, math.Hypot(0.6, 4), 4.4, 9, math.Hypot(0.6, 4),
		2 + 4 + 4 + 4 + 4 + 4,
	}
	steps := []float64{ // s1 to s9
		math.Hypot(2.8, 2), 25, math.Hypot(8.8, 2), 2.4, math.Hypot(1.6833, 1.5), math.Hypot(5.5167, 0.5), 4, 9,
		math.Hypot(1.6833, 1.5), math.Hypot(5.5167, 0.5), 5,
		2 + 2 + 2 + 2 + 2 + 2,
	}
	house := []float64{math.Hypot(3.5, 0.1), 11.9, 6.8, 4.8, 2 + 4 + 4 + 4} // c1 to c4
	tree := []float64{                                                      // t1 to t4
		math.Hypot(14.8, 9.2), math.Hypot(2.2, 5.8), math.Hypot(4, 1.4), math.Hypot(7, 0.4), math.Hypot(2, 5),
		math.Hypot(2.2, 1.5), 10, math.Hypot(2.6, 2.1),
		2 + 4 + 2,
	}
	terrace := []float64{ // r1 to r5, a2 to a4
		math.Hypot(0.2, 3.6), 5.4, math.Hypot(3.8, 0.1), 5.5, 5.5, 5.5, 5.5, 3.6, math.Hypot(1.0703, 0.3492), math.Hypot(7.4964, 1.8492), math.Hypot(6.8499, 4.6032),
		2 + 4 + 4 + 4 + 4 + 4 + 4 + 4,
	}
	for _, want := range []struct {
		cable string
		lists [][]float64
		buyFt float64 // with 10 % on top, by the 25 ft
	}{
		{"12/2", [][]float64{walk, drive, steps, house}, 275},
		{"16/2", [][]float64{terrace}, 100},
		{"18/2", [][]float64{tree}, 75},
	} {
		sum := 0.0
		for _, list := range want.lists {
			for _, v := range list {
				sum += v
			}
		}
		have := purchase(t, s, "cable", want.cable)
		near(t, want.cable+" needed, ft", have.Needed/foot, sum, tolFt)
		near(t, want.cable+" with allowance, ft", have.Allowed/foot, 1.10*sum, 2*tolFt)
		near(t, want.cable+" to buy, ft", have.Buy/foot, want.buyFt, 1e-6)
	}
}

// TestCountsByHand counts fixtures, connectors and gravel of the demo.
func TestCountsByHand(t *testing.T) {
	s := scheduled(t, demo, "")
	// K1 K2, P1 to P8, L1 L2; S1 to S4; B1 to B5; D1 to D4; H1 to H3; M1 to M4.
	for name, want := range map[string]float64{"ring-path": 12, "cheek-light": 4, "coping-light": 5, "eaves-down": 4, "stone-spot": 3, "drive-marker": 4} {
		near(t, name, purchase(t, s, "fixture", name).Buy, want, 0)
		at := slices.IndexFunc(s.FixtureTypes, func(f takeoff.FixtureType) bool { return f.ID == name })
		if s.FixtureTypes[at].Count != int(want) || len(s.FixtureTypes[at].Fixtures) != int(want) {
			t.Errorf("%s: %d counted, %v", name, s.FixtureTypes[at].Count, s.FixtureTypes[at].Fixtures)
		}
	}
	// 32 fixtures, a crimp on each of two poles, and nowhere more than four
	// conductors in one: M1 and P8 join three cables and a lead. Four hubs, a
	// lug on each pole.
	near(t, "gel-crimp", purchase(t, s, "connector", "gel-crimp").Buy, 64, 0)
	near(t, "gel-lug", purchase(t, s, "connector", "gel-lug").Buy, 8, 0)
	near(t, "T200", purchase(t, s, "transformer", "T200").Buy, 1, 0)
	// Four markers of 4 in, each in a round hole 100 mm wider all round, over 6
	// in of gravel: 4 x pi x (0.0508 + 0.1)^2 x 0.1524 m3 = 43.55 litres.
	near(t, "gravel, litres", purchase(t, s, "gravel", "washed gravel below in-ground fixtures").Needed, 43.55, 0.01)
	near(t, "gravel to buy, litres", purchase(t, s, "gravel", "washed gravel below in-ground fixtures").Buy, 45, 0)
}

// TestTrenchByHand adds up the trench under the drive, whose edges are at y = -3
// and y = -14.
func TestTrenchByHand(t *testing.T) {
	s := scheduled(t, demo, "")
	// d1 from (-4, -2) to (-2.2, -4) lies under it for its lower half; d2 and d5
	// whole, 9 ft; d4 whole, 4.4 ft; d3 and d6 from y = -13 to -17 for their
	// first quarter.
	want := math.Hypot(1.8, 2)/2 + 9 + 9 + 4.4 + 2*math.Hypot(0.6, 4)/4
	for _, trench := range s.Trenches {
		if trench.Surface == "home-drive" {
			near(t, "under the drive, ft", trench.LengthM/foot, want, tolFt)
			near(t, "cover, in", *trench.CoverM/foot*12, 8, 1e-6)
			if got := strings.Join(trench.Legs, " "); got != "d1 d2 d3 d4 d5 d6" {
				t.Errorf("legs %s", got)
			}
			return
		}
	}
	t.Error("no trench under the drive")
}

// TestCommissioningSheetAgrees holds that the sheet has each lamp and each common
// once, with the volts and amps of the facts. Ohm's law checks two of them by
// hand: the volts that leg t1 loses, and the amps of a common as the sum of its
// runs.
func TestCommissioningSheetAgrees(t *testing.T) {
	_, doc := checked(t, demo, "")
	s := scheduled(t, demo, "")
	if len(s.Readings) != 32+3 {
		t.Errorf("%d lines, want 32 lamps and 3 commons", len(s.Readings))
	}
	volts, amps := map[string]float64{}, map[string]float64{}
	for _, r := range s.Readings {
		if r.Quantity == "amps" {
			amps[r.At+"/"+string(rune('0'+r.Common))] = *r.Expected
			continue
		}
		volts[r.At] = *r.Expected
	}
	for i := range doc.Fixtures {
		f := &doc.Fixtures[i]
		near(t, f.ID, volts[f.ID], *f.NominalVolts, 0)
	}
	// 18 AWG stranded copper by ASTM B258: 0.127 x 92^((36-18)/39) = 1.0237 mm,
	// 0.8231 mm2; IEC 60028 copper, 17.241 ohm mm2/km at 20 C, and 2 % for
	// stranding: 21.37 ohm/km. Both conductors of t1 are 2 x 23.629 ft; the lugs
	// of h4 add the 2 mohm that the plan states.
	leg := s.Legs[slices.IndexFunc(s.Legs, func(l takeoff.Leg) bool { return l.ID == "t1" })]
	near(t, "drop along t1, V", *leg.DropV, *leg.Amps*(2*23.629*foot*21.37/1000+0.002), 0.005)
	sum := 0.0
	for _, l := range s.Legs {
		if l.From == "T1" && (l.Run == "walk-run" || l.Run == "drive-run" || l.Run == "step-run") {
			sum += *l.Amps
		}
	}
	near(t, "amps of common T1/1", amps["T1/1"], sum, 1e-6)
}
