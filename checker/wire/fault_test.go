package wire

import (
	"errors"
	"fmt"
	"math"
	"testing"
)

// still is a fault setting without tolerances, everything at one temperature.
func still(tempC float64) FaultSetting {
	return FaultSetting{HighFactor: 1, ColdC: tempC, LowFactor: 1, HotC: tempC}
}

// terminalFault is the fault current at the terminals of a single-phase unit.
func terminalFault(t *testing.T, va, volts, percent float64) float64 {
	t.Helper()
	n := Network{
		Source: Source{ID: "T", RatedVA: va, Impedance: ImpedanceOf(percent, 0)},
		Feeds:  []Feed{{ID: "f", Node: "A", Volts: volts}},
	}
	list, err := Faults(n, still(20))
	if err != nil || len(list) != 1 {
		t.Fatal(err, list)
	}
	if list[0].HighestAmps != list[0].LowestAmps {
		t.Errorf("highest %g, lowest %g", list[0].HighestAmps, list[0].LowestAmps)
	}
	return list[0].LowestAmps
}

// Percent impedance at the terminals. Three-phase units are taken per phase:
// a third of the VA at phase-to-neutral volts.
func TestTerminalFaults(t *testing.T) {
	root3 := math.Sqrt(3)
	for _, row := range []struct {
		name, source              string
		va, volts, percent, rated float64
		want, within              float64
	}{
		{"F1", "open textbook on single-phase transformers: 50 kVA, 120 V, 2.75 %", 50e3, 120, 2.75, 416.67, 15151.5, 0.1},
		{"F2", "the same book: 20 kVA 4800/240 V, 96 V on the primary, so 2 %", 20e3, 240, 100 * 96.0 / 4800, 83.33, 4166.7, 0.1},
		{"F4", "arc-flash forum: three-phase 3000 kVA, 480 V, 5.75 %, about 62,760 A printed", 1e6, 480 / root3, 5.75, 3608.4, 62756, 5},
		{"F6 at the terminals", "plan-review handout: three-phase 300 kVA, 208 V, 2 % at 90 %: 46,273 A printed",
			1e5, 208 / root3, 1.8, 832.7, 46264, 10},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Log(row.source)
			near(t, "rated amps", row.va/row.volts, row.rated, 0.05)
			near(t, "fault amps", terminalFault(t, row.va, row.volts, row.percent), row.want, row.within)
		})
	}
	// F3, a page on percentage impedance: 110 V rated, 10 V in the test, 9 %
	// printed, 9.09 % exact: eleven times rated current flows.
	t.Run("F3", func(t *testing.T) {
		near(t, "fault over rated", terminalFault(t, 1100, 110, 100*10.0/110)/10, 11, 1e-9)
	})
}

// The point-to-point form of the impedance method, with scalar impedance: f =
// 2*L*I/(C*n*E), M = 1/(1+f), where C is 1/(ohm per foot). The plan-review
// sheet and handout print rounded answers; recomputed ones stand here.
func TestPointToPointFaults(t *testing.T) {
	t.Run("F5", func(t *testing.T) {
		// 300 kVA, 240 V, 3 % at 90 % (nameplate tolerance). Printed 46,296,
		// then 8,978, 4,024 and 1,530 A. C = 617 is 12 AWG at about 25 C.
		n := Network{
			Source: Source{ID: "T", RatedVA: 300e3, Impedance: ImpedanceOf(2.7, 0)},
			Feeds:  []Feed{{ID: "f", Node: "a", Volts: 240}},
			Legs: []Leg{perFoot("1", "a", "b", 150, 13923), perFoot("2", "b", "c", 40, 2430),
				perFoot("3", "c", "d", 30, 617)},
		}
		checkFaults(t, n, 0.1, []float64{46296.3, 8978.3, 4023.3, 1529.7})
	})
	t.Run("F6", func(t *testing.T) {
		// Three-phase 300 kVA, 208 V, 1.8 %; 20 ft of two 500 kcmil a phase,
		// C = 22,185. Per phase one conductor counts, so half the resistance
		// of a two-wire leg. f 0.174, M 0.852: 39,426 A.
		n := Network{
			Source: Source{ID: "T", RatedVA: 1e5, Impedance: ImpedanceOf(1.8, 0)},
			Feeds:  []Feed{{ID: "f", Node: "a", Volts: 208 / math.Sqrt(3)}},
			Legs:   []Leg{perFoot("1", "a", "b", 20, 2*2*22185)},
		}
		checkFaults(t, n, 30, []float64{46264, 39426})
	})
}

