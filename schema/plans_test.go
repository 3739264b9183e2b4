package schema

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/plan"
)

// formatPlans is the folder of plans that show the format, section by section.
// Plans are added to it and never taken away: what was valid once stays valid.
const formatPlans = "../testdata/plans/format"

func readPlans(t *testing.T) map[string]any {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(formatPlans, "*.lighting.json"))
	if err != nil || len(files) < 10 {
		t.Fatalf("plans: %d, %v", len(files), err)
	}
	plans := map[string]any{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		plans[filepath.Base(file)] = decode(t, file, data)
	}
	return plans
}

// decode reads JSON as the validator sees it, with numbers kept as written.
func decode(t *testing.T, name string, data []byte) any {
	t.Helper()
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	var value any
	if err := dec.Decode(&value); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return value
}

func TestFormatPlansAreValid(t *testing.T) {
	s := compileSchema(t, Plan)
	for name, value := range readPlans(t) {
		if err := s.Validate(value); err != nil {
			t.Errorf("%s: %#v", name, err)
		}
	}
}

func TestFormatPlansSayTheyAreInvented(t *testing.T) {
	for name, value := range readPlans(t) {
		if !strings.Contains(mustMarshal(t, value), "invented") {
			t.Errorf("%s does not say that it is invented", name)
		}
	}
}

func mustMarshal(t *testing.T, value any) string {
	t.Helper()
	data, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// TestFormatPlansShowEveryField holds that every property of the schema stands
// in at least one of the plans.
func TestFormatPlansShowEveryField(t *testing.T) {
	tree := readTree(t, Plan)
	shown := shower{root: tree, fields: map[string]bool{}}
	for _, value := range readPlans(t) {
		shown.walk("", tree, value)
	}
	for pointer := range describedNodes(tree) {
		tokens := strings.Split(pointer, "/")
		if tokens[len(tokens)-2] == "properties" && !shown.fields[pointer] {
			t.Errorf("no plan in %s shows %s", formatPlans, pointer)
		}
	}
}

// shower records which properties of a schema a document has.
type shower struct {
	root   map[string]any
	fields map[string]bool
}

func (s *shower) walk(pointer string, node map[string]any, value any) {
	if ref, ok := node["$ref"].(string); ok {
		pointer = strings.TrimPrefix(ref, "#")
		node = s.root["$defs"].(map[string]any)[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
	}
	switch v := value.(type) {
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			s.member(pointer, node, name, v[name])
		}
	case []any:
		items, ok := node["items"].(map[string]any)
		for _, item := range v {
			if ok {
				s.walk(pointer+"/items", items, item)
			}
		}
	}
}

func (s *shower) member(pointer string, node map[string]any, name string, value any) {
	if properties, ok := node["properties"].(map[string]any); ok {
		if sub, ok := properties[name].(map[string]any); ok {
			at := pointer + "/properties/" + escape(name)
			s.fields[at] = true
			s.walk(at, sub, value)
			return
		}
	}
	patterns, _ := node["patternProperties"].(map[string]any)
	for _, pattern := range slices.Sorted(maps.Keys(patterns)) {
		if regexp.MustCompile(pattern).MatchString(name) && pattern != "^//" {
			s.walk(pointer+"/patternProperties/"+escape(pattern), patterns[pattern].(map[string]any), value)
		}
	}
}

// TestFormatPlansResolve holds that a plan which the schema accepts can be
// decoded, and that these plans mean what they say: no reference leads nowhere
// and nothing contradicts itself.
func TestFormatPlansResolve(t *testing.T) {
	for name, value := range readPlans(t) {
		doc, err := plan.Decode([]byte(mustMarshal(t, value)))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		_, issues := plan.Resolve(doc)
		for _, issue := range issues {
			t.Errorf("%s%s: %s: %s", name, issue.Pointer, issue.Rule, issue.Message)
		}
	}
}
