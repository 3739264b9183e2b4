package schema

import (
	"errors"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

// refused are plans that must not pass: members to add to the smallest plan,
// and the place that the validator must name.
var refused = []struct{ name, members, at string }{
	{"unknown section", `"lamps": []`, ""},
	{"unknown field", `"plan": {"title": "x", "author": "x"}`, "/plan"},
	{"title block without title", `"plan": {"stage": "design"}`, "/plan"},
	{"unknown stage", `"plan": {"title": "x", "stage": "draft"}`, "/plan/stage"},
	{"date out of the calendar", `"plan": {"title": "x", "date": "2026-02-30"}`, "/plan/date"},
	{"date the other way round", `"plan": {"title": "x", "date": "04/05/2026"}`, "/plan/date"},
	{"empty title", `"plan": {"title": ""}`, "/plan/title"},
	{"profile with a path", `"profiles": ["../secret"]`, "/profiles/0"},
	{"profile twice", `"profiles": ["a", "a"]`, "/profiles"},
	{"null section", `"site": null`, "/site"},
	{"list for a section", `"site": []`, "/site"},
	{"mains of 1e308 V", `"supply": {"volts": 1e308}`, "/supply/volts"},
	{"volts in amps", `"supply": {"volts": "120 A"}`, "/supply/volts"},
	{"negative volts", `"supply": {"volts": -120}`, "/supply/volts"},
	{"tolerance without its sign", `"supply": {"tolerance": {"low": "5 %", "high": "5 %"}}`, "/supply/tolerance/low"},
	{"tolerance with one side", `"supply": {"tolerance": {"low": "-5 %"}}`, "/supply/tolerance"},
	{"receptacle without id", `"supply": {"receptacles": [{"gfci": true}]}`, "/supply/receptacles/0"},
	{"id with a space", `"supply": {"receptacles": [{"id": "RC 1"}]}`, "/supply/receptacles/0/id"},
	{"id that begins with a hyphen", `"supply": {"receptacles": [{"id": "-RC1"}]}`, "/supply/receptacles/0/id"},
	{"id of 65 letters", `"supply": {"receptacles": [{"id": "` + strings.Repeat("a", 65) + `"}]}`, "/supply/receptacles/0/id"},
	{"yes for true", `"supply": {"receptacles": [{"id": "RC1", "gfci": "yes"}]}`, "/supply/receptacles/0/gfci"},
	{"fixture type without load", `"catalogue": {"fixtures": {"a": {"kind": "path"}}}`, "/catalogue/fixtures/a"},
	{"fixture type of unknown kind", `"catalogue": {"fixtures": {"a": {"kind": "laser", "load": "filament"}}}`, "/catalogue/fixtures/a/kind"},
	{"window of one voltage", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "window": ["9 V"]}}}`, "/catalogue/fixtures/a/window"},
	{"power factor above 1", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "constant-power", "power_factor": 1.2}}}`, "/catalogue/fixtures/a/power_factor"},
	{"negative watts", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "watts": -4}}}`, "/catalogue/fixtures/a/watts"},
	{"IP code with a space", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "ip": "IP 65"}}}`, "/catalogue/fixtures/a/ip"},
	{"unknown listing", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "listing": ["waterproof"]}}}`, "/catalogue/fixtures/a/listing/0"},
	{"beam without its angle", `"catalogue": {"fixtures": {"a": {"kind": "spot", "load": "filament", "light": {"shape": "beam"}}}}`, "/catalogue/fixtures/a/light"},
	{"ring with a beam angle", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "light": {"shape": "downward-ring", "beam_angle": 30}}}}`, "/catalogue/fixtures/a/light/shape"},
	{"shape and file", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "light": {"shape": "lambert", "file": "a.ies"}}}}`, "/catalogue/fixtures/a/light/shape"},
	{"light of nothing", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "light": {}}}}`, "/catalogue/fixtures/a/light"},
	{"file above the plan", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "light": {"file": "../a.ies"}}}}`, "/catalogue/fixtures/a/light/file"},
	{"file from the root", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "light": {"file": "/etc/a.ies"}}}}`, "/catalogue/fixtures/a/light/file"},
	{"file from a host", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "light": {"file": "file://h/a.ies"}}}}`, "/catalogue/fixtures/a/light/file"},
	{"type name with a quote", `"catalogue": {"cables": {"12\"": {"conductor": "12 AWG"}}}`, "/catalogue/cables"},
	{"conductor as a number", `"catalogue": {"cables": {"a": {"conductor": 12}}}`, "/catalogue/cables/a/conductor"},
	{"conductor of no size", `"catalogue": {"cables": {"a": {"conductor": "5/0 AWG"}}}`, "/catalogue/cables/a/conductor"},
	{"cable without conductor", `"catalogue": {"cables": {"a": {}}}`, "/catalogue/cables/a"},
	{"colour of 27 K", `"catalogue": {"fixtures": {"a": {"kind": "path", "load": "filament", "colour": {"cct": "27 K"}}}}`, "/catalogue/fixtures/a/colour/cct"},
	{"transformer type without taps", `"catalogue": {"transformers": {"a": {"kind": "magnetic", "rating": "300 VA", "taps": []}}}`, "/catalogue/transformers/a/taps"},
	{"rating in watts", `"catalogue": {"transformers": {"a": {"kind": "magnetic", "rating": "300 W", "taps": [12]}}}`, "/catalogue/transformers/a/rating"},
	{"device on a tap it does not name", `"catalogue": {"transformers": {"a": {"kind": "magnetic", "rating": 300, "taps": [12], "protection": [{"kind": "fuse", "amps": 5, "protects": "tap"}]}}}`, "/catalogue/transformers/a/protection/0"},
	{"path without width", `"site": {"paths": [{"id": "a", "centreline": [[0, 0], [1, 1]]}]}`, "/site/paths/0"},
	{"path of one point", `"site": {"paths": [{"id": "a", "centreline": [[0, 0]], "width": 4}]}`, "/site/paths/0/centreline"},
	{"negative width", `"site": {"paths": [{"id": "a", "centreline": [[0, 0], [1, 1]], "width": -4}]}`, "/site/paths/0/width"},
	{"negative width with a unit", `"site": {"paths": [{"id": "a", "centreline": [[0, 0], [1, 1]], "width": "-4 ft"}]}`, "/site/paths/0/width"},
	{"unknown unit", `"site": {"paths": [{"id": "a", "centreline": [[0, 0], [1, 1]], "width": "4 feet"}]}`, "/site/paths/0/width"},
	{"length without unit in a string", `"site": {"paths": [{"id": "a", "centreline": [[0, 0], [1, 1]], "width": "4"}]}`, "/site/paths/0/width"},
	{"length in scientific notation", `"site": {"paths": [{"id": "a", "centreline": [[0, 0], [1, 1]], "width": "1e308 ft"}]}`, "/site/paths/0/width"},
	{"fraction over zero", `"site": {"paths": [{"id": "a", "centreline": [[0, 0], [1, 1]], "width": "1/0 ft"}]}`, "/site/paths/0/width"},
	{"point of three numbers", `"site": {"paths": [{"id": "a", "centreline": [[0, 0], [1, 1, 1]], "width": 4}]}`, "/site/paths/0/centreline/1"},
	{"point of 1e300", `"site": {"paths": [{"id": "a", "centreline": [[0, 0], [1e300, 1]], "width": 4}]}`, "/site/paths/0/centreline/1/0"},
	{"one elevation and many", `"site": {"paths": [{"id": "a", "centreline": [[0, 0], [1, 1]], "width": 4, "elevation": 0, "elevations": [0, 1]}]}`, "/site/paths/0/elevations"},
	{"half a riser", `"site": {"stairs": [{"id": "a", "foot": [[0, 0], [4, 0]], "head": [[0, 3], [4, 3]], "risers": 3.5, "rise": "6 in"}]}`, "/site/stairs/0/risers"},
	{"foot of three points", `"site": {"stairs": [{"id": "a", "foot": [[0, 0], [4, 0], [5, 0]], "head": [[0, 3], [4, 3]], "risers": 3, "rise": "6 in"}]}`, "/site/stairs/0/foot"},
	{"gate that does not open", `"site": {"gates": [{"id": "a", "hinge": [0, 0], "leaf": 3, "closed_bearing": 90}]}`, "/site/gates/0"},
	{"gate that swings and slides", `"site": {"gates": [{"id": "a", "hinge": [0, 0], "leaf": 3, "closed_bearing": 90, "opens": {"towards": "left", "angle": 90}, "slides": {"bearing": 270, "travel": 3}}]}`, "/site/gates/0/slides"},
	{"bearing of 400 degrees", `"site": {"gates": [{"id": "a", "hinge": [0, 0], "leaf": 3, "closed_bearing": 400, "opens": {"towards": "left", "angle": 90}}]}`, "/site/gates/0/closed_bearing"},
	{"drive of unknown kind", `"site": {"drives": [{"id": "a", "kind": "home-drive", "outline": [[0, 0], [1, 0], [1, 1]]}]}`, "/site/drives/0/kind"},
	{"outline of two corners", `"site": {"water": [{"id": "a", "kind": "pond", "outline": [[0, 0], [1, 0]]}]}`, "/site/water/0/outline"},
	{"transformer without type", `"transformers": [{"id": "T1"}]`, "/transformers/0"},
	{"plugged in and hard wired", `"transformers": [{"id": "T1", "type": "T", "plugged_into": "RC1", "wired_to": "B1"}]`, "/transformers/0/wired_to"},
	{"growth in watts", `"transformers": [{"id": "T1", "type": "T", "growth": "20 W"}]`, "/transformers/0/growth"},
	{"run from nowhere", `"runs": [{"id": "R1"}]`, "/runs/0"},
	{"common 0", `"runs": [{"id": "R1", "from": {"transformer": "T1", "common": 0}}]`, "/runs/0/from/common"},
	{"leg without an end", `"runs": [{"id": "R1", "from": {"transformer": "T1"}, "legs": [{"id": "w1", "from": "T1"}]}]`, "/runs/0/legs/0"},
	{"leg laid in the air", `"runs": [{"id": "R1", "from": {"transformer": "T1"}, "legs": [{"id": "w1", "from": "T1", "to": "P1", "method": "aerial"}]}]`, "/runs/0/legs/0/method"},
	{"chain without a length", `"runs": [{"id": "R1", "from": {"transformer": "T1"}, "chain": [{"to": "P1"}]}]`, "/runs/0/chain/0"},
	{"place and array", `"fixtures": [{"id": "P1", "type": "a", "at": [0, 0], "array": {"along": "walk", "count": 2, "side": "left"}}]`, "/fixtures/0/array"},
	{"array by count and spacing", `"fixtures": [{"id": "P1", "type": "a", "array": {"along": "walk", "count": 2, "spacing": 3, "side": "left"}}]`, "/fixtures/0/array/spacing"},
	{"array of neither", `"fixtures": [{"id": "P1", "type": "a", "array": {"along": "walk", "side": "left"}}]`, "/fixtures/0/array"},
	{"place as a string", `"fixtures": [{"id": "P1", "type": "a", "at": "by the gate"}]`, "/fixtures/0/at"},
	{"place of nothing", `"fixtures": [{"id": "P1", "type": "a", "at": {}}]`, "/fixtures/0/at"},
	{"place in two ways", `"fixtures": [{"id": "P1", "type": "a", "at": {"along": "walk", "station": 3, "of": "lower", "tread": 1}}]`, "/fixtures/0/at/of"},
	{"tapes without a side", `"fixtures": [{"id": "P1", "type": "a", "at": {"tapes": [{"from": "T1", "distance": 3}, {"from": "T2", "distance": 3}]}}]`, "/fixtures/0/at"},
	{"three tapes", `"fixtures": [{"id": "P1", "type": "a", "at": {"tapes": [{"from": "a", "distance": 3}, {"from": "b", "distance": 3}, {"from": "c", "distance": 3}], "side": "left"}}]`, "/fixtures/0/at/tapes"},
	{"offset without a side", `"fixtures": [{"id": "P1", "type": "a", "at": {"along": "walk", "station": 3, "offset": 1}}]`, "/fixtures/0/at"},
	{"tread 0", `"fixtures": [{"id": "P1", "type": "a", "at": {"of": "lower", "tread": 0}}]`, "/fixtures/0/at/tread"},
	{"aim at two things", `"fixtures": [{"id": "P1", "type": "a", "aim": {"tree": "hawthorn", "at": [0, 0]}}]`, "/fixtures/0/aim/tree"},
	{"aim by height alone", `"fixtures": [{"id": "P1", "type": "a", "aim": {"height": 3}}]`, "/fixtures/0/aim"},
	{"level of 140 %", `"fixtures": [{"id": "P1", "type": "a", "level": "140 %"}]`, "/fixtures/0/level"},
	{"control of unknown kind", `"controls": [{"id": "C1", "kind": "magic"}]`, "/controls/0/kind"},
	{"time of 24:00", `"controls": [{"id": "C1", "kind": "timer", "off": "24:00"}]`, "/controls/0/off"},
	{"time of 7:30", `"controls": [{"id": "C1", "kind": "timer", "off": "7:30"}]`, "/controls/0/off"},
	{"level without group", `"controls": [{"id": "C1", "kind": "timer", "scenes": [{"id": "s", "on": [{"level": "40 %"}]}]}]`, "/controls/0/scenes/0/on/0"},
	{"two things bought in one", `"take_off": [{"cable": "12/2", "fixture": "a", "bought": 1}]`, "/take_off/0/fixture"},
	{"nothing bought", `"take_off": [{"bought": 1}]`, "/take_off/0"},
	{"half a fixture bought", `"take_off": [{"fixture": "a", "bought": 1.5}]`, "/take_off/0/bought"},
	{"fixtures by the foot", `"take_off": [{"fixture": "a", "bought": "3 ft"}]`, "/take_off/0/bought"},
	{"reading of nothing", `"readings": [{"id": "v", "date": "2026-06-20", "values": [{"at": "P1"}]}]`, "/readings/0/values/0"},
	{"variance without a reason", `"variances": [{"rule": "earth.slack", "element": "w2", "granted_by": "x", "until": "2027-01-01"}]`, "/variances/0"},
	{"variance without an end", `"variances": [{"rule": "earth.slack", "element": "w2", "reason": "x", "granted_by": "x"}]`, "/variances/0"},
	{"variance of no rule", `"variances": [{"rule": "everything", "element": "*", "reason": "x", "granted_by": "x", "until": "2027-01-01"}]`, "/variances/0/rule"},
	{"note without text", `"notes": [{"about": "P1"}]`, "/notes/0"},
	{"comment that is not one", `"/note": "x"`, ""},
}

func TestRefusedPlans(t *testing.T) {
	s := compileSchema(t, Plan)
	for _, c := range refused {
		value := decode(t, c.name, []byte(`{"format": "1.0", "units": "ft", `+c.members+`}`))
		places := placesOf(t, c.name, s.Validate(value))
		if len(places) > 0 && !places[c.at] {
			t.Errorf("%s: refused at %v, want %q", c.name, places, c.at)
		}
	}
}

func TestRefusedHeads(t *testing.T) {
	s := compileSchema(t, Plan)
	for _, c := range []struct{ name, text, at string }{
		{"no format", `{"units": "ft"}`, ""},
		{"no units", `{"format": "1.0"}`, ""},
		{"unknown major", `{"format": "2.0", "units": "ft"}`, "/format"},
		{"format as a number", `{"format": 1.0, "units": "ft"}`, "/format"},
		{"format without minor", `{"format": "1", "units": "ft"}`, "/format"},
		{"format with leading zero", `{"format": "1.01", "units": "ft"}`, "/format"},
		{"unit that is neither", `{"format": "1.0", "units": "feet"}`, "/units"},
		{"a list", `[]`, ""},
		{"a word", `"plan"`, ""},
		{"nothing", `null`, ""},
	} {
		places := placesOf(t, c.name, s.Validate(decode(t, c.name, []byte(c.text))))
		if len(places) > 0 && !places[c.at] {
			t.Errorf("%s: refused at %v, want %q", c.name, places, c.at)
		}
	}
}

func TestSmallestPlanIsValid(t *testing.T) {
	s := compileSchema(t, Plan)
	if err := s.Validate(decode(t, "smallest", []byte(`{"format": "1.0", "units": "m"}`))); err != nil {
		t.Error(err)
	}
}

// placesOf returns the places of the leaves of a validation error, and fails
// the test when there is none.
func placesOf(t *testing.T, name string, err error) map[string]bool {
	t.Helper()
	var invalid *jsonschema.ValidationError
	if !errors.As(err, &invalid) {
		t.Errorf("%s: not refused (%v)", name, err)
		return nil
	}
	places := map[string]bool{}
	var leaves func(e *jsonschema.ValidationError)
	leaves = func(e *jsonschema.ValidationError) {
		if len(e.Causes) == 0 {
			at, err := url.PathUnescape(e.InstanceLocation)
			if err != nil {
				t.Fatal(err)
			}
			places[at] = true
		}
		for _, cause := range e.Causes {
			leaves(cause)
		}
	}
	leaves(invalid)
	return places
}

// TestRefusedSizes holds that no list, map or text may grow without end.
func TestRefusedSizes(t *testing.T) {
	s := compileSchema(t, Plan)
	many := func(n int, one string) string { return strings.TrimSuffix(strings.Repeat(one+", ", n), ", ") }
	for _, c := range []struct {
		name, members, at string
	}{
		{"too many fixtures", `"fixtures": [` + many(20_001, `{"id": "P1", "type": "a"}`) + `]`, "/fixtures"},
		{"too many points", `"site": {"property_line": [` + many(10_001, `[0, 0]`) + `]}`, "/site/property_line"},
		{"too many profiles", `"profiles": [` + many(21, `"a"`) + `]`, "/profiles"},
		{"too long a note", `"notes": [{"text": "` + strings.Repeat("x", 4001) + `"}]`, "/notes/0/text"},
		{"too long a title", `"plan": {"title": "` + strings.Repeat("x", 201) + `"}`, "/plan/title"},
	} {
		value := decode(t, c.name, []byte(`{"format": "1.0", "units": "ft", `+c.members+`}`))
		if places := placesOf(t, c.name, s.Validate(value)); !places[c.at] {
			t.Errorf("%s: refused at %v, want %q", c.name, places, c.at)
		}
	}
}

// TestEveryListAndTextIsBounded holds that no list of the plan schema lacks a
// largest size, and no text a longest.
func TestEveryListAndTextIsBounded(t *testing.T) {
	visit(readTree(t, Plan), "", func(pointer string, node map[string]any) {
		if strings.Contains(pointer, "/examples") || strings.HasSuffix(pointer, "/properties") {
			return
		}
		if _, ok := node["items"]; ok && node["maxItems"] == nil {
			t.Errorf("%s: a list without maxItems", pointer)
		}
		if types := node["type"]; types == "number" || types == "integer" {
			if _, narrowed := node["minimum"]; !narrowed && !strings.Contains(pointer, "/dependentSchemas/") {
				t.Errorf("%s: a number without bounds", pointer)
			}
		}
		if node["type"] == "string" && node["enum"] == nil && node["maxLength"] == nil && !bounded(node["pattern"]) {
			t.Errorf("%s: a text without a longest length", pointer)
		}
	})
}

var characterClass = regexp.MustCompile(`\\.|\[[^\]]*\]`)

// bounded reports whether a pattern is anchored and repeats nothing without
// end.
func bounded(pattern any) bool {
	text, _ := pattern.(string)
	bare := characterClass.ReplaceAllString(text, "")
	return strings.HasPrefix(text, "^") && strings.HasSuffix(text, "$") && !strings.ContainsAny(bare, "*+")
}
