package profile

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// FuzzWithFile holds that no bytes break the reader of profiles, and that a
// profile that it accepts can be stacked.
func FuzzWithFile(f *testing.F) {
	for _, pattern := range []string{"../../testdata/hostile/profiles/*.json", "../../rules/profiles/*.json"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			f.Fatalf("%d seeds, %v", len(names), err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			name := strings.TrimSuffix(filepath.Base(name), ".json")
			f.Add(bytes.Replace(data, []byte(`"`+name+`"`), []byte(`"house"`), 1))
		}
	}
	set, err := Bundled()
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		more, problems := set.WithFile("house.json", data)
		limits, err := more.Stack([]string{"house"})
		if known := err == nil; known == (len(problems) > 0) {
			t.Fatalf("stacked: %v, though the problems are %v", err, problems)
		}
		if err == nil {
			limits.In("ft").Weakened()
		}
	})
}
