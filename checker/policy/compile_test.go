package policy

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// TestCompileProblems holds that what is wrong with a rule's code is said at its
// place, in words that help.
func TestCompileProblems(t *testing.T) {
	cases := map[string]struct{ body, problem string }{
		"misspelt field": {`hits contains lib.hit(leg.id, [], {"message": "m"}) if {
	some leg in input.legs
	leg.covr_m < 1
}
`, `:19:6: leg has no field "covr_m" (did you mean "cover_m"?); it has ampacity_a, `},
		"misspelt collection": {`hits contains lib.hit(leg.id, [], {"message": "m"}) if some leg in input.leg
`, `:17:74: input has no field "leg" (did you mean "legs"?); it has beams, `},
		"misspelt behind a look-up": {`hits contains lib.hit(leg.id, [], {"message": "m"}) if {
	some leg in input.legs
	lib.runs_by_id[leg.run].lamp == "L1"
}
`, `:19:26: data.lib.runs_by_id[leg.run] has no field "lamp" (did you mean "lamps"?); it has amps, `},
		"field of a number": {`hits contains lib.hit(leg.id, [], {"message": "m"}) if {
	some leg in input.legs
	leg.cover_m.value < 1
}
`, `:19:2: leg.cover_m is a single value and has no fields`},
		"wrong kind": {`hits contains lib.hit(leg.id, [], {"message": "m"}) if {
	some leg in input.legs
	startswith(leg.cover_m, "1")
}
`, `:19:2: startswith: invalid argument(s)`},
		"unknown function": {`hits contains lib.hti("L1", [], {"message": "m"})
`, `:17:15: undefined function data.lib.hti`},
		"unused": {`hits contains lib.hit("L1", [], {"message": "m"}) if {
	x := 1
}
`, `:18:2: assigned var x unused`},
		"unlisted limit": {`hits contains lib.hit("L1", [], {"message": "m"}) if lib.limit("covr") > 1
`, `:17:64: limit "covr" is not listed under limits in the metadata (did you mean "cover"?)`},
		"no hits": {`hit contains lib.hit("L1", [], {"message": "m"})
`, `:13:1: the rule makes no hits: write`},
		"hits that are no set": {`hits := [lib.hit("L1", [], {"message": "m"})]
`, `:13:1: the rule makes no hits: write`},
		"code point columns": {`hits contains lib.hit("Flügelstraße", [], {"message": input.nothing})
`, `:17:61: input has no field "nothing"`},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			catalogue, problems := Load(house(map[string]string{"bad": c.body, "good": goodBody}))
			if len(problems) != 0 {
				t.Fatal(problems)
			}
			program, problems := catalogue.Compile(Options{Facts: factsSchema(t)})
			if len(problems) == 0 || !strings.HasPrefix(problems[0].Error(), "house-rules/bad.rego"+c.problem) {
				t.Errorf("got  %v\nwant %s", problems, c.problem)
			}
			for _, p := range problems {
				if p.Rule != "house.bad" {
					t.Errorf("%v names rule %q", p, p.Rule)
				}
			}
			if program == nil || !slices.Equal(program.Rules(), []string{"house.good"}) {
				t.Error("the good rule was not compiled")
			}
		})
	}
}

// TestNeedProblems holds that needs are checked against the facts schema, and
// that a fact that is needed is not asked for by its absence.
func TestNeedProblems(t *testing.T) {
	cases := map[string]struct{ old, new, problem string }{
		"collection": {"each: legs", "each: leg", `:10:5: needs: facts have no collection "leg" (did you mean "legs"?); they have beams, `},
		"field":      {"has: [cover_m]", "has: [cover]", `:10:5: needs: legs have no field "cover" (did you mean "cover_m"?); they have ampacity_a, `},
		"scope":      {"{method: [buried]}", "{methd: [buried]}", `:10:5: needs: legs have no field "methd" (did you mean "method"?)`},
		"absence":    {"leg.cover_m < lib", "not leg.cover_m\n\t0 < lib", `:23:2: "not leg.cover_m" holds when the fact is missing, too; write "leg.cover_m == false"`},
		"single":     {"each: legs", "each: supply", `:10:5: needs: supply have no field "cover_m"`},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			text := strings.Replace(goodMetadata, c.old, c.new, 1)
			catalogue, problems := Load(tree(goodPath, text))
			if len(problems) != 0 {
				t.Fatal(problems)
			}
			program, problems := catalogue.Compile(Options{Facts: factsSchema(t)})
			if len(problems) == 0 || !strings.HasPrefix(problems[0].Error(), "tree/"+goodPath+c.problem) {
				t.Errorf("got  %v\nwant %s", problems, c.problem)
			}
			if program == nil || len(program.Rules()) != 0 {
				t.Error("the rule was compiled")
			}
		})
	}
}

// TestOnly holds that rules that are off are not compiled: their mistakes do
// not matter then.
func TestOnly(t *testing.T) {
	catalogue, _ := Load(house(map[string]string{"bad": "hits contains input.nothing\n", "good": goodBody}))
	program, problems := catalogue.Compile(Options{Facts: factsSchema(t), Only: []string{"house.good"}})
	if len(problems) != 0 || !slices.Equal(program.Rules(), []string{"house.good"}) {
		t.Errorf("%v", problems)
	}
	program, problems = catalogue.Compile(Options{Facts: factsSchema(t), Only: []string{}})
	if len(problems) != 0 || len(program.Rules()) != 0 {
		t.Errorf("an empty list means no rule: %v, %v", program.Rules(), problems)
	}
}

// TestBrokenHelper holds that a broken helper takes only its users with it.
func TestBrokenHelper(t *testing.T) {
	source := House("house-rules", fstest.MapFS{
		"lib.rego":  {Data: []byte("package house.lib.words\n\nfew := input.nothing\n")},
		"user.rego": {Data: []byte(header("user") + "import data.house.lib.words\nimport data.lib\n\nhits contains lib.hit(\"L1\", [], {\"message\": words.few})\n")},
		"good.rego": {Data: []byte(header("good") + withLibrary(goodBody))},
	})
	catalogue, problems := Load(source)
	if len(problems) != 0 {
		t.Fatal(problems)
	}
	program, problems := catalogue.Compile(Options{Facts: factsSchema(t)})
	if len(problems) == 0 || problems[0].File != "house-rules/lib.rego" {
		t.Errorf("problems are %v", problems)
	}
	if program == nil || !slices.Contains(program.Rules(), "house.good") {
		t.Error("the good rule was not compiled")
	}
}
