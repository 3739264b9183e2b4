package config

import (
	"os"
	"path/filepath"
	"testing"

	"duskproof/checker/profile"
)

// FuzzParse holds that no bytes break the reader of settings, and that settings
// that it accepts can be used for any path.
func FuzzParse(f *testing.F) {
	names, err := filepath.Glob("../../testdata/hostile/settings/*.json")
	if err != nil || len(names) == 0 {
		f.Fatalf("%d seeds, %v", len(names), err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data, "clients/tern/garden.lighting.json")
	}
	f.Add([]byte(`{"format": "1.0", "hold": "danger", "paths": [{"match": "drafts/**", "limits": {"wire.drop_share_most": {"value": 0.1, "reason": "long runs"}}}]}`), "drafts/a")
	set, err := profile.Bundled()
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte, path string) {
		settings, problems := Parse(FileName, data)
		if (settings == nil) == (len(problems) == 0) {
			t.Fatalf("settings %v with problems %v", settings, problems)
		}
		if settings == nil {
			return
		}
		settings.CheckProfiles(set)
		settings.CheckRules(nil)
		in := settings.Effective(path)
		in.Off()
		if top, ok := in.LimitProfile(); ok && len(settings.CheckProfiles(set)) == 0 {
			limits, err := set.Stack(nil, top)
			if err != nil {
				t.Fatalf("limits that pass cannot be stacked: %v", err)
			}
			limits.In("ft").Weakened()
		}
	})
}
