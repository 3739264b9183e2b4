package source

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// rfcDocument and rfcPointers are the example of RFC 6901, section 5.
const rfcDocument = `{
   "foo": ["bar", "baz"],
   "": 0,
   "a/b": 1,
   "c%d": 2,
   "e^f": 3,
   "g|h": 4,
   "i\\j": 5,
   "k\"l": 6,
   " ": 7,
   "m~n": 8
}`

var rfcPointers = []struct{ pointer, value string }{
	{"", rfcDocument}, {"/foo", `["bar", "baz"]`}, {"/foo/0", `"bar"`}, {"/", "0"}, {"/a~1b", "1"}, {"/c%d", "2"},
	{"/e^f", "3"}, {"/g|h", "4"}, {`/i\j`, "5"}, {`/k"l`, "6"}, {"/ ", "7"}, {"/m~0n", "8"},
}

func TestLocateExampleOfRFC6901(t *testing.T) {
	doc := mustParse(t, rfcDocument)
	for _, c := range rfcPointers {
		place := doc.Locate(c.pointer)[0]
		if got := string(doc.Bytes()[place.Value.Start:place.Value.End]); got != c.value || !place.Exists || place.Found != c.pointer {
			t.Errorf("%q leads to %q (found %q)", c.pointer, got, place.Found)
		}
		if got := Pointer(anys(Tokens(c.pointer))...); got != c.pointer {
			t.Errorf("%q comes back as %q", c.pointer, got)
		}
	}
}

// mustParse reads text, which must have no problem.
func mustParse(t testing.TB, text string) *Document {
	t.Helper()
	doc, problems := Parse("a.lighting.json", []byte(text), Limits{})
	if len(problems) > 0 {
		t.Fatalf("%q: %v", text, problems)
	}
	return doc
}

// anys makes tokens out of texts.
func anys(tokens []string) []any {
	list := make([]any, len(tokens))
	for i, token := range tokens {
		list[i] = token
	}
	return list
}

func TestPointerOfMixedTokens(t *testing.T) {
	for _, c := range []struct {
		got, want string
	}{
		{Pointer(), ""},
		{Pointer("legs", 12, "a/b~c"), "/legs/12/a~1b~0c"},
		{Pointer(json.Number("3"), int64(4)), "/3/4"},
		{Append("/legs/0", "cover"), "/legs/0/cover"},
		{Append("/legs/0"), "/legs/0"},
		{Parent("/legs/0/cover"), "/legs/0"},
		{Parent("/legs"), ""},
		{Parent(""), ""},
		{Unescape("~01~1"), "~1/"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestLocateTellsTheNearestThingThatExists(t *testing.T) {
	doc := mustParse(t, "{\n  \"legs\": [\n    {\"id\": \"w1\"},\n    [],\n    7\n  ],\n  \"1\": {\"0\": null}\n}\n")
	for _, c := range []struct {
		pointer, found, mark string
		exists               bool
		at                   Position
	}{
		{"/legs/0/id", "/legs/0/id", `"w1"`, true, Position{3, 12}},
		{"/legs/0/cover", "/legs/0", "{", false, Position{3, 5}},
		{"/legs/0/cover/deep/er", "/legs/0", "{", false, Position{3, 5}},
		{"/legs/0/id/x", "/legs/0/id", `"w1"`, false, Position{3, 12}},
		{"/legs/1/0", "/legs/1", "[", false, Position{4, 5}},
		{"/legs/2/0", "/legs/2", "7", false, Position{5, 5}},
		{"/legs/3", "/legs", "[", false, Position{2, 11}},
		{"/legs/-", "/legs", "[", false, Position{2, 11}},
		{"/legs/00", "/legs", "[", false, Position{2, 11}},
		{"/legs/+1", "/legs", "[", false, Position{2, 11}},
		{"/1/0", "/1/0", "null", true, Position{7, 14}},
		{"/nothing", "", "{", false, Position{1, 1}},
		{"legs/0/id", "/legs/0/id", `"w1"`, true, Position{3, 12}},
	} {
		place := doc.Locate(c.pointer)[0]
		mark := place.Mark()
		got := string(doc.Bytes()[mark.Start:mark.End])
		if place.Found != c.found || got != c.mark || place.Exists != c.exists || doc.Range(mark).Start != c.at {
			t.Errorf("%q: found %q, marks %q at %v, exists %v", c.pointer, place.Found, got, doc.Range(mark).Start, place.Exists)
		}
	}
}

// TestLocateEverything asks for every pointer of a document at once, and reads
// each value again from its span.
func TestLocateEverything(t *testing.T) {
	doc := mustParse(t, `{"näme 1/2~": {"a": [1, {"b": "x\u0041", "🌲": []}, null, true]}, "legs" : [ {"id":"w1"} ,{ }], "-0": -0.5e2}`)
	checkEverything(t, doc)
}

// checkEverything decodes each value of doc from its span with the standard
// library and compares it with the value that Parse made.
func checkEverything(t testing.TB, doc *Document) {
	t.Helper()
	values := map[string]any{}
	collect("", doc.Value(), values)
	pointers := slices.Sorted(maps.Keys(values))
	for i, place := range doc.Locate(pointers...) {
		text := doc.Bytes()[place.Value.Start:place.Value.End]
		if !place.Exists {
			t.Fatalf("%q was not found", pointers[i])
		}
		if got := decode(t, text); !same(got, values[pointers[i]]) {
			t.Fatalf("%q leads to %q, want %v", pointers[i], text, values[pointers[i]])
		}
		if place.HasKey {
			tokens := Tokens(pointers[i])
			if name := decode(t, doc.Bytes()[place.Key.Start:place.Key.End]); name != tokens[len(tokens)-1] {
				t.Fatalf("%q has the name %q", pointers[i], name)
			}
		}
	}
}

// collect lists every value with its pointer, which it makes in its own way.
func collect(pointer string, value any, into map[string]any) {
	into[pointer] = value
	switch v := value.(type) {
	case map[string]any:
		for name, member := range v {
			escaped := strings.ReplaceAll(strings.ReplaceAll(name, "~", "~0"), "/", "~1")
			collect(pointer+"/"+escaped, member, into)
		}
	case []any:
		for i, entry := range v {
			collect(fmt.Sprintf("%s/%d", pointer, i), entry, into)
		}
	}
}

// decode reads JSON with the standard library.
func decode(t testing.TB, text []byte) any {
	t.Helper()
	decoder := json.NewDecoder(strings.NewReader(string(text)))
	decoder.UseNumber()
	var value any
	if err := decoder.Decode(&value); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return value
}
