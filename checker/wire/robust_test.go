package wire

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// allFinite walks an answer and reports the first number that is not one.
func allFinite(v reflect.Value, path string) error {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%s is %g", path, x)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			return allFinite(v.Elem(), path)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if err := allFinite(v.Field(i), path+"."+v.Type().Field(i).Name); err != nil {
				return err
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if err := allFinite(v.Index(i), fmt.Sprintf("%s[%d]", path, i)); err != nil {
				return err
			}
		}
	}
	return nil
}

// wild draws numbers from the ends of what is taken.
func wild(r *rand.Rand, usual float64) float64 {
	switch r.IntN(8) {
	case 0:
		return 0
	case 1:
		return heaviest
	case 2:
		return math.SmallestNonzeroFloat64
	case 3:
		return usual * math.Pow(10, 12*r.Float64()-6)
	}
	return usual * r.Float64()
}

// wildNetwork is a random network with some numbers far out of the ordinary.
func wildNetwork(r *rand.Rand) Network {
	n := randomNetwork(r, shapes[r.IntN(len(shapes))])
	for range 1 + r.IntN(6) {
		l, x := &n.Legs[r.IntN(len(n.Legs))], &n.Loads[r.IntN(len(n.Loads))]
		switch r.IntN(9) {
		case 0:
			l.LengthM, l.SlackM = wild(r, 100), 0
			l.FromJointOhms, l.ToJointOhms = 0, 0
		case 1:
			l.AmpacityAmps = wild(r, 1)
		case 2:
			l.To = n.Legs[r.IntN(len(n.Legs))].From
		case 3:
			x.Watts, x.Amps = wild(r, 1000), wild(r, 100)
		case 4:
			x.MinVolts = wild(r, 20)
		case 5:
			x.RatedVolts = max(wild(r, 12), lightest)
		case 6:
			n.Feeds[0].Volts = max(wild(r, 12), lightest)
		case 7:
			n.Source.RatedVA = max(wild(r, 1), lightest)
		case 8:
			x.Node = "nowhere"
		}
	}
	return n
}

// Whatever is taken gives an answer of finite numbers, and ends.
func TestWildNumbers(t *testing.T) {
	statuses := map[Status]int{}
	for seed := range uint64(1500) {
		r := rand.New(rand.NewPCG(seed, 23))
		n := wildNetwork(r)
		a, err := Analyse(n, everyCorner)
		if err != nil {
			if !errors.Is(err, ErrInput) {
				t.Fatalf("seed %d: %v", seed, err)
			}
			continue
		}
		statuses[a.Nominal.Status]++
		if err := allFinite(reflect.ValueOf(a), "analysis"); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		faults, err := Faults(n, FaultSetting{HighFactor: 1.1, ColdC: -20, LowFactor: 0.9, HotC: 75})
		if err != nil {
			t.Fatal(err)
		}
		if err := allFinite(reflect.ValueOf(faults), "faults"); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		devices := []Device{{ID: "d", Amps: wild(r, 25), TripMultiple: wild(r, 2), Feeds: []string{n.Feeds[0].ID}}}
		out, err := Protect(n, still(20), devices)
		if err != nil {
			t.Fatal(err)
		}
		if err := allFinite(reflect.ValueOf(out), "protection"); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if _, err := Topology(n); err != nil {
			t.Fatal(err)
		}
	}
	t.Log(statuses)
	if statuses[Solved] == 0 || statuses[NoSolution] == 0 || statuses[DroppedOut] == 0 {
		t.Errorf("one-sided: %v", statuses)
	}
}

