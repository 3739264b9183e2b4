package checker

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"duskproof/checker/config"
	"duskproof/checker/finding"
	"duskproof/checker/profile"
	"duskproof/checker/report"
	"duskproof/rules"
)

// setbackExample is the bad example of water.setback, judged under settings.
func setbackExample(t *testing.T, settings config.Settings) report.Plan {
	t.Helper()
	folder := "../rules/water/setback"
	text, err := os.ReadFile(filepath.Join(folder, "bad.lighting.json"))
	if err != nil {
		t.Fatal(err)
	}
	c, err := New(Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	result, err := c.Check(context.Background(), Input{Name: "bad.lighting.json", Bytes: text, FS: os.DirFS(folder), Settings: &settings})
	if err != nil || len(result.Problems) > 0 {
		t.Fatal(err, result.Problems)
	}
	return result
}

// TestWeakenedDangerIsTold holds that a danger rule muted by an absurd limit does
// not go silent: the report names the limit, both numbers and both sources.
func TestWeakenedDangerIsTold(t *testing.T) {
	if plain := setbackExample(t, config.Settings{}); len(plain.Weakened) > 0 || !fires(plain, "water.setback") {
		t.Fatalf("without settings: %v, %v", plain.Weakened, plain.Findings)
	}
	tiny := 0.001
	muted := setbackExample(t, config.Settings{Limits: []config.Limit{{Name: "water.setback_m", Number: &tiny, Reason: "the owner wants it near"}}})
	if fires(muted, "water.setback") || len(muted.Weakened) != 1 {
		t.Fatalf("%v, %v", muted.Weakened, muted.Findings)
	}
	w := muted.Weakened[0]
	if w.Limit != "water.setback_m" || strings.Join(w.Rules, " ") != "water.setback" || w.By != config.FileName {
		t.Errorf("%+v", w)
	}
	for _, c := range []struct{ text, want string }{
		{w.Source, "the owner wants it near"}, {w.WasSource, "NFPA 70"}, {w.Was, "10 ft"}, {w.Now, "0 in"},
	} {
		if !strings.Contains(c.text, c.want) {
			t.Errorf("%q does not hold %q", c.text, c.want)
		}
	}
}

// TestGradedDownDangerIsTold holds the same of a danger rule that is graded down,
// and that a rule that is off is told once, as such.
func TestGradedDownDangerIsTold(t *testing.T) {
	down := setbackExample(t, config.Settings{Rules: []config.Rule{{ID: "water.setback", Severity: finding.Advice, Reason: "seen on site", Pointer: "/rules/water.setback"}}})
	if len(down.Weakened) != 1 || down.Weakened[0].Was != "danger" || down.Weakened[0].Now != "advice at most" || down.Weakened[0].By != "settings" {
		t.Errorf("%+v", down.Weakened)
	}
	tiny := 0.001
	off := setbackExample(t, config.Settings{
		Limits: []config.Limit{{Name: "water.setback_m", Number: &tiny, Reason: "r"}},
		Rules:  []config.Rule{{ID: "water.setback", Off: true, Reason: "r", Pointer: "/rules/water.setback"}},
	})
	if len(off.Weakened) != 0 || len(off.SwitchedOff) != 1 {
		t.Errorf("%+v, %+v", off.Weakened, off.SwitchedOff)
	}
	up := setbackExample(t, config.Settings{Rules: []config.Rule{{ID: "light.glare", Severity: finding.Defect, Reason: "r"}}})
	if len(up.Weakened) != 0 {
		t.Errorf("%+v", up.Weakened)
	}
}

// TestWeakenedComputingIsTold holds the same of a number that no rule reads, but
// that the light on steps is computed with.
func TestWeakenedComputingIsTold(t *testing.T) {
	bright := 50.0
	result := setbackExample(t, config.Settings{Limits: []config.Limit{{Name: "light.maintenance_factor", Number: &bright, Reason: "r"}}})
	if len(result.Weakened) != 1 || strings.Join(result.Weakened[0].Rules, " ") != "light.unlit-landing light.unlit-step" {
		t.Errorf("%+v", result.Weakened)
	}
}

// TestWeakerSides holds that every limit that a rule of a danger reads says which
// way a change lets more pass.
func TestWeakerSides(t *testing.T) {
	c, err := New(Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	text, err := rules.Files.ReadFile("profiles/limits.json")
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Limits map[string]profile.Meaning }
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	readers := c.dangerReaders()
	if len(readers) < 20 {
		t.Errorf("only %d limits are read by rules of dangers", len(readers))
	}
	sides := map[profile.Kind][]string{profile.Number: {"higher", "lower"}, profile.Table: {"higher", "lower"}, profile.Flag: {"yes", "no"}}
	for name, m := range file.Limits {
		for _, id := range m.Feeds {
			if meta, known := c.metas[id]; !known || meta.Severity != finding.Danger {
				t.Errorf("%s feeds %q, which is no rule of a danger", name, id)
			}
		}
	}
	for name, ids := range readers {
		m := file.Limits[name]
		if allowed := sides[m.Kind]; len(allowed) == 0 || m.Weaker != allowed[0] && m.Weaker != allowed[1] {
			t.Errorf("%s, which %v read, is a %s with the weaker side %q", name, ids, m.Kind, m.Weaker)
		}
	}
}

// fires reports whether a rule finds a danger.
func fires(p report.Plan, id string) bool {
	for i := range p.Findings {
		if p.Findings[i].Rule == id && p.Findings[i].Severity == finding.Danger {
			return true
		}
	}
	return false
}
