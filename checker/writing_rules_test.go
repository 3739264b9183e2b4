package checker

import (
	"context"
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"duskproof/checker/finding"
	"duskproof/checker/policy"
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

var fencedRego = regexp.MustCompile("(?s)```rego\n(.*?)```")

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
	broken := fstest.MapFS{"r.rego": {Data: []byte(misspelt)}}
	c, err = New(Options{Today: "2026-06-01", RuleFolders: []Folder{{Name: "house-rules", FS: broken}}})
	if err == nil {
		err = c.Ready(context.Background())
	}
	if err == nil || !strings.Contains(err.Error(), "house-rules/r.rego:26:22: input has no field") || !strings.Contains(err.Error(), "stairs") {
		t.Errorf("a misspelt fact: %v", err)
	}
}
