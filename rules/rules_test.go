package rules_test

import (
	"context"
	"encoding/json"
	"io/fs"
	"path"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/measure"
	"duskproof/checker/policy"
	"duskproof/rules"
	"duskproof/schema"
)

// leastCoverage is the share of each file's lines that its tests must reach.
const leastCoverage = 95

func factsSchema(t *testing.T) any {
	t.Helper()
	text, err := schema.Files.ReadFile("facts.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var decoded any
	if err := json.Unmarshal(text, &decoded); err != nil {
		t.Fatal(err)
	}
	return decoded
}

// load loads the rules that come with the program, which have no problem.
func load(t *testing.T) *policy.Catalogue {
	t.Helper()
	catalogue, problems := policy.Load(policy.Bundled())
	for _, p := range problems {
		t.Errorf("%v\n%s", p, p.Excerpt)
	}
	return catalogue
}

// TestRulesCompile holds that every rule loads, and compiles against the facts
// schema.
func TestRulesCompile(t *testing.T) {
	catalogue := load(t)
	program, problems := catalogue.Compile(policy.Options{Facts: factsSchema(t)})
	for _, p := range problems {
		t.Errorf("%v\n%s", p, p.Excerpt)
	}
	if program == nil {
		t.Fatal("nothing compiled")
	}
	for _, r := range catalogue.Rules {
		if !r.Native && !slices.Contains(program.Rules(), r.ID) {
			t.Errorf("%s was left out", r.ID)
		}
		if r.Since == "" {
			t.Errorf("%s: metadata does not say since when the rule is there", r.File)
		}
	}
}

// TestRuleFolders holds that a rule written in Rego and its tests stand in files
// of the rule's name.
func TestRuleFolders(t *testing.T) {
	for _, r := range load(t).Rules {
		for _, name := range []string{path.Base(r.Folder) + ".rego", path.Base(r.Folder) + "_test.rego"} {
			if _, err := fs.Stat(rules.Files, path.Join(r.Folder, name)); err != nil && !r.Native {
				t.Errorf("%s lacks %s", r.ID, path.Join("rules", r.Folder, name))
			}
		}
	}
}

// TestLimits holds that every limit that a rule reads is a known one, and that
// the library has a tolerance for the unit of every number.
func TestLimits(t *testing.T) {
	var known struct {
		Limits map[string]struct{ Kind, Unit string }
	}
	text, err := fs.ReadFile(rules.Files, "profiles/limits.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &known); err != nil {
		t.Fatal(err)
	}
	library, err := fs.ReadFile(rules.Files, "lib/number.rego")
	if err != nil {
		t.Fatal(err)
	}
	tolerances := toleranceTable(t, string(library))
	for name, limit := range known.Limits {
		inRego, found := tolerances[limit.Unit]
		inGo, known := measure.Tolerance(limit.Unit)
		if limit.Kind == "number" && (!found || !known || inRego != inGo) {
			t.Errorf("limit %s is in %s; its tolerance is %v (%v) in rules/lib/number.rego and %v (%v) in checker/measure",
				name, limit.Unit, inRego, found, inGo, known)
		}
	}
	for _, r := range load(t).Rules {
		for _, name := range r.Limits {
			if _, found := known.Limits[name]; !found {
				t.Errorf("%s: limit %q is not in rules/profiles/limits.json", r.File, name)
			}
		}
	}
}

// toleranceTable reads the tolerances out of the helper library.
func toleranceTable(t *testing.T, library string) map[string]float64 {
	t.Helper()
	_, table, _ := strings.Cut(library, "\ntolerances := {")
	table, _, _ = strings.Cut(table, ",\n}")
	var tolerances map[string]float64
	if err := json.Unmarshal([]byte("{"+table+"}"), &tolerances); err != nil {
		t.Fatal(err)
	}
	return tolerances
}

// TestRuleTests runs the tests beside the rules and the library, and holds that
// each file is in standard form and reached by its tests.
func TestRuleTests(t *testing.T) {
	folders := []string{"lib"}
	for _, r := range load(t).Rules {
		if !r.Native {
			folders = append(folders, r.Folder)
		}
	}
	for _, folder := range folders {
		t.Run(folder, func(t *testing.T) {
			t.Parallel()
			fsys, err := fs.Sub(rules.Files, folder)
			if err != nil {
				t.Fatal(err)
			}
			trial, err := policy.Try(context.Background(), "rules/"+folder, fsys, factsSchema(t))
			if err != nil {
				t.Fatal(err)
			}
			report(t, trial)
		})
	}
}

// report fails a test for everything that is wrong with a trial.
func report(t *testing.T, trial policy.Trial) {
	t.Helper()
	for _, p := range trial.Problems {
		t.Errorf("%v\n%s", p, p.Excerpt)
	}
	if len(trial.Tests) == 0 {
		t.Error("there are no tests")
	}
	for _, r := range trial.Tests {
		if !r.Passed {
			t.Errorf("%s:%d: %s failed %v %s\n%s", r.File, r.Line, r.Name, r.Cases, r.Message, r.Output)
		}
	}
	for _, c := range trial.Coverage {
		if c.Percent < leastCoverage {
			t.Errorf("%s: tests reach %.1f %% of the lines, at least %d %% are wanted; they miss %v", c.File, c.Percent, leastCoverage, c.Missed)
		}
	}
	for _, file := range trial.Unformatted {
		t.Errorf("%s is not in standard form", file)
	}
}
