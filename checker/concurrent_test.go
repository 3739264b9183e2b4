package checker

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"sync"
	"testing"
)

// TestConcurrentChecks holds that one checker gives the same results however many
// plans are checked with it side by side.
func TestConcurrentChecks(t *testing.T) {
	c, err := New(Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	check := func(name string) string {
		path := filepath.Join(goodPlans, name+".lighting.json")
		text, err := os.ReadFile(path)
		if err != nil {
			t.Error(err)
		}
		result, err := c.Check(context.Background(), Input{Name: name, Bytes: text, FS: os.DirFS(goodPlans)})
		if err != nil {
			t.Error(err)
		}
		out, err := json.Marshal(result)
		if err != nil {
			t.Error(err)
		}
		return string(out)
	}
	alone := map[string]string{}
	for _, name := range keys(kinds) {
		alone[name] = check(name)
	}
	var wait sync.WaitGroup
	for name, want := range alone {
		for range 3 {
			wait.Go(func() {
				if check(name) != want {
					t.Errorf("%s: another result beside other checks", name)
				}
			})
		}
	}
	wait.Wait()
}
