package checker

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

const goodPlans = "../testdata/plans/good"

// kinds says of each good plan what makes it a plan of its own kind, so that the
// corpus cannot shrink to one kind without a word.
var kinds = map[string]func(p *report.Plan) bool{
	"as-built": func(p *report.Plan) bool { return p.Stage == "as-built" && len(p.Facts.Readings) > 0 },
	"bat-path": func(p *report.Plan) bool { return slices.Contains(p.Profiles, "bat-corridor") },
	"dc-24v": func(p *report.Plan) bool {
		return every(p.Facts.Transformers, func(t facts.Transformer) bool { return t.Output == "dc" })
	},
	"deck": func(p *report.Plan) bool {
		return some(p.Facts.Legs, func(l facts.Leg) bool { return l.Method == "under-deck" })
	},
	"halogen-multi-tap": func(p *report.Plan) bool { return taps(p.Facts) >= 3 && every(p.Facts.Fixtures, isFilament) },
	"hub": func(p *report.Plan) bool {
		return every(p.Facts.Runs, func(r facts.Run) bool { return r.EqualLeads && r.FilamentVA > 0 })
	},
	"iec-courtyard": func(p *report.Plan) bool {
		return p.Facts.Units == "m" && slices.Contains(p.Profiles, "iec-60364")
	},
	"led-retrofit": func(p *report.Plan) bool {
		return every(p.Facts.Fixtures, func(f facts.Fixture) bool { return !isFilament(f) && f.LargestVA != nil })
	},
	"looped": func(p *report.Plan) bool { return len(p.Facts.Legs) > len(p.Facts.Fixtures) },
	"moonlight": func(p *report.Plan) bool {
		return some(p.Facts.Fixtures, func(f facts.Fixture) bool { return f.Mount == "tree" })
	},
	"pool-garden": func(p *report.Plan) bool {
		return some(p.Facts.Transformers, func(t facts.Transformer) bool { return slices.Contains(t.Listing, "pool-spa") })
	},
	"public-stair": func(p *report.Plan) bool {
		return some(p.Facts.Stairs, func(s facts.Stair) bool { return s.Public })
	},
	"shore":       func(p *report.Plan) bool { return slices.Contains(p.Profiles, "shore-wildlife") },
	"survey":      func(p *report.Plan) bool { return p.Stage == "survey" },
	"uk-garden":   func(p *report.Plan) bool { return slices.Contains(p.Profiles, "uk-bs7671") },
	"wiring-only": func(p *report.Plan) bool { return !p.Facts.HasSite && len(p.Facts.Runs) > 1 },
}

func some[T any](list []T, is func(T) bool) bool { return slices.ContainsFunc(list, is) }

func every[T any](list []T, is func(T) bool) bool {
	return len(list) > 0 && !slices.ContainsFunc(list, func(t T) bool { return !is(t) })
}

func isFilament(f facts.Fixture) bool { return f.Load == "filament" }

// taps counts the taps in use.
func taps(d *facts.Document) int {
	volts := map[float64]bool{}
	for _, r := range d.Runs {
		volts[r.TapVolts] = true
	}
	return len(volts)
}

// checkFile checks a plan on disk with the rules as they ship.
func checkFile(t *testing.T, c *Checker, path string) report.Plan {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	result, err := c.Check(context.Background(), Input{Name: filepath.ToSlash(path), Bytes: text, FS: os.DirFS(filepath.Dir(path))})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range result.Problems {
		t.Fatalf("%s:%d:%d: %s", path, p.Line, p.Column, p.Message)
	}
	return result
}

// TestGoodPlansHaveNoHolds holds that good plans of many kinds give no danger
// and no defect: a false alarm is a mistake of ours. The plans are invented; that
// they are good is common practice, no source.
func TestGoodPlansHaveNoHolds(t *testing.T) {
	c, err := New(Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	paths, err := filepath.Glob(filepath.Join(goodPlans, "*.lighting.json"))
	if err != nil || len(paths) < 12 {
		t.Fatalf("%d good plans, want at least 12 (%v)", len(paths), err)
	}
	var names []string
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), ".lighting.json")
		names = append(names, name)
		t.Run(name, func(t *testing.T) {
			result := checkFile(t, c, path)
			if !strings.Contains(result.Title, "(invented)") {
				t.Errorf("%q does not say that it is invented", result.Title)
			}
			for _, f := range result.Findings {
				switch {
				case f.Severity >= finding.Defect:
					t.Errorf("%s:%d:%d: %s %s: %s", path, f.Line, f.Column, f.Severity, f.Rule, f.Message)
				case f.Severity == finding.Advice:
					t.Logf("line %d: %s: %s", f.Line, f.Rule, f.Message)
				}
			}
			if is, known := kinds[name]; !known || !is(&result) {
				t.Errorf("the plan is not of the kind that its name says")
			}
		})
	}
	for _, name := range keys(kinds) {
		if !slices.Contains(names, name) {
			t.Errorf("the good plan %s is gone", name)
		}
	}
}

// TestIssuedGoodPlansAreComplete holds that a good plan that has been issued
// leaves nothing out that a rule needs.
func TestIssuedGoodPlansAreComplete(t *testing.T) {
	c, err := New(Options{Today: today, Only: nil})
	if err != nil {
		t.Fatal(err)
	}
	issued := 0
	for _, name := range keys(kinds) {
		result := checkFile(t, c, filepath.Join(goodPlans, name+".lighting.json"))
		if result.Stage != "issued" && result.Stage != "as-built" {
			continue
		}
		issued++
		for _, u := range result.Unjudged {
			t.Errorf("%s: %s lacks %s of %v", name, u.Rule, u.Missing, u.Elements)
		}
	}
	if issued < 8 {
		t.Errorf("%d issued plans, want at least 8", issued)
	}
}
