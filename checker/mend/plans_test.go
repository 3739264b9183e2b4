package mend_test

import (
	"context"
	"encoding/json"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"duskproof/checker"
	"duskproof/checker/finding"
	"duskproof/checker/mend"
	"duskproof/checker/plan"
	"duskproof/checker/policy"
	"duskproof/checker/report"
	"duskproof/rules"
)

// today is the date of every check; tickets and variances are dated for it.
const today = "2026-06-01"

// root is the top of the repository.
const root = "../.."

func newChecker(t testing.TB) *checker.Checker {
	t.Helper()
	patient := policy.DefaultLimits()
	patient.Rule, patient.Total = time.Minute, 10*time.Minute // a busy machine is no fault of a rule
	c, err := checker.New(checker.Options{Today: today, Policy: patient})
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Ready(context.Background()); err != nil {
		t.Fatal(err)
	}
	return c
}

// sample is one plan of the tests, with the folder that it stands in.
type sample struct {
	name string
	text []byte
	fs   fs.FS
}

func (s *sample) input(text []byte) checker.Input {
	return checker.Input{Name: path.Base(s.name), Bytes: text, FS: s.fs}
}

// readSample reads a plan of testdata.
func readSample(t testing.TB, name string) sample {
	t.Helper()
	folder := filepath.Join(root, filepath.Dir(name))
	text, err := os.ReadFile(filepath.Join(root, name))
	if err != nil {
		t.Fatal(err)
	}
	return sample{name, text, os.DirFS(folder)}
}

// goodPlans are plans that were made without mistakes: the good examples of the rules, the plans of testdata/plans/good, the starter
// and the demo as issued.
func goodPlans(t testing.TB) []sample {
	t.Helper()
	found, err := fs.Glob(rules.Files, "*/*/good.lighting.json")
	if err != nil {
		t.Fatal(err)
	}
	var out []sample
	for _, name := range found {
		text, err := rules.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		folder, err := fs.Sub(rules.Files, path.Dir(name))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, sample{name, text, folder})
	}
	more, err := filepath.Glob(filepath.Join(root, "testdata/plans/good/*.lighting.json"))
	if err != nil || len(more) == 0 {
		t.Fatalf("no good plans: %v", err)
	}
	for _, name := range more {
		out = append(out, readSample(t, strings.TrimPrefix(filepath.ToSlash(name), root+"/")))
	}
	return append(out, readSample(t, "cmd/duskproof/starter.lighting.json"), readSample(t, "testdata/plans/tern-cottage/issued.lighting.json"))
}

// check checks a text; a rule that fails is an error.
func check(t testing.TB, c *checker.Checker, s *sample, text []byte) report.Plan {
	t.Helper()
	result, err := c.Check(context.Background(), s.input(text))
	if err != nil {
		t.Fatalf("%s: %v", s.name, err)
	}
	return result
}

// put sets a place of a plan, whether it has a value or not.
func put(pointer string, value any) finding.Operation {
	return finding.Operation{Op: "add", Path: pointer, Value: value}
}

// stocked is a plan with a shop's catalogue beside its own: each of its types in
// other sizes, so that there is something to choose from.
func stocked(t testing.TB, s *sample) []byte {
	t.Helper()
	doc, err := plan.Decode(s.text)
	if err != nil {
		return nil
	}
	var raw struct {
		Catalogue map[string]map[string]map[string]any `json:"catalogue"`
	}
	if json.Unmarshal(s.text, &raw) != nil || raw.Catalogue == nil {
		return nil
	}
	var ops []finding.Operation
	if raw.Catalogue["cables"] != nil {
		ops = append(ops, stockCables(doc)...)
	}
	for _, name := range sortedNames(raw.Catalogue["transformers"]) {
		ops = append(ops, stockUnits(name, raw.Catalogue["transformers"][name])...)
	}
	for _, name := range sortedNames(raw.Catalogue["connectors"]) {
		ops = append(ops, put("/catalogue/connectors/"+escape(name)+" large", changed(raw.Catalogue["connectors"][name], "most_conductors", 20)))
	}
	for _, name := range sortedNames(raw.Catalogue["fixtures"]) {
		ops = append(ops, stockFixtures(name, raw.Catalogue["fixtures"][name])...)
	}
	text, err := mend.Apply(s.text, ops)
	if err != nil {
		t.Fatalf("%s: %v", s.name, err)
	}
	return text
}

