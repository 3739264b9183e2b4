package takeoff_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/takeoff"
)

// issued is the demo as it is bought and built by. Its counts below were made by
// hand from the plan's coordinates, in feet.
const issued = "tern-cottage/issued.lighting.json"

// TestIssuedCableByHand adds up the cable and the sleeve that the issued demo
// buys. Places that the plan gives along a path or a stair are worked out as in
// [TestCableByHand]; P3 stands at (-4.8, 17), S5 at (4.0833, 42.5).
func TestIssuedCableByHand(t *testing.T) {
	s := scheduled(t, issued, "")
	twelve := []float64{
		math.Hypot(2.4, 2), math.Hypot(0.7667, 4.5), math.Hypot(6.4333, 3), math.Hypot(1.2, 13), math.Hypot(6.8801, 9.2281), math.Hypot(6.7532, 1.4552), // w1 to w6
		math.Hypot(2, 4), math.Hypot(1.8, 2), 9, math.Hypot(0.6, 4), 4.4, 9, math.Hypot(0.6, 4), // d1 to d6
		math.Hypot(2.8, 2), 25, math.Hypot(8.8, 2), 2.4, math.Hypot(1.6833, 1.5), math.Hypot(5.5167, 0.5), 4, 9, // s1 to s5
		math.Hypot(1.6833, 1.5), math.Hypot(5.5167, 0.5), math.Hypot(1.6833, 2.5), 5, // s6 to s9
		math.Hypot(0.2, 3.6), 5.4, math.Hypot(3.8, 0.1), 5.5, 5.5, 5.5, 5.5, // r1 to r5
		math.Hypot(0.2703, 1.6492), math.Hypot(7.4964, 1.8492), math.Hypot(6.8499, 4.6032), // a2 to a4
		math.Hypot(3.5, 0.1), 11.9, 6.8, 4.8, // c1 to c4
		// Slack: 2 ft at each end of a leg at a lamp. Lamps are at one end of w2
		// to w4, d1, s2 to s4, s6 to s9, r1, a2 and c1, 14 ends; at both of w5,
		// w6, d2 to d6, r2 to r5, a3, a4 and c2 to c4, 32 ends.
		14 * 2, 32 * 2,
	}
	ten := []float64{
		math.Hypot(14.8, 9.2), math.Hypot(2.2, 5.8), math.Hypot(4, 1.4), math.Hypot(7, 0.4), math.Hypot(2, 5), // t1 to t3
		math.Hypot(2.2, 1.5), 10, math.Hypot(2.6, 2.1), // t4
		math.Hypot(0.2, 3.6), 6.8, 30.6, // a1
		4 * 2, // at one end of t2 and t4, at both of t3
	}
	// Whole legs in sleeve: d1 to d6, s2, s3, s6, s7, s8. Crossings: the walk and
	// the top walk are 4 ft wide; w3 and t1 cross the walk from x = -2 to x = 2,
	// a4 goes 5.6667 ft across the line of the top walk, and r1 comes 3 ft onto
	// the terrace, from x = 46 to x = 43. w6 lies beside the walk with its first
	// 0.8333 ft across, of 0.6966 of its way, and beyond x = 8 with its last.
	sleeve := []float64{
		math.Hypot(2, 4), math.Hypot(1.8, 2), 9, math.Hypot(0.6, 4), 4.4, 9, math.Hypot(0.6, 4),
		math.Hypot(1.6833, 1.5), math.Hypot(5.5167, 0.5), math.Hypot(1.6833, 1.5), math.Hypot(5.5167, 0.5), math.Hypot(1.6833, 2.5),
		math.Hypot(6.4333, 3) * 4 / 6.4333, math.Hypot(14.8, 9.2) * 4 / 14.8, math.Hypot(6.8499, 4.6032) * 4 / 5.6667, math.Hypot(3.8, 0.1) * 3 / 3.8,
		6.9082 - 0.8333/0.6966 - 0.8333*6.9082/6.7532,
	}
	for _, want := range []struct {
		what, name string
		list       []float64
		allowance  float64
		buyFt      float64
	}{
		{"cable", "12/2", twelve, 1.10, 375}, // 331.8 ft and 10 % are 365.0 ft
		{"cable", "10/2", ten, 1.10, 125},    // 105.3 ft and 10 % are 115.8 ft
		{"sleeve", "1 in", sleeve, 1, 80},    // 79.1 ft, in lengths of 10 ft
	} {
		sum := 0.0
		for _, v := range want.list {
			sum += v
		}
		have := purchase(t, s, want.what, want.name)
		near(t, want.name+" needed, ft", have.Needed/foot, sum, tolFt)
		near(t, want.name+" with allowance, ft", have.Allowed/foot, want.allowance*sum, 2*tolFt)
		near(t, want.name+" to buy, ft", have.Buy/foot, want.buyFt, 1e-6)
	}
}

