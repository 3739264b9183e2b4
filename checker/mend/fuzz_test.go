package mend

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"duskproof/checker/finding"
)

// FuzzApply holds that no patch breaks a plan: what comes out is JSON, what went
// in is as it was, and applied again to the same text it gives the same bytes.
func FuzzApply(f *testing.F) {
	plan, err := os.ReadFile("../../testdata/plans/format/ten-lines.lighting.json")
	if err != nil {
		f.Fatal(err)
	}
	names, err := filepath.Glob("../../testdata/hostile/patches/*.json")
	if err != nil || len(names) == 0 {
		f.Fatalf("%d seeds, %v", len(names), err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(plan, data)
	}
	f.Add([]byte(`{"a": [1, {"b": null}], "c": {}}`), []byte(`[{"op": "test", "path": "/a/0", "value": 1}, {"op": "add", "path": "/a/-", "value": [2]}, {"op": "move", "from": "/a/1/b", "path": "/c/d"}]`))
	f.Fuzz(func(t *testing.T, text, patch []byte) {
		var operations []finding.Operation
		if !json.Valid(text) || json.Unmarshal(patch, &operations) != nil {
			return
		}
		before := bytes.Clone(text)
		out, err := Apply(text, operations)
		if !bytes.Equal(text, before) {
			t.Fatal("the plan is changed in place")
		}
		if err == nil && !json.Valid(out) {
			t.Fatalf("the patch leaves no JSON: %q", out)
		}
		again, second := Apply(text, operations)
		if (err == nil) != (second == nil) || !bytes.Equal(out, again) {
			t.Fatalf("applied again: %v, %v", err, second)
		}
	})
}