// What makes no sense is refused by name.
func TestBadInput(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := threeLamps
	for name, spoil := range map[string]func(n *Network){
		"rated VA":              func(n *Network) { n.Source.RatedVA = -1 },
		"current limit":         func(n *Network) { n.Source.CurrentLimitAmps = nan },
		"impedance":             func(n *Network) { n.Source.Impedance.Low.R = 1.5 },
		"impedance alone":       func(n *Network) { n.Source.RatedVA, n.Source.Impedance.High.R = 0, 0.1 },
		"feed volts":            func(n *Network) { n.Feeds[0].Volts = 0 },
		"feed twice":            func(n *Network) { n.Feeds = append(n.Feeds, n.Feeds[0]) },
		"leg length":            func(n *Network) { n.Legs[1].LengthM = -1 },
		"leg joint":             func(n *Network) { n.Legs[1].ToJointOhms = inf },
		"leg twice":             func(n *Network) { n.Legs[1].ID = n.Legs[0].ID },
		"conductor":             func(n *Network) { n.Legs[0].Conductor.OhmPerM20 = nan },
		"load kind":             func(n *Network) { n.Loads[0].Kind = "neon" },
		"load twice":            func(n *Network) { n.Loads[0].ID = n.Loads[1].ID },
		"power factor":          func(n *Network) { n.Loads[0].PowerFactor = 1.2 },
		"level":                 func(n *Network) { n.Loads[0].Level = 2 },
		"filament, no volts":    func(n *Network) { n.Loads[0].Kind = Filament },
		"resistor, no volts":    func(n *Network) { n.Loads[0].Kind = Resistive },
		"lead length":           func(n *Network) { n.Loads[0].Lead = &Lead{LengthM: nan} },
		"amps beyond all sense": func(n *Network) { n.Loads[0].Amps = 1e12 },
	} {
		n := good()
		spoil(&n)
		for _, err := range []error{
			second(Solve(n, nominal)), second(Analyse(n, everyCorner)), second(Topology(n)),
			second(Faults(n, still(20))), second(Protect(n, still(20), nil)), second(LargestMultiple(n, nominal, nil)),
		} {
			if !errors.Is(err, ErrInput) {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
	for _, corner := range []Corner{{SupplyFactor: -1}, {SupplyFactor: nan}, {GroundC: inf}, {RiseK: nan}, {SupplyFactor: 11},
		{Scene: &Scene{Levels: map[string]float64{"L1": nan}}}} {
		if _, err := Solve(good(), corner); !errors.Is(err, ErrInput) {
			t.Errorf("%+v: %v", corner, err)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// The smallest networks: nothing, a feed alone, a lamp on the terminals, a leg
// of no length.
func TestSmallNetworks(t *testing.T) {
	if a, err := Solve(Network{}, nominal); err != nil || a.Status != Solved || len(a.Nodes) != 0 {
		t.Error(err, a)
	}
	if _, err := Analyse(Network{}, everyCorner); err != nil {
		t.Error(err)
	}
	n := Network{Feeds: []Feed{{ID: "s", Node: "a", Volts: 12}}}
	if a, err := Solve(n, nominal); err != nil || a.Nodes[0].Volts != 12 {
		t.Error(err, a)
	}
	n.Loads = []Load{ampLoad("l", "a", 3)}
	if a, err := Solve(n, nominal); err != nil || a.Lamps[0].Volts != 12 || a.Feeds[0].Amps != 3 || a.Lamps[0].DropVolts != 0 {
		t.Error(err, a)
	}
	n.Legs = []Leg{{ID: "w", From: "a", To: "b"}}
	n.Loads[0].Node = "b"
	a, err := Solve(n, nominal)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "leg of no length", a.Lamps[0].Volts, 12, 1e-5)
	n.Feeds = nil
	if a, err := Analyse(n, everyCorner); err != nil || a.Lamps[0].MaxVolts != 0 || a.Lamps[0].Feed != "" {
		t.Error(err, a.Lamps)
	}
}

// One solver for many goroutines: nothing is shared.
func TestConcurrentUse(t *testing.T) {
	n := gardenRun(30, mixedKinds, true)
	want, err := Solve(n, nominal)
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan bool)
	for range 8 {
		go func() {
			got, err := Solve(n, nominal)
			done <- err == nil && reflect.DeepEqual(got, want)
		}()
	}
	for range 8 {
		if !<-done {
			t.Error("another answer")
		}
	}
}
