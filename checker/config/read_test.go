package config

import (
	"encoding/json"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"duskproof/checker/finding"
	"duskproof/schema"
)

// whole uses every field; it is invented.
const whole = `{
  "format": "1.0",
  "//": "invented",
  "profile_folders": ["house/profiles"],
  "rule_folders": ["house/rules"],
  "profiles": ["lz1"],
  "rules": {
    "//": "agreed in May",
    "light.glare": {"severity": "off", "reason": "We judge glare on site, at dusk."},
    "earth.slack": {"severity": "defect"}
  },
  "limits": {
    "site.leaf_clearance_m": {"value": 0.45, "reason": "Our gates are heavy."},
    "wire.drop_severity": {"value": "defect", "reason": "House style."},
    "power.gfci_required": {"value": true, "reason": "Always."},
    "earth.cover": {"value": {"all": 0.3}, "reason": "Rabbits."}
  },
  "hold": "advice",
  "fixes": "hint",
  "carried": "house/carried.json",
  "paths": [
    {"match": "drafts/", "hold": "danger", "fixes": "none"},
    {"match": "clients/*/shore-*", "profiles": ["shore-wildlife"],
     "rules": {"earth.slack": {"severity": "off", "reason": "Rock."}},
     "limits": {"site.leaf_clearance_m": {"value": 0.6, "reason": "Wind."}}}
  ]
}`

// parsed reads settings that have no problem.
func parsed(t *testing.T, text string) *Config {
	t.Helper()
	c, problems := Parse(FileName, []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return c
}

func TestEveryFieldIsRead(t *testing.T) {
	c := parsed(t, whole)
	if !slices.Equal(c.ProfileFolders, []string{"house/profiles"}) || !slices.Equal(c.RuleFolders, []string{"house/rules"}) {
		t.Errorf("folders are %v and %v", c.ProfileFolders, c.RuleFolders)
	}
	b := c.Base
	if !slices.Equal(b.Profiles, []string{"lz1"}) || b.Hold != finding.Advice || b.Fixes != "hint" || b.Carried != "house/carried.json" {
		t.Errorf("the base is %+v", b)
	}
	if len(b.Rules) != 2 || b.Rules[0].ID != "earth.slack" || b.Rules[0].Severity != finding.Defect || b.Rules[0].Off ||
		!b.Rules[1].Off || b.Rules[1].Reason == "" || b.Rules[1].Line != 9 || b.Rules[1].Pointer != "/rules/light.glare" {
		t.Errorf("rules are %+v", b.Rules)
	}
	if len(b.Limits) != 4 || b.Limits[0].Table["all"] != 0.3 || !*b.Limits[1].Flag || *b.Limits[2].Number != 0.45 || b.Limits[3].Text != "defect" {
		t.Errorf("limits are %+v", b.Limits)
	}
	if len(c.Paths) != 2 || c.Paths[0].Hold != finding.Danger || c.Paths[1].Rules[0].Pointer != "/paths/1/rules/earth.slack" {
		t.Errorf("paths are %+v", c.Paths)
	}
}

func TestProblemsHaveAPlace(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"unknown field", `{"format": "1.0", "profile": ["lz1"]}`, `.duskproof.json:1:19: `},
		{"did you mean", `{"format": "1.0", "profile": ["lz1"]}`, `"profiles"`},
		{"severity", `{"format": "1.0", "hold": "grave"}`, `.duskproof.json:1:27: `},
		{"other format", `{"format": "2.0"}`, `.duskproof.json:1:12: `},
		{"climbs out", `{"format": "1.0", "rule_folders": ["../rules"]}`, `"../rules" is not a path inside the repository`},
		{"from the disk", `{"format": "1.0", "profile_folders": ["/etc"]}`, `"/etc" is not a path inside the repository`},
		{"a drive", `{"format": "1.0", "carried": "c:\\carried.json"}`, `is not a path inside the repository`},
		{"pattern", "{\"format\": \"1.0\",\n \"paths\": [{\"match\": \"a/[b\"}]}", `.duskproof.json:2:22: the pattern "a/[b" cannot be used: a [ has no matching ]`},
		{"limit without reason", `{"format": "1.0", "limits": {"light.step_low_lx": {"value": 3}}}`, `reason`},
		{"blank reason", `{"format": "1.0", "limits": {"light.step_low_lx": {"value": 3, "reason": "     "}}}`, `.duskproof.json:1:74: `},
		{"limit without value", `{"format": "1.0", "limits": {"light.step_low_lx": {"value": null, "reason": "why not"}}}`, `.duskproof.json:1:61: `},
		{"rule twice", `{"format": "1.0", "rules": {"a.b": {"severity": "off"}, "a.b": {"severity": "advice"}}}`, `stands twice`},
		{"torn", `{"format": "1.0", `, `.duskproof.json:1:`},
		{"empty", ``, `.duskproof.json:1:1: `},
	} {
		got, problems := Parse(FileName, []byte(c.text))
		if got != nil || len(problems) == 0 {
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

func TestTornSettings(t *testing.T) {
	for n := range len(whole) - 1 {
		if c, problems := Parse(FileName, []byte(whole[:n])); c != nil || len(problems) == 0 {
			t.Errorf("the first %d bytes pass as settings", n)
		}
	}
}

func TestLoad(t *testing.T) {
	c, problems := Load(fstest.MapFS{})
	if c == nil || len(problems) > 0 || c.Name != "" {
		t.Fatalf("no file gives %v, %v", c, problems)
	}
	if got := c.Effective("a.lighting.json"); got.Hold != DefaultHold || len(got.Rules) > 0 {
		t.Errorf("without a file the settings are %+v", got)
	}
	c, problems = Load(fstest.MapFS{FileName: {Data: []byte(whole)}})
	if len(problems) > 0 || c.Name != FileName {
		t.Errorf("got %v, %v", c, problems)
	}
	if _, problems = Load(fstest.MapFS{FileName + "/x": {}}); len(problems) != 1 {
		t.Errorf("a folder in the file's place gives %v", problems)
	}
}

// The schema and the reader know the same names.
func TestSchemaAgreesWithReader(t *testing.T) {
	data, err := schema.Files.ReadFile(schema.Config)
	if err != nil {
		t.Fatal(err)
	}
	type object struct {
		Properties map[string]any `json:"properties"`
	}
	var tree struct {
		object
		Defs map[string]object `json:"$defs"`
	}
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	layer := tags(reflect.TypeFor[layerWritten]())
	for _, c := range []struct {
		name   string
		reader []string
		schema object
	}{
		{"file", append(layer, "$schema", "format", "paths", "profile_folders", "rule_folders"), tree.object},
		{"path", append(layer, "match"), tree.Defs["path"]},
	} {
		got, want := slices.Sorted(slices.Values(c.reader)), slices.Sorted(maps.Keys(c.schema.Properties))
		if !slices.Equal(got, want) {
			t.Errorf("%s: the reader knows %v, the schema %v", c.name, got, want)
		}
	}
}

// tags returns the names in the json tags of a struct.
func tags(of reflect.Type) []string {
	var names []string
	for i := range of.NumField() {
		names = append(names, of.Field(i).Tag.Get("json"))
	}
	return slices.Clip(names)
}
