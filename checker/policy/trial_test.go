package policy

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// TestTry holds what a trial says of a folder with a test that fails, one that
// has cases, one that is yet to be written, and a file out of form.
func TestTry(t *testing.T) {
	rule := header("on-gate") + `import data.lib

hits contains lib.hit(f.id, [], {"message": "m"}) if {
	some f in input.fixtures
	f.kind == "post"
}

never if {
	input.stage == "issued"
}
`
	tests := `package house.on_gate_test

import data.house.on_gate

test_post if count(on_gate.hits) == 1 with input as {"fixtures": [{"id": "L1", "kind": "post"}]}

test_wrong if {
	print("seen")
	count(on_gate.hits) == 2 with input as {"fixtures": []}
}

test_cases[name] if {
	some name, n in {"none": 0, "one": 1}
	count(on_gate.hits) == n with input as {"fixtures": []}
}

todo_test_later   if false

test_fault if to_number("x") == 1
`
	trial, err := Try(context.Background(), "ours", fstest.MapFS{
		"on_gate.rego":      {Data: []byte(rule)},
		"on_gate_test.rego": {Data: []byte(tests)},
	}, factsSchema(t))
	if err != nil || len(trial.Problems) != 0 {
		t.Fatal(err, trial.Problems)
	}
	var got []string
	for _, r := range trial.Tests {
		got = append(got, fmt.Sprintf("%s:%d %s %s passed=%t skipped=%t %v %q", r.File, r.Line, r.Package, r.Name, r.Passed, r.Skipped, r.Cases, strings.TrimSpace(r.Output)))
	}
	want := []string{
		`ours/on_gate_test.rego:5 house.on_gate_test test_post passed=true skipped=false [] ""`,
		`ours/on_gate_test.rego:7 house.on_gate_test test_wrong passed=false skipped=false [] "seen"`,
		`ours/on_gate_test.rego:12 house.on_gate_test test_cases passed=false skipped=false [one] ""`,
		`ours/on_gate_test.rego:17 house.on_gate_test todo_test_later passed=false skipped=true [] ""`,
		`ours/on_gate_test.rego:19 house.on_gate_test test_fault passed=false skipped=false [] ""`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if message := trial.Tests[4].Message; !strings.Contains(message, "to_number") {
		t.Errorf("the fault says %q", message)
	}
	if trial.Passed() || !slices.Equal(trial.Rules, []string{"house.on-gate"}) {
		t.Errorf("passed %t, rules %v", trial.Passed(), trial.Rules)
	}
	if len(trial.Coverage) != 1 || !slices.Equal(trial.Coverage[0].Missed, []int{22, 23}) {
		t.Errorf("coverage is %v", trial.Coverage)
	}
	if !slices.Equal(trial.Unformatted, []string{"ours/on_gate_test.rego"}) {
		t.Errorf("out of form: %v", trial.Unformatted)
	}
}

// TestTryProblems holds that a folder with a mistake runs no test, and that an
// empty one is a problem.
func TestTryProblems(t *testing.T) {
	trial, err := Try(context.Background(), "ours", fstest.MapFS{
		"a.rego":      {Data: []byte(header("a") + "hits contains input.fixture\n")},
		"a_test.rego": {Data: []byte("package house.a_test\n\ntest_a if data.house.a.hits\n")},
	}, factsSchema(t))
	if err != nil || len(trial.Tests) != 0 || len(trial.Problems) != 1 || trial.Passed() {
		t.Fatalf("%v, %d tests, %v", err, len(trial.Tests), trial.Problems)
	}
	want := `ours/a.rego:15:21: input has no field "fixture" (did you mean "fixtures"?)`
	if got := trial.Problems[0].Error(); !strings.HasPrefix(got, want) {
		t.Errorf("got %v, want %s", got, want)
	}
	trial, err = Try(context.Background(), "ours", fstest.MapFS{}, factsSchema(t))
	if err != nil || len(trial.Problems) != 1 || trial.Passed() {
		t.Errorf("an empty folder: %v %v", err, trial.Problems)
	}
}

// TestTryEndless holds that a test without an end does not hold the caller.
func TestTryEndless(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), 200*time.Millisecond)
	defer cancel()
	_, err := Try(ctx, "ours", fstest.MapFS{
		"a.rego": {Data: []byte(header("a") + withLibrary(goodBody))},
		"a_test.rego": {Data: []byte(`package house.a_test

test_a if {
	r := numbers.range(1, 3000)
	some a in r
	some b in r
	some c in r
	a * b * c < 0
}
`)},
	}, factsSchema(t))
	if err == nil {
		t.Error("an endless test ended")
	}
}
