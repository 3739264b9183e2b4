package policy

import (
	"fmt"
	"testing"
	"testing/fstest"
)

// TestTrustedRulesCompileTheSame holds that the rules that come with the program
// pass every check of the compiler, and that what is compiled is the same, rule
// for rule and expression for expression, when the checks are left out.
func TestTrustedRulesCompileTheSame(t *testing.T) {
	compiled := func(options Options) map[string]string {
		catalogue, problems := Load(Bundled())
		on, more := catalogue.selected(options)
		if len(problems)+len(more) > 0 {
			t.Fatal(problems, more)
		}
		compiler := catalogue.compilerFor(options)
		if compiler.Compile(catalogue.modulesOf(on, catalogue.helpers)); compiler.Failed() {
			t.Fatal(compiler.Errors)
		}
		texts := map[string]string{}
		for name, module := range compiler.Modules {
			texts[name] = fmt.Sprint(module)
		}
		return texts
	}
	checked, trusted := compiled(Options{Facts: factsSchema(t)}), compiled(Options{})
	if len(checked) != len(trusted) {
		t.Fatalf("%d modules with checks, %d without", len(checked), len(trusted))
	}
	for name, want := range checked {
		if trusted[name] != want {
			t.Errorf("%s without checks:\n%s\nwith checks:\n%s", name, trusted[name], want)
		}
	}
}

// TestHouseRulesAreNeverTrusted holds that a file from outside is checked, though
// no schema is given.
func TestHouseRulesAreNeverTrusted(t *testing.T) {
	ours, _ := Load(Bundled())
	if !ours.trusted(Options{}) || ours.trusted(Options{Facts: factsSchema(t)}) {
		t.Error("rules of the program alone are trusted without a schema only")
	}
	for _, name := range []string{"house.rego", "lib.rego"} {
		text := map[string]string{
			"house.rego": header("mine") + "\nhits contains 1 if { unknown(x) }\n",
			"lib.rego":   "package house.lib\n\nhalf(x) := y / 2\n",
		}[name]
		catalogue, problems := Load(Bundled(), House("mine", fstest.MapFS{name: {Data: []byte(text)}}))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		if catalogue.trusted(Options{}) {
			t.Errorf("%s is trusted", name)
		}
		if _, problems := catalogue.Compile(Options{}); len(problems) == 0 {
			t.Errorf("%s: nothing found in an unsafe variable", name)
		}
	}
}
