package main

import (
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// moved is the issued plan with a few texts replaced, beside its photometric
// file.
func moved(t *testing.T, texts ...string) string {
	t.Helper()
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(ternCottage)); err != nil {
		t.Fatal(err)
	}
	text := string(read(t, issuedPlan()))
	for i := 0; i < len(texts); i += 2 {
		if n := strings.Count(text, texts[i]); n != 1 {
			t.Fatalf("the issued plan has %q %d times, want once", texts[i], n)
		}
		text = strings.Replace(text, texts[i], texts[i+1], 1)
	}
	name := filepath.Join(folder, "moved.lighting.json")
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// appeared are the findings of a plan that the issued plan does not have.
func appeared(t *testing.T, name string) map[string]jsonFinding {
	t.Helper()
	_, before := judgeOne(t, issuedPlan())
	_, after := judgeOne(t, name)
	found := map[string]jsonFinding{}
	for _, f := range after.Findings {
		found[f.key()] = f
	}
	for _, f := range before.Findings {
		delete(found, f.key())
	}
	return found
}

// wantKeys holds which findings appeared.
func wantKeys(t *testing.T, found map[string]jsonFinding, want ...string) {
	t.Helper()
	if have := slices.Sorted(maps.Keys(found)); !slices.Equal(have, want) {
		t.Fatalf("appeared %q, want %q", have, want)
	}
}

// TestMoveLightTowardGate moves one path light one foot toward the gate.
func TestMoveLightTowardGate(t *testing.T) {
	found := appeared(t, moved(t, `"at": [-4.8, 17]`, `"at": [-3.8, 17]`))
	wantKeys(t, found, "site.gate-swing P3 side-gate")
	f := found["site.gate-swing P3 side-gate"]
	// Open by 105 degrees, the leaf lies along (-sin 15, cos 15) from its hinge. The
	// lamp is (-1.5, 4) ft from the hinge: 4.25 ft along the leaf of 4.5 ft, and
	// 4 sin 15 - 1.5 cos 15 = -0.4136 ft beside it. Its body is 3 in nearer: 0.1636 ft.
	const want, tolerance = 0.1636 * 0.3048, 0.0002 // m
	if f.Value == nil || *f.Value < want-tolerance || *f.Value > want+tolerance {
		t.Fatalf("clearance %v, want %v m", f.Message, want)
	}
}

// TestOpenGateOverLight leaves the gate open, between a path light and the walk.
func TestOpenGateOverLight(t *testing.T) {
	found := appeared(t, moved(t, `"post_diameter": "5 in"}`, `"post_diameter": "5 in", "held_open": true}`))
	wantKeys(t, found, "light.leaf-shadow walk side-gate open, evening", "light.leaf-shadow walk side-gate open, late")
	for key, f := range found {
		if f.Severity != "advice" || *f.Value >= *f.Limit {
			t.Errorf("%s: %s, %v lx against %v lx", key, f.Severity, *f.Value, *f.Limit)
		}
	}
}

// TestRemoveUpperStepLight takes the upper step light away, with its cable. What
// went dark is what the facts say, compared tread by tread.
func TestRemoveUpperStepLight(t *testing.T) {
	light := line(t, `    {"id": "S5"`)
	leg := line(t, `        {"id": "s8"`)
	name := moved(t, light, "", leg, "")
	const dark = 1.0 // lx, common practice, no source: the level of light.step_dark_lx
	before, after := treads(t, issuedPlan()), treads(t, name)
	var want []string
	for at, lux := range after {
		if lux < dark && before[at] >= dark {
			want = append(want, "light.unlit-step "+at)
		}
	}
	slices.Sort(want)
	if !slices.Equal(want, []string{"light.unlit-step upper/5 evening", "light.unlit-step upper/5 late"}) {
		t.Errorf("went dark: %q", want)
	}
	found := appeared(t, name)
	wantKeys(t, found, want...)
	for key, f := range found {
		if f.Severity != "danger" || *f.Limit != dark || *f.Value != after[strings.TrimPrefix(key, "light.unlit-step ")] {
			t.Errorf("%s: %s, %v lx against %v lx", key, f.Severity, *f.Value, *f.Limit)
		}
		if !strings.Contains(f.Message, "0.0 lx") || !strings.Contains(f.Message, "1.0 lx") {
			t.Errorf("%s: %q does not give lux against the level", key, f.Message)
		}
	}
}

// line is the line of the issued plan that begins with a text.
func line(t *testing.T, start string) string {
	t.Helper()
	for l := range strings.Lines(string(read(t, issuedPlan()))) {
		if strings.HasPrefix(l, start) {
			return l
		}
	}
	t.Fatalf("the issued plan has no line that begins with %q", start)
	return ""
}

// treads are the lux at the centre of each tread in each scene.
func treads(t *testing.T, name string) map[string]float64 {
	t.Helper()
	status, out, complaints := command(t, "", "facts", "--today", day, name)
	if status != exitFine {
		t.Fatalf("status %d: %s", status, complaints)
	}
	var facts struct {
		Treads []struct {
			ID, Scene string
			Landing   bool
			Lux       float64 `json:"lux_centre"`
		}
	}
	if err := json.Unmarshal([]byte(out), &facts); err != nil {
		t.Fatal(err)
	}
	lux := map[string]float64{}
	for _, tread := range facts.Treads {
		if !tread.Landing {
			lux[tread.ID+" "+tread.Scene] = tread.Lux
		}
	}
	return lux
}
