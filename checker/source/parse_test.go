package source

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"
)

// same compares two decoded values.
func same(a, b any) bool { return reflect.DeepEqual(a, b) }

// plan is a small plan with everything that JSON has.
const plan = "{\r\n  \"format\": \"1.0\", \"//\": \"a note 🌲\",\r\n" +
	"  \"legs\": [{\"id\": \"w1\", \"cover\": \"6 in\", \"route\": [[1, -2.5], [0.5e1, 6]]}, {\"lit\": true, \"dark\": false, \"none\": null}],\r\n" +
	"  \"text\": \"quote \\\" backslash \\\\ caf\\u00e9 \\ud83c\\udf32\", \"empty\": {}, \"list\": []\r\n}\r\n"

func TestParseDecodesAsTheStandardLibraryDoes(t *testing.T) {
	for _, text := range []string{plan, rfcDocument, "0", `"a"`, " [ ] ", "null", "-0.0", "[1E+2,1e-2]"} {
		if doc := mustParse(t, text); !same(doc.Value(), decode(t, []byte(text))) {
			t.Errorf("%q is %v", text, doc.Value())
		}
	}
}

// TestEveryTruncation cuts the plan after every byte. Nothing but white space may
// be missing from a plan that is read.
func TestEveryTruncation(t *testing.T) {
	whole := len(strings.TrimRight(plan, "\r\n"))
	for n := range plan {
		doc, problems := Parse("p", []byte(plan[:n]), Limits{})
		if (doc != nil) != (n >= whole) || (doc != nil) == (len(problems) > 0) {
			t.Fatalf("cut to %d bytes: read %v, %v", n, doc != nil, problems)
		}
		checkProblems(t, plan[:n], problems)
	}
}

// TestEveryMutation changes, removes and inserts bytes at every place, and asks
// the standard library whether the result is JSON.
func TestEveryMutation(t *testing.T) {
	for at := range len(plan) {
		for _, c := range "{}[],:\"'\\ 1a-.#/\n\t\x00\xe9" {
			for _, text := range []string{
				plan[:at] + string(c) + plan[at+1:], plan[:at] + string(c) + plan[at:], plan[:at] + plan[at+1:],
			} {
				checkAgainstStandard(t, text)
			}
		}
	}
}

// checkAgainstStandard reads text and compares with the standard library: what
// it refuses must be refused; what it reads may be refused only for what it
// overlooks (duplicate names, numbers out of range, half characters, depth).
func checkAgainstStandard(t testing.TB, text string) {
	t.Helper()
	doc, problems := Parse("p", []byte(text), Limits{})
	if (doc == nil) == (len(problems) == 0) {
		t.Fatalf("%q: document %v, problems %v", text, doc, problems)
	}
	checkProblems(t, text, problems)
	valid := utf8.ValidString(text) && json.Valid([]byte(text))
	if doc != nil && !valid {
		t.Fatalf("%q was read", text)
	}
	if doc != nil && !same(doc.Value(), decode(t, []byte(text))) {
		t.Fatalf("%q is read as %v", text, doc.Value())
	}
	if doc == nil && valid && !overlooked(problems[0].Message) {
		t.Fatalf("%q was refused: %v", text, problems)
	}
}

// overlooked says whether a message is about something that encoding/json
// accepts.
func overlooked(message string) bool {
	for _, part := range []string{"stands twice", "is too large to use", "too close to zero", "characters long", "half of a character", "nested more than", "holds more than"} {
		if strings.Contains(message, part) {
			return true
		}
	}
	return false
}

