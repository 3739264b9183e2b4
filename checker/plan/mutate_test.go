package plan_test

import (
	"encoding/json"
	"maps"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/plan"
)

// slot is one value inside a document, and how to replace or remove it.
type slot struct {
	value any
	set   func(any)
	drop  func()
}

// slots lists every value of a document.
func slots(node any) []slot {
	var found []slot
	switch n := node.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(n)) {
			found = append(found, slot{n[key], func(v any) { n[key] = v }, func() { delete(n, key) }})
			found = append(found, slots(n[key])...)
		}
	case []any:
		for i := range n {
			found = append(found, slot{n[i], func(v any) { n[i] = v }, func() { n[i] = copyOf(n[0]) }})
			found = append(found, slots(n[i])...)
		}
	}
	return found
}

// copyOf copies a value, so that no document comes to hold itself.
func copyOf(value any) any {
	switch v := value.(type) {
	case map[string]any:
		c := make(map[string]any, len(v))
		for key, item := range v {
			c[key] = copyOf(item)
		}
		return c
	case []any:
		c := make([]any, len(v))
		for i, item := range v {
			c[i] = copyOf(item)
		}
		return c
	}
	return value
}

// mutate changes one value of a document to one of another place, to one that
// is hard to compute with, or to nothing.
func mutate(tree any, random *rand.Rand) {
	hard := []any{0.0, -1.0, 1e-12, 1e308, 5e4, "0 mm", "1/99 in", "", "row", "row-1", "T1", "lower", "walk", "oak", []any{}, []any{0.0, 0.0}, map[string]any{}}
	all := slots(tree)
	target := all[random.IntN(len(all))]
	switch random.IntN(4) {
	case 0:
		target.drop()
	case 1:
		target.set(hard[random.IntN(len(hard))])
	default:
		// another value of the same kind fits more often
		for range 20 {
			other := all[random.IntN(len(all))].value
			if reflect.TypeOf(other) == reflect.TypeOf(target.value) {
				target.set(copyOf(other))
				return
			}
		}
	}
}

// TestMutations resolves the base plan with one to four values changed, many
// times: nothing panics and every number stays finite. Documents that cannot be
// decoded are passed over; they must not be the rule.
func TestMutations(t *testing.T) {
	const rounds = 2000
	base := readFile(t, "base.lighting.json")
	resolved, issues := 0, map[string]int{}
	for seed := range uint64(rounds) {
		random := rand.New(rand.NewPCG(seed, 11))
		var tree any
		if err := json.Unmarshal(base, &tree); err != nil {
			t.Fatal(err)
		}
		for range 1 + random.IntN(4) {
			mutate(tree, random)
		}
		data, err := json.Marshal(tree)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := plan.Decode(data)
		if err != nil {
			continue
		}
		resolved++
		p, found := plan.Resolve(doc)
		checkNumbers(t, p)
		checkIdentities(t, found)
		for _, i := range found {
			issues[i.Rule]++
			if strings.Contains(i.Message, "%!") {
				t.Errorf("seed %d: a message is badly formatted: %s", seed, i.Message)
			}
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("%d of %d resolved, issues %v", resolved, rounds, issues)
	if resolved < rounds/3 || issues[plan.Dangling] < rounds/10 || issues[plan.Conflict] < rounds/10 {
		t.Errorf("the mutations say too little: %d of %d resolved, issues %v", resolved, rounds, issues)
	}
}
