package machine

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/bundle"
	"github.com/open-policy-agent/opa/v1/compile"
	"github.com/open-policy-agent/opa/v1/ir"
	"github.com/open-policy-agent/opa/v1/rego"

	"duskproof/checker/policy/packed"
)

// facts are what the tests' rules read.
const facts = `{
	"lamps": [
		{"id": "L1", "volts": 11.4, "run": "A", "on": true, "tags": ["wet", "path"], "note": null},
		{"id": "L2", "volts": 10.8, "run": "B", "on": false, "tags": []},
		{"id": "L3", "volts": 10.80, "run": "A", "on": true, "tags": ["wet"], "deep": {"er": {"est": 3}}},
		{"id": "L10", "run": "C", "on": true, "tags": ["path", "wet", "path"]}
	],
	"limits": {"low": 10.8, "high": 12, "ratio": 0.1, "big": 12345678901, "tiny": 1e-9, "none": 0, "minus": -2.5},
	"words": ["b", "a", "c", "a"], "numbers": [3, 1.5, -2, 1.5, 12], "pairs": [["x", 1], ["y", 2], ["x", 1]], "empty": [], "units": "ft"
}`

// expressions are answers that rules work out, each by another part of the
// language.
var expressions = []string{
	`lamp.id | some lamp in input.lamps; lamp.volts < input.limits.high`,
	`lamp.id | some lamp in input.lamps; lamp.volts >= 10.8; lamp.on`,
	`lamp.id | some lamp in input.lamps; not lamp.volts`,
	`lamp.id | some lamp in input.lamps; not lamp.on`,
	`lamp.id | some lamp in input.lamps; lamp.on == false`,
	`lamp.id | some lamp in input.lamps; lamp.note == null`,
	`lamp.id | some lamp in input.lamps; "wet" in lamp.tags`,
	`lamp.id | some lamp in input.lamps; lamp.deep.er.est > 2`,
	`lamp.id | some lamp in input.lamps; every tag in lamp.tags { tag != "path" }`,
	`[i, tag] | some lamp in input.lamps; some i, tag in lamp.tags`,
	`[key, value] | some key, value in input.limits`,
	`x | some x in {3, 1, 2, 1}`,
	`[x, y] | some [x, y] in input.pairs`,
	`y | some ["x", y] in input.pairs`,
	`x | x := input.lamps[i].id; input.lamps[i].volts == 10.8`,
	`by_run | by_run := {run: ids | some run in {"A", "B", "C"}; ids := {lamp.id | some lamp in input.lamps; lamp.run == run}}`,
	`x | x := by_id["L2"].volts`,
	`x | x := by_id[input.lamps[0].id].run`,
	`x | x := by_id["none"]`,
	`x | x := pairs[["y", 2]]`,
	`x | [["y", 2]][0] == ["y", 2]; x := 1`,
	`x | {"a": {1, 2}} == {"a": {2, 1}}; x := 1`,
	`x | x := ["a", "b"][1]`,
	`x | x := input.words[9]`,
	`x | x := input.units[0]`,
	`x | x := count(input.words) + count({w | some w in input.words}) + count(input.units) + count(input.limits)`,
	`x | x := sort(input.words)`,
	`x | x := sort(input.numbers)`,
	`x | x := sort({"b", "a", 1, null, true, [1], {"k": 1}, {2}})`,
	`x | x := [max(input.numbers), min(input.numbers), sum(input.numbers)]`,
	`x | x := max(input.empty)`,
	`x | some n in input.numbers; x := [n, abs(n), round(n), floor(n), n + 1, n - 0.1, n * 3, n / 3]`,
	`x | x := [7 / 2, 8 / 2, 7 % 2, -7 % 4, 0 / 5, 0.1 + 0.2, 1 / 3, 2 / 3 * 3]`,
	`x | 0.1 + 0.2 == 0.3; x := 1`,
	`x | 1.0 == 1; 100 == 1e2; x := 1`,
	`x | 12345678901 == input.limits.big; input.limits.big + 1 > input.limits.big; x := input.limits.big * 1000003`,
	`x | input.limits.tiny > input.limits.none; x := input.limits.tiny / 7`,
	`x | x := 123456789012345678 + 1`,
	`x | 123456789012345678 < 123456789012345679; x := 1`,
	`x | x := {0.1 + 0.2, 0.3, 1, 1.0}`,
	`x | x := sprintf("%s has %d and %.2f, %v %%, %5.1f|%-4d|%s", ["a", 3, 1.005, 2.5, 1.25, 7, "z"])`,
	`x | x := sprintf("%.*f %d %v %v %v", [3, 2.0005, 12345678901, true, null, [1, "a"]])`,
	`x | x := sprintf("%d %s", [1.5, 2])`,
	`x | some n in input.numbers; x := sprintf("%v %.1f", [n / 0.3, n * 0.1])`,
	`x | x := concat(", ", input.words)`,
	`x | x := concat("-", {"z", "y"})`,
	`x | x := concat("", [])`,
	`x | x := object.union({"a": 1, "b": {"c": 1, "d": 2}}, {"b": {"d": 3}, "e": 4})`,
	`x | x := [object.get(input.limits, "low", 0), object.get(input.limits, "other", 5), object.get(input.lamps[2], ["deep", "er"], 0)]`,
	`x | x := array.slice(input.words, 1, 3)`,
	`x | x := trim_suffix("12.0", ".0")`,
	`x | x := to_number("2.50") + 1`,
	`x | x := [startswith("abc", "a"), endswith("abc", "c"), split("a,b", ","), upper("é")]`,
	`x | x := graded(11)`,
	`x | x := graded(10.8)`,
	`x | x := graded(-1)`,
	`x | some lamp in input.lamps; x := [lamp.id, kind(lamp)]`,
	`x | x := fallback`,
	`x | x := {key: value | some key, value in input.limits; value > 1}`,
	`x | x := [n | some n in input.numbers; n > 1]`,
	`x | x := {1, 2, 3} & {2, 3, 4}`,
	`x | x := {1, 2, 3} - {2}`,
	`x | x := {1} | {2}`,
	`x | x := numbers.range(1, 4)`,
	`x | some i in numbers.range(1, 30); x := {i, i * 2}`,
	`x | x := {sprintf("k%d", [i]): i | some i in numbers.range(1, 30)}`,
	`x | not missing; x := 1`,
	`x | member.a; x := 1`,
	`x | some name, _ in member; x := name`,
}

