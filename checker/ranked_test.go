package checker

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"duskproof/checker/policy"
)

// rankedRow is a row of the table in docs/ranked-checks.md.
var rankedRow = regexp.MustCompile(`(?m)^\| (\d+) \| ([^|]+) \| ([^|]+) \|$`)

// ranked is how many checks there are.
const ranked = 30

// TestRankedChecksAreCovered holds that docs/ranked-checks.md names a rule for
// each of the ranked checks, once each and in order, and no rule that does not
// exist.
func TestRankedChecksAreCovered(t *testing.T) {
	page, err := os.ReadFile("../docs/ranked-checks.md")
	if err != nil {
		t.Fatal(err)
	}
	catalogue, problems := policy.Load(policy.Bundled())
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	rows := rankedRow.FindAllStringSubmatch(string(page), -1)
	if len(rows) != ranked {
		t.Errorf("%d checks, want %d", len(rows), ranked)
	}
	for i, row := range rows {
		if n, err := strconv.Atoi(row[1]); err != nil || n != i+1 {
			t.Errorf("row %d is numbered %s", i+1, row[1])
		}
		ids := strings.Split(strings.TrimSpace(row[3]), ", ")
		for j, id := range ids {
			if _, known := catalogue.Rule(id); !known {
				t.Errorf("check %s names the rule %q, which does not exist", row[1], id)
			}
			for _, other := range ids[:j] {
				if other == id {
					t.Errorf("check %s names %s twice", row[1], id)
				}
			}
		}
	}
}

// contract lists the rules that were promised, by family; more may be there.
var contract = map[string]string{
	"asbuilt":   "off-reading suspect-joint",
	"control":   "photocell timer",
	"earth":     "concealed crossing-service drainage lug-fill mains-separation no-sleeve root-zone shallow-cable slack splice",
	"heat":      "combustible",
	"law":       "licensed-supply local-code locate permit private-lines",
	"light":     "beam-misses-tree dark-gap glare leaf-shadow spill stair-control uneven-path unlit-landing unlit-step",
	"neighbour": "colour lumens property-line upward window",
	"plan":      "cannot-judge conflict dangling short-take-off variance",
	"power": "branch-circuit common-limit dimmer electronic-limits extension-cord gfci in-use-cover margin mixed-loads " +
		"overload relamp transformer-place watts-only weather-rating wet-contact-limit",
	"site":  "drive-over gate-swing traffic tree-mount",
	"water": "setback",
	"wire":  "excess-drop fault-not-cleared lamp-overfed lamp-starved loop-misfed no-solution undersized uneven-run",
}

// TestContractIsKept holds that every rule that was promised is there, with all that
// a reader needs to trust it.
func TestContractIsKept(t *testing.T) {
	catalogue, problems := policy.Load(policy.Bundled())
	if len(problems) > 0 {
		t.Fatal(problems[0])
	}
	for family, slugs := range contract {
		for _, slug := range strings.Fields(slugs) {
			if _, known := catalogue.Rule(family + "." + slug); !known {
				t.Errorf("%s.%s is gone", family, slug)
			}
		}
	}
	for _, r := range catalogue.Rules {
		for what, text := range map[string]string{"why": r.Why, "basis": string(r.Basis), "source": r.Source, "confidence": r.Confidence, "hint": r.Hint, "since": r.Since} {
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s has no %s", r.ID, what)
			}
		}
		for _, name := range []string{"bad.lighting.json", "good.lighting.json"} {
			if _, err := os.Stat("../rules/" + strings.ReplaceAll(r.ID, ".", "/") + "/" + name); err != nil {
				t.Errorf("%s: %v", r.ID, err)
			}
		}
	}
}
