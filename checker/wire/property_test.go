package wire

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// balanceWithin is the relative tolerance of Kirchhoff's laws and of energy.
const balanceWithin = 1e-9

// eachRandom runs a check on many solvable random networks.
func eachRandom(t *testing.T, count int, corner Corner, check func(t *testing.T, r *rand.Rand, n Network, a Solution)) {
	t.Helper()
	for _, shape := range shapes {
		t.Run(shape, func(t *testing.T) {
			for seed := range uint64(count) {
				r := rand.New(rand.NewPCG(seed, 7))
				n, a := solvable(r, shape, corner)
				check(t, r, n, a)
				if t.Failed() {
					t.Fatalf("seed %d", seed)
				}
			}
		})
	}
}

// warm is a corner with self-heating cables.
var warm = Corner{Name: "warm", SupplyFactor: 0.97, End: LowestVolts, GroundC: 30, RiseK: 30}

// VA out of the terminals is VA at the lamps and what the cables lose; open
// volts times amps is that and the loss inside.
func TestEnergyBalance(t *testing.T) {
	eachRandom(t, 60, warm, func(t *testing.T, r *rand.Rand, n Network, a Solution) {
		s := a.Source
		near(t, "terminals", (s.LampVA+s.CableWatts)/s.OutputVA, 1, balanceWithin)
		empty := n
		empty.Loads = nil
		open, err := Solve(empty, warm)
		if err != nil {
			t.Fatal(err)
		}
		inside := 0.0
		for i := range a.Feeds {
			inside += open.Feeds[i].Volts * a.Feeds[i].Amps
		}
		if n.Source.TapsAt != AtRatedLoad { // there the end of the bracket follows the load
			near(t, "inside", s.InternalVA/inside, 1, balanceWithin)
		}
		perFeed := 0.0
		for _, f := range a.Feeds {
			perFeed += f.CableWatts
		}
		near(t, "cable loss by feed", perFeed/s.CableWatts, 1, balanceWithin)
	})
}

// Kirchhoff's laws at every node and along every leg, from the answer alone.
func TestKirchhoff(t *testing.T) {
	eachRandom(t, 60, warm, func(t *testing.T, r *rand.Rand, n Network, a Solution) {
		volts, sum := map[string]float64{}, map[string]float64{}
		for _, node := range a.Nodes {
			volts[node.ID] = node.Volts
		}
		legs := slices.Clone(n.Legs)
		slices.SortFunc(legs, func(x, y Leg) int { return compareID(x.ID, y.ID) })
		for i, l := range legs {
			r := a.Legs[i]
			near(t, "drop of "+l.ID, volts[l.From]-volts[l.To], r.Amps*r.Ohms, balanceWithin*12)
			sum[l.From] -= r.Amps
			sum[l.To] += r.Amps
			ratio := min(r.Amps*r.Amps/(l.AmpacityAmps*l.AmpacityAmps), mostRise)
			near(t, "temperature of "+l.ID, r.ConductorC, 30+30*ratio, 1e-6)
			near(t, "resistance of "+l.ID, r.Ohms, 2*(l.LengthM+l.SlackM)*l.Conductor.OhmPerMetre(r.ConductorC)+
				2*(l.FromJointOhms+l.ToJointOhms), 1e-9)
		}
		for i, f := range a.Feeds {
			sum[n.Feeds[i].Node] += f.Amps
		}
		for i, l := range loadsByID(n) {
			sum[l.Node] -= a.Lamps[i].Amps
			level := l.Level
			if level == 0 {
				level = 1
			}
			near(t, "law of "+l.ID, a.Lamps[i].Amps, level*l.AmpsAt(a.Lamps[i].Volts), 1e-9)
		}
		for node, amps := range sum {
			near(t, "sum of amps at "+node, amps, 0, 1e-9)
		}
		if a.ResidualAmps > 1e-9 {
			t.Errorf("residual %g A", a.ResidualAmps)
		}
	})
}

func compareID(a, b string) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// loadsByID returns the loads as results list them.
func loadsByID(n Network) []Load {
	loads := slices.Clone(n.Loads)
	slices.SortFunc(loads, func(a, b Load) int { return compareID(a.ID, b.ID) })
	return loads
}

