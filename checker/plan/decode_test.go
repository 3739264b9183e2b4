package plan_test

import (
	"errors"
	"testing"

	"duskproof/checker/plan"
)

func TestDecodeTakesWholeNumbersAndComments(t *testing.T) {
	doc, err := plan.Decode([]byte(`{
		"//": "a comment", "Units": "ft", "units": "m",
		"catalogue": {"//": 1, "cables": {"//": "not a cable", "12/2": {"//cores": 3, "cores": 2.0, "conductor": "12 AWG"}}},
		"site": {"stairs": [{"id": "s", "risers": 4e0, "rise": 0.15}]},
		"fixtures": [{"id": "a", "at": {"of": "s", "tread": 2.0}}, {"id": "b", "array": {"along": "w", "count": 3.0}}]}`))
	if err != nil {
		t.Fatal(err)
	}
	if doc.Units != "m" {
		t.Errorf("units %q: names are matched exactly", doc.Units)
	}
	if c := doc.Catalogue.Cables; len(c) != 1 || c["12/2"].Cores != 2 {
		t.Errorf("cables %+v", c)
	}
	if doc.Site.Stairs[0].Risers != 4 || doc.Fixtures[0].At.Tread != 2 || *doc.Fixtures[1].Array.Count != 3 {
		t.Errorf("whole numbers with a point: %+v %+v", doc.Site.Stairs[0], doc.Fixtures)
	}
	if q := doc.Site.Stairs[0].Rise; !q.Set || !q.Numeric || q.Number != 0.15 {
		t.Errorf("rise %+v", q)
	}
}

func TestDecodeErrors(t *testing.T) {
	for _, c := range []struct{ text, pointer, want string }{
		{`{"site": {"stairs": [{"risers": 4.5}]}}`, "/site/stairs/0/risers", "4.5 is not a whole number that can be used here"},
		{`{"site": {"stairs": [{"risers": 1e99}]}}`, "/site/stairs/0/risers", "1e99 is not a whole number that can be used here"},
		{`{"units": null}`, "/units", "a null cannot stand here"},
		{`{"catalogue": {"cables": {"b": 1, "a": {"cores": true}}}}`, "/catalogue/cables/a/cores", "a true or false cannot stand here"},
		{`{"catalogue": {"cables": []}}`, "/catalogue/cables", "want an object with a type under each name"},
		{`{"fixtures": [{"at": {"tapes": [{"from": 3}]}}]}`, "/fixtures/0/at/tapes/0/from", "a JSON number cannot stand here"},
		{`{"site": {"stairs": [{"rise": true}]}}`, "/site/stairs/0/rise", "want a number, or a string with a number and a unit"},
		{`{"fixtures": [{"at": [1, 2, 3]}]}`, "/fixtures/0/at", "want [x, y], have 3 numbers"},
		{`{"fixtures": [{"at": [1, {}]}]}`, "/fixtures/0/at/1", "want a number, or a string with a number and a unit"},
		{`{"fixtures": {}}`, "/fixtures", "a JSON object cannot stand here"},
		{`{"units": 3}`, "/units", "a JSON number cannot stand here"},
	} {
		_, err := plan.Decode([]byte(c.text))
		var decode *plan.DecodeError
		if !errors.As(err, &decode) {
			t.Errorf("%s: %v is no DecodeError", c.text, err)
			continue
		}
		if decode.Pointer != c.pointer || decode.Err.Error() != c.want {
			t.Errorf("%s:\n got %s\nwant %s: %s", c.text, decode, c.pointer, c.want)
		}
	}
	for _, text := range []string{"", "{", "[1", `{"units": "m"`, `{"catalogue": {"cables": {"a": {`, "\xff", `{"units":"\ud800"}`, `{"site": {"stairs": [{"rise": 1e999}]}}`} {
		if _, err := plan.Decode([]byte(text)); err == nil {
			t.Errorf("%q was decoded", text)
		}
	}
}