// checkProblems checks that each problem is in order, inside the text, on one
// line of printable text, and explained in our own words.
func checkProblems(t testing.TB, text string, problems []Problem) {
	t.Helper()
	lines := NewLines([]byte(text))
	for i, p := range problems {
		if i > 0 && problems[i-1].Compare(p) > 0 {
			t.Fatalf("%q: out of order: %v", text, problems)
		}
		if p.Line < 1 || p.EndLine < p.Line || p.EndLine > lines.Count() || p.Column < 1 ||
			p.EndLine == p.Line && p.EndColumn < p.Column {
			t.Fatalf("%q: no such place: %+v", text, p)
		}
		if utf8.ValidString(text) && p.Column > utf8.RuneCountInString(lines.Text(p.Line))+2 {
			t.Fatalf("%q: beyond the end of its line: %+v", text, p)
		}
		if p.Excerpt != lines.Text(p.Line) {
			t.Fatalf("%q: excerpt %q of line %d", text, p.Excerpt, p.Line)
		}
		if strings.Contains(p.Message, "not valid JSON") || strings.ContainsFunc(p.Message, func(r rune) bool { return r < ' ' || r >= 0x7F && r < 0xA0 }) {
			t.Fatalf("%q: %q", text, p.Message)
		}
	}
}

func TestLimits(t *testing.T) {
	deep := func(n int) string { return strings.Repeat("[", n) + strings.Repeat("]", n) }
	for _, c := range []struct {
		text   string
		limits Limits
		want   string
	}{
		{deep(100), Limits{}, ""},
		{deep(101), Limits{}, "p:1:101: lists and objects are nested more than 100 deep, which is the limit; a closing bracket may be missing"},
		{deep(3), Limits{MaxDepth: 2}, "p:1:3: lists and objects are nested more than 2 deep, which is the limit; a closing bracket may be missing"},
		{strings.Repeat("[", 1_000_000), Limits{}, "p:1:101: lists and objects are nested more than 100 deep, which is the limit; a closing bracket may be missing"},
		{"[1, 2, 3]", Limits{MaxBytes: 8}, "p:1:1: the file is 9 bytes long; the limit is 8 bytes. Split it into smaller files"},
		{"[1, 2, 3]", Limits{MaxBytes: 9}, ""},
		{"[1,\n2, 3]", Limits{MaxValues: 3}, "p:2:5: the file holds more than 3 values, which is the limit; split it into smaller files"},
		{"[1, 2, 3]", Limits{MaxValues: 4}, ""},
	} {
		_, problems := Parse("p", []byte(c.text), c.limits)
		got := ""
		if len(problems) > 0 {
			got = problems[0].String()
		}
		if got != c.want {
			t.Errorf("%.20q: %q, want %q", c.text, got, c.want)
		}
	}
	if got := DefaultLimits(); got.MaxBytes != 16<<20 || got.MaxDepth != 100 || got.MaxValues != 200_000 {
		t.Errorf("the default limits are %+v", got)
	}
}

func TestMistakesAreCounted(t *testing.T) {
	_, problems := Parse("p", []byte("["+strings.Repeat("1e999, ", 5000)+"1]"), Limits{})
	if len(problems) != maxMistakes {
		t.Errorf("%d impossible numbers are listed, want %d", len(problems), maxMistakes)
	}
	_, problems = Parse("p", []byte("{"+strings.Repeat(`"a": 1, `, 5000)+`"b": 1}`), Limits{})
	if len(problems) != maxMistakes {
		t.Errorf("%d repeated names are listed, want %d", len(problems), maxMistakes)
	}
}

func TestProblemAt(t *testing.T) {
	doc := mustParse(t, "{\"legs\": [\n  {\"id\": \"w1\"}]}")
	for pointer, want := range map[string]Problem{
		"/legs/0/id":    {"a.lighting.json", 2, 10, 2, 14, "m", `  {"id": "w1"}]}`, "/legs/0/id"},
		"/legs/0/cover": {"a.lighting.json", 2, 3, 2, 4, "m", `  {"id": "w1"}]}`, "/legs/0"},
	} {
		if got := doc.ProblemAt(pointer, "m"); got != want {
			t.Errorf("%s: %+v, want %+v", pointer, got, want)
		}
	}
}
