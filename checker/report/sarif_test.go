package report

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"

	"duskproof/checker/finding"
	"duskproof/checker/source"
)

// sarifPublished is the schema that OASIS publishes; see the README beside it.
const sarifPublished = "../../testdata/report/sarif-2.1.0-errata01.schema.json"

func compileSARIF(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := os.Open(sarifPublished)
	if err != nil {
		t.Fatal(err)
	}
	defer text.Close()
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat = true
	if err := compiler.AddResource("sarif.json", text); err != nil {
		t.Fatal(err)
	}
	schema, err := compiler.Compile("sarif.json")
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

// TestSARIFIsValid validates the log against the schema that OASIS publishes,
// and holds that the schema would refuse a broken one.
func TestSARIFIsValid(t *testing.T) {
	schema := compileSARIF(t)
	empty := &Report{Tool: Tool{"duskproof", "0.1.0"}, Today: "2026-06-01", Caution: Caution, Hold: finding.Defect}
	for name, r := range map[string]*Report{"sample": sample(t), "empty": empty} {
		var log map[string]any
		if err := json.Unmarshal([]byte(written(t, "sarif", r, Options{Apply: replaceTwo})), &log); err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(log); err != nil {
			t.Errorf("%s: %#v", name, err)
		}
		log["runs"].([]any)[0].(map[string]any)["columnKind"] = "bytes"
		if schema.Validate(log) == nil {
			t.Errorf("%s: a column kind that does not exist was accepted", name)
		}
	}
}

// sarifRead is what code-hosting services read of a log.
type sarifRead struct {
	Runs []struct {
		ColumnKind string
		Tool       struct {
			Driver struct{ Rules []struct{ ID, Name string } }
		}
		Results []struct {
			RuleID, Level string
			RuleIndex     int
			Message       struct{ Text string }
			Locations     []struct {
				PhysicalLocation struct {
					ArtifactLocation struct{ URI string }
					Region           struct{ StartLine, StartColumn, EndLine, EndColumn int }
				}
				LogicalLocations []struct{ FullyQualifiedName string }
			}
			PartialFingerprints map[string]string
			Suppressions        []struct{ Kind, Justification string }
			Fixes               []any
		}
	}
}

// TestSARIFSaysWhatHostsNeed holds what code-hosting services ask of a log
// beyond the schema: rules by index, one place with four numbers, a relative
// address with forward slashes, levels, fingerprints, suppressions.
func TestSARIFSaysWhatHostsNeed(t *testing.T) {
	var log sarifRead
	if err := json.Unmarshal([]byte(written(t, "sarif", sample(t), Options{Apply: replaceTwo})), &log); err != nil {
		t.Fatal(err)
	}
	run := log.Runs[0]
	if run.ColumnKind != "unicodeCodePoints" {
		t.Errorf("columns are counted in %q", run.ColumnKind)
	}
	want := []struct {
		rule, level string
		suppressed  int
		fixes       int
	}{
		{"power.gfci", "error", 0, 0}, {"power.overload", "error", 0, 1}, {"wire.excess-drop", "warning", 0, 0},
		{"law.locate", "note", 0, 1}, {"power.overload", "error", 1, 1}, {"plan.schema", "error", 0, 0},
	}
	if len(run.Results) != len(want) {
		t.Fatalf("%d results, want %d", len(run.Results), len(want))
	}
	for i, w := range want {
		r := run.Results[i]
		if r.RuleID != w.rule || r.Level != w.level || len(r.Suppressions) != w.suppressed || len(r.Fixes) != w.fixes {
			t.Errorf("result %d is %s %s with %d suppressions and %d fixes, want %+v", i, r.Level, r.RuleID, len(r.Suppressions), len(r.Fixes), w)
		}
		if run.Tool.Driver.Rules[r.RuleIndex].ID != r.RuleID {
			t.Errorf("result %d points to rule %s", i, run.Tool.Driver.Rules[r.RuleIndex].ID)
		}
		place := r.Locations[0].PhysicalLocation
		if place.Region.StartLine < 1 || place.Region.StartColumn < 1 || place.Region.EndLine < 1 || place.Region.EndColumn < 1 {
			t.Errorf("result %d has region %+v", i, place.Region)
		}
		if strings.ContainsAny(place.ArtifactLocation.URI, " \\<\"") || strings.HasPrefix(place.ArtifactLocation.URI, "/") {
			t.Errorf("address %q", place.ArtifactLocation.URI)
		}
		if r.PartialFingerprints["primaryLocationLineHash"] == "" {
			t.Errorf("result %d has no fingerprint", i)
		}
	}
	// Silenced or not, on whatever line, it is the same finding.
	one, two := run.Results[1].PartialFingerprints, run.Results[4].PartialFingerprints
	if one["primaryLocationLineHash"] != two["primaryLocationLineHash"] {
		t.Error("one finding has two fingerprints")
	}
	if two["primaryLocationLineHash"] == run.Results[0].PartialFingerprints["primaryLocationLineHash"] {
		t.Error("two findings have one fingerprint")
	}
	if run.Tool.Driver.Rules[0].Name != "LawLocate" {
		t.Errorf("name %q, want one Pascal-case word", run.Tool.Driver.Rules[0].Name)
	}
}

// TestReplacementsGiveTheChangedText applies the replacements of random line
// edits by their regions, and must arrive at the changed text.
func TestReplacementsGiveTheChangedText(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 1))
	texts := []string{"", "a", "a\n", "a\nb\nc", "ä\r\nb\n\nc\n", "x\nx\nx\nx\n📏"}
	for range 3000 {
		before := texts[random.IntN(len(texts))]
		after := edit(random, before)
		if got := replaceAll(before, replaced(before, after)); got != after {
			t.Fatalf("%q to %q by %+v gives %q", before, after, replaced(before, after), got)
		}
	}
}

func edit(random *rand.Rand, text string) string {
	all := lines(text)
	for range random.IntN(4) {
		at := random.IntN(len(all) + 1)
		switch {
		case random.IntN(2) == 0 || at == len(all):
			all = append(all[:at:at], append([]string{[]string{"n\n", "m\n", "ü"}[random.IntN(3)]}, all[at:]...)...)
		default:
			all = append(all[:at:at], all[at+1:]...)
		}
	}
	return strings.Join(all, "")
}

// replaceAll applies replacements, the last first, by the line table of package
// source.
func replaceAll(text string, replacements []sarifReplacement) string {
	table := source.NewLines([]byte(text))
	for i := len(replacements) - 1; i >= 0; i-- {
		r := replacements[i]
		from := table.Offset(source.Position{Line: r.DeletedRegion.StartLine, Column: r.DeletedRegion.StartColumn})
		to := table.Offset(source.Position{Line: r.DeletedRegion.EndLine, Column: r.DeletedRegion.EndColumn})
		text = text[:from] + r.InsertedContent.Text + text[to:]
	}
	return text
}
