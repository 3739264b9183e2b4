package validate

import (
	"testing"

	"duskproof/checker/source"
	published "duskproof/schema"
)

func BenchmarkCompilePlanSchema(b *testing.B) {
	for b.Loop() {
		if _, err := FromFS(published.Files, "plan.schema.json"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkValidatePlan(b *testing.B) {
	plan, _ := planTests(b)
	v := planValidator(b)
	doc, problems := source.Parse("p", []byte(plan), source.Limits{})
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	b.SetBytes(int64(len(plan)))
	for b.Loop() {
		if problems := v.Validate(doc); len(problems) > 0 {
			b.Fatal(problems)
		}
	}
}
