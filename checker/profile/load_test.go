package profile

import (
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"duskproof/rules"
	"duskproof/schema"
)

// limitIn writes an invented profile with one limit on line 2.
func limitIn(limit string) string {
	return "{\"format\": \"1.0\", \"name\": \"town\", \"title\": \"Invented town\", \"limits\": {\n  " + limit + "\n}}"
}

func TestProblemsHaveAPlaceAndAWayOut(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"unknown limit", limitIn(`"site.leaf_clearence_m": {"value": 1, "unit": "m", "basis": "house", "confidence": "practice"}`),
			`town.json:2:3: there is no limit "site.leaf_clearence_m"; did you mean "site.leaf_clearance_m"?`},
		{"wrong unit", limitIn(`"site.leaf_clearance_m": {"value": 1, "unit": "ft", "basis": "house", "confidence": "practice"}`),
			`the unit of site.leaf_clearance_m is m, not ft`},
		{"wrong kind", limitIn(`"site.leaf_clearance_m": {"flag": true, "basis": "house", "confidence": "practice"}`),
			`site.leaf_clearance_m is a number, not a flag`},
		{"wrong word", limitIn(`"wire.drop_severity": {"text": "grave", "basis": "house", "confidence": "practice"}`),
			`wire.drop_severity cannot be "grave"; it is one of advice, defect`},
		{"code from memory", limitIn(`"site.leaf_clearance_m": {"value": 1, "unit": "m", "source": "town", "edition": "1", "clause": "1", "basis": "code", "confidence": "memory"}`),
			`site.leaf_clearance_m is from memory, so its basis cannot be code`},
		{"code from practice", limitIn(`"site.leaf_clearance_m": {"value": 1, "unit": "m", "source": "town", "edition": "1", "clause": "1", "basis": "code", "confidence": "practice"}`),
			`rests on practice, so its basis cannot be code`},
		{"code without clause", limitIn(`"site.leaf_clearance_m": {"value": 1, "unit": "m", "source": "town", "edition": "1", "basis": "code", "confidence": "single"}`),
			`so it needs an edition, and a clause or a topic`},
		{"code without source", limitIn(`"site.leaf_clearance_m": {"value": 1, "unit": "m", "basis": "code", "confidence": "single"}`), `source`},
		{"no unit", limitIn(`"site.leaf_clearance_m": {"value": 1, "basis": "house", "confidence": "practice"}`), `unit`},
		{"no value", limitIn(`"site.leaf_clearance_m": {"unit": "m", "basis": "house", "confidence": "practice"}`), `town.json:2:`},
		{"two values", limitIn(`"site.leaf_clearance_m": {"value": 1, "flag": true, "unit": "m", "basis": "house", "confidence": "practice"}`), `town.json:2:`},
		{"unknown field", limitIn(`"site.leaf_clearance_m": {"value": 1, "units": "m", "unit": "m", "basis": "house", "confidence": "practice"}`), `units`},
		{"twice", limitIn(`"site.leaf_clearance_m": {"value": 1, "unit": "m", "basis": "house", "confidence": "practice"}, "site.leaf_clearance_m": {}`), `stands twice`},
		{"another name", strings.Replace(limitIn(""), "town", "city", 1), `the profile is called "city", but its file is town.json`},
		{"not JSON", `{"format": `, `town.json:1:`},
		{"other format", `{"format": "2.0", "name": "town", "title": "Invented", "limits": {}}`, `town.json:1:12`},
	} {
		_, problems := bundled(t).WithFile("town.json", []byte(c.text))
		if len(problems) == 0 {
			t.Errorf("%s: no problem", c.name)
			continue
		}
		var all []string
		for _, p := range problems {
			all = append(all, p.String())
		}
		if text := strings.Join(all, "\n"); !strings.Contains(text, c.want) {
			t.Errorf("%s: got\n%s\nwant %s", c.name, text, c.want)
		}
	}
}

func TestHouseLimitsAndComments(t *testing.T) {
	set, problems := bundled(t).WithFile("house/town.json", []byte(limitIn(
		`"//": "ours", "house.bench_m": {"//": "measured", "value": 1.5, "unit": "m", "basis": "house", "confidence": "practice"}`)))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	limits, err := set.Stack([]string{"town"})
	if err != nil {
		t.Fatal(err)
	}
	if got, ok := limits.Number("house.bench_m"); !ok || got != 1.5 {
		t.Errorf("house.bench_m is %v", got)
	}
}

