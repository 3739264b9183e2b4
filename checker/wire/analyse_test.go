package wire

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// warmWithin is the tolerance between warm and cold starts, in volts.
const warmWithin = 1e-9

// voltsBySolving solves every corner of the setting afresh, from a cold start:
// the volts of every lamp that is on, by corner.
func voltsBySolving(t *testing.T, n Network, set Setting) map[string]map[string]float64 {
	t.Helper()
	c, err := Compile(n)
	if err != nil {
		t.Fatal(err)
	}
	corners := set.corners(c)
	if set.LampsOut {
		for _, l := range n.Loads {
			out := corners[2]
			out.Name += ", " + l.ID + " out"
			out.Out = []string{l.ID}
			corners = append(corners, out)
		}
	}
	volts := map[string]map[string]float64{}
	for _, corner := range corners {
		a, err := Solve(n, corner)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range a.Lamps {
			if volts[l.ID] == nil {
				volts[l.ID] = map[string]float64{}
			}
			if l.On {
				volts[l.ID][corner.Name] = l.Volts
			}
		}
	}
	return volts
}

func TestAnalyseAgainstSolvingEachCorner(t *testing.T) {
	set := everyCorner
	set.Scenes = []Scene{{Name: "late"}}
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 19))
		n, _ := solvable(r, shapes[seed%5], Corner{Name: "low", SupplyFactor: 0.93, GroundC: 60})
		set.Scenes[0].Levels = map[string]float64{n.Loads[0].ID: 0.5, n.Loads[len(n.Loads)-1].ID: 0}
		set.Zones = make([]Zone, 3)
		for i := range n.Loads {
			zone := &set.Zones[i%3]
			zone.Name, zone.Loads = fmt.Sprintf("zone %d", i%3), append(zone.Loads, n.Loads[i].ID)
		}
		a, err := Analyse(n, set)
		if err != nil {
			t.Fatal(err)
		}
		volts := voltsBySolving(t, n, set)
		for _, l := range a.Lamps {
			low, high := math.Inf(1), math.Inf(-1)
			for _, v := range volts[l.ID] {
				low, high = min(low, v), max(high, v)
			}
			near(t, l.ID+" min", l.MinVolts, low, warmWithin)
			near(t, l.ID+" max", l.MaxVolts, high, warmWithin)
			near(t, l.ID+" in "+l.MinCorner, volts[l.ID][l.MinCorner], low, warmWithin)
			near(t, l.ID+" in "+l.MaxCorner, volts[l.ID][l.MaxCorner], high, warmWithin)
		}
		if a.WorstResidualAmps > 1e-8 {
			t.Errorf("residual %g A", a.WorstResidualAmps)
		}
		if len(a.Failed) > 0 || a.Low.Status != Solved {
			t.Errorf("failed: %+v", a.Failed)
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

// threeLamps is a run of three filaments with figures small enough to check by
// hand: 12 V, no source impedance, 0.1 ohm a leg.
func threeLamps() Network {
	n := Network{
		Source: Source{ID: "T", RatedVA: 300},
		Feeds:  []Feed{{ID: "run", Node: "T", Common: "1", Tap: "12", Volts: 12}},
	}
	for i, from := range []string{"T", "n1", "n2"} {
		id := fmt.Sprint(i + 1)
		l := loopLeg("w"+id, from, "n"+id, 0.1)
		l.AmpacityAmps = 10
		n.Legs = append(n.Legs, l)
		n.Loads = append(n.Loads, Load{ID: "L" + id, Node: "n" + id, Kind: ConstantCurrent, Amps: 2})
	}
	return n
}

// Three lamps of 2 A on legs of 0.1 ohm: 12 - 0.6, - 0.4, - 0.2 V.
func TestAnalyseByHand(t *testing.T) {
	n := threeLamps()
	a, err := Analyse(n, Setting{LowFactor: 0.9, HighFactor: 1.1, NominalC: 20, HotGroundC: 20, ColdGroundC: 20, LampsOut: true})
	if err != nil {
		t.Fatal(err)
	}
	l := a.Lamps[2]
	near(t, "nominal", l.NominalVolts, 10.8, 1e-12)
	near(t, "drop", l.DropVolts, 1.2, 1e-12)
	near(t, "drop fraction", l.DropFraction, 0.1, 1e-12)
	near(t, "low", l.MinVolts, 10.8-1.2, 1e-12)
	// With L2 out: 13.2 - 0.4 - 0.2 - 0.2 V.
	near(t, "high", l.MaxVolts, 12.4, 1e-12)
	if l.MinCorner != CornerLow || l.MaxCorner != CornerHigh+", L2 out" || l.Feed != "run" {
		t.Errorf("%+v", l)
	}
	near(t, "amps", a.Legs[0].MaxAmps, 6, 1e-12)
	near(t, "leg loss", a.Legs[0].LossWatts, 3.6, 1e-9)
	f := a.Feeds[0]
	near(t, "spread", f.Spread.Volts, 0.6, 1e-12)
	if f.Spread.Highest != "L1" || f.Spread.Lowest != "L3" || f.Filaments != (Spread{}) {
		t.Errorf("%+v", f)
	}
	near(t, "common", a.Commons[0].MaxAmps, 6, 1e-12)
	near(t, "largest VA", a.Source.MaxVA, 13.2*6, 1e-9)
	near(t, "spare VA", a.Source.SpareVA, 300-13.2*6, 1e-9)
	near(t, "loading", a.Source.Loading, 13.2*6/300, 1e-9)
	if a.Source.Corner != CornerHigh || a.Corners != 6 {
		t.Errorf("%+v, %d corners", a.Source, a.Corners)
	}
	// Constant current: the last lamp reaches zero at 0.9*12/1.2 times.
	carry, err := LargestMultiple(n, Corner{Name: CornerLow, SupplyFactor: 0.9, End: LowestVolts, GroundC: 20}, nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "room", carry.Multiple, 9, 0.01)
}

// Zones alone and scenes: the corner is named, and the lamp alone has the
// highest volts.
func TestAnalyseScenesAndZones(t *testing.T) {
	n := threeLamps()
	set := Setting{LowFactor: 1, HighFactor: 1, NominalC: 20, HotGroundC: 20, ColdGroundC: 20, Zones: []Zone{{"zone far", []string{"L3"}}, {"zone near", []string{"L1", "L2"}}},
		Scenes: []Scene{{Name: "late", Levels: map[string]float64{"L1": 0, "L2": 0.5}}}}
	a, err := Analyse(n, set)
	if err != nil {
		t.Fatal(err)
	}
	if got := a.Lamps[2].MaxCorner; got != CornerHigh+", zone far alone" {
		t.Errorf("last lamp highest in %q", got)
	}
	near(t, "alone", a.Lamps[2].MaxVolts, 12-0.6, 1e-12)
	late := a.Scenes[0]
	if late.Lamps[0].On || !late.Lamps[1].On {
		t.Errorf("%+v", late.Lamps)
	}
	near(t, "scene", late.Lamps[2].Volts, 12-0.3-0.3-0.2, 1e-12)
	near(t, "dimmed amps", late.Lamps[1].Amps, 1, 1e-12)
	if len(a.Scenes) != 1 || !strings.HasSuffix(late.Corner, "scene late") {
		t.Errorf("%q", late.Corner)
	}
}

// A regulated supply does not follow the mains.
func TestRegulatedIgnoresMains(t *testing.T) {
	n := threeLamps()
	n.Source.Regulated = true
	n.Source.Impedance = ImpedanceOf(5, 0)
	a, err := Analyse(n, Setting{LowFactor: 0.9, HighFactor: 1.1, NominalC: 20, HotGroundC: 20, ColdGroundC: 20})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "low", a.Lamps[2].MinVolts, 10.8, 1e-12)
	near(t, "high", a.Lamps[2].MaxVolts, 10.8, 1e-12)
	near(t, "loss inside", a.Nominal.Source.LossWatts, 0, 0)
}

