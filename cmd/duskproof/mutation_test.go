package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"testing"
)

// mutate calls emit with the plan as it is after each single change: every
// member and every entry taken away, and every id given to its neighbour.
func mutate(root any, emit func(name string)) {
	var visit func(at string, v any)
	visit = func(at string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for _, key := range slices.Sorted(maps.Keys(v)) {
				old := v[key]
				delete(v, key)
				emit(at + "/" + key + " taken away")
				v[key] = old
				visit(at+"/"+key, old)
			}
		case []any:
			for i := range v {
				swapIDs(at, v, i, emit)
				visit(fmt.Sprintf("%s/%d", at, i), v[i])
			}
		}
	}
	visit("", root)
}

// swapIDs gives an entry the id of the one before it, and then no entry at all.
func swapIDs(at string, list []any, i int, emit func(name string)) {
	entry, isObject := list[i].(map[string]any)
	if !isObject || entry["id"] == nil {
		return
	}
	own := entry["id"]
	for _, other := range list[:i] {
		if before, ok := other.(map[string]any); ok {
			entry["id"] = before["id"]
			emit(fmt.Sprintf("%s/%d has the id of another", at, i))
		}
	}
	for _, taken := range []string{"T1", "h1", "P1", "P2", "walk-run", "lower", "RC1"} {
		entry["id"] = taken
		emit(fmt.Sprintf("%s/%d is called %s", at, i, taken))
	}
	entry["id"] = own
}

// TestEveryPlanIsAnswered holds that a plan with anything missing, or with an id
// used twice, is refused or judged, and never a failure of the program's own.
func TestEveryPlanIsAnswered(t *testing.T) {
	for _, name := range []string{
		"plans/format/ten-lines", "plans/format/wiring", "plans/format/lane-to-door", "plans/format/controls",
		"plans/format/catalogue", "plans/format/as-built", "source/whole",
	} {
		name = filepath.Join("../../testdata", name+".lighting.json")
		var root any
		if err := json.Unmarshal(read(t, name), &root); err != nil {
			t.Fatal(err)
		}
		var changes, texts []string
		mutate(root, func(name string) {
			text, err := json.Marshal(root)
			if err != nil {
				t.Fatal(err)
			}
			changes, texts = append(changes, name), append(texts, string(text))
		})
		status, plans := checkTexts(t, texts, "--only", "plan.conflict")
		if status == exitFailed {
			t.Errorf("%s: status %d", name, status)
		}
		for i, plan := range plans {
			if plan.Verdict == "unjudged" && len(plan.Problems) == 0 {
				t.Errorf("%s, %s: neither judged nor refused", name, changes[i])
			}
		}
	}
}
