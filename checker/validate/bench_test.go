package validate

import (
	"testing"

	published "duskproof/schema"
)

func BenchmarkCompilePlanSchema(b *testing.B) {
	for b.Loop() {
		if _, err := FromFS(published.Files, "plan.schema.json"); err != nil {
			b.Fatal(err)
		}
	}
}
