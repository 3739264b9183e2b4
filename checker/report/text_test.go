package report

import (
	"math/rand/v2"
	"strings"
	"testing"

	"duskproof/checker/finding"
)

func textOf(t *testing.T, r *Report, o TextOptions) string {
	t.Helper()
	return written(t, "text", r, Options{Text: o})
}

// TestNoLineIsWiderThanTheTerminal holds the width at 80 and at 160 columns,
// with names that have no place to break; a path is shown whole, so that it can
// be copied.
func TestNoLineIsWiderThanTheTerminal(t *testing.T) {
	r := sample(t)
	for i := range r.Plans {
		r.Plans[i].Path, r.Plans[i].Profiles = "a.lighting.json", []string{"common"}
		r.Plans[i].Title = "Invented"
		for k := range r.Plans[i].Findings {
			f := &r.Plans[i].Findings[k]
			f.Message = strings.Repeat("long", 60) + " 漢字" + strings.Repeat("漢", 90) + " " + f.Message
			f.Excerpt = strings.Repeat(`{"id": "漢字", `, 40)
			f.Column, f.EndColumn = 200, 204
		}
		for k := range r.Plans[i].Failed {
			r.Plans[i].Failed[k].File = "house.rego"
		}
	}
	r.RuleProblems = nil
	for _, width := range []int{80, 160} {
		for line := range strings.Lines(textOf(t, r, TextOptions{Width: width})) {
			if n := columnsOf(strings.TrimSuffix(line, "\n")); n > width {
				t.Errorf("%d columns on a terminal of %d: %q", n, width, line)
			}
		}
	}
}

// TestMarkStandsUnderItsPlace holds the mark under letters of one column, of two
// and of none.
func TestMarkStandsUnderItsPlace(t *testing.T) {
	for _, c := range []struct {
		line        string
		column, end int
		marked      string
	}{
		{`  "a": "plain",`, 8, 15, `"plain"`},
		{`  "漢字": "wide",`, 9, 15, `"wide"`},
		{"  \"e\u0301e\": 12,", 10, 12, `12`},
		{"\t\t\"\x1b\": true,", 8, 12, `true`},
		{strings.Repeat("漢", 300) + `"far"`, 301, 306, `"far"`},
	} {
		r := &Report{Plans: []Plan{{Path: "p", Verdict: NoHolds, Findings: []finding.Finding{{Rule: "a.b", Severity: finding.Advice, Message: "m",
			Line: 7, Column: c.column, EndLine: 7, EndColumn: c.end, Excerpt: c.line}}}}}
		lines := strings.Split(textOf(t, r, TextOptions{Width: 80}), "\n")
		for i, line := range lines {
			_, shown, is := strings.Cut(line, "7 | ")
			if !is {
				continue
			}
			_, mark, _ := strings.Cut(lines[i+1], "| ")
			from := strings.Index(shown, c.marked)
			if from < 0 {
				t.Errorf("%q: %q does not show %s", c.line, shown, c.marked)
				continue
			}
			if have, want := len(mark)-len(strings.TrimLeft(mark, " ")), columnsOf(shown[:from]); have != want || strings.Count(mark, "^") != columnsOf(c.marked) {
				t.Errorf("%q is marked at %d by %q, want %d", shown, have, mark, want)
			}
		}
	}
}

// TestColourSaysNothingAlone holds that colour adds nothing but colour: without
// it the words are the same.
func TestColourSaysNothingAlone(t *testing.T) {
	plain, coloured := textOf(t, sample(t), TextOptions{}), textOf(t, sample(t), TextOptions{Colour: true})
	if plain == coloured {
		t.Fatal("no colour when it is asked for")
	}
	var b strings.Builder
	for i := 0; i < len(coloured); i++ {
		if coloured[i] == 0x1b {
			for coloured[i] != 'm' {
				i++
			}
			continue
		}
		b.WriteByte(coloured[i])
	}
	if b.String() != plain {
		t.Error("the words change with the colour")
	}
}

// TestManyPlansAreSummed holds that each of a few plans is named at the end, and
// of many those that need a look first.
func TestManyPlansAreSummed(t *testing.T) {
	few := textOf(t, sample(t), TextOptions{})
	for _, want := range []string{"all plans", "  not judged  b.lighting.json  1 problem", "  no holds    c.lighting.json  nothing found", "3 plans: 1 held, 1 not judged, 1 without holds"} {
		if !strings.Contains(few, want) {
			t.Errorf("no %q in %s", want, few)
		}
	}
	long := "a/folder/of/" + strings.Repeat("long", 10) + "/"
	shared := textOf(t, &Report{Plans: []Plan{{Path: long + "x/1.json", Verdict: NoHolds}, {Path: long + "xy/23.json", Verdict: NoHolds}}}, TextOptions{})
	if want := "all plans in " + long + "\n  no holds    x/1.json    nothing found\n  no holds    xy/23.json  nothing found\n"; !strings.Contains(shared, want) {
		t.Errorf("%s", shared)
	}
	many := &Report{}
	for range 100 {
		many.Plans = append(many.Plans, Plan{Path: "fine", Verdict: NoHolds})
	}
	many.Plans = append(many.Plans, Plan{Path: "bad", Verdict: Held})
	text := textOf(t, many, TextOptions{})
	_, list, _ := strings.Cut(text, "all plans")
	if !strings.Contains(list, "held        bad   nothing found\n") || !strings.Contains(list, "and 61 more") {
		t.Errorf("%s", list)
	}
	if brief := textOf(t, many, TextOptions{Brief: true}); strings.Contains(brief, "all plans") || !strings.Contains(brief, "101 plans") {
		t.Errorf("brief: %s", brief)
	}
}

// TestTextSaysEverything holds that value and limit, basis, fix, hint,
// exceptions, verdict and caution are there.
func TestTextSaysEverything(t *testing.T) {
	r := sample(t)
	r.Plans[0].Carried = []Carried{
		{Rule: "a.b", Element: "x", State: "stale"}, {Rule: "a.b", Element: "y", State: "covered", Finding: &r.Plans[0].Findings[1]},
	}
	text := textOf(t, r, TextOptions{Width: 100})
	for _, want := range []string{
		"value   312 VA, limit 300 VA", "basis   listing: ", "fix     Use more", "hint    Think again", "variance earth.slack on", "off     power.gfci, a danger rule, is switched off",
		"failed  house.slow did not judge", "unjudged earth.shallow-cable needs", "carried a.b on x is not found any more", "1 known finding on the list",
		"standing cautions", "HELD 1 danger, 1 defect, 1 advice, 1 caution", "NOT JUDGED 1 problem", "no holds nothing found", "This is a check of a plan, not an approval.",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
}

// TestViewTakesAnyPlace cuts random lines at random places, sensible or not.
func TestViewTakesAnyPlace(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 5))
	letters := []rune("ab \t漢\u0301\x1b\u202e\"{é📏")
	for range 20_000 {
		line := make([]rune, random.IntN(60))
		for i := range line {
			line[i] = letters[random.IntN(len(letters))]
		}
		column, width := random.IntN(70)-2, 10+random.IntN(60)
		v := viewOf(string(line), column, column+random.IntN(20)-3, width)
		if shown := v.before + v.mark + v.after; strings.ContainsAny(shown, "\x1b\u202e\t") {
			t.Fatalf("%q shows %q", string(line), shown)
		}
		if n := columnsOf(v.before); n > width {
			t.Fatalf("%q has %d columns before its mark, of %d", string(line), n, width)
		}
	}
}
