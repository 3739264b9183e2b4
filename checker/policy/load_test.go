package policy

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// goodMetadata is a METADATA block whose lines a test may change.
const goodMetadata = `# METADATA
# title: Cable is too shallow
# description: A spade reaches a cable that lies too shallow.
# custom:
#   id: earth.too-shallow
#   severity: defect
#   basis: code
#   source: NFPA 70-2020, table 300.5, column 5
#   confidence: confirmed
#   needs:
#     - each: legs
#       where: {method: [buried]}
#       has: [cover_m]
#   limits: [cover]
#   hint: Bury {element} deeper.
#   since: 0.1.0
package rules.earth["too-shallow"]

import data.lib

hits contains lib.hit(leg.id, ["cover"], {"message": "shallow"}) if {
	some leg in input.legs
	leg.cover_m < lib.limit("cover")
}
`

// tree makes a source of rule folders out of one file.
func tree(path, text string) Source {
	return Source{Name: "tree", FS: fstest.MapFS{path: {Data: []byte(text)}}}
}

const goodPath = "earth/too-shallow/too-shallow.rego"

func TestLoad(t *testing.T) {
	catalogue, problems := Load(tree(goodPath, goodMetadata))
	if len(problems) != 0 || len(catalogue.Rules) != 1 {
		t.Fatalf("%d rules, problems %v", len(catalogue.Rules), problems)
	}
	r, found := catalogue.Rule("earth.too-shallow")
	got := fmt.Sprintf("%v %s %s %s %s %s %v %v %s %t %s", found, r.Title, r.Severity, r.Basis, r.Source, r.Confidence,
		r.Needs, r.Limits, r.Since, r.House, r.File)
	want := "true Cable is too shallow defect code NFPA 70-2020, table 300.5, column 5 confirmed " +
		"[{legs map[method:[buried]] [cover_m]}] [cover] 0.1.0 false tree/earth/too-shallow/too-shallow.rego"
	if got != want || r.Why != "A spade reaches a cable that lies too shallow." || r.Hint != "Bury {element} deeper." {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if r.Package != "rules.earth.too-shallow" || r.Folder != "earth/too-shallow" || r.Native {
		t.Errorf("package %s, folder %s, native %t", r.Package, r.Folder, r.Native)
	}
}

// TestMetadataProblems holds that each mistake in metadata is reported at its
// line, and that the rule is then left out.
func TestMetadataProblems(t *testing.T) {
	cases := map[string]struct {
		old, new, problem string
	}{
		"no block":         {"# METADATA\n", "#\n", ":17:1: the package has no METADATA block"},
		"no title":         {"# title: Cable is too shallow\n", "", `:1:1: the metadata has no "title"; add it, for example "title": "Cable`},
		"title with stop":  {"too shallow\n", "too shallow.\n", `:2:3: "title" is "Cable is too shallow.", which cannot be read; expected: one line`},
		"short why":        {"A spade reaches a cable that lies too shallow.", "Bad.", `:3:3: "description" has 4 characters; it needs 20 to 1500`},
		"other id":         {"id: earth.too-shallow", "id: earth.shallow", `:5:5: id is "earth.shallow", but the place of the rule says "earth.too-shallow"`},
		"no id":            {"#   id: earth.too-shallow\n", "", `:1:1: the metadata has no "id" (identifier); add it`},
		"bad family":       {"id: earth.too-shallow", "id: soil.too-shallow", `:5:5: "id" is "soil.too-shallow", which cannot be read; expected: family.slug`},
		"bad severity":     {"severity: defect", "severity: fatal", `:6:5: "severity" is "fatal"; it must be "danger", "defect", "advice" or "caution"`},
		"bad basis":        {"basis: code", "basis: law", `:7:5: "basis" is "law"; it must be "code"`},
		"bad confidence":   {"confidence: confirmed", "confidence: sure", `:9:5: "confidence" is "sure"; it must be "confirmed"`},
		"unknown field":    {"severity: defect", "severity: defect\n#   severtiy: danger", `:7:5: "severtiy" is not a property of the metadata; did you mean "severity"?`},
		"unknown in need":  {"has: [cover_m]", "has: [cover_m]\n#       wehre: {}", `:10:5: "wehre" is not a property of entry 1 of "needs"; did you mean "where"?`},
		"need without has": {"#       has: [cover_m]\n", "", `:10:5: entry 1 of "needs" has no "has" (fields); add it`},
		"bad yaml":         {"severity: defect", "severity: [defect", ":6:1: yaml:"},
		"bad hint":         {"{element} deeper", "{elment} deeper", ":15:5: hint: nothing replaces {elment}; what is replaced is {element}, {case}, {value}, {limit}"},
		"bad since":        {"since: 0.1.0", "since: soon", `:16:5: "since" is "soon", which cannot be read; expected: the version`},
		"other folder":     {`rules.earth["too-shallow"]`, `rules.earth.shallow`, ":17:1: package rules.earth.shallow belongs in the folder earth/shallow"},
		"other package":    {`rules.earth["too-shallow"]`, `earth`, ":17:1: a rule's package is rules.<family>.<slug>; this one is earth"},
		"no parse":         {"leg.cover_m <", "leg.cover_m <>", ":23:15: unexpected gt token"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			text := strings.Replace(goodMetadata, c.old, c.new, 1)
			if text == goodMetadata {
				t.Fatal("nothing was changed")
			}
			catalogue, problems := Load(tree(goodPath, text))
			if len(catalogue.Rules) != 0 || len(problems) == 0 {
				t.Fatalf("%d rules, %d problems", len(catalogue.Rules), len(problems))
			}
			if got := problems[0].Error(); !strings.HasPrefix(got, "tree/"+goodPath+c.problem) {
				t.Errorf("got  %v\nwant %s", problems, c.problem)
			}
			if problems[0].Line > 0 && problems[0].Excerpt != strings.Split(text, "\n")[problems[0].Line-1] {
				t.Errorf("the excerpt is %q", problems[0].Excerpt)
			}
		})
	}
}

