package validate

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"duskproof/checker/source"
)

// damaged are files that do not fit testdata/garden.schema.json, and what is
// said of each: place, pointer and message. Those that do not begin with the
// format get it as their first line, so that they stand on line 2. What fits is
// decided by JSON Schema, draft 2020-12 (Core and Validation); the words are our
// own.
var damaged = []struct{ text, want string }{
	{"[]", "1:1-1:2 root: the file must be an object, not a list"},
	{"{}", `1:1-1:2 root: the file has no "format"; add it`},
	{`{"formt": "1.0"}`, `1:2-1:9 /formt: "formt" is not a property of the file; did you mean "format"?`},
	{`{"format": "1.0", "//x": 1, "legs": [{"id": "w1", "cable": "12/2", "//": [null]}]}`, ""},
	{`{"format": "2.0"}`, `1:12-1:17 /format: "format" must be "1.0", not "2.0"`},
	{`{"format": 1.0}`, `1:12-1:15 /format: "format" must be "1.0", not 1.0`},
	{`{"date": "2026-02-30"}`, `2:10-2:22 /date: "date" is "2026-02-30", which cannot be read; expected: a date, year-month-day; for example "2026-05-04"`},
	{`{"date": 2026}`, `2:10-2:14 /date: "date" must be text, such as "2026-05-04", not the number 2026; put it in double quotes`},
	{`{"stage": "isued"}`, `2:11-2:18 /stage: "stage" is "isued"; did you mean "issued"? It may be "design" or "issued"`},
	{`{"stage": "ready"}`, `2:11-2:18 /stage: "stage" is "ready"; it must be "design" or "issued"`},
	{`{"stage": "Issued"}`, `2:11-2:19 /stage: "stage" is "Issued"; did you mean "issued"? It may be "design" or "issued"`},
	{`{"stage": null}`, `2:11-2:15 /stage: "stage" must be text, not null; leave it out when it is not known`},
	{`{"notes": ["a", "", "b", "a"]}`, `2:11-2:12 /notes: "notes" has 4 entries; it needs at most 3` + "\n" +
		`2:17-2:19 /notes/1: entry 2 of "notes" is empty; write something` + "\n" +
		`2:26-2:29 /notes/3: entry 4 of "notes" repeats entry 1; keep one of the two`},
	{`{"notes": ["a name that is long"]}`, `2:12-2:33 /notes/0: entry 1 of "notes" has 19 characters; it needs 1 to 12`},
	{`{"notes": ["a", "b", "c", "d"]}`, `2:11-2:12 /notes: "notes" has 4 entries; it needs at most 3`},
	{`{"notes": "dig here"}`, `2:11-2:21 /notes: "notes" must be a list, not the text "dig here"; put it in square brackets`},
	{`{"legs": [{"id": "w1"}]}`, `2:11-2:12 /legs/0: leg w1 has no "cable" (cable type); add it, for example "cable": "12/2"`},
	{`{"legs": [{"cable": "12/2"}]}`, `2:11-2:12 /legs/0: entry 1 of "legs" has no "id"; add it`},
	{`{"legs": [{"id": "w1", "cabel": "12/2"}]}`, `2:24-2:31 /legs/0/cabel: "cabel" is not a property of leg w1; did you mean "cable"?`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "covr": 6}]}`, `2:41-2:47 /legs/0/covr: "covr" is not a property of leg w1; did you mean "cover"?`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "coevr": 6}]}`, `2:41-2:48 /legs/0/coevr: "coevr" is not a property of leg w1; did you mean "cover"?`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "Cover": 6}]}`, `2:41-2:48 /legs/0/Cover: "Cover" is not a property of leg w1; did you mean "cover"?`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "gfci": true}]}`, `2:41-2:47 /legs/0/gfci: "gfci" is not a property of leg w1; it belongs in an entry of "supply.receptacles"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "tilt": 3}]}`, `2:41-2:47 /legs/0/tilt: "tilt" is not a property of leg w1; it belongs inside "aim"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "volts": 3}]}`, `2:41-2:48 /legs/0/volts: "volts" is not a property of leg w1; it belongs inside "supply"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "stage": "design"}]}`, `2:41-2:48 /legs/0/stage: "stage" is not a property of leg w1; it belongs to the file`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "angle": 3}]}`, `2:41-2:48 /legs/0/angle: "angle" is not a property of leg w1; it belongs in an entry of "lights"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "zebra": 3}]}`, `2:41-2:48 /legs/0/zebra: "zebra" is not a property of leg w1; its properties are "aim", "cable", "count", "cover", "id", "level", "material", "method", "route", "sleeve", "strands" and "tag"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "x": 1, "y": 2}]}`, `2:41-2:44 /legs/0/x: "x" is not a property of leg w1; its properties are "aim", "cable", "count", "cover", "id", "level", "material", "method", "route", "sleeve", "strands" and "tag"` + "\n" +
		`2:49-2:52 /legs/0/y: "y" is not a property of leg w1; its properties are "aim", "cable", "count", "cover", "id", "level", "material", "method", "route", "sleeve", "strands" and "tag"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "aim": {"tlit": 3}}]}`, `2:49-2:55 /legs/0/aim/tlit: "tlit" is not a property of "aim" of leg w1; did you mean "tilt"?`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "aim": {"tilt": "3"}}]}`, `2:57-2:60 /legs/0/aim/tilt: "aim.tilt" of leg w1 must be a number, not the text "3"; leave out the quotes`},
	{`{"legs": [{"id": "w1", "cable": 12}]}`, `2:33-2:35 /legs/0/cable: "cable" of leg w1 must be text, such as "12/2", not the number 12; put it in double quotes`},
	{`{"legs": [{"id": 7, "cable": "12/2"}]}`, `2:18-2:19 /legs/0/id: "id" of entry 1 of "legs" must be text, not the number 7; put it in double quotes`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "cover": "6 inchs"}]}`, `2:50-2:59 /legs/0/cover: "cover" of leg w1 is "6 inchs", which cannot be read; expected: a length: a number in the plan's unit, or text with a unit; for example "6 in" or "450 mm"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "cover": "6"}]}`, `2:50-2:53 /legs/0/cover: "cover" of leg w1 is "6", which cannot be read; expected: a length: a number in the plan's unit, or text with a unit; for example "6 in" or "450 mm"; add the unit, or leave out the quotes`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "cover": "6\""}]}`, `2:50-2:55 /legs/0/cover: "cover" of leg w1 is "6\"", which cannot be read; did you mean "6 in"?`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "cover": "6'"}]}`, `2:50-2:54 /legs/0/cover: "cover" of leg w1 is "6'", which cannot be read; did you mean "6 ft"?`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "cover": "1,8 m"}]}`, `2:50-2:57 /legs/0/cover: "cover" of leg w1 is "1,8 m", which cannot be read; did you mean "1.8 m"?`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "cover": "a very long and winding text"}]}`, `2:50-2:80 /legs/0/cover: "cover" of leg w1 is "a very long and winding text", which cannot be read; expected: a length: a number in the plan's unit, or text with a unit; for example "6 in" or "450 mm"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "cover": -6}]}`, `2:50-2:52 /legs/0/cover: "cover" of leg w1 is -6; it must be at least 0`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "cover": true}]}`, `2:50-2:54 /legs/0/cover: "cover" of leg w1 must be a number or text, such as "6 in" or "450 mm", not true`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "cover": null}]}`, `2:50-2:54 /legs/0/cover: "cover" of leg w1 must be a number or text, such as "6 in" or "450 mm", not null; leave it out when it is not known`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "cover": ["6 in"]}]}`, `2:50-2:51 /legs/0/cover: "cover" of leg w1 must be a number or text, such as "6 in" or "450 mm", not a list`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "method": "burried"}]}`, `2:51-2:60 /legs/0/method: "method" of leg w1 is "burried"; did you mean "buried"? It may be "buried", "sleeved" or "surface"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "method": "ploughed"}]}`, `2:51-2:61 /legs/0/method: "method" of leg w1 is "ploughed"; it must be "buried", "sleeved" or "surface"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "method": 3}]}`, `2:51-2:52 /legs/0/method: "method" of leg w1 is 3; it must be "buried", "sleeved" or "surface"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "route": [[1, 2], [3], [4, 5, 6], "x"]}]}`, `2:59-2:60 /legs/0/route/1: entry 2 of "route" of leg w1 has 1 entry; it needs at least 2` + "\n" +
		`2:64-2:65 /legs/0/route/2: entry 3 of "route" of leg w1 has 3 entries; at most 2 may stand here` + "\n" +
		`2:75-2:78 /legs/0/route/3: entry 4 of "route" of leg w1 must be a list, not the text "x"; put it in square brackets`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "route": [1, 2]}]}`, `2:51-2:52 /legs/0/route/0: entry 1 of "route" of leg w1 must be a list, not the number 1; put it in square brackets` + "\n" +
		`2:54-2:55 /legs/0/route/1: entry 2 of "route" of leg w1 must be a list, not the number 2; put it in square brackets`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "route": [["1", 2]]}]}`, `2:52-2:55 /legs/0/route/0/0: entry 1 of entry 1 of "route" of leg w1 must be a number, not the text "1"; leave out the quotes`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "sleeve": true}]}`, `2:41-2:49 /legs/0/sleeve: leg w1 has "sleeve", which needs "material" beside it, for example "material": "PVC"`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "sleeve": "yes", "material": "PVC"}]}`, `2:51-2:56 /legs/0/sleeve: "sleeve" of leg w1 must be true or false, not the text "yes"; write true, without quotes`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "sleeve": "False", "material": "PVC"}]}`, `2:51-2:58 /legs/0/sleeve: "sleeve" of leg w1 must be true or false, not the text "False"; write false, without quotes`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "strands": 0}]}`, `2:52-2:53 /legs/0/strands: "strands" of leg w1 is 0; it must be at least 1`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "strands": 8}]}`, `2:52-2:53 /legs/0/strands: "strands" of leg w1 is 8; it must be a multiple of 7`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "count": 2.5}]}`, `2:50-2:53 /legs/0/count: "count" of leg w1 must be a whole number, such as 3, not the number 2.5`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "count": 10}]}`, `2:50-2:52 /legs/0/count: "count" of leg w1 is 10; it must be less than 10`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "count": "3"}]}`, `2:50-2:53 /legs/0/count: "count" of leg w1 must be a whole number, such as 3, not the text "3"; leave out the quotes`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "tag": "abc"}]}`, `2:48-2:53 /legs/0/tag: "tag" of leg w1 is "abc", which is not in the form it should have`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "tag": 5}]}`, `2:48-2:49 /legs/0/tag: "tag" of leg w1 must be text or null, not the number 5`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "level": "fulll"}]}`, `2:50-2:57 /legs/0/level: "level" of leg w1 is "fulll"; did you mean "full"?`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "level": "bright"}]}`, `2:50-2:58 /legs/0/level: "level" of leg w1 is "bright", which cannot be read; expected: a share of full light`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "level": 140}]}`, `2:50-2:53 /legs/0/level: "level" of leg w1 is 140; it must be at most 100`},
	{`{"legs": [{"id": "w1", "cable": "12/2", "level": []}]}`, `2:50-2:51 /legs/0/level: "level" of leg w1 must be a number or text, not a list`},
	{`{"legs": [7, null, "w1"]}`, `2:11-2:12 /legs/0: entry 1 of "legs" must be an object, not the number 7` + "\n" +
		`2:14-2:18 /legs/1: entry 2 of "legs" must be an object, not null; leave it out when it is not known` + "\n" +
		`2:20-2:24 /legs/2: entry 3 of "legs" must be an object, not the text "w1"`},
	{`{"legs": {"id": "w1", "cable": "12/2"}}`, `2:10-2:11 /legs: "legs" must be a list, not an object`},
	{`{"supply": {"volts": 0}}`, `2:22-2:23 /supply/volts: "supply.volts" is 0; it must be more than 0`},
	{`{"supply": {"volts": 1e300}}`, `2:22-2:27 /supply/volts: "supply.volts" is 1e300; it must be at most 1000`},
	{`{"supply": {"volts": "120"}}`, `2:22-2:27 /supply/volts: "supply.volts" must be a number, such as 120, not the text "120"; leave out the quotes`},
	{`{"supply": {"receptacles": [{"id": "RC1", "hight": "18 in"}]}}`, `2:43-2:50 /supply/receptacles/0/hight: "hight" is not a property of receptacle RC1; did you mean "height"?`},
	{`{"supply": {"receptacles": [{"id": "RC1", "height": "18 inches", "gfci": "yes"}]}}`, `2:53-2:64 /supply/receptacles/0/height: "height" of receptacle RC1 is "18 inches", which cannot be read; did you mean "18 in"?` + "\n" +
		`2:74-2:79 /supply/receptacles/0/gfci: "gfci" of receptacle RC1 must be true or false, not the text "yes"; write true, without quotes`},
	{`{"cables": {"12/2": {}}}`, `2:21-2:22 /cables/12~12: cable type 12/2 has no "conductor"; add it, for example "conductor": "12 AWG"`},
	{`{"cables": {"12/2": {"conductor": "12"}}}`, `2:35-2:39 /cables/12~12/conductor: "conductor" of cable type 12/2 is "12", which cannot be read; write it like "12 AWG"`},
	{`{"cables": {"12/2": {"conductor": 12}}}`, `2:35-2:37 /cables/12~12/conductor: "conductor" of cable type 12/2 must be text, such as "12 AWG", not the number 12; put it in double quotes`},
	{`{"cables": {"näme 1/2~": {"conductor": "12 AWG"}}}`, `2:13-2:24 /cables/näme 1~12~0: "näme 1/2~" cannot be a name in "cables"; expected: a name of letters and digits`},
	{`{"cables": {"abcdefghij": {"conductor": "12 AWG"}}}`, `2:13-2:25 /cables/abcdefghij: the name "abcdefghij" in "cables" has 10 characters; it needs at most 8`},
	{`{"cables": {"a": {"conductor": "12 AWG", "näme 1/2~%41": 1}}}`, `2:42-2:56 /cables/a/näme 1~12~0%41: "näme 1/2~%41" is not a property of cable type a; its only property is "conductor"`},
	{`{"cables": {"a": {"conductor": "1 AWG"}, "b": {"conductor": "1 AWG"}, "c": {"conductor": "1 AWG"}}}`, `2:12-2:13 /cables: "cables" has 3 properties; it needs at most 2`},
	{`{"lights": [{"shape": "lambrt"}]}`, `2:23-2:31 /lights/0/shape: "shape" of entry 1 of "lights" is "lambrt"; did you mean "lambert"? It may be "lambert" or "beam"`},
	{`{"lights": [{"shape": "beam"}]}`, `2:13-2:14 /lights/0: entry 1 of "lights" has no "angle"; add it, for example "angle": 36`},
	{`{"lights": [{"shape": "beam", "angle": "36", "x": 1}]}`, `2:40-2:44 /lights/0/angle: "angle" of entry 1 of "lights" must be a number, such as 36, not the text "36"; leave out the quotes` + "\n" +
		`2:46-2:49 /lights/0/x: "x" is not a property of entry 1 of "lights"; its properties are "angle" and "shape"`},
	{`{"lights": [{"shape": "lambert", "angle": 36}]}`, `2:34-2:41 /lights/0/angle: "angle" does not go with "shape": "lambert" in entry 1 of "lights"`},
	{`{"lights": [{"angle": 36}]}`, `2:13-2:14 /lights/0: entry 1 of "lights" has no "shape"; add it`},
	{`{"lights": [{}]}`, `2:13-2:14 /lights/0: entry 1 of "lights" needs "shape" or "shape" and "angle"; add one of them`},
	{`{"lights": ["stone-spot.txt"]}`, `2:13-2:29 /lights/0: entry 1 of "lights" is "stone-spot.txt", which cannot be read; expected: the name of a photometric file`},
	{`{"lights": [5]}`, `2:13-2:14 /lights/0: entry 1 of "lights" must be text or an object, not the number 5`},
	{`{"gates": [{"id": "g"}]}`, `2:12-2:13 /gates/0: gate g needs "at" or "along" and "station"; add one of them`},
	{`{"gates": [{"id": "g", "at": [0, 0], "along": "walk", "station": 3}]}`, `2:12-2:13 /gates/0: gate g has "at" as well as "along" and "station"; keep only one`},
	{`{"gates": [{"id": "g", "along": "walk"}]}`, `2:12-2:13 /gates/0: gate g needs "at" or "station"; add one of them`},
	{`{"gates": [{"id": "g", "at": [0], "hand": "left", "swing": 90}]}`, `2:30-2:31 /gates/0/at: "at" of gate g has 1 entry; it needs 2` + "\n" +
		`2:35-2:41 /gates/0/hand: "hand" cannot stand beside "swing" in gate g; keep one of the two`},
	{`{"gates": [{"id": "g", "at": [0, 1], "hand": "left", "key": "k"}]}`, `2:12-2:13 /gates/0: gate g has "hand" and "key"; they exclude each other`},
	{`{"gates": [{"id": "g", "at": [0, 1], "locked": true}]}`, `2:12-2:13 /gates/0: gate g has no "key"; add it`},
	{`{"gates": [{"id": "g", "at": [0, 1], "posts": ["latch"]}]}`, `2:47-2:48 /gates/0/posts: "posts" of gate g does not hold the entries it should: the posts, the hinge post among them`},
	{`{"😀": "🌲", "legs": [{"id": "🌲", "cable": 5}]}`, `2:2-2:5 /😀: "😀" is not a property of the file; its properties are "cables", "date", "format", "gates", "legs", "lights", "notes", "stage" and "supply"` + "\n" +
		`2:42-2:43 /legs/0/cable: "cable" of leg 🌲 must be text, such as "12/2", not the number 5; put it in double quotes`},
}

// garden compiles the schema of the tests.
func garden(t testing.TB) *Validator {
	t.Helper()
	v, err := FromFS(os.DirFS("testdata"), "garden.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// whole adds the first line to a text of the table.
func whole(text string) string {
	if strings.HasPrefix(text, "{\"") && !strings.HasPrefix(text, "{\"form") {
		return "{\"format\": \"1.0\",\n " + text[1:]
	}
	return text
}

// check reads and validates text; it must be readable.
func check(t testing.TB, v *Validator, text string) []source.Problem {
	t.Helper()
	doc, problems := source.Parse("a.lighting.json", []byte(text), source.Limits{})
	if len(problems) > 0 {
		t.Fatalf("%q: %v", text, problems)
	}
	return v.Validate(doc)
}

// brief writes problems as the table does.
func brief(problems []source.Problem) string {
	lines := make([]string, len(problems))
	for i, p := range problems {
		pointer := p.Pointer
		if pointer == "" {
			pointer = "root"
		}
		lines[i] = fmt.Sprintf("%d:%d-%d:%d %s: %s", p.Line, p.Column, p.EndLine, p.EndColumn, pointer, p.Message)
	}
	return strings.Join(lines, "\n")
}

func TestDamagedFiles(t *testing.T) {
	v := garden(t)
	for _, c := range damaged {
		if got := brief(check(t, v, whole(c.text))); got != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.text, got, c.want)
		}
	}
}

// TestOrderIsStable validates the same files again and again: the library
// reports members in an order that changes from run to run.
func TestOrderIsStable(t *testing.T) {
	v := garden(t)
	text := `{"format": "2", "zz": 1, "aa": 2, "stage": "x", "legs": [{"b": 1, "a": 2, "cover": [], "level": "x"}, {}], "lights": [{"shape": "x", "y": 1}, {"z": 1}], "gates": [{"hand": "l", "swing": 3}]}`
	want := brief(check(t, v, text))
	for range 50 {
		if got := brief(check(t, garden(t), text)); got != want {
			t.Fatalf("first\n%s\nthen\n%s", want, got)
		}
	}
}
