package facts_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io/fs"
	"os"
	"strings"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
	"duskproof/rules"
)

// TestFactsAreTheSame computes the facts of every example of a rule and of the
// format twice: the same plan gives the same facts, byte for byte, and none of
// them is null.
func TestFactsAreTheSame(t *testing.T) {
	limits := limitsOf(t, "us-nec-2020")
	count := 0
	for _, tree := range []fs.FS{rules.Files, os.DirFS("../../testdata/plans")} {
		err := fs.WalkDir(tree, ".", func(name string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(name, ".lighting.json") {
				return err
			}
			text, err := fs.ReadFile(tree, name)
			if err != nil {
				return err
			}
			first, judged := factsOf(t, name, limits, text)
			if !judged {
				return nil
			}
			count++
			if second, _ := factsOf(t, name, limits, text); !bytes.Equal(first, second) {
				t.Errorf("%s: facts differ from one run to the next", name)
			}
			if bytes.Contains(first, []byte(":null")) {
				t.Errorf("%s: a fact is null", name)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if count < 60 {
		t.Errorf("only %d plans were computed", count)
	}
}

// factsOf is the facts of a plan as JSON; false for a plan whose references
// lead nowhere, of which there are no facts.
func factsOf(t *testing.T, name string, limits []facts.Limit, text []byte) ([]byte, bool) {
	t.Helper()
	document, err := plan.Decode(text)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	p, issues := plan.Resolve(document)
	for _, issue := range issues {
		if issue.Rule == plan.Dangling {
			return nil, false
		}
	}
	doc, err := facts.Compute(context.Background(), facts.Input{Plan: p, Limits: limits, Today: "2026-06-01"})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	out, err := json.Marshal(doc)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return out, true
}
