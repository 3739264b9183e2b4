package facts_test

import (
	"context"
	"os"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// BenchmarkCompute measures all facts of a plan of about 40 fixtures.
func BenchmarkCompute(b *testing.B) {
	folder := os.DirFS("../../testdata/plans/tern-cottage")
	text, err := os.ReadFile("../../testdata/plans/tern-cottage/issued.lighting.json")
	if err != nil {
		b.Fatal(err)
	}
	document, err := plan.Decode(text)
	if err != nil {
		b.Fatal(err)
	}
	p, _ := plan.Resolve(document)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := facts.Compute(context.Background(), facts.Input{Plan: p, Files: folder, Today: "2026-06-01"}); err != nil {
			b.Fatal(err)
		}
	}
}
