package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// The report as another program would read it, without the types of ours.
type jsonReport struct {
	Plans []jsonPlan
}

type jsonPlan struct {
	Path, Verdict string
	Problems      []jsonProblem
	Findings      []jsonFinding
}

type jsonProblem struct {
	Message                          string
	Line, Column, EndLine, EndColumn int
}

type jsonFinding struct {
	Rule, Severity, Element, Case, Pointer, Message string
	Line, Column, EndLine, EndColumn                int
	Value, Limit                                    *float64
	Unit                                            string
}

// key is what makes a finding the same finding wherever it stands.
func (f jsonFinding) key() string {
	return strings.TrimSpace(fmt.Sprintf("%s %s %s", f.Rule, f.Element, f.Case))
}

// command runs the program on its own arguments.
func command(t *testing.T, in string, args ...string) (status int, out, complaints string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	status = run(t.Context(), args, streams{strings.NewReader(in), &stdout, &stderr})
	return status, stdout.String(), stderr.String()
}

// judge checks plans and reads the report.
func judge(t *testing.T, args ...string) (int, jsonReport) {
	t.Helper()
	args = append([]string{"check", "--today", day, "--as", "json"}, args...)
	status, out, complaints := command(t, "", args...)
	if complaints != "" {
		t.Errorf("complaints: %s", complaints)
	}
	var report jsonReport
	if err := json.Unmarshal([]byte(out), &report); err != nil {
		t.Fatalf("%v in %q", err, out)
	}
	return status, report
}

// judgedOnce keeps what became of the plans of the repository, by name.
var judgedOnce sync.Map

// judgeOne checks one plan; a plan of the repository only once.
func judgeOne(t *testing.T, name string) (int, jsonPlan) {
	t.Helper()
	type result struct {
		status int
		report jsonReport
	}
	known, judged := judgedOnce.Load(name)
	if !judged {
		status, report := judge(t, name)
		known = result{status, report}
		judgedOnce.Store(name, known)
	}
	status, report := known.(result).status, known.(result).report
	if len(report.Plans) != 1 {
		t.Fatalf("%d plans in the report, want 1", len(report.Plans))
	}
	return status, report.Plans[0]
}

// golden compares text with a file, or rewrites the file.
func golden(t *testing.T, name, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	t.Errorf("%s is out of date; read what changed and renew it with: go test ./cmd/duskproof -update\n%s",
		filepath.Base(name), difference(string(want), got))
}

// difference lists the lines that only one of two texts has.
func difference(want, got string) string {
	var out strings.Builder
	only := func(mark, text, other string) {
		have := map[string]bool{}
		for line := range strings.Lines(other) {
			have[line] = true
		}
		for line := range strings.Lines(text) {
			if !have[line] {
				out.WriteString(mark + line)
			}
		}
	}
	only("- ", want, got)
	only("+ ", got, want)
	return out.String()
}
