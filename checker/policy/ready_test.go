package policy

import (
	"context"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/bundle"
	"github.com/open-policy-agent/opa/v1/compile"
	"github.com/open-policy-agent/opa/v1/ir"

	"duskproof/checker/policy/machine"
	"duskproof/checker/rule"
	"duskproof/rules"
)

var update = flag.Bool("update", false, "write rules/ready.bin anew")

// planOf lets the policy engine write down what it would do for each rule.
func planOf(t testing.TB, c *Catalogue) *ir.Policy {
	t.Helper()
	modules, queries := &bundle.Bundle{Data: map[string]any{}}, []string{}
	modules.Manifest.Init()
	for name, module := range c.modules {
		if !strings.HasPrefix(name, builtIn+"/entry/") {
			modules.Modules = append(modules.Modules, bundle.ModuleFile{Path: name, URL: name, Raw: c.texts[name], Parsed: module.Copy()})
		}
	}
	slices.SortFunc(modules.Modules, func(a, b bundle.ModuleFile) int { return strings.Compare(a.Path, b.Path) })
	for i := range c.Rules {
		if r := &c.Rules[i]; !r.Native {
			queries = append(queries, strings.Join(r.path, "/")+"/hits")
		}
	}
	compiler := compile.New().WithTarget(compile.TargetPlan).WithBundle(modules).WithEntrypoints(queries...)
	if err := compiler.Build(context.Background()); err != nil {
		t.Fatal(err)
	}
	var plan ir.Policy
	if err := json.Unmarshal(compiler.Bundle().PlanModules[0].Raw, &plan); err != nil {
		t.Fatal(err)
	}
	return &plan
}

// assembled compiles the rules of a catalogue for the machine.
func assembled(t testing.TB, c *Catalogue) *machine.Program {
	t.Helper()
	names := map[string]string{}
	for i := range c.Rules {
		names[strings.Join(c.Rules[i].path, "/")+"/hits"] = c.Rules[i].ID
	}
	program, err := machine.Assemble(planOf(t, c), func(query string) string { return names[query] })
	if err != nil {
		t.Fatal(err)
	}
	return program
}

// TestReadyIsCurrent holds that rules/ready.bin is what the rules' text says.
func TestReadyIsCurrent(t *testing.T) {
	c, problems := Load(Bundled())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	want := writeReady(c.Rules, assembled(t, c))
	if *update {
		if err := os.WriteFile(filepath.Join("..", "..", "rules", "ready.bin"), want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if rules.Ready != string(want) {
		t.Error("rules/ready.bin is not what the rules say; renew it: go test ./checker/policy -run ReadyIsCurrent -update")
	}
}

// TestOpenKnowsWhatLoadKnows holds that the rules that are ready have the same
// metadata and places as those that are read from their text.
func TestOpenKnowsWhatLoadKnows(t *testing.T) {
	loaded, problems := Load(Bundled())
	opened, more := Open()
	if len(problems)+len(more) > 0 || len(opened.Rules) != len(loaded.Rules) || opened.parsed == nil {
		t.Fatal(problems, more, len(opened.Rules), len(loaded.Rules))
	}
	for i := range loaded.Rules {
		want, got := &loaded.Rules[i], &opened.Rules[i]
		if !reflect.DeepEqual(got.Meta, want.Meta) {
			t.Errorf("%s:\n got %+v\nwant %+v", want.ID, got.Meta, want.Meta)
		}
		if got.Native != want.Native || got.Package != want.Package || got.Folder != want.Folder {
			t.Errorf("%s is in another place: %v %s %s", want.ID, got.Native, got.Package, got.Folder)
		}
		bad, err := got.Example("bad")
		if text, _ := want.Example("bad"); err != nil || string(bad) != string(text) {
			t.Errorf("%s: another bad example, %v", want.ID, err)
		}
		if want.Native == opened.machine().Has(want.ID) {
			t.Errorf("%s: the machine has a rule written in Go, or has not one in Rego", want.ID)
		}
	}
}

// TestEngineHasTheLastWord holds that a rule that fails is judged by the engine,
// which says where: here a station is text, and cannot be divided into feet.
func TestEngineHasTheLastWord(t *testing.T) {
	doc := document(t, `{
		"units": "ft", "limits": [{"name": "earth.sleeve_paving_required", "flag": true}],
		"crossings": [{"id": "A", "kind": "wall", "in_ground": true, "sleeved": false, "what": "W", "station_m": "far"}]
	}`)
	opened, _ := Open()
	loaded, _ := Load(Bundled())
	judge := func(c *Catalogue) ([]rule.Hit, []Failure) {
		program, problems := c.Compile(Options{})
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		hits, failures, err := program.Judge(context.Background(), doc)
		if err != nil {
			t.Fatal(err)
		}
		return hits, failures
	}
	hits, failures := judge(opened)
	wantHits, want := judge(loaded)
	if len(want) != 1 || want[0].Rule != "earth.no-sleeve" || want[0].Line == 0 {
		t.Fatalf("the engine does not fail as this test wants: %v", want)
	}
	if !reflect.DeepEqual(failures, want) || !reflect.DeepEqual(hits, wantHits) {
		t.Errorf("got %v %v\nwant %v %v", failures, hits, want, wantHits)
	}
}
