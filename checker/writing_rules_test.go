package checker

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"duskproof/checker/finding"
	"duskproof/checker/policy"
	"duskproof/checker/report"
	"duskproof/schema"
)

// oneLamp is a flight with a single lamp on it; invented.
const oneLamp = `{
  "format": "1.0",
  "plan": {"title": "Invented: one lamp on a flight", "stage": "design"},
  "units": "m",
  "catalogue": {"fixtures": {"down": {"kind": "wall", "load": "constant-power", "watts": 4, "va": 5, "window": ["9 V", "15 V"], "lumens": 400, "light": {"shape": "lambert"}}}},
  "site": {"stairs": [{"id": "lower", "foot": [[0, 0], [1.2, 0]], "head": [[0, 0.9], [1.2, 0.9]], "risers": 4, "rise": "165 mm"}]},
  "fixtures": [{"id": "L1", "type": "down", "at": [0.6, 0.4], "height": "2.4 m", "mount": "wall"}]
}`

var (
	fencedRego = regexp.MustCompile("(?s)```rego\n(.*?)```")
	fencedText = regexp.MustCompile("(?s)```text\n(.*?)\n```")
)

// TestWritingRulesExample runs the worked example of docs/writing-rules.md: its
// tests pass, every line is reached, and it fires without any change in Go.
func TestWritingRulesExample(t *testing.T) {
	page, err := os.ReadFile("../docs/writing-rules.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := fencedRego.FindAllStringSubmatch(string(page), -1)
	if len(blocks) != 2 {
		t.Fatalf("%d blocks of Rego, want the rule and its tests", len(blocks))
	}
	folder := fstest.MapFS{
		"two-lamps-on-a-flight.rego":      {Data: []byte(blocks[0][1])},
		"two-lamps-on-a-flight_test.rego": {Data: []byte(blocks[1][1])},
	}
	raw, err := schema.Files.ReadFile("facts.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var facts any
	if err := json.Unmarshal(raw, &facts); err != nil {
		t.Fatal(err)
	}
	trial, err := policy.Try(context.Background(), "house-rules", folder, facts)
	if err != nil || !trial.Passed() || len(trial.Unformatted) > 0 {
		t.Fatalf("trial: %v %+v", err, trial)
	}
	for _, file := range trial.Coverage {
		if file.Percent < 100 {
			t.Errorf("%s: lines %v are not reached", file.File, file.Missed)
		}
	}
	c, err := New(Options{Today: "2026-06-01", RuleFolders: []Folder{{Name: "house-rules", FS: folder}}})
	if err != nil {
		t.Fatal(err)
	}
	result, err := c.Check(context.Background(), Input{Name: "one.lighting.json", Bytes: []byte(oneLamp)})
	if err != nil || len(result.Problems) > 0 {
		t.Fatal(err, result.Problems)
	}
	found := false
	for _, f := range result.Findings {
		found = found || f.Rule == "house.two-lamps-on-a-flight" && f.Element == "lower" && f.Basis == finding.House
	}
	if !found {
		t.Errorf("the house rule did not fire: %+v", result.Findings)
	}
	misspelt := strings.Replace(blocks[0][1], "input.stairs", "input.stair", 1)
	broken := fstest.MapFS{"two-lamps-on-a-flight.rego": {Data: []byte(misspelt)}}
	if c, err = New(Options{Today: today, RuleFolders: []Folder{{Name: "house-rules", FS: broken}}}); err != nil {
		t.Fatal(err)
	}
	var rules *RuleError
	if !errors.As(c.Ready(context.Background()), &rules) {
		t.Fatal("a misspelt fact was not found")
	}
	var printed strings.Builder
	if err := report.RuleProblems(&printed, []report.RuleProblem{RuleProblem(rules.Problems[0])}, report.TextOptions{}); err != nil {
		t.Fatal(err)
	}
	shown := fencedText.FindStringSubmatch(string(page))
	if shown == nil || !strings.HasPrefix(printed.String(), shown[1]) {
		t.Errorf("the page shows %q; printed is\n%s", shown, printed.String())
	}
}

// TestWritingRulesLimits holds the limits that docs/writing-rules.md gives to
// those in force.
func TestWritingRulesLimits(t *testing.T) {
	page, err := os.ReadFile("../docs/writing-rules.md")
	if err != nil {
		t.Fatal(err)
	}
	words := strings.Join(strings.Fields(string(page)), " ")
	l := policy.DefaultLimits()
	want := fmt.Sprintf("One rule may take %.0f s on a plan and all rules together %.0f s, whatever they do; a rule may use %d MiB of memory and make %d,000 hits.",
		l.Rule.Seconds(), l.Total.Seconds(), l.Memory>>20, l.Hits/1000)
	if !strings.Contains(words, want) {
		t.Errorf("docs/writing-rules.md does not say: %s", want)
	}
}
