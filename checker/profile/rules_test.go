package profile

import (
	"encoding/json"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"

	"duskproof/rules"
)

// lookup finds the limits that a rule written in Rego looks up.
var lookup = regexp.MustCompile(`\b(?:limit|limit_text|limit_flag|limit_row|limit_source|has_limit)\("([a-z_.0-9]+)"`)

// A rule that reads a limit which no profile can set is silent for ever, so
// every name that a rule reads must mean something.
func TestRulesReadKnownLimits(t *testing.T) {
	set := bundled(t)
	known := func(file, name string) {
		if _, ok := set.Meaning(name); !ok {
			t.Errorf("%s: %s", file, set.unknownLimit(name))
		}
	}
	err := fs.WalkDir(rules.Files, ".", func(file string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := fs.ReadFile(rules.Files, file)
		switch {
		case err != nil:
			return err
		case path.Base(file) == "meta.json":
			var meta struct {
				Limits []string `json:"limits"`
			}
			if err := json.Unmarshal(data, &meta); err != nil {
				t.Errorf("%s: %v", file, err)
			}
			for _, name := range meta.Limits {
				known(file, name)
			}
		case strings.HasSuffix(file, ".rego") && !strings.HasSuffix(file, "_test.rego"):
			for _, found := range lookup.FindAllStringSubmatch(string(data), -1) {
				known(file, found[1])
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
