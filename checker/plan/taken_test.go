package plan_test

import "testing"

// TestTakenIDs holds that the first to have an id keeps it, and that the others
// are left out of the plan.
func TestTakenIDs(t *testing.T) {
	whole, _ := resolve(t, edited(t, nil))
	p, _ := resolve(t, edited(t, edits{
		"/runs/0/legs/1/id": `"w1"`, "/runs/0/nodes/1/id": `"h1"`, "/runs/1/id": `"front"`,
		"/transformers/1/id": `"T1"`,
	}))
	for what, n := range map[string][2]int{
		"runs":         {len(p.Runs), len(whole.Runs) - 1},
		"nodes":        {len(p.Runs[0].Nodes), len(whole.Runs[0].Nodes) - 1},
		"transformers": {len(p.Transformers), len(whole.Transformers) - 1},
	} {
		if n[0] != n[1] {
			t.Errorf("%d %s, want %d", n[0], what, n[1])
		}
	}
	if l := p.Runs[0].Legs[0]; l.ID != "w1" || l.To != "h1" {
		t.Errorf("leg w1 goes to %s, want the first of that id, to h1", l.To)
	}
}

// TestUnstated holds what stands for a cable and for a tap that are not stated.
func TestUnstated(t *testing.T) {
	p, _ := resolve(t, edited(t, edits{"/runs/0/legs/0/cable": "", "/runs/0/from/tap": "", "/defaults/legs/cable": ""}))
	if c := p.Runs[0].Legs[0].Cable; c == nil || c.ID != "" || c.Conductor.Size != "" {
		t.Errorf("cable %v, want one without a name", c)
	}
	if v := p.Runs[0].TapVolts; v != 12 {
		t.Errorf("tap of %g V, want the lowest, 12 V", v)
	}
}
