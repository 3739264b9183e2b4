package plan_test

import (
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"

	"duskproof/checker/plan"
	"duskproof/checker/source"
	"duskproof/checker/validate"
	"duskproof/schema"
)

// edits maps pointers to the JSON that is put there: a new or another member of
// an object, an item of a list, or "-" for one more item. No text takes the
// member away.
type edits map[string]string

// readFile reads a file of testdata.
func readFile(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// edited returns the base plan with edits.
func edited(t testing.TB, changes edits) []byte {
	t.Helper()
	var tree any
	if err := json.Unmarshal(readFile(t, "base.lighting.json"), &tree); err != nil {
		t.Fatal(err)
	}
	for pointer, text := range changes {
		var value any
		if text != "" {
			if err := json.Unmarshal([]byte(text), &value); err != nil {
				t.Fatalf("%s: %v", pointer, err)
			}
		}
		tree = put(t, tree, source.Tokens(pointer), value, text == "")
	}
	data, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// put sets or removes what tokens lead to and returns the changed node.
func put(t testing.TB, node any, tokens []string, value any, remove bool) any {
	t.Helper()
	if len(tokens) == 0 {
		return value
	}
	token, rest := tokens[0], tokens[1:]
	switch n := node.(type) {
	case map[string]any:
		if len(rest) == 0 && remove {
			delete(n, token)
			return n
		}
		n[token] = put(t, n[token], rest, value, remove)
		return n
	case []any:
		if token == "-" {
			return append(n, value)
		}
		i, err := strconv.Atoi(token)
		if err != nil || i >= len(n) {
			t.Fatalf("no item %q", token)
		}
		n[i] = put(t, n[i], rest, value, remove)
		return n
	default:
		return put(t, map[string]any{}, tokens, value, remove)
	}
}

var planSchema = sync.OnceValues(func() (*validate.Validator, error) {
	return validate.FromFS(schema.Files, schema.Plan)
})

// mustValidate holds that the schema accepts a plan, so that what a test feeds
// to Resolve is what can come to it.
func mustValidate(t testing.TB, data []byte) {
	t.Helper()
	validator, err := planSchema()
	if err != nil {
		t.Fatal(err)
	}
	doc, problems := source.Parse("test", data, source.Limits{})
	if doc != nil {
		problems = validator.Validate(doc)
	}
	for _, p := range problems {
		t.Errorf("the schema refuses the plan: %v", p)
	}
}

// resolve decodes and resolves a plan.
func resolve(t testing.TB, data []byte) (*plan.Plan, []plan.Issue) {
	t.Helper()
	doc, err := plan.Decode(data)
	if err != nil {
		t.Fatal(err)
	}
	return plan.Resolve(doc)
}

// clean resolves a plan that has no issues.
func clean(t testing.TB, data []byte) *plan.Plan {
	t.Helper()
	p, issues := resolve(t, data)
	for _, issue := range issues {
		t.Errorf("unexpected issue: %s", show(issue))
	}
	return p
}

// show writes an issue on one line: "dangling /runs/0/from/transformer: text".
func show(i plan.Issue) string {
	key := ""
	if i.OnKey {
		key = " (key)"
	}
	return fmt.Sprintf("%s %s%s: %s", strings.TrimPrefix(i.Rule, "plan."), i.Pointer, key, i.Message)
}
