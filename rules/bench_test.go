package rules_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"duskproof/checker"
	"duskproof/checker/policy"
	"duskproof/schema"
)

// benchPlan is a plan of about 40 fixtures.
const benchPlan = "../testdata/plans/tern-cottage/issued.lighting.json"

// benchFacts computes the facts of benchPlan.
func benchFacts(b testing.TB) any {
	b.Helper()
	text, err := os.ReadFile(benchPlan)
	if err != nil {
		b.Fatal(err)
	}
	c, err := checker.New(checker.Options{Today: today})
	if err != nil {
		b.Fatal(err)
	}
	plan, err := c.Check(context.Background(), checker.Input{Name: "issued.lighting.json", Bytes: text, FS: os.DirFS(filepath.Dir(benchPlan))})
	if err != nil {
		b.Fatal(err)
	}
	if plan.Facts == nil {
		b.Fatalf("no facts: %+v", plan.Problems)
	}
	return plan.Facts
}

func benchProgram(b testing.TB) *policy.Program {
	b.Helper()
	catalogue, problems := policy.Load(policy.Bundled())
	if len(problems) != 0 {
		b.Fatal(problems)
	}
	text, err := schema.Files.ReadFile("facts.schema.json")
	if err != nil {
		b.Fatal(err)
	}
	var factsSchema any
	if err := json.Unmarshal(text, &factsSchema); err != nil {
		b.Fatal(err)
	}
	program, problems := catalogue.Compile(policy.Options{Facts: factsSchema})
	if len(problems) != 0 {
		b.Fatal(problems)
	}
	return program
}

// readyProgram is the rules as a check runs them.
func readyProgram(b testing.TB) *policy.Program {
	b.Helper()
	catalogue, _ := policy.Open()
	program, problems := catalogue.Compile(policy.Options{})
	if len(problems) != 0 {
		b.Fatal(problems)
	}
	return program
}

// mostAllocations bounds the allocations of all rules on benchPlan, as a check runs
// them: there are 2,100. When the engine judges there are 7,500, and there were 13,100
// before limits came with their bounds and loops asked the cheapest question first.
const (
	mostAllocations         = 2_500
	mostAllocationsByEngine = 9_000
)

// TestAllocations holds that rules have not become dearer without a word. It
// counts; it does not look at the clock.
func TestAllocations(t *testing.T) {
	document, err := policy.NewDocument(benchFacts(t))
	if err != nil {
		t.Fatal(err)
	}
	for name, of := range map[string]struct {
		program *policy.Program
		most    float64
	}{"ready": {readyProgram(t), mostAllocations}, "engine": {benchProgram(t), mostAllocationsByEngine}} {
		got := testing.AllocsPerRun(5, func() {
			if _, failures, err := of.program.Judge(context.Background(), document); err != nil || len(failures) > 0 {
				t.Fatal(err, failures)
			}
		})
		if got > of.most {
			t.Errorf("%s: %.0f allocations, want at most %.0f; see what costs with: go test ./rules -run xxx -bench Rules", name, got, of.most)
		}
		t.Logf("%s: %.0f allocations", name, got)
	}
}

// BenchmarkReadyRules measures all rules on benchPlan as a check runs them.
func BenchmarkReadyRules(b *testing.B) {
	program := readyProgram(b)
	document, err := policy.NewDocument(benchFacts(b))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	before := processorTime(b)
	for b.Loop() {
		if _, _, err := program.Judge(context.Background(), document); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(processorTime(b)-before)/float64(b.N), "cpu-ns/op")
}

// BenchmarkRules measures all rules written in Rego on benchPlan when the policy
// engine judges them, and prints what each costs there and the dearest lines.
func BenchmarkRules(b *testing.B) {
	program := benchProgram(b)
	document, err := policy.NewDocument(benchFacts(b))
	if err != nil {
		b.Fatal(err)
	}
	ctx := context.Background()
	hits, failures, err := program.Judge(ctx, document)
	if err != nil || len(failures) != 0 {
		b.Fatal(err, failures)
	}
	b.ReportAllocs()
	before := processorTime(b)
	for b.Loop() {
		if _, _, err := program.Judge(ctx, document); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(processorTime(b)-before)/float64(b.N), "cpu-ns/op")
	b.ReportMetric(float64(len(hits)), "hits")
	shares, err := program.Shares(ctx, document, 200)
	if err != nil {
		b.Fatal(err)
	}
	// A benchmark's own log is cut after ten lines.
	for _, s := range shares {
		fmt.Printf("%-28s %8s %5.1f %%\n", s.Rule, s.Each.Round(time.Microsecond), s.Part*100)
	}
	lines, err := program.Profile(ctx, document, 10)
	if err != nil {
		b.Fatal(err)
	}
	for _, l := range lines {
		fmt.Printf("%s:%d %s, %d times\n", l.File, l.Line, l.Took.Round(time.Microsecond), l.Times)
	}
}

// BenchmarkFacts measures how facts become what rules read.
func BenchmarkFacts(b *testing.B) {
	facts := benchFacts(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := policy.NewDocument(facts); err != nil {
			b.Fatal(err)
		}
	}
}
