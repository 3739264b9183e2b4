package checker

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"duskproof/checker/policy"
	"duskproof/checker/profile"
)

var writePages = flag.Bool("write-pages", false, "write docs/rules from the rules' metadata")

const pagesFolder = "../docs/rules"

// rulePages derives every page, and the list of all rules, from metadata.
func rulePages(t *testing.T) map[string]string {
	t.Helper()
	catalogue, problems := policy.Load(policy.Bundled())
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	set, err := profile.Bundled()
	if err != nil {
		t.Fatal(err)
	}
	pages := map[string]string{}
	var index strings.Builder
	index.WriteString("# Rules\n\nThese pages are written from the rules' metadata. `duskproof rules ID` prints the same text.\n\n| rule | gravest | basis | what it finds |\n| --- | --- | --- | --- |\n")
	for i := range catalogue.Rules {
		r := &catalogue.Rules[i]
		name := r.ID + ".md"
		pages[name] = Page(r, set)
		fmt.Fprintf(&index, "| [%s](%s) | %s | %s | %s |\n", r.ID, name, r.Severity, r.Basis.Words(), r.Title)
	}
	pages["README.md"] = index.String()
	return pages
}

// TestRulePagesAreCurrent holds docs/rules to the metadata.
func TestRulePagesAreCurrent(t *testing.T) {
	pages := rulePages(t)
	const command = "go test ./checker -run TestRulePagesAreCurrent -write-pages"
	if *writePages {
		if err := os.RemoveAll(pagesFolder); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(pagesFolder, 0o755); err != nil {
			t.Fatal(err)
		}
		for name, text := range pages {
			if err := os.WriteFile(filepath.Join(pagesFolder, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	for name, text := range pages {
		have, err := os.ReadFile(filepath.Join(pagesFolder, name))
		if err != nil || string(have) != text {
			t.Errorf("docs/rules/%s is stale; run: %s", name, command)
		}
	}
	entries, err := os.ReadDir(pagesFolder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if _, ok := pages[e.Name()]; !ok {
			t.Errorf("docs/rules/%s belongs to no rule; run: %s", e.Name(), command)
		}
	}
}