// perFoot is a leg of the given feet of conductor with C feet per ohm.
func perFoot(id, from, to string, feet, c float64) Leg {
	return Leg{ID: id, From: from, To: to, LengthM: feet * metresPerFoot, Conductor: fixed(1000 / c)}
}

func checkFaults(t *testing.T, n Network, within float64, want []float64) {
	t.Helper()
	list, err := Faults(n, still(20))
	if err != nil || len(list) != len(want) {
		t.Fatal(err, list)
	}
	for i, w := range want {
		near(t, "fault at "+list[i].At, list[i].LowestAmps, w, within)
	}
}

// A short at the far end of 100 ft of cable behind a small unit of 4 % (scalar,
// assumed), stranded copper at 75 C: our arithmetic from NEC chapter 9 table 8.
func TestFarEndFaults(t *testing.T) {
	for _, row := range []struct {
		va, volts float64
		amps      map[string]float64
	}{
		{300, 12, map[string]float64{"16 AWG": 11.8, "14 AWG": 18.5, "12 AWG": 28.9, "10 AWG": 44.9}},
		{600, 24, map[string]float64{"16 AWG": 23.2, "14 AWG": 36.0, "12 AWG": 55.3, "10 AWG": 83.8}},
	} {
		near(t, "terminals", terminalFault(t, row.va, row.volts, 4), 625, 1e-9)
		for size, want := range row.amps {
			n := farEnd(t, row.va, row.volts, size, ImpedanceOf(4, 0))
			list, err := Faults(n, still(75))
			if err != nil {
				t.Fatal(err)
			}
			near(t, fmt.Sprintf("%g V, %s", row.volts, size), list[1].LowestAmps/want, 1, table8Within)
		}
	}
}

// farEnd is 100 ft of stranded cable behind a unit.
func farEnd(t testing.TB, va, volts float64, size string, z ImpedanceRange) Network {
	return Network{
		Source: Source{ID: "T", RatedVA: va, Impedance: z},
		Feeds:  []Feed{{ID: "f", Node: "a", Common: "1", Volts: volts}},
		Legs: []Leg{{ID: "w", From: "a", To: "b", LengthM: 100 * metresPerFoot,
			Conductor: conductor(t, size, Stranded), AmpacityAmps: 20, AmpacityBasis: "marked"}},
	}
}

// Resistance and reactance apart, and the bracket: the highest current is at
// high supply with cold cable, the lowest at low supply with hot cable.
func TestFaultBracket(t *testing.T) {
	n := farEnd(t, 300, 12, "12 AWG", ImpedanceOf(4, 1))
	set := FaultSetting{HighFactor: 1.05, ColdC: 0, LowFactor: 0.95, HotC: 75}
	list, err := Faults(n, set)
	if err != nil {
		t.Fatal(err)
	}
	c := n.Legs[0].Conductor
	z := 0.04 * 12 * 12 / 300
	r := z / math.Sqrt2
	cold, hot := 2*30.48*c.OhmPerMetre(0), 2*30.48*c.OhmPerMetre(75)
	near(t, "highest", list[1].HighestAmps, 1.05*12/math.Hypot(r+cold, r), 1e-9)
	near(t, "lowest", list[1].LowestAmps, 0.95*12/(z+hot), 1e-9)
	near(t, "cold ohms", list[1].ColdOhms, cold, 1e-12)
	near(t, "hot ohms", list[1].HotOhms, hot, 1e-12)
}