// TestNativeRule holds that a rule written in Go is loaded from its meta.json.
func TestNativeRule(t *testing.T) {
	const good = `{
  "id": "wire.excess-drop", "title": "Voltage drop is large",
  "why": "Lamps at the far end of the run are dim.", "severity": "advice", "basis": "practice",
  "source": "common practice, no source", "confidence": "practice",
  "needs": [{"each": "fixtures", "has": ["drop_share"]}],
  "hint": "Use a larger cable."
}`
	catalogue, problems := Load(tree("wire/excess-drop/meta.json", good))
	if len(problems) != 0 || len(catalogue.Rules) != 1 || !catalogue.Rules[0].Native {
		t.Fatalf("%v %v", catalogue.Rules, problems)
	}
	program, problems := catalogue.Compile(Options{Facts: factsSchema(t)})
	if len(problems) != 0 || len(program.Rules()) != 0 {
		t.Errorf("compiled %v, %v", program.Rules(), problems)
	}
	for _, c := range []struct{ old, new, problem string }{
		{`"advice"`, `"bad"`, `:3:55: "severity" is "bad"; it must be "danger"`},
		{`"wire.excess-drop"`, `"wire.drop"`, `:2:4: id is "wire.drop"`},
		{`"hint"`, `"hnit"`, `:6:4: "hnit" is not a property of the metadata; did you mean "hint"?`},
		{`"id": `, `"id" `, ":2:8: is not a JSON object"},
	} {
		text := strings.Replace(good, c.old, c.new, 1)
		_, problems := Load(tree("wire/excess-drop/meta.json", text))
		if text != good && (len(problems) == 0 || !strings.Contains(problems[0].Error(), "meta.json"+c.problem)) {
			t.Errorf("%s: got %v, want %s", c.new, problems, c.problem)
		}
	}
}

