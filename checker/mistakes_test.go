package checker

import (
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// TestElectricalRulesShowOnPlans holds that each rule of the wiring and of the
// supply is to be seen on one of the plans that come with the tests, at a place
// in its file.
func TestElectricalRulesShowOnPlans(t *testing.T) {
	c, err := New(Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string]bool{}
	err = filepath.WalkDir("../testdata/plans", func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".lighting.json") {
			return err
		}
		for _, f := range checkFile(t, c, path).Findings {
			if family, _, _ := strings.Cut(f.Rule, "."); family != "wire" && family != "power" {
				continue
			}
			shown[f.Rule] = true
			if f.Line < 1 || f.Column < 1 || f.Pointer == "" {
				t.Errorf("%s: %s on %s has no place", path, f.Rule, f.Element)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, meta := range c.Rules() {
		family, _, _ := strings.Cut(meta.ID, ".")
		if (family == "wire" || family == "power") && !shown[meta.ID] {
			t.Errorf("no plan shows %s", meta.ID)
		}
	}
}
