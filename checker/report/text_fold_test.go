package report

import (
	"fmt"
	"strings"
	"testing"

	"duskproof/checker/finding"
)

// starved is a finding about the volts of a lamp with one proved fix.
func starved(lamp string, line int, volts float64, fixes ...string) finding.Finding {
	f := finding.Finding{
		Rule: "wire.lamp-starved", Severity: finding.Defect, Basis: finding.Listing, Source: "window", Element: lamp, Line: line, Column: 3, EndLine: line, EndColumn: 5,
		Message: fmt.Sprintf("lamp %s gets %.1f V; its window starts at 10.8 V", lamp, volts), Value: number(volts), Limit: number(10.8), Unit: "V", Excerpt: `  "a"`,
	}
	for _, text := range fixes {
		f.Fixes = append(f.Fixes, finding.Fix{Text: text, Proved: true})
	}
	return f
}

func foldedText(t *testing.T, width int, findings ...finding.Finding) string {
	t.Helper()
	r := &Report{Plans: []Plan{{Path: "garden/a.lighting.json", Verdict: Held, Findings: findings}}}
	return textOf(t, r, TextOptions{Width: width})
}

// TestRepeatsAreFolded holds that findings that say the same of other lamps, with
// the same fix, are printed once, that every lamp is named with its own value
// and line, and that the counts stay.
func TestRepeatsAreFolded(t *testing.T) {
	text := foldedText(t, 80,
		starved("L1", 11, 9.5, "Move run r to the 13 V tap; lamp L1 then gets 11.0 V"),
		starved("L11", 12, 9.5, "Move run r to the 13 V tap; lamp L11 then gets 11.2 V"),
		starved("L2", 13, 9.2, "Move run r to the 13 V tap; lamp L2 then gets 10.9 V", "Use thicker cable on leg w2"),
		starved("L3", 14, 9.1, "Use thicker cable on leg w3"),
	)
	for _, want := range []string{
		"defect wire.lamp-starved ×3 garden/a.lighting.json:11:3\n  lamp L1 gets 9.5 V",
		"  also    L11 (line 12), L2 (9.2 V, line 13)\n",
		"  fix     Move run r to the 13 V tap; lamp L1 then gets 11.0 V\n  more    some of these have another fix",
		"defect wire.lamp-starved garden/a.lighting.json:14:3\n  lamp L3 gets 9.1 V",
		"HELD 4 defects",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if strings.Count(text, "^^") != 2 || strings.Contains(text, "lamp L2 gets") {
		t.Errorf("want two excerpts and two messages:\n%s", text)
	}
}

// TestFixesOfEachAreLikewise holds that a fix that names its own element is to be
// done likewise to the others, and that one that changes a single thing is not.
func TestFixesOfEachAreLikewise(t *testing.T) {
	text := foldedText(t, 80,
		starved("d2", 11, 9.5, "Lay leg d2 deeper", "Move d2 and d4; all is then well"),
		starved("d4", 11, 9.5, "Lay leg d4 deeper", "Move d2 and d4; all is then well"),
	)
	for _, want := range []string{"  also    d4\n", "  fix     Lay leg d2 deeper; likewise d4\n", "  fix     Move d2 and d4; all is then well\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
}

// TestWhatDiffersIsNotFolded changes one part of a finding at a time.
func TestWhatDiffersIsNotFolded(t *testing.T) {
	const fix = "Move run r to the 13 V tap"
	for name, change := range map[string]func(*finding.Finding){
		"severity": func(f *finding.Finding) { f.Severity = finding.Danger },
		"rule":     func(f *finding.Finding) { f.Rule = "wire.other" },
		"source":   func(f *finding.Finding) { f.Source = "else" },
		"limit":    func(f *finding.Finding) { f.Limit = number(10) },
		"words":    func(f *finding.Finding) { f.Message += " every night" },
		"no fix":   func(f *finding.Finding) { f.Fixes = nil },
		"hint":     func(f *finding.Finding) { f.Fixes[0].Proved = false },
		"fix":      func(f *finding.Finding) { f.Fixes[0].Text = "Move run q to the 13 V tap" },
		"tap":      func(f *finding.Finding) { f.Fixes[0].Text = "Move run r to the 14 V tap" },
	} {
		other := starved("L2", 12, 9.5, fix)
		change(&other)
		if text := foldedText(t, 80, starved("L1", 11, 9.5, fix), other); strings.Contains(text, "×") || strings.Count(text, "^^") != 2 {
			t.Errorf("%s: folded\n%s", name, text)
		}
	}
}

// TestCasesOfOneElement holds that two scenes of one step are told apart.
func TestCasesOfOneElement(t *testing.T) {
	a, b := starved("upper/5", 9, 0), starved("upper/5", 9, 0)
	for scene, f := range map[string]*finding.Finding{"evening": &a, "late": &b} {
		f.Case, f.Message = scene, "tread upper/5 gets 0.0 lx in scene "+scene
	}
	if text := foldedText(t, 80, a, b); !strings.Contains(text, "×2") || !strings.Contains(text, "  also    upper/5 (late)\n") {
		t.Error(text)
	}
}

// TestPlaceFitsItsLine holds that a place is a path that can be opened, beside the
// rule where that fits, and on a line of its own for every finding of a plan where
// it does not.
func TestPlaceFitsItsLine(t *testing.T) {
	a, b := starved("L1", 11, 9.5), starved("L2", 1234567, 9.2)
	b.Message = "something else"
	if text := foldedText(t, 80, a, b); strings.Count(text, "garden/a.lighting.json:") != 2 {
		t.Error(text)
	}
	text := foldedText(t, 55, a, b)
	if strings.Count(text, "wire.lamp-starved\n  garden/a.lighting.json:") != 2 || !strings.Contains(text, "json:1234567:3\n") {
		t.Error(text)
	}
	for line := range strings.Lines(text) {
		if columnsOf(line) > 56 {
			t.Errorf("too wide: %q", line)
		}
	}
}

// TestNoLimitOfNought holds that nothing is said to have a limit of nought.
func TestNoLimitOfNought(t *testing.T) {
	p := &Plan{Units: "ft"}
	for _, c := range []struct {
		value, limit float64
		want         string
	}{{0.9144, 0, "3 ft"}, {-0.21336, 0, ""}, {0.2032, 0.4572, "8 in, limit 18 in"}} {
		f := finding.Finding{Value: number(c.value), Limit: number(c.limit), Unit: "m"}
		if have := measureLine(p, &f); have != c.want {
			t.Errorf("%g against %g: %q, want %q", c.value, c.limit, have, c.want)
		}
	}
	if have := measureLine(p, &finding.Finding{}); have != "" {
		t.Errorf("a finding without numbers: %q", have)
	}
}
