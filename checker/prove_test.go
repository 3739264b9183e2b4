package checker

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/mend"
)

// edits are changes of the demo's draft of every kind that a fix makes: each
// touches another part of what is computed.
var edits = map[string][]finding.Operation{
	"cable":       {{Op: "replace", Path: "/runs/3/cable", Value: "12/2"}},
	"tap":         {{Op: "replace", Path: "/runs/2/from/tap", Value: "13 V"}},
	"common":      {{Op: "replace", Path: "/runs/3/from/common", Value: 1}},
	"transformer": {{Op: "replace", Path: "/transformers/0/type", Value: "T300"}},
	"cover":       {{Op: "add", Path: "/runs/1/legs/1/cover", Value: "18 in"}},
	"lamp moved":  {{Op: "replace", Path: "/fixtures/0/at", Value: json.RawMessage(`{"along": "walk", "station": "6 ft", "side": "left", "offset": "14 in"}`)}},
	"type":        {{Op: "replace", Path: "/fixtures/0/type", Value: "coping-light"}},
	"level":       {{Op: "add", Path: "/fixtures/1/level", Value: "40 %"}},
	"scene":       {{Op: "remove", Path: "/controls/0/scenes/1/on/1"}},
	"lamp added": {{Op: "add", Path: "/fixtures/-", Value: json.RawMessage(`{"id": "X1", "type": "ring-path", "at": [2.4, 44], "height": "18 in", "elevation": "65 in", "group": "steps"}`)},
		{Op: "add", Path: "/runs/2/legs/-", Value: json.RawMessage(`{"id": "x1", "from": "h3", "to": "X1"}`)}},
	"aim":        {{Op: "add", Path: "/fixtures/22/aim", Value: json.RawMessage(`{"bearing": 30, "tilt": 120}`)}},
	"supply":     {{Op: "replace", Path: "/supply/volts", Value: 118}},
	"gate":       {{Op: "replace", Path: "/site/gates/0/solid", Value: false}},
	"nothing":    {},
	"not usable": {{Op: "replace", Path: "/runs/3/cable", Value: "no such cable"}},
	"not a plan": {{Op: "replace", Path: "/units", Value: "ell"}},
}

// TestTrialEqualsCheck holds that a trial, which keeps what did not change and may
// end early, says the same as a check in full that keeps nothing: the same facts
// and findings, byte for byte, or that the finding in question still stands.
func TestTrialEqualsCheck(t *testing.T) {
	folder := filepath.Join(root, "testdata", "plans", "tern-cottage")
	text, err := os.ReadFile(filepath.Join(folder, "draft.lighting.json"))
	if err != nil {
		t.Fatal(err)
	}
	c, err := New(Options{Today: "2026-06-01"})
	if err != nil {
		t.Fatal(err)
	}
	in := Input{Name: "draft.lighting.json", Bytes: text, FS: os.DirFS(folder), kept: facts.NewKept()}
	base, err := c.Check(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	early := 0
	for name, patch := range edits {
		trial, fresh := in, in
		if trial.Bytes, err = mend.Apply(text, patch); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		fresh.Bytes, fresh.kept = trial.Bytes, nil
		full, err := c.Check(context.Background(), fresh)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		again, _, err := c.attempt(context.Background(), trial, finding.Identity{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if len(full.Problems) > 0 {
			if outcome(&again).Usable {
				t.Errorf("%s: usable in a trial, not in a check", name)
			}
			continue
		}
		if have, want := both(t, again.Facts, again.Findings), both(t, full.Facts, full.Findings); have != want {
			t.Errorf("%s: a trial differs from a check, first at ...%s", name, parting(have, want))
		}
		asked := map[string]bool{}
		for i := range base.Findings {
			target := base.Findings[i].Identity()
			if asked[target.Rule] {
				continue
			}
			asked[target.Rule] = true
			_, seen, err := c.attempt(context.Background(), trial, target)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if seen != nil {
				early++
			}
			if stands := has(full.Findings, target); seen != nil && !stands || seen == nil && stands && base.Findings[i].Rule != "plan.cannot-judge" {
				t.Errorf("%s: %v stands: %t, ended early: %t", name, target, stands, seen != nil)
			}
		}
	}
	if early == 0 {
		t.Error("no trial ended early")
	}
}

func has(findings []finding.Finding, id finding.Identity) bool {
	for i := range findings {
		if findings[i].Identity() == id {
			return true
		}
	}
	return false
}

func both(t *testing.T, parts ...any) string {
	t.Helper()
	text, err := json.Marshal(parts)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// parting is where two texts part.
func parting(a, b string) string {
	i := 0
	for i < min(len(a), len(b)) && a[i] == b[i] {
		i++
	}
	from := max(0, i-80)
	return strings.ToValidUTF8(a[from:min(len(a), i+40)]+" | "+b[from:min(len(b), i+40)], "")
}
