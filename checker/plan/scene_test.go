package plan_test

import (
	"maps"
	"testing"
)

// TestScenes checks the levels of a scene. The control switches T1 (P1 in group
// entry, and P2, set to 50 % of full light) and the array row; it has no hold on
// S1 and S2.
func TestScenes(t *testing.T) {
	others := map[string]float64{"S1": 1, "S2": 1}
	row := map[string]float64{"row-1": 1, "row-2": 1, "row-3": 1, "row-4": 1, "row-5": 1}
	for _, c := range []struct {
		name, on string
		want     map[string]float64
		inUse    bool
	}{
		{"a group", `["entry"]`, map[string]float64{"P1": 1}, true},
		{"a fixture at a level of its own level", `[{"group": "P2", "level": "40 %"}]`, map[string]float64{"P2": 0.2}, true},
		{"a transformer", `["T1"]`, map[string]float64{"P1": 1, "P2": 0.5}, true},
		{"a run, by half", `[{"group": "front", "level": 50}]`, map[string]float64{"P1": 0.5, "P2": 0.25}, true},
		{"an array", `["row"]`, row, true},
		{"one of an array", `["row-3"]`, map[string]float64{"row-3": 1}, true},
		{"the same twice", `["entry", "P1"]`, map[string]float64{"P1": 1}, true},
		{"off at level 0", `[{"group": "entry", "level": 0}, "P2"]`, map[string]float64{"P2": 0.5}, true},
		{"nothing", `[]`, map[string]float64{}, false},
	} {
		p := clean(t, edited(t, edits{"/controls/0/scenes/0/on": c.on}))
		want := maps.Clone(c.want)
		maps.Copy(want, others)
		if got := p.Scenes[0]; !maps.EqualFunc(got.Levels, want, alike) || got.InUse != c.inUse || got.ID != "evening" || got.Control.ID != "C1" {
			t.Errorf("%s: %v in use %v, want %v %v", c.name, got.Levels, got.InUse, want, c.inUse)
		}
	}
	p := clean(t, edited(t, edits{"/controls/0/scenes/2/in_use": `true`, "/controls/0/scenes/0/in_use": `false`}))
	if p.Scenes[0].InUse || !p.Scenes[2].InUse {
		t.Error("a scene is in use as it says")
	}
}

// TestSceneOfAControlThatSwitchesEverything holds that what such a scene does not
// name is off.
func TestSceneOfAControlThatSwitchesEverything(t *testing.T) {
	p := clean(t, edited(t, edits{"/controls/0/switches": ""}))
	if got := p.Scenes[1].Levels; !maps.Equal(got, map[string]float64{"P1": 1}) {
		t.Errorf("late: %v", got)
	}
}

// TestWithoutScenes holds that a plan without scenes has one, with everything on
// at its own level.
func TestWithoutScenes(t *testing.T) {
	p := clean(t, edited(t, edits{"/controls/0/scenes": "", "/readings/0/scene": `"all"`}))
	if len(p.Scenes) != 1 || p.Scenes[0].Control != nil || !p.Scenes[0].InUse {
		t.Fatalf("scenes %+v", p.Scenes)
	}
	if got := p.Scenes[0].Levels; len(got) != len(p.Fixtures) || got["P2"] != 0.5 || got["S1"] != 1 {
		t.Errorf("levels %v", got)
	}
}

func TestReadings(t *testing.T) {
	p := clean(t, edited(t, edits{"/readings/0/values/1/common": ""}))
	set := p.Readings[0]
	if set.Scene != "evening" || set.VoltStep != 0.1 || set.AmpStep != 0.1 || len(set.Values) != 4 {
		t.Errorf("set %+v", set)
	}
	if v := set.Values[0]; *v.Volts != 11.8 || v.Amps != nil || v.Common != 0 || v.Pointer != "/readings/0/values/0" {
		t.Errorf("reading %+v", v)
	}
	if v := set.Values[1]; *v.Amps != 3 || v.Common != 1 {
		t.Errorf("reading %+v", v)
	}
}

func TestTakeOff(t *testing.T) {
	p := clean(t, readFile(t, "base.lighting.json"))
	want := []struct {
		what, name string
		amount     float64
	}{{"cable", "4mm", 50}, {"fixture", "ring", 7}, {"connector", "gel", 20}, {"transformer", "T60", 1}, {"sleeve", "25 mm", 3}}
	for i, w := range want {
		if b := p.TakeOff[i]; b.What != w.what || b.Name != w.name || b.Amount != w.amount {
			t.Errorf("%d: %+v, want %+v", i, *b, w)
		}
	}
}
