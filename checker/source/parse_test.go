package source

import "testing"

func TestParseReadsAPlan(t *testing.T) {
	doc, problems := Parse("a.lighting.json", []byte("{\r\n \"legs\": [{\"id\": \"w1\", \"cover\": \"6 in\"}, 2.50, true, null]}\n"), Limits{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	place := doc.Locate("/legs/0/cover", "/legs/1", "/legs/9", "")
	for _, want := range []struct {
		at    int
		found string
		text  string
	}{{0, "/legs/0/cover", `"6 in"`}, {1, "/legs/1", "2.50"}, {2, "/legs", "["}, {3, "", string(doc.Bytes()[:len(doc.Bytes())-1])}} {
		mark := place[want.at].Mark()
		if got := string(doc.Bytes()[mark.Start:mark.End]); got != want.text || place[want.at].Found != want.found {
			t.Errorf("place %d: %q at %q, want %q at %q", want.at, got, place[want.at].Found, want.text, want.found)
		}
	}
	if got := doc.Range(place[0].Key).Start; got != (Position{2, 24}) {
		t.Errorf("key at %v", got)
	}
}
