package checker

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"duskproof/checker/finding"
	"duskproof/checker/policy"
)

var writePages = flag.Bool("write-pages", false, "write docs/rules from the rules' metadata")

const pagesFolder = "../docs/rules"

// rulePages derives every page, and the list of all rules, from metadata.
func rulePages(t *testing.T) map[string]string {
	t.Helper()
	c, err := New(Options{Today: ExampleDay})
	if err != nil {
		t.Fatal(err)
	}
	pages := map[string]string{}
	var index strings.Builder
	index.WriteString("# Rules\n\nThese pages are written from the rules' metadata. `duskproof rules ID` prints the same text.\n\n| rule | gravest | basis | what it finds |\n| --- | --- | --- | --- |\n")
	for i := range c.catalogue.Rules {
		r := &c.catalogue.Rules[i]
		name := r.ID + ".md"
		pages[name] = c.Page(context.Background(), r)
		fmt.Fprintf(&index, "| [%s](%s) | %s | %s | %s |\n", r.ID, name, r.Severity, r.Basis.Words(), r.Title)
	}
	pages["README.md"] = index.String()
	return pages
}

// families says what each family of rules looks at.
var families = map[string]string{
	"plan": "the plan itself: gaps, contradictions, what was bought", "wire": "volts and amps in the cables and at the lamps",
	"power": "transformers, commons, receptacles, the mains side", "light": "light on steps, landings and paths; shadows; glare",
	"site": "gates, cars, mowers, trees, the property line", "earth": "trenches: depth, sleeves, joints, other people's lines",
	"water": "pools, ponds and fountains", "heat": "hot lamps near what burns",
	"neighbour": "light that leaves the land: zones, shores, wildlife", "control": "photocells and timers",
	"law": "whom to ask before work begins", "asbuilt": "meter readings against what was computed",
}

// readmeTable is the table of the README between its two marks.
var readmeTable = regexp.MustCompile(`(?s)(<!-- rules -->\n).*?(<!-- end -->)`)

// withTable puts the table of families into the README.
func withTable(t *testing.T, readme string) string {
	t.Helper()
	catalogue, problems := policy.Load(policy.Bundled())
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	count, gravest := map[string]int{}, map[string]finding.Severity{}
	for i := range catalogue.Rules {
		family, _, _ := strings.Cut(catalogue.Rules[i].ID, ".")
		count[family]++
		gravest[family] = max(gravest[family], catalogue.Rules[i].Severity)
	}
	table := "| family | looks at | rules | gravest |\n| --- | --- | --- | --- |\n"
	for _, family := range keys(count) {
		if families[family] == "" {
			t.Errorf("nobody says what the family %s looks at", family)
		}
		table += fmt.Sprintf("| `%s` | %s | %d | %s |\n", family, families[family], count[family], gravest[family])
	}
	if !readmeTable.MatchString(readme) {
		t.Error("the README has no place for the table of rules")
	}
	return readmeTable.ReplaceAllString(readme, "${1}"+strings.ReplaceAll(table, "$", "$$")+"${2}")
}

// command rewrites what is written from metadata.
const command = "go test ./checker -run Current -write-pages"

// TestReadmeTableIsCurrent holds the README's table of rules to the metadata.
func TestReadmeTableIsCurrent(t *testing.T) {
	const readme = "../README.md"
	have, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	want := withTable(t, string(have))
	if *writePages {
		if err := os.WriteFile(readme, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if string(have) != want {
		t.Errorf("the table of rules in README.md is stale; run: %s", command)
	}
}

// TestRulePagesAreCurrent holds docs/rules to the metadata.
func TestRulePagesAreCurrent(t *testing.T) {
	pages := rulePages(t)
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
