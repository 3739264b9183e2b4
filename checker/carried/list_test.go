package carried

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/finding"
	"duskproof/checker/source"
)

// sample has entries out of order, one with letters that JSON must escape.
func sample() []Entry {
	return []Entry{
		{Plan: "b.lighting.json", Rule: "earth.slack", Element: "w2", Severity: finding.Defect, Expires: "2027-03-01"},
		{Plan: "a.lighting.json", Rule: "power.gfci", Element: "RC1", Severity: finding.Danger, Reason: `a "quoted" <reason>, Ünïcode`},
		{Plan: "b.lighting.json", Rule: "earth.slack", Element: "w2", Case: "under drive", Severity: finding.Advice, Reason: "known"},
	}
}

func TestWrittenListReadsBack(t *testing.T) {
	for _, entries := range [][]Entry{sample(), nil} {
		var text bytes.Buffer
		list := New("carried.json", entries)
		if err := list.Write(&text); err != nil {
			t.Fatal(err)
		}
		back, problems := Parse("carried.json", text.Bytes())
		if len(problems) > 0 {
			t.Fatalf("%v in\n%s", problems, text.String())
		}
		if !slices.Equal(back.Entries, list.Entries) {
			t.Errorf("read back %+v, want %+v", back.Entries, list.Entries)
		}
		var again bytes.Buffer
		if err := back.Write(&again); err != nil || again.String() != text.String() {
			t.Errorf("written again (%v):\n%s\nfirst:\n%s", err, again.String(), text.String())
		}
	}
}

func TestOf(t *testing.T) {
	list := New("carried.json", sample())
	for plan, want := range map[string]int{"a.lighting.json": 1, "b.lighting.json": 2, "c.lighting.json": 0, "": 0} {
		if got := list.Of(plan); len(got) != want {
			t.Errorf("%q has %d entries, want %d", plan, len(got), want)
		}
	}
	if got := new(List).Of("a"); len(got) != 0 {
		t.Errorf("an empty list has %v", got)
	}
}

// TestBeyond holds what counts as growing: a new finding, a graver one, a later
// date or none. Getting smaller is no growing.
func TestBeyond(t *testing.T) {
	old := New("", sample())
	for _, c := range []struct {
		name   string
		change func(*Entry)
		grown  bool
	}{
		{"the same", func(*Entry) {}, false},
		{"another element", func(e *Entry) { e.Element = "w9" }, true},
		{"another case", func(e *Entry) { e.Case = "under path" }, true},
		{"graver", func(e *Entry) { e.Severity = finding.Danger }, true},
		{"milder", func(e *Entry) { e.Severity = finding.Advice }, false},
		{"longer", func(e *Entry) { e.Expires = "2028-01-01" }, true},
		{"for ever", func(e *Entry) { e.Expires = "" }, true},
		{"shorter", func(e *Entry) { e.Expires = "2026-01-01" }, false},
		{"another reason", func(e *Entry) { e.Reason = "still known" }, false},
	} {
		entries := sample()
		c.change(&entries[0])
		if got := New("", entries).Beyond(old); (len(got) > 0) != c.grown {
			t.Errorf("%s: beyond the old list: %v, want %v", c.name, got, c.grown)
		}
	}
	if got := New("", sample()[:1]).Beyond(old); len(got) > 0 {
		t.Errorf("a shorter list goes beyond: %v", got)
	}
}

// unusableLists are lists that are refused, with where and what is said.
var unusableLists = map[string]string{
	`{"format": "1.0", "entries": [{"plan": "a", "rule": "earth.slack", "element": "w", "severity": "defect"}]}`:                         `1:31: the entry has no end and no reason`,
	`{"format": "1.0", "entries": [{"plan": "a", "rule": "power.gfci", "element": "w", "severity": "danger", "expires": "2027-01-01"}]}`: `1:31: a danger is carried along only with a reason`,
	`{"format": "1.0", "entries": [{"plan": "../a", "rule": "earth.slack", "element": "w", "severity": "defect", "reason": "known"}]}`:   `1:31: "../a" is not a path below this list`,
	`{"format": "1.0", "entries": [{"plan": "/a", "rule": "earth.slack", "element": "w", "severity": "defect", "reason": "known"}]}`:     `1:31: "/a" is not a path below this list`,
	`{"format": "1.0", "entries": [{"plan": "a", "rule": "earth.slack", "element": "w", "severity": "defect", "expires": "1.3.2027"}]}`:  `is "1.3.2027", which cannot be read`,
	`{"format": "1.0", "entries": [{"plan": "a", "rule": "earth.slack", "element": "w", "severity": "grave", "reason": "known"}]}`:       `"severity" of entry 1 of "entries" is "grave"`,
	`{"format": "1.0", "entries": [{"plan": "a", "rul": "earth.slack", "element": "w", "severity": "defect", "reason": "known"}]}`:       `did you mean "rule"?`,
	`{"format": "2.0", "entries": []}`: `"format" is "2.0"`,
	`{"format": "1.0"}`:                `"entries"`,
	`[]`:                               `1:1`,
	``:                                 `1:1`,
}

func TestUnusableLists(t *testing.T) {
	for text, want := range unusableLists {
		list, problems := Parse("carried.json", []byte(text))
		if list != nil || len(problems) == 0 || !strings.Contains(said(problems), want) {
			t.Errorf("%s: list %v, problems %q; want %q", text, list, said(problems), want)
		}
	}
}

func TestFindingIsListedOnce(t *testing.T) {
	const entry = `{"plan": "a", "rule": "earth.slack", "element": "w", "severity": "defect", "reason": "known"}`
	_, problems := Parse("carried.json", []byte(`{"format": "1.0", "entries": [`+entry+",\n"+entry+`]}`))
	if want := "carried.json:2:1: this finding is in the list already, as entry 1"; said(problems) != want {
		t.Errorf("problems %q, want %q", said(problems), want)
	}
}

func said(problems []source.Problem) string {
	lines := make([]string, len(problems))
	for i, p := range problems {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// FuzzParse holds that no bytes break the reader, and that what it accepts it
// writes and reads back.
func FuzzParse(f *testing.F) {
	for text := range unusableLists {
		f.Add([]byte(text))
	}
	var text bytes.Buffer
	if err := New("", sample()).Write(&text); err != nil {
		f.Fatal(err)
	}
	f.Add(text.Bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		list, problems := Parse("carried.json", data)
		if (list == nil) == (len(problems) == 0) {
			t.Fatalf("list %v with problems %v", list, problems)
		}
		if list == nil {
			return
		}
		var text bytes.Buffer
		if err := list.Write(&text); err != nil {
			t.Fatal(err)
		}
		back, problems := Parse("carried.json", text.Bytes())
		if len(problems) > 0 || !slices.Equal(back.Entries, list.Entries) {
			t.Fatalf("%v; read back %v, want %v", problems, back, list)
		}
	})
}
