package checker

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// placePlan has an element of every sort that a hit can speak of; invented.
const placePlan = `{
  "format": "1.0",
  "plan": {"title": "Invented: one of each", "stage": "design"},
  "units": "ft",
  "catalogue": {
    "fixtures": {"lamp": {"kind": "path", "load": "constant-power", "va": 5, "window": ["9 V", "15 V"]}},
    "cables": {"12/2": {"conductor": "12 AWG", "ampacity": "25 A"}},
    "connectors": {"gel": {"kind": "gel-lug", "resistance": "2 mohm"}},
    "transformers": {"T150": {"kind": "magnetic", "rating": "150 VA", "taps": ["12 V"], "impedance": "4 %", "commons": [{"breaker": "15 A"}]}}
  },
  "site": {
    "paths": [{"id": "walk", "centreline": [[0, 0], [0, 30]], "width": "4 ft"}],
    "stairs": [{"id": "steps", "foot": [[0, 30], [4, 30]], "head": [[0, 33], [4, 33]], "risers": 4, "rise": "6 in"}]
  },
  "transformers": [{"id": "T1", "type": "T150"}],
  "runs": [
    {"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "P1", "length": 20}, {"to": "A-2", "length": 20, "cover": "6 in"}]}
  ],
  "fixtures": [
    {"id": "P1", "type": "lamp", "at": [3, 4], "connector": "gel"},
    {"id": "A", "type": "lamp", "array": {"along": "walk", "count": 3, "side": "left"}}
  ],
  "notes": [{"text": "größer – läuft"}], "controls": [{"id": "C1", "kind": "timer"}]
}`

// place says where a hit must be shown: on which line and column, and what text
// begins there.
type place struct {
	element, field, at, text string
}

var places = []place{
	{"P1", `["at"]`, "20:40", "[3, 4]"},
	{"P1", `["at", 1]`, "20:44", "4]"},
	{"P1", `[]`, "20:5", `{"id": "P1"`},
	// A field that is not there shows the element that lacks it.
	{"P1", `["slack"]`, "20:5", `{"id": "P1"`},
	{"P1", `["drainage", "gravel"]`, "20:5", `{"id": "P1"`},
	// One of an array is its array.
	{"A-2", `["type"]`, "21:25", `"lamp"`},
	// A step of a chain is its leg.
	{"R1/A-2", `["cover"]`, "17:141", `"6 in"`},
	{"R1", `["cable"]`, "17:58", `"12/2"`},
	// A tread is its stair; a stair's own field is there.
	{"steps/2", `[]`, "13:16", `{"id": "steps"`},
	{"steps", `["rise"]`, "13:109", `"6 in"`},
	// Types of the catalogue, by name.
	{"lamp", `["window"]`, "6:88", `["9 V"`},
	{"12/2", `["ampacity"]`, "7:60", `"25 A"`},
	{"gel", `["listing"]`, "8:27", `{"kind": "gel-lug"`},
	{"T150", `["commons", 0, "breaker"]`, "9:133", `"15 A"`},
	// Sections; one that is not there shows the plan itself.
	{"controls", `[]`, "23:54", `[{"id": "C1"`},
	{"notes", `[0, "text"]`, "23:22", `"größer`},
	{"readings", `[]`, "1:1", "{"},
	{"nobody", `["at"]`, "1:1", "{"},
	// Columns count characters, not bytes: this stands behind two umlauts and a dash.
	{"C1", `["kind"]`, "23:76", `"timer"`},
}

// TestPlacesOfHits holds that element and field of a hit, in whatever way they
// are named, lead to the line and column of the right text.
func TestPlacesOfHits(t *testing.T) {
	rule := strings.NewReplacer("CONFIDENCE", "practice", "house.two-cases", "house.places", "two_cases", "places").Replace(twoCases)
	rule, _, _ = strings.Cut(rule, "hits contains")
	for i, p := range places {
		rule += fmt.Sprintf("hits contains lib.hit(%q, %s, {\"case\": \"%02d\", \"message\": \"here\"})\n\n", p.element, p.field, i)
	}
	c, err := New(Options{Today: today, RuleFolders: []Folder{{"house-rules", fstest.MapFS{"places.rego": {Data: []byte(rule)}}}}, Only: []string{"house.places"}})
	if err != nil {
		t.Fatal(err)
	}
	result, err := c.Check(context.Background(), Input{Name: "places.lighting.json", Bytes: []byte(placePlan)})
	if err != nil || len(result.Problems) > 0 || len(result.Findings) != len(places) {
		t.Fatal(err, result.Problems, len(result.Findings))
	}
	lines := strings.Split(placePlan, "\n")
	for _, f := range result.Findings {
		i, err := strconv.Atoi(f.Case)
		if err != nil {
			t.Fatal(err)
		}
		want := places[i]
		rest := string([]rune(lines[f.Line-1])[f.Column-1:])
		if at := fmt.Sprintf("%d:%d", f.Line, f.Column); at != want.at || !strings.HasPrefix(rest, want.text) {
			t.Errorf("%s %s is shown at %s, %.30s; want %s, %s", want.element, want.field, at, rest, want.at, want.text)
		}
		if f.Excerpt != lines[f.Line-1] {
			t.Errorf("%s: the excerpt is not line %d", want.element, f.Line)
		}
	}
}
