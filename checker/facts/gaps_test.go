package facts_test

import (
	"context"
	"encoding/json"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
	"duskproof/checker/source"
	"duskproof/checker/validate"
	"duskproof/schema"
)

// kept are members without which little of a plan is accepted.
var kept = []string{"format", "plan", "units", "title", "id", "type", "kind", "load", "from", "to", "transformer", "conductor"}

// withGaps takes away members of objects and lists, each with a chance.
func withGaps(value any, chance float64, dice *rand.Rand) any {
	switch v := value.(type) {
	case map[string]any:
		names := make([]string, 0, len(v))
		for name := range v {
			names = append(names, name)
		}
		slices.Sort(names)
		out := map[string]any{}
		for _, name := range names {
			if dice.Float64() >= chance || slices.Contains(kept, name) {
				out[name] = withGaps(v[name], chance, dice)
			}
		}
		return out
	case []any:
		out := []any{}
		for _, member := range v {
			if _, isPart := member.(map[string]any); !isPart || dice.Float64() >= chance {
				out = append(out, withGaps(member, chance, dice))
			}
		}
		return out
	}
	return value
}

// TestPlansWithGaps takes things out of whole plans at random. What the schema
// still accepts and no reference holds back is computed, whatever it lacks.
func TestPlansWithGaps(t *testing.T) {
	validator, err := validate.FromFS(schema.Files, schema.Plan)
	if err != nil {
		t.Fatal(err)
	}
	computed := 0
	for _, name := range []string{"tern-cottage/issued", "good/deck", "good/pool-garden", "good/public-stair", "good/looped", "good/moonlight"} {
		text, err := os.ReadFile("../../testdata/plans/" + name + ".lighting.json")
		if err != nil {
			t.Fatal(err)
		}
		var whole any
		if err := json.Unmarshal(text, &whole); err != nil {
			t.Fatal(err)
		}
		for seed := range uint64(60) {
			gaps, err := json.Marshal(withGaps(whole, 0.008, rand.New(rand.NewPCG(seed, 7))))
			if err != nil {
				t.Fatal(err)
			}
			doc, problems := source.Parse(name, gaps, source.Limits{})
			if len(problems) > 0 || len(validator.Validate(doc)) > 0 {
				continue
			}
			if computeGaps(t, name, seed, gaps) {
				computed++
			}
		}
	}
	if t.Logf("%d plans with gaps were computed", computed); computed < 50 {
		t.Error("too few plans with gaps could be computed")
	}
}

// computeGaps computes a plan unless a reference leads nowhere.
func computeGaps(t *testing.T, name string, seed uint64, gaps []byte) bool {
	t.Helper()
	document, err := plan.Decode(gaps)
	if err != nil {
		t.Fatal(err)
	}
	p, issues := plan.Resolve(document)
	if slices.ContainsFunc(issues, func(i plan.Issue) bool { return i.Rule == plan.Dangling }) {
		return false
	}
	if _, err := facts.Compute(context.Background(), facts.Input{Plan: p, Today: "2026-06-01"}); err != nil {
		t.Errorf("%s, seed %d: %v\n%s", name, seed, err, gaps)
	}
	return true
}