// A ring halves the way: at the middle of a ring of loop resistance R the
// resistance to the terminals is R/4, and a tree with the two halves in
// parallel gives the same.
func TestFaultInRing(t *testing.T) {
	ring := Network{
		Feeds: []Feed{{ID: "f", Node: "a", Volts: 12}},
		Legs:  []Leg{loopLeg("1", "a", "b", 0.2), loopLeg("2", "b", "c", 0.2), loopLeg("3", "c", "d", 0.2), loopLeg("4", "d", "a", 0.2)},
	}
	list, err := Faults(ring, still(20))
	if err != nil {
		t.Fatal(err)
	}
	for i, ohms := range []float64{0, 0.15, 0.2, 0.15} { // 0.2 parallel to 0.6, 0.4 to 0.4
		near(t, "ohms to "+list[i].At, list[i].HotOhms, ohms, 1e-12)
	}
}

// A regulated supply does not follow the mains and gives no more than its
// limit.
func TestFaultLimited(t *testing.T) {
	n := farEnd(t, 100, 24, "12 AWG", ImpedanceRange{})
	n.Source.Regulated, n.Source.CurrentLimitAmps = true, 5
	list, err := Faults(n, FaultSetting{HighFactor: 1.1, ColdC: 0, LowFactor: 0.9, HotC: 60})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range list {
		if !f.Limited || f.HighestAmps != 5 || f.LowestAmps != 5 {
			t.Errorf("%+v", f)
		}
	}
}

// 300 VA at 12 V, 4 %, 100 ft: a 25 A breaker that trips for sure at 1.35
// times its rating is not tripped behind 14 AWG, whose 15 A the fault exceeds.
func TestProtect(t *testing.T) {
	n := farEnd(t, 300, 12, "14 AWG", ImpedanceOf(4, 0))
	n.Legs[0].AmpacityAmps = 15
	n.Legs = append(n.Legs, Leg{ID: "x", From: "b", To: "c", LengthM: 1, Conductor: conductor(t, "16 AWG", Stranded)})
	devices := []Device{
		{ID: "breaker", Amps: 25, TripMultiple: 1.35, Feeds: []string{"f"}},
		{ID: "small fuse", Amps: 5, TripMultiple: 2, Feeds: []string{"f"}},
		{ID: "primary", Amps: 1.5, TripMultiple: 1, Feeds: []string{"f"}, PrimaryVolts: 120},
		{ID: "nothing", Amps: 5, TripMultiple: 2, Feeds: []string{"no such"}},
	}
	out, err := Protect(n, still(75), devices)
	if err != nil {
		t.Fatal(err)
	}
	b := out[0]
	if b.Clears || b.FarAt != "c" || b.NeededAmps != 33.75 || len(b.Heated) != 1 || b.Heated[0].Leg != "w" {
		t.Errorf("breaker: %+v", b)
	}
	ohms := 0.0192 + 2*30.48*n.Legs[0].Conductor.OhmPerMetre(75) + 2*n.Legs[1].Conductor.OhmPerMetre(75)
	near(t, "far end", b.FarAmps, 12/ohms, 1e-9)
	if b.Smallest.Leg != "x" || b.Weakest.Leg != "w" || b.Weakest.AmpacityAmps != 15 || len(b.Unknown) != 1 || b.Unknown[0] != "x" {
		t.Errorf("behind the breaker: %+v %+v %v", b.Smallest, b.Weakest, b.Unknown)
	}
	if f := out[1]; !f.Clears || len(f.Heated) != 0 {
		t.Errorf("fuse: %+v", f)
	}
	near(t, "primary amps", out[2].FarAmps, b.FarAmps/10, 1e-9)
	if p := out[3]; !p.Clears || p.FarAt != "" || p.Smallest.Leg != "" {
		t.Errorf("nothing behind: %+v", p)
	}
}