// What the program brings passes the checks that a stranger's profile passes, and
// reading it without them gives the same.
func TestBundledProfilesPassEveryCheck(t *testing.T) {
	folder, err := bundledFolder()
	if err != nil {
		t.Fatal(err)
	}
	checked, problems := Load(folder)
	for _, p := range problems {
		t.Error(p)
	}
	trusted := bundled(t)
	if checked == nil || !slices.Equal(checked.Names(), trusted.Names()) || !reflect.DeepEqual(checked.Meanings(), trusted.Meanings()) {
		t.Fatal("reading with and without checks gives other profiles or meanings")
	}
	for _, name := range checked.Names() {
		p, _ := checked.Profile(name)
		if q, known := trusted.Profile(name); !known || !reflect.DeepEqual(p, q) {
			t.Errorf("reading %s with and without checks differ", name)
		}
	}
}

func TestFolders(t *testing.T) {
	good := limitIn(`"site.leaf_clearance_m": {"value": 1, "unit": "m", "basis": "house", "confidence": "practice"}`)
	fsys := fstest.MapFS{
		"town.json":        {Data: []byte(good)},
		"bad.json":         {Data: []byte(`{`)},
		"lz1.json":         {Data: []byte(strings.Replace(good, "town", "lz1", 1))},
		"notes.txt":        {Data: []byte("not a profile")},
		"deeper/town.json": {Data: []byte(good)},
	}
	set, problems := bundled(t).WithFolder("house", fsys)
	if _, ok := set.Profile("town"); !ok {
		t.Error("the good profile is missing")
	}
	if len(problems) != 2 || problems[0].Name != "house/bad.json" || problems[1].Name != "house/lz1.json" {
		t.Fatalf("problems are %v", problems)
	}
	if want := `there is a profile "lz1" already (lz1.json)`; !strings.Contains(problems[1].Message, want) {
		t.Errorf("message is %q", problems[1].Message)
	}
	if _, ok := bundled(t).Profile("town"); ok {
		t.Error("adding a folder changed the set it was added to")
	}
	if _, problems := bundled(t).WithFolder("house", fstest.MapFS{}); len(problems) != 0 {
		t.Errorf("an empty folder gives %v", problems)
	}
}

func TestAFolderWithoutMeaningsIsNoSet(t *testing.T) {
	set, problems := Load(fstest.MapFS{"town.json": {Data: []byte("{}")}})
	if set != nil || len(problems) != 1 || problems[0].Name != namesFile {
		t.Errorf("got %v, %v", set, problems)
	}
}

// Any beginning of a profile is a problem or a profile, never a crash.
func TestTornProfiles(t *testing.T) {
	data, err := rules.Files.ReadFile("profiles/shore-wildlife.json")
	if err != nil {
		t.Fatal(err)
	}
	set := newSet(bundled(t).meanings)
	for n := 0; n < len(data)-1; n += 7 {
		if _, problems := set.WithFile("shore-wildlife.json", data[:n]); len(problems) == 0 {
			t.Errorf("the first %d bytes pass as a profile", n)
		}
	}
	if _, problems := set.WithFile("shore-wildlife.json", data); len(problems) > 0 {
		t.Errorf("the whole profile does not pass: %v", problems)
	}
}

// The schema and the reader know the same names.
func TestSchemaAgreesWithReader(t *testing.T) {
	data, err := schema.Files.ReadFile(schema.Profile)
	if err != nil {
		t.Fatal(err)
	}
	var tree struct {
		Properties map[string]any `json:"properties"`
		Defs       map[string]struct {
			Properties map[string]struct {
				Enum []string `json:"enum"`
			} `json:"properties"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	inSchema := slices.DeleteFunc(slices.Sorted(maps.Keys(tree.Properties)), func(name string) bool {
		return name == "$schema" || name == "format"
	})
	if got := tags(reflect.TypeFor[profileFile]()); !slices.Equal(got, inSchema) {
		t.Errorf("the reader knows %v, the schema %v", got, inSchema)
	}
	limit := tree.Defs["limit"].Properties
	if got, want := tags(reflect.TypeFor[limitFile]()), slices.Sorted(maps.Keys(limit)); !slices.Equal(got, want) {
		t.Errorf("of a limit the reader knows %v, the schema %v", got, want)
	}
	if got, want := limit["confidence"].Enum, []string{Confirmed, Single, Memory, Practice}; !slices.Equal(got, want) {
		t.Errorf("the schema knows the confidences %v, the reader %v", got, want)
	}
}

// tags returns the names in the json tags of a struct, sorted.
func tags(of reflect.Type) []string {
	var names []string
	for i := range of.NumField() {
		names = append(names, of.Field(i).Tag.Get("json"))
	}
	slices.Sort(names)
	return names
}