// TestIssuedCountsByHand counts the pieces of the issued demo.
func TestIssuedCountsByHand(t *testing.T) {
	s := scheduled(t, issued, "")
	for _, want := range []struct {
		what, name string
		pieces     float64
	}{
		{"fixture", "ring-path", 12},   // K1 K2, P1 to P8, L1 L2
		{"fixture", "cheek-light", 5},  // S1 to S5
		{"fixture", "coping-light", 5}, // B1 to B5
		{"fixture", "eaves-down", 4},   // D1 to D4
		{"fixture", "stone-spot", 3},   // H1 to H3
		{"fixture", "drive-marker", 4}, // M1 to M4
		{"transformer", "T300", 1},
		{"transformer", "T150", 1},
		// 33 fixtures, one crimp on each pole: the most that meet in one are
		// three cables and a lead, at M1 and at P8.
		{"connector", "gel-crimp", 66},
		// h1 to h4 and h6, one lug on each pole: the most that meet in one are
		// five cables, at h2 and at h3.
		{"connector", "gel-lug", 10},
	} {
		near(t, want.name, purchase(t, s, want.what, want.name).Buy, want.pieces, 0)
	}
	if len(s.Purchases) != 2+10+1+1 {
		t.Errorf("%d lines to buy, want two cables, ten pieces, a sleeve and gravel", len(s.Purchases))
	}
}

// TestIssuedSheetByHand works out what the meter should show along the run on
// the cottage wall, from the volts at D1: a lamp of 6.4 VA draws 6.4 VA over its
// volts, and 12 AWG stranded copper has 5.211 ohm/km when solid (ASTM B258, IEC
// 60028) and 2 % more when stranded. Each joint of 3 mohm is met half at each
// end of a leg, in both conductors.
func TestIssuedSheetByHand(t *testing.T) {
	s := scheduled(t, issued, "")
	expected := func(at string, common int) float64 {
		i := slices.IndexFunc(s.Readings, func(r takeoff.Expected) bool { return r.At == at && r.Common == common })
		if i < 0 || s.Readings[i].Expected == nil {
			t.Fatalf("nothing is expected at %s/%d", at, common)
		}
		return *s.Readings[i].Expected
	}
	const ohmPerM, jointOhm, slackFt = 5.211e-3 * 1.02, 3e-3, 4
	v := map[string]float64{}
	for _, id := range []string{"D1", "D2", "D3", "D4"} {
		v[id] = expected(id, 0)
	}
	behind := 6.4/v["D2"] + 6.4/v["D3"] + 6.4/v["D4"]
	volts := v["D1"]
	for _, leg := range []struct {
		to string
		ft float64
	}{{"D2", 11.9}, {"D3", 6.8}, {"D4", 4.8}} {
		volts -= behind * 2 * ((leg.ft+slackFt)*foot*ohmPerM + jointOhm)
		near(t, "volts at "+leg.to, v[leg.to], volts, 0.002)
		behind -= 6.4 / v[leg.to]
	}
	// Common 1 of T2 carries the sum of all lamps of its three runs.
	amps := 0.0
	for _, lamp := range s.Lamps {
		if lamp.Run == "terrace-run" || lamp.Run == "top-run" || lamp.Run == "house-run" {
			amps += lamp.VA / expected(lamp.ID, 0)
		}
	}
	near(t, "amps of T2/1", expected("T2", 1), amps, 0.001)
	if len(s.Readings) != 33+3 {
		t.Errorf("%d lines, want 33 lamps and 3 commons", len(s.Readings))
	}
}

// TestWithoutAnswer holds that a run whose load has no answer says so, and gives
// no volts and amps.
func TestWithoutAnswer(t *testing.T) {
	s := scheduled(t, "too-far.lighting.json", "")
	if u := s.Transformers[0]; u.Solved || u.VA != nil || u.Loading != nil || u.SpareVA != nil {
		t.Errorf("%+v", u)
	}
	if r := s.Runs[0]; r.Solved || r.FailsAt == "" || r.CouldCarryVA == nil || r.SpareVA != nil || r.Amps != nil {
		t.Errorf("%+v", r)
	}
	for _, l := range s.Lamps {
		if l.Volts != nil {
			t.Errorf("%s has %v", l.ID, *l.Volts)
		}
	}
	for _, r := range s.Readings {
		if r.Expected != nil || r.High != nil {
			t.Errorf("%s has an expected value", r.At)
		}
	}
}

// TestLoopIsDrawnOnce holds that each leg of a loop is in the diagram, the one
// that closes it at both of its ends.
func TestLoopIsDrawnOnce(t *testing.T) {
	s := scheduled(t, "good/looped.lighting.json", "")
	text := strings.Join(s.OneLines[0].Lines, "\n") + "\n"
	for _, l := range s.Legs {
		if n := strings.Count(text, l.ID+", 12 AWG"); n != 1 {
			t.Errorf("leg %s is drawn %d times:\n%s", l.ID, n, text)
		}
	}
	if !strings.Contains(text, "l13, 12 AWG, back to T1\n") || !strings.HasSuffix(text, "└─ l13 comes back here\n") {
		t.Errorf("the loop does not close:\n%s", text)
	}
}

// TestSpareIsNoughtOnlyForWant holds that a lamp above its window takes no room
// from a run, since more load lowers its volts.
func TestSpareIsNoughtOnlyForWant(t *testing.T) {
	for _, r := range scheduled(t, "good/halogen-multi-tap.lighting.json", "").Runs {
		if r.SpareVA == nil || *r.SpareVA <= 0 || r.SpareUntil == "" {
			t.Errorf("run %s: %v until %q", r.ID, r.SpareVA, r.SpareUntil)
		}
	}
}
