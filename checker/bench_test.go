package checker_test

import (
	"context"
	"os"
	"testing"

	"duskproof/checker"
)

// The plan that speed is measured on, of about 40 fixtures.
const (
	measuredFolder = "../testdata/plans/tern-cottage"
	measuredPlan   = "issued.lighting.json"
)

// BenchmarkCheck measures one warm check of the measured plan, from bytes to
// findings, without looking for fixes.
func BenchmarkCheck(b *testing.B) {
	text, err := os.ReadFile(measuredFolder + "/" + measuredPlan)
	if err != nil {
		b.Fatal(err)
	}
	c, err := checker.New(checker.Options{Today: "2026-06-01"})
	if err != nil {
		b.Fatal(err)
	}
	in := checker.Input{Name: measuredPlan, Bytes: text, FS: os.DirFS(measuredFolder)}
	ctx := context.Background()
	if _, err := c.Check(ctx, in); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.Check(ctx, in); err != nil {
			b.Fatal(err)
		}
	}
}
