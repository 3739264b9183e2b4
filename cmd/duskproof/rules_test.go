package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// rulePages are the pages that are written from metadata.
const rulePages = "../../docs/rules"

// TestRulesPrintsThePages holds that the command prints what docs/rules shows:
// every rule in the list, and each page word for word.
func TestRulesPrintsThePages(t *testing.T) {
	pages, err := filepath.Glob(filepath.Join(rulePages, "*.*.md"))
	if err != nil || len(pages) == 0 {
		t.Fatal(pages, err)
	}
	status, list, complaints := command(t, "", "rules")
	if status != exitFine || complaints != "" || strings.Count(list, "\n") != len(pages) {
		t.Errorf("status %d, %q, %d rules; want %d", status, complaints, strings.Count(list, "\n"), len(pages))
	}
	for i, path := range pages {
		id := strings.TrimSuffix(filepath.Base(path), ".md")
		if !strings.Contains(list, id+" ") {
			t.Errorf("%s is not in the list", id)
		}
		if i%15 != 0 {
			continue // each run of the command compiles every rule
		}
		status, page, complaints := command(t, "", "rules", id)
		if want := string(read(t, path)); status != exitFine || complaints != "" || page != want {
			t.Errorf("rules %s: status %d, %q\n%s", id, status, complaints, difference(want, page))
		}
	}
}

// TestRulesUnknown holds that an id that does not exist gets the nearest one.
func TestRulesUnknown(t *testing.T) {
	for id, says := range map[string]string{
		"power.gcfi": `there is no rule "power.gcfi"; did you mean "power.gfci"?`,
		"unlit-step": "did you mean \"light.unlit-step\"?",
		"zzzzzzzzzz": "duskproof rules lists them",
	} {
		status, out, complaints := command(t, "", "rules", id)
		if status != exitUnusable || out != "" || !strings.Contains(complaints, says) {
			t.Errorf("rules %s: status %d, %q, %q; want %q", id, status, out, complaints, says)
		}
	}
}