// Several outputs behind one impedance: every ampere on one common lowers the
// other by the same share of its volts.
func TestSharedImpedance(t *testing.T) {
	n := Network{
		Source: Source{ID: "T", RatedVA: 300, Impedance: ImpedanceOf(4, 0)},
		Feeds: []Feed{{ID: "a", Node: "a", Common: "1", Tap: "12", Volts: 12},
			{ID: "b", Node: "b", Common: "2", Tap: "15", Volts: 15}},
		Loads: []Load{ampLoad("l", "a", 10)},
	}
	s, err := Solve(n, nominal)
	if err != nil {
		t.Fatal(err)
	}
	// 120 VA of 300: 1.6 % everywhere.
	near(t, "loaded feed", s.Feeds[0].Volts, 12*(1-0.016), 1e-12)
	near(t, "idle feed", s.Feeds[1].Volts, 15*(1-0.016), 1e-12)
	near(t, "loss inside", s.Source.LossWatts, 120*0.016, 1e-9)
	near(t, "common", s.Commons[0].Amps, 10, 1e-12)
}

// The bracket of an unknown impedance is taken at its worse end: for taps
// stated without load a high impedance is low volts, for taps stated at rated
// load and part load it is high volts.
func TestImpedanceEnds(t *testing.T) {
	n := threeLamps()
	n.Source.Impedance = ImpedanceBetween(3, 6, 0)
	for _, basis := range []TapBasis{AtNoLoad, AtRatedLoad} {
		n.Source.TapsAt = basis
		var volts [3]float64
		for i, end := range []End{LowestVolts, Middle, HighestVolts} {
			a, err := Solve(n, Corner{Name: "x", End: end, GroundC: 20})
			if err != nil {
				t.Fatal(err)
			}
			volts[i] = a.Feeds[0].Volts
		}
		if !slices.IsSorted(volts[:]) || volts[0] == volts[2] {
			t.Errorf("%s: %v", basis, volts)
		}
	}
}

