package wire

import (
	"errors"
	"reflect"
	"testing"
)

// ringBetween is a run from feed a whose far end lands on feed b.
func ringBetween(a, b Feed) Network {
	a.ID, a.Node, a.Volts = "a", "ta", 12
	b.ID, b.Node = "b", "tb"
	if b.Volts == 0 {
		b.Volts = 12
	}
	return Network{
		Source: Source{ID: "T1"},
		Feeds:  []Feed{a, b},
		// The returning leg comes first by id, and is still the one named.
		Legs:  []Leg{loopLeg("1 back", "n2", "tb", 0.1), loopLeg("2", "ta", "n1", 0.1), loopLeg("3", "n1", "n2", 0.1)},
		Loads: []Load{ampLoad("l1", "n1", 1), ampLoad("l2", "n2", 1)},
	}
}

func TestTopologyMistakes(t *testing.T) {
	home := Feed{Common: "1", Tap: "12"}
	for _, row := range []struct {
		name  string
		back  Feed
		kind  MistakeKind
		volts float64
		open  bool
	}{
		{"own tap and common", Feed{Common: "1", Tap: "12"}, "", 0, false},
		{"another tap", Feed{Common: "1", Tap: "13", Volts: 13}, JoinedTaps, 1, true},
		{"another common", Feed{Common: "2", Tap: "12"}, JoinedCommons, 0, false},
		{"another common and tap", Feed{Common: "2", Tap: "14", Volts: 14}, JoinedCommons, 2, true},
		{"another unit", Feed{Common: "1", Tap: "12", Source: "T2"}, JoinedSources, 0, true},
		{"own unit by name", Feed{Common: "1", Tap: "12", Source: "T1"}, "", 0, false},
		{"conductors exchanged", Feed{Common: "1", Tap: "12", Swapped: true}, Swapped, 24, true},
	} {
		t.Run(row.name, func(t *testing.T) {
			n := ringBetween(home, row.back)
			list, err := Topology(n)
			if err != nil {
				t.Fatal(err)
			}
			var want []Mistake
			if row.kind != "" {
				want = []Mistake{{Kind: row.kind, Leg: "1 back", Feeds: []string{"a", "b"}, Volts: row.volts}}
			}
			if !reflect.DeepEqual(list, want) {
				t.Errorf("got %+v, want %+v", list, want)
			}
			a, err := Solve(n, nominal)
			if err != nil || a.Status != Solved {
				t.Fatal(err, a.Status)
			}
			last := 12 - 0.1 // each lamp fed from its own end
			if row.open {
				last = 12 - 0.2 - 0.1 // both through the first leg
			}
			near(t, "last lamp", a.Lamps[1].Volts, last, 1e-9)
			if open := len(a.Open) == 1 && a.Open[0] == "1 back"; open != row.open {
				t.Errorf("left open: %v", a.Open)
			}
		})
	}
}

// Two legs back to the wrong place are two mistakes.
func TestTopologyEachLegIsNamed(t *testing.T) {
	n := ringBetween(Feed{Common: "1", Tap: "12"}, Feed{Common: "1", Tap: "13", Volts: 13})
	n.Legs = append(n.Legs, loopLeg("4 back too", "n1", "tb", 0.1), loopLeg("5", "n1", "n1", 0.1))
	list, err := Topology(n)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, m := range list {
		got = append(got, string(m.Kind)+" "+m.Leg)
	}
	want := []string{"joined-taps 1 back", "joined-taps 4 back too", "on-itself 5"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%q", got)
	}
}

func TestTopologyIslands(t *testing.T) {
	n := ringBetween(Feed{Common: "1", Tap: "12"}, Feed{Common: "1", Tap: "12"})
	n.Legs = append(n.Legs, loopLeg("x1", "p", "q", 0.1), loopLeg("x2", "y", "z", 0.1))
	n.Loads = append(n.Loads, ampLoad("lost", "q", 1), ampLoad("alone", "s", 1))
	list, err := Topology(n)
	if err != nil {
		t.Fatal(err)
	}
	want := []Mistake{
		{Kind: Island, Nodes: []string{"p", "q"}, Loads: []string{"lost"}},
		{Kind: Island, Nodes: []string{"s"}, Loads: []string{"alone"}},
		{Kind: Island, Nodes: []string{"y", "z"}},
	}
	if !reflect.DeepEqual(list, want) {
		t.Errorf("%+v", list)
	}
	a, err := Solve(n, nominal)
	if err != nil || a.Status != Solved {
		t.Fatal(err, a.Status)
	}
	for _, l := range a.Lamps {
		if island := l.ID == "lost" || l.ID == "alone"; island != (l.Feed == "") || island != (l.Volts == 0) {
			t.Errorf("%+v", l)
		}
	}
	n.Loads[0].ID = "lost"
	if _, err := Topology(n); !errors.Is(err, ErrInput) {
		t.Error(err)
	}
}