// The answer is the same to the last bit in whatever order the parts come.
func TestOrderIndependence(t *testing.T) {
	eachRandom(t, 40, warm, func(t *testing.T, r *rand.Rand, n Network, a Solution) {
		for range 3 {
			r.Shuffle(len(n.Legs), func(i, j int) { n.Legs[i], n.Legs[j] = n.Legs[j], n.Legs[i] })
			r.Shuffle(len(n.Loads), func(i, j int) { n.Loads[i], n.Loads[j] = n.Loads[j], n.Loads[i] })
			r.Shuffle(len(n.Feeds), func(i, j int) { n.Feeds[i], n.Feeds[j] = n.Feeds[j], n.Feeds[i] })
			b, err := Solve(n, warm)
			if err != nil || !reflect.DeepEqual(a, b) {
				t.Fatalf("another order, another answer: %v", err)
			}
		}
	})
}

// Turning every leg round changes the sign of its amps and nothing else.
func TestReversal(t *testing.T) {
	eachRandom(t, 40, warm, func(t *testing.T, r *rand.Rand, n Network, a Solution) {
		turned := n
		turned.Legs = slices.Clone(n.Legs)
		for i := range turned.Legs {
			l := &turned.Legs[i]
			l.From, l.To = l.To, l.From
			l.FromJointOhms, l.ToJointOhms = l.ToJointOhms, l.FromJointOhms
		}
		b, err := Solve(turned, warm)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Legs {
			near(t, "amps of "+a.Legs[i].ID, b.Legs[i].Amps, -a.Legs[i].Amps, 1e-9)
		}
		for i := range a.Nodes {
			near(t, "volts of "+a.Nodes[i].ID, b.Nodes[i].Volts, a.Nodes[i].Volts, 1e-10)
		}
	})
}

// Known scaling: k times the length and joints with 1/k of the load gives the
// same volts; k times the volts with k^2 times the power gives k times the
// volts everywhere.
func TestScaling(t *testing.T) {
	const k = 3.7
	eachRandom(t, 40, nominal, func(t *testing.T, r *rand.Rand, n Network, a Solution) {
		long := n
		long.Legs, long.Loads = slices.Clone(n.Legs), slices.Clone(n.Loads)
		long.Source.RatedVA /= k
		for i := range long.Legs {
			l := &long.Legs[i]
			l.LengthM, l.SlackM, l.FromJointOhms, l.ToJointOhms = k*l.LengthM, k*l.SlackM, k*l.FromJointOhms, k*l.ToJointOhms
		}
		for i := range long.Loads {
			l := &long.Loads[i]
			l.Watts, l.Amps, l.JointOhms = l.Watts/k, l.Amps/k, k*l.JointOhms
			if l.Lead != nil {
				l.Lead = &Lead{LengthM: k * l.Lead.LengthM, Conductor: l.Lead.Conductor}
			}
		}
		high := n
		high.Feeds, high.Loads = slices.Clone(n.Feeds), slices.Clone(n.Loads)
		high.Source.RatedVA *= k * k
		for i := range high.Feeds {
			high.Feeds[i].Volts *= k
		}
		for i := range high.Loads {
			l := &high.Loads[i]
			l.Watts, l.Amps, l.RatedVolts = k*k*l.Watts, k*l.Amps, k*l.RatedVolts
		}
		b, err1 := Solve(long, nominal)
		c, err2 := Solve(high, nominal)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for i := range a.Lamps {
			near(t, "longer, lighter", b.Lamps[i].Volts, a.Lamps[i].Volts, 1e-9)
			near(t, "higher volts", c.Lamps[i].Volts, k*a.Lamps[i].Volts, 1e-9)
		}
	})
}