func escape(name string) string {
	return strings.ReplaceAll(strings.ReplaceAll(name, "~", "~0"), "/", "~1")
}

func sortedNames(m map[string]map[string]any) []string {
	var names []string
	for name := range m {
		if !strings.HasPrefix(name, "//") {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

// changed is a copy of an object with some members set.
func changed(old map[string]any, pairs ...any) map[string]any {
	out := map[string]any{}
	for k, v := range old {
		out[k] = v
	}
	for i := 0; i < len(pairs); i += 2 {
		out[pairs[i].(string)] = pairs[i+1]
	}
	return out
}

// stockSizes are conductors with an ampacity that makers mark on such cable;
// common practice, no source.
var stockSizes = []struct {
	awg  string
	amps int
}{{"6", 55}, {"8", 40}, {"10", 30}, {"12", 20}, {"14", 15}, {"16", 10}, {"18", 7}}

var stockMetric = []struct {
	mm2  string
	amps int
}{{"16", 60}, {"10", 45}, {"6", 32}, {"4", 25}, {"2.5", 18}, {"1.5", 13}, {"1", 9}}

func stockCables(doc *plan.Document) []finding.Operation {
	metric := slices.ContainsFunc(doc.Profiles, func(p string) bool { return strings.HasPrefix(p, "iec") || strings.HasPrefix(p, "uk") })
	var ops []finding.Operation
	add := func(size string, amps int) {
		ops = append(ops, put("/catalogue/cables/stock "+size, map[string]any{
			"conductor": size, "direct_burial": true, "sunlight_resistant": true, "ampacity": amps,
			"listing": []string{"direct-burial", "sunlight-resistant", "in-wall", "under-building"},
		}))
	}
	if metric {
		for _, s := range stockMetric {
			add(s.mm2+" mm2", s.amps)
		}
		return ops
	}
	for _, s := range stockSizes {
		add(s.awg+" AWG", s.amps)
	}
	return ops
}

// stockUnits are power units like one of the plan, in other sizes and with more
// commons.
func stockUnits(name string, unit map[string]any) []finding.Operation {
	rating, err := plan.Parse(plan.ApparentPower, words(unit["rating"], "VA"))
	if err != nil {
		return nil
	}
	var ops []finding.Operation
	if unit["kind"] == "electronic" {
		magnetic := changed(unit, "kind", "magnetic", "output", "ac", "impedance", "4 %")
		for _, limit := range []string{"minimum_load", "largest_distance", "pwm_frequency"} {
			delete(magnetic, limit)
		}
		ops = append(ops, put("/catalogue/transformers/"+escape(name)+" magnetic", magnetic))
	}
	for _, factor := range []float64{0.25, 0.5, 2, 4} {
		more := changed(unit, "rating", rating*factor)
		if commons, ok := unit["commons"].([]any); ok && len(commons) > 0 && factor > 1 {
			more["commons"] = append(slices.Clone(commons), commons[0], commons[0])
		}
		ops = append(ops, put("/catalogue/transformers/"+escape(name)+" x"+words(factor, ""), more))
	}
	return ops
}

// words writes a number or a quantity with its unit.
func words(value any, unit string) string {
	if text, ok := value.(string); ok {
		return text
	}
	number, _ := json.Marshal(value)
	return strings.TrimSpace(string(number) + " " + unit)
}

// stockFixtures are fixtures like one of the plan that give twice and half the
// light.
func stockFixtures(name string, f map[string]any) []finding.Operation {
	lumens, ok := f["lumens"].(float64)
	if !ok {
		return nil
	}
	return []finding.Operation{
		put("/catalogue/fixtures/"+escape(name)+" bright", changed(f, "lumens", 2*lumens)),
		put("/catalogue/fixtures/"+escape(name)+" dim", changed(f, "lumens", lumens/2)),
	}
}