// A cable that carries its ampacity is RiseK above the ground, and one that
// carries half of it a quarter of that.
func TestSelfHeating(t *testing.T) {
	c := conductor(t, "12 AWG", Stranded)
	n := Network{
		Feeds: []Feed{{ID: "s", Node: "a", Volts: 12}},
		Legs: []Leg{{ID: "1", From: "a", To: "b", LengthM: 5, Conductor: c, AmpacityAmps: 20},
			{ID: "2", From: "a", To: "c", LengthM: 5, Conductor: c, AmpacityAmps: 20},
			{ID: "3", From: "a", To: "d", LengthM: 5, Conductor: c},
			{ID: "4", From: "a", To: "e", LengthM: 1, Conductor: c, AmpacityAmps: 1}},
		Loads: []Load{ampLoad("1", "b", 20), ampLoad("2", "c", 10), ampLoad("3", "d", 20), ampLoad("4", "e", 9)},
	}
	a, err := Solve(n, Corner{Name: "hot", GroundC: 25, RiseK: 30})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{55, 32.5, 25, 25 + 30*mostRise} {
		near(t, "conductor "+a.Legs[i].ID, a.Legs[i].ConductorC, want, 1e-6)
	}
	near(t, "drop", a.Lamps[0].DropVolts, 20*10*c.OhmPerMetre(55), 1e-9)
}

// A network without a solution says in which corner, how much it could carry
// and where it is weakest; with lamps out it may have one.
func TestAnalyseFailure(t *testing.T) {
	n := threeLamps()
	for i := range n.Loads {
		n.Loads[i].Kind, n.Loads[i].Watts = ConstantPower, 90
	}
	a, err := Analyse(n, everyCorner)
	if err != nil {
		t.Fatal(err)
	}
	if a.Nominal.Status != NoSolution || len(a.Failed) < 3 || a.Failed[0].Corner != CornerNominal {
		t.Fatalf("%s %+v", a.Nominal.Status, a.Failed)
	}
	carry := a.Failed[0].Carry
	if carry.Feed != "run" || carry.Lamp != "L3" || carry.Multiple >= 1 || carry.FeedMultiple != carry.Multiple {
		t.Errorf("%+v", carry)
	}
	for _, l := range a.Lamps {
		if math.IsNaN(l.MinVolts) || math.IsInf(l.MinVolts, 0) || math.IsInf(l.MaxVolts, 0) {
			t.Errorf("%+v", l)
		}
	}
}

// Only the feed that is too weak is blamed; alone it could carry more than
// together with its neighbour.
func TestWeakestFeed(t *testing.T) {
	n := Network{
		Source: Source{ID: "T", RatedVA: 300, Impedance: ImpedanceOf(4, 0)},
		Feeds:  []Feed{{ID: "good", Node: "a", Common: "1", Volts: 12}, {ID: "weak", Node: "b", Common: "2", Volts: 12}},
		Legs:   []Leg{loopLeg("1", "a", "c", 0.05), loopLeg("2", "b", "d", 0.5)},
		Loads: []Load{{ID: "p", Node: "c", Kind: ConstantPower, Watts: 100},
			{ID: "q", Node: "d", Kind: ConstantPower, Watts: 80}},
	}
	a, err := Solve(n, nominal)
	if err != nil || a.Status != NoSolution {
		t.Fatal(err, a.Status)
	}
	if a.Carry.Feed != "weak" || a.Carry.Lamp != "q" || !(a.Carry.FeedMultiple > 0.7 && a.Carry.FeedMultiple < 0.9) {
		t.Errorf("%+v", a.Carry)
	}
}

func TestAnalyseErrors(t *testing.T) {
	n := threeLamps()
	if _, err := Analyse(n, Setting{LowFactor: math.NaN()}); !errors.Is(err, ErrInput) {
		t.Error(err)
	}
	n.Loads[0].Watts = math.Inf(1)
	if _, err := Analyse(n, everyCorner); !errors.Is(err, ErrInput) {
		t.Error(err)
	}
}