// A second cable beside a leg never lowers the volts at any lamp of a tree of
// drivers. (Not so with filaments and resistors: the lamp behind the better
// cable draws more and pulls down those before it. There the far end of the
// doubled leg still never falls.)
func TestParallelConductor(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 11))
		n := randomNetwork(r, []string{"chain", "tree"}[seed%2])
		mixed := seed%3 == 0
		for i := range n.Loads {
			if k := n.Loads[i].Kind; !mixed && (k == Filament || k == Resistive) {
				n.Loads[i].Kind = ConstantPower
			}
		}
		for {
			if a, _ := Solve(n, nominal); a.Status == Solved {
				break
			}
			scaleLoads(&n, 0.7)
		}
		a, _ := Solve(n, nominal)
		doubled := n
		second := n.Legs[r.IntN(len(n.Legs))]
		far := farNode(a, second)
		second.ID += " second"
		doubled.Legs = append(slices.Clone(n.Legs), second)
		b, err := Solve(doubled, nominal)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Nodes {
			if (!mixed || a.Nodes[i].ID == far) && b.Nodes[i].Volts < a.Nodes[i].Volts-1e-9 {
				t.Errorf("seed %d: node %s fell from %g to %g", seed, a.Nodes[i].ID, a.Nodes[i].Volts, b.Nodes[i].Volts)
			}
		}
	}
}

// farNode is the end of a leg with the lower volts.
func farNode(a Solution, l Leg) string {
	volts := map[string]float64{}
	for _, n := range a.Nodes {
		volts[n.ID] = n.Volts
	}
	if volts[l.From] < volts[l.To] {
		return l.From
	}
	return l.To
}

// More of any load never raises the volts anywhere on a tree of drivers, and
// the largest multiple lies just between a solution and none.
func TestLargestMultipleIsTheEdge(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 13))
		n, _ := solvable(r, shapes[seed%5], nominal)
		carry, err := LargestMultiple(n, nominal, nil)
		if err != nil {
			t.Fatal(err)
		}
		if !carry.Bounded {
			continue
		}
		if carry.Lamp == "" || carry.Feed == "" {
			t.Errorf("seed %d: weakest lamp not named: %+v", seed, carry)
		}
		below, above := n, n
		below.Loads, above.Loads = slices.Clone(n.Loads), slices.Clone(n.Loads)
		scaleLoads(&below, carry.Multiple*0.9999)
		scaleLoads(&above, carry.Multiple*1.001)
		a, _ := Solve(below, nominal)
		b, _ := Solve(above, nominal)
		if a.Status != Solved || b.Status != NoSolution {
			t.Errorf("seed %d: %s below, %s above %g", seed, a.Status, b.Status, carry.Multiple)
		}
	}
}

// One lamp's share: only the named loads are scaled.
func TestLargestMultipleOfOneLamp(t *testing.T) {
	n := Network{
		Feeds: []Feed{{ID: "s", Node: "a", Volts: 12}},
		Legs:  []Leg{loopLeg("w", "a", "b", 0.5)},
		Loads: []Load{{ID: "p", Node: "b", Kind: ConstantPower, Watts: 10}, {ID: "q", Node: "b", Kind: ConstantPower, Watts: 20}},
	}
	carry, err := LargestMultiple(n, nominal, []string{"p"})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "multiple of p", carry.Multiple, (72.0-20)/10, 0.002) // 12*12/(4*0.5) = 72 W
	filament := n
	filament.Loads = []Load{{ID: "f", Node: "b", Kind: Filament, Watts: 10, RatedVolts: 12}}
	if carry, _ := LargestMultiple(filament, nominal, nil); carry.Bounded {
		t.Errorf("a filament never collapses: %+v", carry)
	}
	hopeless := n
	hopeless.Loads = append(slices.Clone(n.Loads), Load{ID: "r", Node: "b", Kind: ConstantPower, Watts: 500})
	if carry, _ := LargestMultiple(hopeless, nominal, []string{"p"}); !carry.Bounded || carry.Multiple != 0 {
		t.Errorf("no room at all: %+v", carry)
	}
	if _, err := LargestMultiple(n, Corner{GroundC: math.Inf(1)}, nil); err == nil {
		t.Error("infinite temperature accepted")
	}
}

