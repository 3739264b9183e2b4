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