// TestDuplicateID holds that an id may be used once only, wherever its rules
// come from.
func TestDuplicateID(t *testing.T) {
	first := House("first", fstest.MapFS{"a.rego": {Data: []byte(header("lamp-on-gate") + withLibrary(goodBody))}})
	second := House("second", fstest.MapFS{"deep/b.rego": {Data: []byte(header("lamp-on-gate") + withLibrary(goodBody))}})
	catalogue, problems := Load(first, second)
	if len(catalogue.Rules) != 1 || len(problems) != 1 {
		t.Fatalf("%d rules, problems %v", len(catalogue.Rules), problems)
	}
	want := "second/deep/b.rego:5:5: rule id house.lamp-on-gate is taken: it is defined in first/a.rego"
	if got := problems[0].Error(); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// TestHouseFolder holds what counts as a rule in a user's folder, read through
// a confined root.
func TestHouseFolder(t *testing.T) {
	folder := t.TempDir()
	write := func(name, text string) {
		path := filepath.Join(folder, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	outside := filepath.Join(t.TempDir(), "outside.rego")
	if err := os.WriteFile(outside, []byte(header("outside")+withLibrary(goodBody)), 0o644); err != nil {
		t.Fatal(err)
	}
	write("lamps/on_gate.rego", header("on-gate")+withLibrary(goodBody))
	write("lamps/on_gate_test.rego", "package house.on_gate_test\n\ntest_nothing if false\n")
	write("shared/words.rego", "package house.lib.words\n\nfew := 3\n")
	write(".git/hidden.rego", "not rego")
	write("notes.txt", "not rego")
	if err := os.Symlink(outside, filepath.Join(folder, "link.rego")); err != nil {
		t.Skipf("this system makes no symbolic links: %v", err)
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	catalogue, problems := Load(House("rules-of-ours", root.FS()))
	if len(catalogue.Rules) != 1 || catalogue.Rules[0].ID != "house.on-gate" || !catalogue.Rules[0].House {
		t.Errorf("rules are %v", catalogue.Rules)
	}
	if len(problems) != 1 || !strings.HasPrefix(problems[0].Error(), "rules-of-ours/link.rego: cannot be read:") {
		t.Errorf("a link that leads out of the folder: %v", problems)
	}
}

// TestLargeFolder holds that a folder with too much in it is cut short and said
// to be.
func TestLargeFolder(t *testing.T) {
	many, heavy := fstest.MapFS{}, fstest.MapFS{}
	for i := range maxRuleFiles + 1 {
		many[fmt.Sprintf("r%04d.rego", i)] = &fstest.MapFile{Data: []byte("package house.lib.few\n")}
	}
	for i := range maxSourceBytes/maxRuleFileBytes + 2 {
		text := "package house.lib.few\n\n#" + strings.Repeat("x", maxRuleFileBytes-30) + "\n"
		heavy[fmt.Sprintf("r%04d.rego", i)] = &fstest.MapFile{Data: []byte(text)}
	}
	for name, files := range map[string]fstest.MapFS{"many": many, "heavy": heavy} {
		_, problems := Load(House(name, files))
		want := name + ": holds more than 1000 rule files or 4 MiB of them"
		if len(problems) != 1 || problems[0].Error() != want {
			t.Errorf("got %v, want %s", problems, want)
		}
	}
}

// TestMissingFolder holds that a folder that is not there is a problem.
func TestMissingFolder(t *testing.T) {
	_, problems := Load(House("nowhere", os.DirFS(filepath.Join(t.TempDir(), "nowhere"))))
	if len(problems) != 1 || !strings.HasPrefix(problems[0].Error(), "nowhere: cannot be read: ") {
		t.Errorf("got %v", problems)
	}
	var empty fs.FS = fstest.MapFS{}
	if catalogue, problems := Load(House("empty", empty)); len(problems) != 0 || len(catalogue.Rules) != 0 {
		t.Errorf("an empty folder: %v", problems)
	}
}