// Loops against the same network with its meshes solved as a resistor ladder
// of another kind: a wheel of n spokes with equal loads on the rim has, by
// symmetry, no current in the rim.
func TestWheelSymmetry(t *testing.T) {
	for _, spokes := range []int{3, 5, 8, 40} {
		n := Network{Feeds: []Feed{{ID: "s", Node: "hub", Volts: 12}}}
		for i := range spokes {
			rim, next := fmt.Sprintf("r%02d", i), fmt.Sprintf("r%02d", (i+1)%spokes)
			n.Legs = append(n.Legs, loopLeg("spoke "+rim, "hub", rim, 0.3), loopLeg("rim "+rim, rim, next, 0.1))
			n.Loads = append(n.Loads, Load{ID: rim, Node: rim, Kind: ConstantPower, Watts: 20})
		}
		a, err := Solve(n, nominal)
		if err != nil || a.Status != Solved {
			t.Fatal(err, a.Status)
		}
		want := 6 + math.Sqrt(36-0.3*20)
		for _, l := range a.Lamps {
			near(t, "rim volts", l.Volts, want, 1e-9)
		}
		for _, l := range a.Legs {
			if l.ID[0] == 'r' {
				near(t, "rim amps", l.Amps, 0, 1e-9)
			}
		}
	}
}

// The nose of a driver beside a filament on one cable: the driver can have at
// most max over V of V*((E-V)/R - I_filament(V)), found here by scanning.
func TestNoseBesideFilament(t *testing.T) {
	const volts, ohms = 12.0, 0.4
	filament := Load{ID: "f", Node: "b", Kind: Filament, Watts: 35, RatedVolts: 12}
	most := 0.0
	for v := 0.001; v < volts; v += 0.0005 {
		most = max(most, v*((volts-v)/ohms-filament.AmpsAt(v)))
	}
	n := Network{
		Feeds: []Feed{{ID: "s", Node: "a", Volts: volts}},
		Legs:  []Leg{loopLeg("w", "a", "b", ohms)},
		Loads: []Load{filament, {ID: "p", Node: "b", Kind: ConstantPower, Watts: 1}},
	}
	carry, err := LargestMultiple(n, nominal, []string{"p"})
	if err != nil || !carry.Bounded {
		t.Fatal(err, carry)
	}
	near(t, "largest power", carry.Multiple/most, 1, 0.001)
	for _, share := range []float64{0.999, 1.001} {
		n.Loads[1].Watts = most * share
		a, err := Solve(n, nominal)
		if err != nil || (a.Status == Solved) != (share < 1) {
			t.Errorf("share %g: %s, %v", share, a.Status, err)
		}
	}
}

// A filament on ever more cable always has an answer, the root of
// (E-V)/R = I(V), found here by halving. A faint driver beside it must not be
// taken for a collapse.
func TestFilamentOnTooMuchCable(t *testing.T) {
	filament := Load{ID: "f", Node: "b", Kind: Filament, Watts: 100, RatedVolts: 12}
	for _, ohms := range []float64{0.1, 1, 3, 10, 30, 100, 1000} {
		low, high := 0.0, 12.0
		for range 200 {
			if mid := (low + high) / 2; (12-mid)/ohms > filament.AmpsAt(mid) {
				low = mid
			} else {
				high = mid
			}
		}
		n := Network{
			Feeds: []Feed{{ID: "s", Node: "a", Volts: 12}},
			Legs:  []Leg{loopLeg("w", "a", "b", ohms)},
			Loads: []Load{filament},
		}
		a, err := Solve(n, nominal)
		if err != nil || a.Status != Solved {
			t.Fatalf("%g ohm: %s %v", ohms, a.Status, err)
		}
		near(t, fmt.Sprintf("volts behind %g ohm", ohms), a.Lamps[0].Volts, low, 1e-9)
		faint := 2e-3 * low * 12 / ohms // 0.2 % of the current of a short
		n.Loads = append(n.Loads, Load{ID: "p", Node: "b", Kind: ConstantPower, Watts: faint})
		a, err = Solve(n, nominal)
		if err != nil || a.Status != Solved {
			t.Fatalf("%g ohm and a faint driver: %s %v", ohms, a.Status, err)
		}
		near(t, "with a faint driver", a.Lamps[0].Volts/low, 1, 0.01)
		most := 0.0
		for i := 1; i < 100_000; i++ {
			v := low * float64(i) / 100_000
			most = max(most, v*((12-v)/ohms-filament.AmpsAt(v)))
		}
		carry, err := LargestMultiple(n, nominal, []string{"p"})
		if err != nil || !carry.Bounded {
			t.Fatalf("%g ohm: room for the driver %+v %v", ohms, carry, err)
		}
		near(t, fmt.Sprintf("room behind %g ohm", ohms), carry.Multiple*faint/most, 1, 0.001)
	}
}