// In a ring each leg carries its share: in a ring of four equal legs a fault
// at the first node puts three quarters into the near leg.
func TestProtectRing(t *testing.T) {
	ring := Network{
		Feeds: []Feed{{ID: "f", Node: "a", Volts: 12}},
		Legs:  []Leg{loopLeg("1", "a", "b", 0.2), loopLeg("2", "b", "c", 0.2), loopLeg("3", "c", "d", 0.2), loopLeg("4", "d", "a", 0.2)},
	}
	for i := range ring.Legs {
		ring.Legs[i].AmpacityAmps = 50
	}
	out, err := Protect(ring, still(20), []Device{{ID: "d", Amps: 100, TripMultiple: 1, Feeds: []string{"f"}}})
	if err != nil {
		t.Fatal(err)
	}
	// 12 V over 0.15 ohm = 80 A at b, of which 60 A in leg 1; 60 A at c, 30 A
	// each way; 80 A at d.
	h := out[0].Heated
	if len(h) != 2 || h[0].Leg != "1" || h[0].At != "b" || h[1].Leg != "4" || h[1].At != "d" {
		t.Fatalf("%+v", h)
	}
	near(t, "leg 1", h[0].Amps, 60, 1e-9)
	near(t, "leg 4", h[1].Amps, 60, 1e-9)
}

func TestFaultErrors(t *testing.T) {
	n := farEnd(t, 300, 12, "12 AWG", ImpedanceOf(4, 1))
	if _, err := Faults(n, FaultSetting{HighFactor: math.NaN()}); !errors.Is(err, ErrInput) {
		t.Error(err)
	}
	if _, err := Protect(n, still(20), []Device{{ID: "d", Amps: math.NaN()}}); !errors.Is(err, ErrInput) {
		t.Error(err)
	}
	bad := n
	bad.Feeds = append([]Feed{{ID: "f", Node: "z", Volts: 1}}, n.Feeds...)
	if _, err := Faults(bad, still(20)); !errors.Is(err, ErrInput) {
		t.Error(err)
	}
	if _, err := Protect(bad, still(20), nil); !errors.Is(err, ErrInput) {
		t.Error(err)
	}
}

// Stated regulation against the definition: a unit that gives 12 V at rated
// load and 12.6 V without has 5 %; at half load it gives 12.3 V.
func TestImpedanceFromRegulation(t *testing.T) {
	for _, basis := range []TapBasis{AtRatedLoad, AtNoLoad} {
		volts := 12.0
		if basis == AtNoLoad {
			volts = 12.6
		}
		n := Network{
			Source: Source{ID: "T", RatedVA: 120, Impedance: ImpedanceFromRegulation(5, 1, basis), TapsAt: basis},
			Feeds:  []Feed{{ID: "f", Node: "a", Volts: volts}},
			Loads:  []Load{ampLoad("l", "a", 10)},
		}
		// Rated amps are VA over the stated volts.
		n.Loads[0].Amps = 120 / volts
		a, err := Solve(n, nominal)
		if err != nil {
			t.Fatal(err)
		}
		near(t, string(basis)+" full load", a.Feeds[0].Volts, 12, 1e-9)
		n.Loads[0].Amps /= 2
		a, _ = Solve(n, nominal)
		near(t, string(basis)+" half load", a.Feeds[0].Volts, 12.3, 1e-9)
	}
	both := ImpedanceFromBoth(5, 3, AtRatedLoad)
	near(t, "X from both", both.Low.X, 0.04, 1e-12) // 3, 4, 5
	if got := ImpedanceFromBoth(2, 3, AtRatedLoad); got.Low.X != 0 || got.Low.R != 0.03 {
		t.Errorf("inconsistent statement: %+v", got)
	}
	wide := ImpedanceBetween(3, 6, 1)
	near(t, "low end", math.Hypot(wide.Low.R, wide.Low.X), 0.03, 1e-12)
	near(t, "high end", wide.High.R, 0.06, 1e-12)
}
