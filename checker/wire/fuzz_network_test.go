package wire

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"
)

// recipe turns bytes into a network: every byte is one choice, and bytes that have
// run out are noughts.
type recipe struct{ bytes []byte }

// pick is the next choice among n.
func (r *recipe) pick(n int) int {
	if len(r.bytes) == 0 {
		return 0
	}
	b := r.bytes[0]
	r.bytes = r.bytes[1:]
	return int(b) % n
}

// amount is the next number: mostly a share of the usual, now and then the ends of
// what is taken, and beyond.
func (r *recipe) amount(usual float64) float64 {
	switch k := r.pick(64); k {
	case 0:
		return 0
	case 1:
		return usual * 1e-6
	case 2:
		return usual * 1e4
	case 3:
		return heaviest
	case 4:
		return -usual
	case 5:
		return math.NaN()
	default:
		return usual * float64(k) / 32
	}
}

// network is the whole recipe.
func (r *recipe) network() Network {
	n := Network{Source: Source{
		ID: "T", RatedVA: r.amount(300), Regulated: r.pick(4) == 1, CurrentLimitAmps: r.amount(10) * float64(r.pick(2)),
		TapsAt: []TapBasis{AtNoLoad, AtRatedLoad}[r.pick(2)],
	}}
	if n.Source.RatedVA > 0 {
		n.Source.Impedance = ImpedanceBetween(r.amount(4), r.amount(6), 1)
	}
	for f := range r.pick(4) {
		n.Feeds = append(n.Feeds, Feed{ID: fmt.Sprint("f", f), Node: r.node(), Common: fmt.Sprint(r.pick(2)), Tap: fmt.Sprint(r.pick(2)),
			Volts: r.amount(12), Swapped: r.pick(16) == 1, Source: []string{"", "T", "U"}[r.pick(8)%3]})
	}
	sizes := []string{"8 AWG", "12 AWG", "16 AWG", "2.5 mm2"}
	for l := range r.pick(12) {
		c, _ := ParseConductor(sizes[r.pick(len(sizes))], Copper, Stranded)
		n.Legs = append(n.Legs, Leg{ID: fmt.Sprint("w", l), From: r.node(), To: r.node(), LengthM: r.amount(10), SlackM: r.amount(1),
			Conductor: c, FromJointOhms: r.amount(0.002), AmpacityAmps: r.amount(20)})
	}
	for i := range r.pick(10) {
		n.Loads = append(n.Loads, r.load(fmt.Sprint("l", i)))
	}
	return n
}

// node names one of eight nodes.
func (r *recipe) node() string { return fmt.Sprint("n", r.pick(8)) }

// load is one lamp.
func (r *recipe) load(id string) Load {
	l := Load{ID: id, Node: r.node(), Kind: []LoadKind{ConstantPower, ConstantCurrent, Filament, Resistive}[r.pick(4)],
		Watts: r.amount(10), Amps: r.amount(1), RatedVolts: 12, PowerFactor: 1 / float64(1+r.pick(3)), MinVolts: r.amount(8) * float64(r.pick(2)),
		Level: float64(r.pick(5)) / 4}
	if r.pick(3) == 1 {
		c, _ := ParseConductor("18 AWG", Copper, Stranded)
		l.Lead, l.JointOhms = &Lead{LengthM: r.amount(1), Conductor: c}, r.amount(0.005)
	}
	return l
}

// turned is the same network written the other way round.
func (n Network) turned() Network {
	n.Feeds, n.Legs, n.Loads = slices.Clone(n.Feeds), slices.Clone(n.Legs), slices.Clone(n.Loads)
	slices.Reverse(n.Feeds)
	slices.Reverse(n.Legs)
	slices.Reverse(n.Loads)
	return n
}

// Any network is refused by name or answered: with finite numbers, the same in
// whatever order its parts come, and where it is solved with a small residual.
func FuzzNetwork(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte("one power unit, one run, a few lamps"))
	f.Add([]byte("\x20\x00\x20\x01\x00\x20\x20\x02\x00\x00\x00\x20\x00\x00\x01\x00\x00\x20\x00\x00\x06\x01\x00\x01\x20\x20\x20\x20\x01\x01\x02\x20\x20\x20\x20"))
	f.Add([]byte("rings and meshes between hubs: 0123456701234567012345670123456789abcdefghijklmnopqrstuvwxyz~~~~~~~~"))
	f.Add([]byte("\x30\x01\x30\x01\x01\x28\x30\x03\x10\x01\x01\x28\x00\x00\x12\x00\x01\x28\x00\x00\x0b\x02\x10\x11\x28\x10\x20\x30\x03\x11\x12\x28\x10\x20\x30"))
	f.Add([]byte("00000001000B0000020"))                            // 120 kV from 450 VA into one lamp
	f.Add([]byte("00000007200000C00000100C0071070000010290001700")) // a gigavolt in a ring
	f.Fuzz(func(t *testing.T, data []byte) {
		r := recipe{data}
		n := r.network()
		corner := Corner{Name: "any", SupplyFactor: r.amount(1), End: End(r.pick(3)), GroundC: r.amount(20), RiseK: r.amount(30)}
		a, err := Solve(n, corner)
		b, again := Solve(n.turned(), corner)
		if (err == nil) != (again == nil) || (err != nil && !errors.Is(err, ErrInput)) {
			t.Fatalf("%v, in another order %v", err, again)
		}
		if err != nil {
			return
		}
		if !reflect.DeepEqual(a, b) {
			t.Fatalf("another order, another answer:\n%+v\n%+v", a, b)
		}
		if err := allFinite(reflect.ValueOf(a), "answer"); err != nil {
			t.Fatal(err)
		}
		if most := mostResidual * largestAmps(a); (a.Status == Solved || a.Status == DroppedOut) && a.ResidualAmps > most {
			t.Fatalf("%s, with a residual of %g A, %g A at most", a.Status, a.ResidualAmps, most)
		}
		fuzzRest(t, n)
	})
}

// largestAmps is the largest current of an answer, at least one ampere.
func largestAmps(a Solution) float64 {
	largest := 1.0
	for _, x := range a.Feeds {
		largest = max(largest, math.Abs(x.Amps))
	}
	for _, x := range a.Legs {
		largest = max(largest, math.Abs(x.Amps))
	}
	for _, x := range a.Lamps {
		largest = max(largest, x.Amps)
	}
	return largest
}

// fuzzRest asks every other question about a network that is taken.
func fuzzRest(t *testing.T, n Network) {
	analysis, err := Analyse(n, everyCorner)
	if err == nil {
		err = allFinite(reflect.ValueOf(analysis), "analysis")
	}
	if err != nil {
		t.Fatal(err)
	}
	protections, err := Protect(n, FaultSetting{HighFactor: 1.05, ColdC: 0, LowFactor: 0.95, HotC: 60},
		[]Device{{ID: "d", Amps: 20, TripMultiple: 1.35, OverloadMultiple: 1.45, Feeds: []string{"f0"}}})
	if err == nil {
		err = allFinite(reflect.ValueOf(protections), "protection")
	}
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Topology(n); err != nil {
		t.Fatal(err)
	}
}
