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

// mostAllocations is what one check of the measured plan may allocate, with room
// of a third above what it does allocate.
const mostAllocations = 60_000

// TestCheckAllocates guards how much one check allocates: unlike its time, that
// is the same on every machine.
func TestCheckAllocates(t *testing.T) {
	text, err := os.ReadFile(measuredFolder + "/" + measuredPlan)
	if err != nil {
		t.Fatal(err)
	}
	c, err := checker.New(checker.Options{Today: "2026-06-01"})
	if err != nil {
		t.Fatal(err)
	}
	in := checker.Input{Name: measuredPlan, Bytes: text, FS: os.DirFS(measuredFolder)}
	have := testing.AllocsPerRun(3, func() {
		if _, err := c.Check(context.Background(), in); err != nil {
			t.Fatal(err)
		}
	})
	if t.Logf("%.0f allocations", have); have > mostAllocations {
		t.Errorf("a check makes %.0f allocations; the budget is %d", have, mostAllocations)
	}
}

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
