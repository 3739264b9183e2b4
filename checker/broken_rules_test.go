package checker

import (
	"context"
	"errors"
	"strings"
	"testing"
	"testing/fstest"

	"duskproof/checker/policy"
)

// brokenFolder holds a house rule that works, one that does not compile, one that
// cannot be read, and one that fails on the plan.
func brokenFolder() fstest.MapFS {
	works := strings.Replace(twoCases, "CONFIDENCE", "practice", 1)
	named := func(name, body string) *fstest.MapFile {
		head, _, _ := strings.Cut(works, "hits contains")
		head = strings.NewReplacer("house.two-cases", "house."+name, "two_cases", name).Replace(head)
		return &fstest.MapFile{Data: []byte(head + body + "\n")}
	}
	return fstest.MapFS{
		"two-cases.rego": {Data: []byte(works)},
		"misspelt.rego":  named("misspelt", `hits contains lib.hit(f.id, [], {"message": "m"}) if some f in input.fixture`),
		"fails.rego":     named("fails", `hits contains lib.hit("L1", [], {"message": sprintf("%d", [1 / (count(input.fixtures) - 1)])})`),
		"bytes.rego":     {Data: []byte("package house.bytes\n# \xff\n")},
	}
}

// TestBrokenRulesHideNothing holds that rules that cannot be used, or fail, are
// errors at their places, and that the others judge the plan all the same.
func TestBrokenRulesHideNothing(t *testing.T) {
	c, err := New(Options{Today: today, RuleFolders: []Folder{{"house-rules", brokenFolder()}}})
	if err != nil {
		t.Fatal(err)
	}
	var broken *RuleError
	if err := c.Ready(context.Background()); !errors.As(err, &broken) {
		t.Fatalf("Ready: %v", err)
	}
	text := strings.Replace(oneLampPlan, "VARIANCES", "", 1)
	result, err := c.Check(context.Background(), Input{Name: "one.lighting.json", Bytes: []byte(text)})
	var failed *EngineError
	if !errors.As(err, &broken) || !errors.As(err, &failed) {
		t.Fatalf("Check: %v", err)
	}
	for _, want := range []string{"house-rules/bytes.rego:2:3: is not UTF-8 text", "house-rules/misspelt.rego:18:70: input has no field \"fixture\" (did you mean \"fixtures\"?)", "house-rules/fails.rego:18:60: the rule could not be evaluated: "} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("the error does not say %q:\n%v", want, err)
		}
	}
	if len(result.Failed) != 1 || result.Failed[0].Rule != "house.fails" || result.Failed[0].Line != 18 {
		t.Errorf("failed on this plan: %+v", result.Failed)
	}
	cases := map[string]bool{}
	for _, f := range result.Findings {
		cases[f.Rule+" "+f.Case] = true
	}
	for _, want := range []string{"house.two-cases grave", "house.two-cases mild", "plan.cannot-judge no site"} {
		if !cases[want] {
			t.Errorf("%s was hidden; have %v", want, cases)
		}
	}
}

// TestSettingsOfABrokenRule holds that a setting that speaks of a rule in a file
// that cannot be read does not hide why it cannot.
func TestSettingsOfABrokenRule(t *testing.T) {
	_, err := New(Options{Today: today, RuleFolders: []Folder{{"house-rules", brokenFolder()}}, Only: []string{"house.bytes"}})
	if err == nil || !strings.Contains(err.Error(), `unknown rule "house.bytes"`) || !strings.Contains(err.Error(), "house-rules/bytes.rego:2:3: is not UTF-8 text") {
		t.Errorf("%v", err)
	}
}

// TestCancelledCheck holds that a check that its caller leaves says so.
func TestCancelledCheck(t *testing.T) {
	c, err := New(Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	text := strings.Replace(oneLampPlan, "VARIANCES", "", 1)
	if _, err := c.Check(ctx, Input{Name: "one.lighting.json", Bytes: []byte(text)}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	if policy.Runaways() != 0 {
		t.Error("something was left running")
	}
}

// TestDateIsRequired holds that the library reads no clock.
func TestDateIsRequired(t *testing.T) {
	for _, date := range []string{"", "today", "2026-02-30", "01.06.2026"} {
		if _, err := New(Options{Today: date}); err == nil || !strings.Contains(err.Error(), "want YYYY-MM-DD") {
			t.Errorf("%q: %v", date, err)
		}
	}
}
