package validate

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"duskproof/checker/source"
	published "duskproof/schema"
)

// damagedPlan is one entry of testdata/source/damage.json.
type damagedPlan struct {
	Name, Find, Put string
	Problems        []struct{ At, Said string }
}

// planTests reads the whole plan and what can be done to it.
func planTests(t testing.TB) (string, []damagedPlan) {
	t.Helper()
	plan, err := os.ReadFile("../../testdata/source/whole.lighting.json")
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile("../../testdata/source/damage.json")
	if err != nil {
		t.Fatal(err)
	}
	var list []damagedPlan
	if err := json.Unmarshal(data, &list); err != nil {
		t.Fatal(err)
	}
	return string(plan), list
}

// planValidator compiles the published schema of plans.
func planValidator(t testing.TB) *Validator {
	t.Helper()
	v, err := FromFS(published.Files, "plan.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestDamagedPlans(t *testing.T) {
	plan, list := planTests(t)
	v := planValidator(t)
	if problems := check(t, v, plan); len(problems) > 0 {
		t.Fatalf("the whole plan: %v", problems)
	}
	for _, c := range list {
		t.Run(c.Name, func(t *testing.T) {
			if strings.Count(plan, c.Find) != 1 {
				t.Fatalf("%q stands %d times in the plan", c.Find, strings.Count(plan, c.Find))
			}
			doc, problems := source.Parse("p", []byte(strings.Replace(plan, c.Find, c.Put, 1)), source.Limits{})
			if doc != nil {
				problems = v.Validate(doc)
			}
			if len(problems) != len(c.Problems) {
				t.Fatalf("problems: %v", problems)
			}
			for i, p := range problems {
				if at := fmt.Sprintf("%d:%d", p.Line, p.Column); at != c.Problems[i].At || !strings.Contains(p.Message, c.Problems[i].Said) {
					t.Errorf("%s: %s\nwant %s: … %s …", at, p.Message, c.Problems[i].At, c.Problems[i].Said)
				}
			}
		})
	}
}
