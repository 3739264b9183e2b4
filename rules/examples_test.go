package rules_test

import (
	"context"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"duskproof/checker"
	"duskproof/checker/policy"
	checked "duskproof/checker/report"
	"duskproof/rules"
)

// today is the date on which the examples are checked; their tickets and
// variances are dated for it.
const today = "2026-06-01"

// newChecker makes a checker with the rules as they ship.
func newChecker(t *testing.T) *checker.Checker {
	t.Helper()
	c, err := checker.New(checker.Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Ready(context.Background()); err != nil {
		t.Fatal(err)
	}
	return c
}

// ruleFolders lists every folder "family/slug".
func ruleFolders(t *testing.T) []string {
	t.Helper()
	found, err := fs.Glob(rules.Files, "*/*")
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(found, func(name string) bool {
		info, err := fs.Stat(rules.Files, name)
		return err != nil || !info.IsDir()
	})
}

// TestEveryFolderIsARule holds that folders, metadata and judges agree: each
// folder holds one rule, and a rule without Rego is judged in Go.
func TestEveryFolderIsARule(t *testing.T) {
	c := newChecker(t)
	folders := ruleFolders(t)
	for _, folder := range folders {
		id := strings.ReplaceAll(folder, "/", ".")
		r, ok := c.Rule(id)
		if !ok {
			t.Errorf("folder %s holds no rule %s", folder, id)
			continue
		}
		if native := slices.Contains(checker.NativeRules(), id); native != r.Native {
			t.Errorf("%s: it has no Rego: %t, but it is judged in Go: %t", id, r.Native, native)
		}
	}
	for _, meta := range c.Rules() {
		if !slices.Contains(folders, strings.ReplaceAll(meta.ID, ".", "/")) {
			t.Errorf("rule %s has no folder", meta.ID)
		}
	}
	for _, id := range checker.NativeRules() {
		if r, ok := c.Rule(id); !ok || !r.Native {
			t.Errorf("%s is judged in Go but has no meta.json", id)
		}
	}
}

// TestMetadataWords holds what the schema of metadata cannot.
func TestMetadataWords(t *testing.T) {
	for _, meta := range newChecker(t).Rules() {
		if meta.Basis == "practice" && meta.Confidence == "confirmed" {
			t.Errorf("%s rests on practice, which no page confirms", meta.ID)
		}
		if strings.HasSuffix(meta.Hint, ".") {
			t.Errorf("%s: its hint ends with a full stop", meta.ID)
		}
		if strings.HasPrefix(meta.ID, "law.") != meta.Footer {
			t.Errorf("%s: standing cautions are the law.* rules, and only they", meta.ID)
		}
	}
}

// TestExamples checks both examples of every rule.
func TestExamples(t *testing.T) {
	c := newChecker(t)
	for _, meta := range c.Rules() {
		r, _ := c.Rule(meta.ID)
		t.Run(r.ID, func(t *testing.T) {
			t.Parallel()
			judgeBad(t, c, &r)
			judgeGood(t, c, &r)
		})
	}
}

// checkExample checks one example; nil when there is none.
func checkExample(t *testing.T, c *checker.Checker, r *policy.Rule, which string) *checked.Plan {
	t.Helper()
	text, err := r.Example(which)
	if err != nil {
		t.Error(err)
		return nil
	}
	folder, err := fs.Sub(r.FS, r.Folder)
	if err != nil {
		t.Fatal(err)
	}
	result, err := c.Check(context.Background(), checker.Input{Name: which + ".lighting.json", Bytes: text, FS: folder})
	if err != nil {
		t.Errorf("%s example: %v", which, err)
	}
	if !strings.Contains(string(text), "Invented") {
		t.Errorf("%s example does not say that it is invented", which)
	}
	return &result
}

// unusable are the rules whose bad example is a plan that cannot be used: the
// rule speaks as a problem of the file, and nothing is judged.
var unusable = []string{"plan.dangling"}

// standing are the cautions that nothing in a plan can settle.
var standing = []string{"law.local-code"}

// judgeBad holds that the bad example fires its rule and, but for standing
// cautions, nothing else.
func judgeBad(t *testing.T, c *checker.Checker, r *policy.Rule) {
	t.Helper()
	result := checkExample(t, c, r, "bad")
	if result == nil {
		return
	}
	fired := 0
	for _, p := range result.Problems {
		if !slices.Contains(unusable, r.ID) || p.Rule != r.ID {
			t.Errorf("bad example, line %d: %s: %s", p.Line, p.Rule, p.Message)
			continue
		}
		fired++
	}
	for _, f := range result.Findings {
		switch {
		case f.Rule == r.ID:
			fired++
		case !footer(c, f.Rule) && !company(r.ID, f.Rule):
			t.Errorf("bad example also fires %s %s at %s (%s): %s", f.Severity, f.Rule, f.Element, f.Case, f.Message)
		}
	}
	if fired == 0 {
		t.Errorf("bad example does not fire %s", r.ID)
	}
}

// judgeGood holds that the good example fires nothing but standing cautions, and
// not the rule's own where something in a plan can settle it.
func judgeGood(t *testing.T, c *checker.Checker, r *policy.Rule) {
	t.Helper()
	result := checkExample(t, c, r, "good")
	if result == nil {
		return
	}
	for _, p := range result.Problems {
		t.Errorf("good example, line %d: %s: %s", p.Line, p.Rule, p.Message)
	}
	for _, f := range result.Findings {
		own := f.Rule == r.ID && !slices.Contains(standing, r.ID)
		if own || !footer(c, f.Rule) {
			t.Errorf("good example fires %s %s at %s (%s): %s", f.Severity, f.Rule, f.Element, f.Case, f.Message)
		}
	}
}

// company reports whether one rule comes with another by its nature: readings
// that are off are named one by one, and so is what explains them.
func company(id, other string) bool {
	return strings.HasPrefix(id, "asbuilt.") && strings.HasPrefix(other, "asbuilt.")
}

func footer(c *checker.Checker, id string) bool {
	r, ok := c.Rule(id)
	return ok && r.Footer
}
