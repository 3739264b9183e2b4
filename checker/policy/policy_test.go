package policy

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
	"testing/fstest"

	"duskproof/schema"
)

// factsSchema is the published schema of the facts document.
func factsSchema(t testing.TB) any {
	t.Helper()
	text, err := schema.Files.ReadFile("facts.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	var decoded any
	if err := json.Unmarshal(text, &decoded); err != nil {
		t.Fatal(err)
	}
	return decoded
}

// header is a METADATA block for a house rule.
func header(slug string) string {
	return `# METADATA
# title: A rule of the house
# description: It is here to try the engine that runs rules.
# custom:
#   id: house.` + slug + `
#   severity: defect
#   basis: house
#   source: common practice, no source
#   confidence: practice
#   needs: []
#   limits: [cover]
#   hint: Change {element} until it suits.
package house.` + strings.ReplaceAll(slug, "-", "_") + "\n\n"
}

// withLibrary is a body that imports the helper library where it needs it.
func withLibrary(body string) string {
	if strings.Contains(body, "lib.") {
		return "import data.lib\n\n" + body
	}
	return body
}

// house makes a house folder of one rule for each slug and body.
func house(bodies map[string]string) Source {
	files := fstest.MapFS{}
	for slug, body := range bodies {
		files[slug+".rego"] = &fstest.MapFile{Data: []byte(header(slug) + withLibrary(body))}
	}
	return House("house-rules", files)
}

// mustCompile compiles sources that must have no problem.
func mustCompile(t testing.TB, limits Limits, sources ...Source) *Program {
	t.Helper()
	catalogue, problems := Load(sources...)
	program, more := catalogue.Compile(Options{Facts: factsSchema(t), Limits: limits})
	for _, problem := range append(problems, more...) {
		t.Errorf("%v\n%s", problem, problem.Excerpt)
	}
	if t.Failed() {
		t.FailNow()
	}
	return program
}

// document makes a document of JSON text.
func document(t testing.TB, text string) Document {
	t.Helper()
	doc, err := NewDocument([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func TestJudge(t *testing.T) {
	program := mustCompile(t, Limits{}, house(map[string]string{
		"shallow": `hits contains lib.hit(leg.id, ["cover"], object.union(
	{"message": sprintf("%s has %s", [leg.id, lib.length_apart(leg.cover_m, lib.limit("cover"))])},
	lib.against(leg.cover_m, "cover"),
)) if {
	some leg in input.legs
	lib.below(leg.cover_m, lib.limit("cover"), "m")
}
`,
	}))
	doc := document(t, `{"units":"ft","limits":[{"name":"cover","value":0.1524,"unit":"m"}],
		"legs":[{"id":"B","cover_m":0.1},{"id":"A","cover_m":0.15},{"id":"C","cover_m":0.2}]}`)
	hits, failures, err := program.Judge(context.Background(), doc)
	if err != nil || len(failures) != 0 {
		t.Fatal(err, failures)
	}
	got, _ := json.Marshal(hits)
	want := `[{"rule":"house.shallow","element":"A","field":["cover"],"message":"A has 5.9 in","value":0.15,"limit":0.1524,"unit":"m","limit_name":"cover"},` +
		`{"rule":"house.shallow","element":"B","field":["cover"],"message":"B has 3.9 in","value":0.1,"limit":0.1524,"unit":"m","limit_name":"cover"}]`
	if string(got) != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