const library = `
by_id := {lamp.id: lamp | some lamp in input.lamps}

pairs contains pair if some pair in input.pairs

graded(v) := "high" if {
	v > input.limits.low
} else := "at" if {
	v == input.limits.low
} else := "low"

kind(lamp) := "lit" if lamp.on == true

kind(lamp) := "dark" if lamp.on == false

default fallback := "none"

fallback := "some" if input.limits.other

member[key] := value if {
	some key, value in {"a": true, "b": 2}
}

missing if input.units == "m"
`

// made compiles a module for the machine and for the engine.
func made(t testing.TB, module string) (*Program, *ast.Compiler) {
	t.Helper()
	parsed := ast.MustParseModuleWithOpts(module, ast.ParserOptions{})
	engine := ast.NewCompiler()
	if engine.Compile(map[string]*ast.Module{"m.rego": parsed.Copy()}); engine.Failed() {
		t.Fatal(engine.Errors)
	}
	b := &bundle.Bundle{Data: map[string]any{}, Modules: []bundle.ModuleFile{{Path: "m.rego", URL: "m.rego", Raw: []byte(module), Parsed: parsed}}}
	b.Manifest.Init()
	compiler := compile.New().WithTarget(compile.TargetPlan).WithBundle(b).WithEntrypoints("rules/hits")
	if err := compiler.Build(context.Background()); err != nil {
		t.Fatal(err)
	}
	var plan ir.Policy
	if err := json.Unmarshal(compiler.Bundle().PlanModules[0].Raw, &plan); err != nil {
		t.Fatal(err)
	}
	program, err := Assemble(&plan, func(string) string { return "rule" })
	if err != nil {
		t.Fatal(err)
	}
	return program, engine
}

// byBoth evaluates a rule's hits with the machine and with the engine.
func byBoth(t testing.TB, module string) (machine Value, failed error, engine string, refused error) {
	t.Helper()
	program, compiler := made(t, module)
	input, err := FromJSON([]byte(facts))
	if err != nil {
		t.Fatal(err)
	}
	machine, failed = program.NewSession(input).Judge("rule", time.Minute)
	set, refused := rego.New(rego.Query("x = data.rules.hits"), rego.Compiler(compiler), rego.ParsedInput(input.Term().Value), rego.StrictBuiltinErrors(true)).Eval(context.Background())
	if refused == nil {
		term, err := ast.InterfaceToValue(set[0].Bindings["x"])
		if err != nil {
			t.Fatal(err)
		}
		engine = term.String()
	}
	return machine, failed, engine, refused
}

// asJSON is a value as the engine hands it out: sets are arrays, in order.
func asJSON(v Value) string {
	plain, err := ast.JSON(v.Term().Value)
	if err != nil {
		return err.Error()
	}
	value, err := ast.InterfaceToValue(plain)
	if err != nil {
		return err.Error()
	}
	return value.String()
}

// TestMachineSaysWhatTheEngineSays compares with the policy engine itself, which is
// the general-purpose program that defines the language.
func TestMachineSaysWhatTheEngineSays(t *testing.T) {
	for _, expression := range expressions {
		t.Run(expression, func(t *testing.T) {
			head, body, _ := strings.Cut(expression, " | ")
			module := fmt.Sprintf("package rules\n\nhits contains %s if {\n%s\n}\n%s", head, strings.ReplaceAll(body, "; ", "\n"), library)
			got, failed, want, refused := byBoth(t, module)
			if refused != nil {
				if failed == nil {
					t.Errorf("the machine says %s, and the engine refuses: %v", got, refused)
				}
				return
			}
			if failed != nil || asJSON(got) != want {
				t.Errorf("the machine says %s, %v; the engine says %s", got, failed, want)
			}
		})
	}
}

