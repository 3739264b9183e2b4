package plan_test

import (
	"slices"
	"testing"

	"duskproof/checker/plan"
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

// TestIssueIdentity checks which element and case an issue names.
func TestIssueIdentity(t *testing.T) {
	for _, c := range []struct {
		edits          edits
		element, case_ string
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
		if got := issues[0]; got.Element != c.element || got.Case != c.case_ {
			t.Errorf("%v: element %q case %q, want %q %q", c.edits, got.Element, got.Case, c.element, c.case_)
		}
	}
}
