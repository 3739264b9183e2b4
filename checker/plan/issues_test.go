package plan_test

import (
	"slices"
	"testing"

	"duskproof/checker/plan"
	"duskproof/checker/source"
)

// issueCase changes the base plan and gives every issue that must come of it.
type issueCase struct {
	name  string
	edits edits
	want  []string
}

func TestBasePlanHasNoIssues(t *testing.T) {
	data := readFile(t, "base.lighting.json")
	mustValidate(t, data)
	clean(t, data)
}

// TestIssues checks rule, pointer and message of every issue of a changed plan,
// and that there are no others. The plans pass the schema.
func TestIssues(t *testing.T) {
	for _, cases := range [][]issueCase{danglingCases, siteCases, placeCases, networkCases, recordCases} {
		for _, c := range cases {
			t.Run(c.name, func(t *testing.T) {
				data := edited(t, c.edits)
				mustValidate(t, data)
				_, issues := resolve(t, data)
				got := make([]string, len(issues))
				for i, issue := range issues {
					got[i] = show(issue)
				}
				if !slices.Equal(got, c.want) {
					t.Errorf("got")
					for _, line := range got {
						t.Errorf("  %s", line)
					}
					t.Errorf("want")
					for _, line := range c.want {
						t.Errorf("  %s", line)
					}
				}
				checkIdentities(t, issues)
				checkPlaces(t, data, issues)
			})
		}
	}
}

// checkIdentities holds that no two issues of one rule have the same element
// and case: findings are told apart by these.
func checkIdentities(t *testing.T, issues []plan.Issue) {
	t.Helper()
	seen := map[[3]string]bool{}
	for _, i := range issues {
		identity := [3]string{i.Rule, i.Element, i.Case}
		if seen[identity] {
			t.Errorf("two issues are %v", identity)
		}
		seen[identity] = true
		if i.Element == "" || i.Message == "" || i.Pointer == "" {
			t.Errorf("an issue lacks its element, message or pointer: %+v", i)
		}
	}
}

// checkPlaces holds that every issue points at something that is in the file.
func checkPlaces(t *testing.T, data []byte, issues []plan.Issue) {
	t.Helper()
	doc, _ := source.Parse("test", data, source.Limits{})
	for _, i := range issues {
		if place := doc.Locate(i.Pointer)[0]; !place.Exists || i.OnKey && !place.HasKey {
			t.Errorf("%s is not in the file", i.Pointer)
		}
	}
}

// TestElements holds that every id leads to its element, and every element to
// its place in the file.
func TestElements(t *testing.T) {
	data := readFile(t, "base.lighting.json")
	p := clean(t, data)
	doc, _ := source.Parse("test", data, source.Limits{})
	for id, e := range p.Elements {
		if e.ID != id || e.Kind == "" || !doc.Locate(e.Pointer)[0].Exists {
			t.Errorf("%q: %+v", id, e)
		}
	}
	for id, want := range map[string]plan.Element{
		"oak":        {ID: "oak", Kind: "tree", Pointer: "/site/trees/0"},
		"row":        {ID: "row", Kind: "array", Pointer: "/fixtures/2"},
		"row-5":      {ID: "row-5", Kind: "fixture", Pointer: "/fixtures/2"},
		"back/row-1": {ID: "back/row-1", Kind: "leg", Pointer: "/runs/1/chain/1"},
		"lower/4":    {ID: "lower/4", Kind: "tread", Pointer: "/site/stairs/0"},
		"evening":    {ID: "evening", Kind: "scene", Pointer: "/controls/0/scenes/0"},
		"RC1":        {ID: "RC1", Kind: "receptacle", Pointer: "/supply/receptacles/0"},
	} {
		if got := p.Elements[id]; got == nil || *got != want {
			t.Errorf("%q: %+v, want %+v", id, got, want)
		}
	}
	if p.Elements["lower/5"] != nil || p.Elements["ring"] != nil {
		t.Error("the top level is covered by a landing, and types are not elements")
	}
}

// TestIssueIdentity checks which element and case an issue names.
func TestIssueIdentity(t *testing.T) {
	for _, c := range []struct {
		edits           edits
		element, within string
	}{
		{edits{"/fixtures/0/type": `"rang"`}, "P1", "type"},
		{edits{"/runs/0/legs/1/to": `"P9"`}, "w2", "to"},
		{edits{"/catalogue/fixtures/ring/va": `3`}, "ring", "va"},
		{edits{"/take_off/0/cable": `"5mm"`}, "take_off", "0/cable"},
		{edits{"/site/property_line": `[[0,0],[1,1],[2,2]]`}, "property_line", ""},
		{edits{"/runs/1/chain/3/to": `"S9"`}, "back/S9", "to"},
	} {
		_, issues := resolve(t, edited(t, c.edits))
		if len(issues) == 0 {
			t.Errorf("%v: no issue", c.edits)
			continue
		}
		if got := issues[0]; got.Element != c.element || got.Case != c.within {
			t.Errorf("%v: element %q case %q, want %q %q", c.edits, got.Element, got.Case, c.element, c.within)
		}
	}
}
