package policy

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"testing"
	"testing/fstest"
	"time"

	"duskproof/checker/rule"
)

// counts is how many elements of each collection a plan of 40 fixtures has,
// roughly; the others have 10.
var counts = map[string]int{
	"fixtures": 40, "legs": 46, "pieces": 90, "joints": 46, "nodes": 6, "runs": 5, "transformers": 2, "commons": 3,
	"treads": 45, "paths": 6, "limits": 60, "receptacles": 2, "branches": 1, "misfeeds": 0, "suspects": 0, "readings": 0,
}

// invented makes a facts document out of the facts schema alone: every field
// has a value of its type, every element its own id.
func invented(t testing.TB, scale int) []byte {
	t.Helper()
	root := factsSchema(t).(map[string]any)
	made := inventObject(root, root, 0, scale)
	limits := []any{}
	for i := range counts["limits"] {
		limits = append(limits, map[string]any{"name": fmt.Sprintf("limit.n%02d", i), "value": 0.5, "unit": "m", "source": "s", "basis": "code", "confidence": "single", "profile": "p"})
	}
	made["limits"] = limits
	made["units"] = "ft"
	text, err := json.Marshal(made)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func inventObject(root, object map[string]any, number, scale int) map[string]any {
	properties, _ := object["properties"].(map[string]any)
	made := map[string]any{}
	for _, name := range slices.Sorted(maps.Keys(properties)) {
		property := follow(root, properties[name])
		count := 2
		if number == 0 {
			count = 10 * scale
			if c, known := counts[name]; known {
				count = c * scale
			}
		}
		made[name] = invent(root, property, name, number, count)
	}
	return made
}

func invent(root, property map[string]any, name string, number, count int) any {
	switch property["type"] {
	case "object":
		return inventObject(root, property, max(number, 1), 1)
	case "array":
		list := make([]any, count)
		for i := range list {
			list[i] = invent(root, follow(root, property["items"]), "id", i+1, 2)
		}
		return list
	case "string":
		return fmt.Sprintf("%s-%d", name, number)
	case "boolean":
		return number%2 == 0
	case "integer":
		return number
	}
	return float64(number) / 7
}

// benchRules are 60 rules, each after one of a few patterns that real rules
// have: a filter, a limit, a look-up in another collection, a message.
func benchRules() Source {
	patterns := []string{
		`hits contains lib.hit(leg.id, ["cover"], object.union({"message": m}, lib.against(leg.cover_m, %[1]q))) if {
	least := lib.least(%[1]q)
	some leg in input.legs
	leg.to_fixture == false
	leg.cover_m < least
	m := sprintf("leg %%s has %%s of cover; %%s are required", [leg.id, lib.length_apart(leg.cover_m, lib.limit(%[1]q)), lib.length(lib.limit(%[1]q))])
}
`, `hits contains lib.hit(f.id, [], object.union({"message": m}, lib.against(f.drop_share, %[1]q))) if {
	most := lib.most(%[1]q) + 5
	some f in input.fixtures
	f.fed
	f.drop_share > most
	run := lib.runs_by_id[f.run]
	m := sprintf("lamp %%s on %%s loses %%s", [f.id, run.id, lib.percent(f.drop_share)])
}
`, `hits contains lib.hit(t.id, [], {"message": m, "case": t.scene}) if {
	least := lib.least(%[1]q)
	some t in input.treads
	t.landing == false
	t.lux_centre < least
	m := sprintf("tread %%s gets %%s", [t.id, lib.lux(t.lux_centre)])
}
`, `hits contains lib.hit(j.id, [], {"message": m}) if {
	most := lib.limit(%[1]q) + 43
	some j in input.joints
	j.buried
	j.conductors > most
	not "direct-burial" in j.listing
	m := sprintf("splice %%s is not listed for burial (%%s)", [j.id, j.kind])
}
`, `hits contains lib.hit(p.id, [], {"message": m}) if {
	lib.has_limit(%[1]q)
	some p in input.pieces
	p.exempt == false
	p.cover_m < p.required_m
	lib.below(p.cover_m, p.required_m, "m")
	m := sprintf("%%s has %%s", [p.id, lib.length_apart(p.cover_m, p.required_m)])
}
`,
	}
	files := fstest.MapFS{}
	for i := range 60 {
		slug, limit := fmt.Sprintf("r%02d", i), fmt.Sprintf("limit.n%02d", i)
		text := header(slug) + "import data.lib\n\n" + fmt.Sprintf(patterns[i%len(patterns)], limit)
		files[slug+".rego"] = &fstest.MapFile{Data: []byte(replaceLimit(text, limit))}
	}
	return House("bench", files)
}

func replaceLimit(text, limit string) string {
	const old = "limits: [cover]"
	for i := range len(text) - len(old) {
		if text[i:i+len(old)] == old {
			return text[:i] + "limits: [" + limit + "]" + text[i+len(old):]
		}
	}
	return text
}

func BenchmarkLoad(b *testing.B) {
	source := benchRules()
	for b.Loop() {
		if _, problems := Load(source); len(problems) != 0 {
			b.Fatal(problems)
		}
	}
}

func BenchmarkLoadBundled(b *testing.B) {
	for b.Loop() {
		Load(Bundled())
	}
}

func BenchmarkCompile(b *testing.B) {
	catalogue, _ := Load(benchRules())
	options := Options{Facts: factsSchema(b)}
	for b.Loop() {
		if _, problems := catalogue.Compile(options); len(problems) != 0 {
			b.Fatal(problems)
		}
	}
}

func BenchmarkDocument(b *testing.B) {
	text := invented(b, 1)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := NewDocument(text); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkJudge measures 60 rules on a plan of 40 fixtures, and prints what
// the dearest cost.
func BenchmarkJudge(b *testing.B) {
	program := mustCompile(b, Limits{}, benchRules())
	doc := document(b, string(invented(b, 1)))
	hits, failures, err := program.Judge(context.Background(), doc)
	if err != nil || len(failures) != 0 || len(hits) == 0 {
		b.Fatal(err, failures)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := program.Judge(context.Background(), doc); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(hits)), "hits")
	shares, err := program.Shares(context.Background(), doc, 20)
	if err != nil {
		b.Fatal(err)
	}
	for _, s := range shares[:min(len(shares), 8)] {
		b.Logf("%-24s %8s %5.1f %%", s.Rule, s.Each.Round(time.Microsecond), s.Part*100)
	}
}

// BenchmarkJudgeLarge measures the same rules on a plan fifty times as large.
func BenchmarkJudgeLarge(b *testing.B) {
	program := mustCompile(b, Limits{}, benchRules())
	doc := document(b, string(invented(b, 50)))
	for b.Loop() {
		if _, failures, err := program.Judge(context.Background(), doc); err != nil || len(failures) != 0 {
			b.Fatal(err, failures)
		}
	}
}

func BenchmarkLacking(b *testing.B) {
	catalogue, _ := Load(tree(goodPath, goodMetadata))
	doc := document(b, string(invented(b, 1)))
	var metas []*rule.Meta
	for i := range catalogue.Rules {
		metas = append(metas, &catalogue.Rules[i].Meta)
	}
	for b.Loop() {
		Lacking(metas, doc)
	}
}
