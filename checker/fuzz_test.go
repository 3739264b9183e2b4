package checker_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"duskproof/checker"
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// hostileFiles holds files that are broken or were made to do harm.
const hostileFiles = "../testdata/hostile"

// seeds reads every file that fits one of the patterns; there must be some.
func seeds(tb testing.TB, patterns ...string) [][]byte {
	tb.Helper()
	var all [][]byte
	for _, pattern := range patterns {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			tb.Fatalf("%s: %d files, %v", pattern, len(names), err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				tb.Fatal(err)
			}
			all = append(all, data)
		}
	}
	return all
}

// FuzzCheck holds, from bytes to report, that no plan and no photometric file
// breaks the checker: a plan is judged or refused with reasons that have places,
// it can be written in every form, and judged again it gives the same bytes.
func FuzzCheck(f *testing.F) {
	c, err := checker.New(checker.Options{Today: "2026-06-01"})
	if err != nil {
		f.Fatal(err)
	}
	files := seeds(f, filepath.Join(hostileFiles, "photometric", "*.ies"), "../testdata/light/*.ies")
	plans := seeds(f, filepath.Join(hostileFiles, "plans", "*.json"), "../testdata/plans/format/*.json", "../rules/*/*/bad.lighting.json")
	for i, plan := range plans {
		f.Add(plan, files[i%len(files)])
	}
	f.Fuzz(func(t *testing.T, plan, file []byte) {
		in := checker.Input{Name: "plan.lighting.json", Bytes: plan, FS: fstest.MapFS{
			"lamp.ies": &fstest.MapFile{Data: file}, "stone-spot.ies": &fstest.MapFile{Data: file},
		}}
		first, err := c.Check(context.Background(), in)
		var slow *checker.EngineError
		if errors.As(err, &slow) {
			t.Skip("a rule ran out of time, as it may on a busy machine")
		}
		if err != nil {
			t.Fatalf("the checker failed: %v", err)
		}
		holdsTogether(t, &first)
		second, err := c.Check(context.Background(), in)
		if err != nil {
			t.Fatalf("the second time: %v", err)
		}
		if !bytes.Equal(written(t, &first), written(t, &second)) {
			t.Fatal("the second check gives other bytes")
		}
	})
}

// holdsTogether holds what is true of every result.
func holdsTogether(t *testing.T, p *report.Plan) {
	t.Helper()
	if (p.Verdict == report.Unjudged) != (len(p.Problems) > 0) {
		t.Fatalf("verdict %s with %d problems", p.Verdict, len(p.Problems))
	}
	for _, q := range p.Problems {
		if q.Line < 1 || q.Column < 1 || q.EndLine < q.Line || q.Message == "" {
			t.Fatalf("problem %+v", q)
		}
	}
	for _, q := range p.Findings {
		if q.Line < 1 || q.Column < 1 || q.EndLine < q.Line || q.Message == "" || q.Rule == "" {
			t.Fatalf("finding %+v", q)
		}
	}
}

// written is a result in every form of output.
func written(t *testing.T, p *report.Plan) []byte {
	t.Helper()
	var out bytes.Buffer
	r := &report.Report{Format: report.Format, Today: "2026-06-01", Caution: report.Caution, Hold: finding.Defect, Plans: []report.Plan{*p}}
	for _, name := range report.FormNames() {
		form, _ := report.FormNamed(name)
		if err := form.Write(&out, r, report.Options{}); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
	}
	return out.Bytes()
}