// TestMachineRefusesWhatTheEngineRefuses holds that what is no answer for the engine
// is none for the machine, which leaves it to the engine.
func TestMachineRefusesWhatTheEngineRefuses(t *testing.T) {
	for name, module := range map[string]string{
		"two values of a function": "hits contains both(1)\n\nboth(x) := 1 if x > 0\n\nboth(x) := 2 if x < 2",
		"two values of a rule":     "hits contains both\n\nboth := 1 if input.units == \"ft\"\n\nboth := 2 if input.limits.low",
		"two values of a key":      "hits contains both.a\n\nboth[\"a\"] := v if some v in [1, 2]",
		"a built-in function":      "hits contains x if x := to_number(\"no number\")",
		"division by zero":         "hits contains x if x := 1 / input.limits.none",
		"not text":                 "hits contains x if x := concat(\",\", input.numbers)",
		"abs of text":              "hits contains x if x := abs(input.units)",
		"minus of text":            "hits contains x if x := 1 - input.units",
		"union of no object":       "hits contains x if x := object.union({}, input.words)",
	} {
		t.Run(name, func(t *testing.T) {
			got, failed, said, refused := byBoth(t, "package rules\n\n"+module+"\n")
			if refused == nil {
				t.Fatalf("the engine says %s", said)
			}
			if failed == nil {
				t.Errorf("the machine says %s, and the engine refuses: %v", got, refused)
			}
		})
	}
}

// TestAssembleSaysWhatItDoesNotKnow holds that a rule that the machine cannot run is
// an error, not a wrong answer.
func TestAssembleSaysWhatItDoesNotKnow(t *testing.T) {
	plan := ir.Policy{Static: &ir.Static{}, Plans: &ir.Plans{}, Funcs: &ir.Funcs{Funcs: []*ir.Func{{
		Name: "f", Params: []ir.Local{0, 1}, Return: 2, Path: []string{"g0", "rules", "hits"},
		Blocks: []*ir.Block{{Stmts: []ir.Stmt{&ir.WithStmt{Block: &ir.Block{}}}}},
	}}}}
	if _, err := Assemble(&plan, func(string) string { return "rule" }); err == nil || !strings.Contains(err.Error(), "WithStmt") {
		t.Errorf("got %v", err)
	}
	plan.Funcs.Funcs[0].Blocks = nil
	plan.Plans.Plans = []*ir.Plan{{Name: "rules/other/hits"}}
	if _, err := Assemble(&plan, func(string) string { return "rule" }); err == nil || !strings.Contains(err.Error(), "rules/other/hits") {
		t.Errorf("got %v", err)
	}
}

// TestSlowRule holds that a rule is stopped when its time is up.
func TestSlowRule(t *testing.T) {
	program, _ := made(t, `package rules

hits contains [a, b, c, d, e] if {
	some a in numbers.range(1, 200)
	some b in numbers.range(1, 200)
	some c in numbers.range(1, 200)
	some d in numbers.range(1, 200)
	some e in numbers.range(1, 200)
	a * b * c * d * e == 0
}
`)
	input, err := FromJSON([]byte(facts))
	if err != nil {
		t.Fatal(err)
	}
	if set, err := program.NewSession(input).Judge("rule", 20*time.Millisecond); err != ErrSlow { //nolint:errorlint // it is returned as it is
		t.Errorf("got %v, %v", set, err)
	}
	if _, err := program.NewSession(input).Judge("other", time.Second); err == nil {
		t.Error("a rule that is not there was judged")
	}
}

// TestProgramFile holds that a program is read as it was written, and that a file
// that was cut short is refused.
func TestProgramFile(t *testing.T) {
	program, _ := made(t, "package rules\n\nhits contains [lamp.id, 0.1, 5] if some lamp in input.lamps\n"+library)
	var w packed.Writer
	program.Write(&w)
	read, err := Read(packed.NewReader(string(w.Bytes)))
	if err != nil {
		t.Fatal(err)
	}
	var again packed.Writer
	read.Write(&again)
	if string(again.Bytes) != string(w.Bytes) {
		t.Error("what was read is not what was written")
	}
	input, err := FromJSON([]byte(facts))
	if err != nil {
		t.Fatal(err)
	}
	want, err := program.NewSession(input).Judge("rule", time.Second)
	got, also := read.NewSession(input).Judge("rule", time.Second)
	if err != nil || also != nil || want.Len() != 4 || Compare(got, want) != 0 {
		t.Errorf("%v %v, %v %v", got, also, want, err)
	}
	for n := range w.Bytes {
		if _, err := Read(packed.NewReader(string(w.Bytes[:n]))); err == nil {
			t.Fatalf("%d of %d bytes are a program", n, len(w.Bytes))
		}
	}
}
