package plan_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/plan"
)

// unordered are the lists whose order means nothing.
var unordered = []string{
	"branch_circuits", "receptacles", "transformers", "runs", "nodes", "legs", "fixtures", "controls", "scenes",
	"paths", "stairs", "landings", "decks", "areas", "gates", "doors", "walls", "fences", "hedges", "posts", "trees",
	"beds", "lawns", "drives", "water", "windows", "buildings", "services", "readings", "variances", "notes", "take_off",
}

// shuffle brings every unordered list of a plan into another order.
func shuffle(node any, random *rand.Rand) {
	switch n := node.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(n)) {
			if list, isList := n[key].([]any); isList && slices.Contains(unordered, key) {
				random.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
			}
			shuffle(n[key], random)
		}
	case []any:
		for _, item := range n {
			shuffle(item, random)
		}
	}
}

// TestOrderDoesNotMatter resolves plans whose elements stand in another order
// and holds that every element comes out the same, and that the same issues
// come.
func TestOrderDoesNotMatter(t *testing.T) {
	plans := map[string][]byte{
		"base": readFile(t, "base.lighting.json"),
		"tied together": edited(t, edits{
			"/site/posts/0/at": `{"tapes": [{"from": "S2", "distance": 2}, {"from": [5, 2], "distance": 2}], "side": "right"}`,
			"/fixtures/4/at":   `{"tapes": [{"from": "row-2", "distance": 4}, {"from": "h2", "distance": 5}], "side": "right"}`}),
		"two circles and more": edited(t, edits{
			"/site/posts/0/at":     `{"tapes": [{"from": "stump", "distance": 2}, {"from": "oak", "distance": 2}], "side": "right"}`,
			"/site/trees/0/at":     `{"tapes": [{"from": "post", "distance": 2}, {"from": "S2", "distance": 2}], "side": "right"}`,
			"/site/trees/1/at":     `{"tapes": [{"from": "post", "distance": 2}, {"from": "RC1", "distance": 2}], "side": "right"}`,
			"/fixtures/4/at":       `{"tapes": [{"from": "h1", "distance": 2}, {"from": "P1", "distance": 2}], "side": "right"}`,
			"/runs/0/nodes/0/at":   `{"tapes": [{"from": "S2", "distance": 2}, {"from": "P1", "distance": 2}], "side": "right"}`,
			"/runs/0/legs/0/to":    `"h9"`,
			"/fixtures/1/type":     `"rnig"`,
			"/site/beds/0/outline": `[[5, 0], [8, 3], [8, 0], [5, 3]]`}),
	}
	files, err := filepath.Glob("../../testdata/plans/format/*.lighting.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		plans[filepath.Base(name)] = data
	}
	for _, name := range slices.Sorted(maps.Keys(plans)) {
		want := summary(resolve(t, plans[name]))
		for seed := range uint64(20) {
			var tree any
			if err := json.Unmarshal(plans[name], &tree); err != nil {
				t.Fatal(err)
			}
			shuffle(tree, rand.New(rand.NewPCG(seed, 7)))
			data, err := json.Marshal(tree)
			if err != nil {
				t.Fatal(err)
			}
			got := summary(resolve(t, data))
			for _, key := range slices.Sorted(maps.Keys(want)) {
				if got[key] != want[key] {
					t.Fatalf("%s, seed %d: %s is\n%s, was\n%s", name, seed, key, got[key], want[key])
				}
			}
			if len(got) != len(want) {
				t.Fatalf("%s, seed %d: %d things, were %d", name, seed, len(got), len(want))
			}
		}
	}
}

// summary describes every element of a plan by id, and its issues.
func summary(p *plan.Plan, issues []plan.Issue) map[string]string {
	out := map[string]string{}
	describe := func(list any) {
		v := reflect.ValueOf(list)
		for i := range v.Len() {
			element := v.Index(i).Elem()
			out[element.FieldByName("Kind").String()+" "+element.FieldByName("ID").String()] = describeValue(element, true)
		}
	}
	describe(p.Transformers)
	describe(p.Runs)
	describe(p.Fixtures)
	describe(p.Controls)
	describe(p.Scenes)
	describe(p.Readings)
	for _, run := range p.Runs {
		describe(run.Nodes)
		describe(run.Legs)
	}
	if p.Supply != nil {
		out["supply"] = describeValue(reflect.ValueOf(*p.Supply), true)
		describe(p.Supply.Branches)
		describe(p.Supply.Receptacles)
	}
	if p.Site != nil {
		site := reflect.ValueOf(*p.Site)
		for i := range site.NumField() {
			if f := site.Field(i); f.Kind() == reflect.Slice && f.Type().Elem().Kind() == reflect.Pointer {
				describe(f.Interface())
			}
		}
	}
	for i, line := range issueLines(issues) {
		out[fmt.Sprintf("issue %03d", i)] = line
	}
	return out
}

// issueLines lists issues without their places.
func issueLines(issues []plan.Issue) []string {
	var lines []string
	for _, i := range issues {
		lines = append(lines, i.Rule+" "+i.Element+": "+i.Message)
	}
	slices.Sort(lines)
	return lines
}

// describeValue writes a value; of another element only the id, and no places
// in the file.
func describeValue(v reflect.Value, whole bool) string {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return "-"
		}
		return describeValue(v.Elem(), false)
	case reflect.Struct:
		if id := v.FieldByName("ID"); id.IsValid() && !whole {
			return id.String()
		}
		var parts []string
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; name != "Pointer" && name != "Element" {
				parts = append(parts, name+"="+describeValue(v.Field(i), false))
			}
		}
		return "{" + strings.Join(parts, " ") + "}"
	case reflect.Slice, reflect.Array:
		items := make([]string, v.Len())
		for i := range items {
			items[i] = describeValue(v.Index(i), false)
		}
		if v.Type().Elem().Kind() == reflect.Pointer {
			slices.Sort(items)
		}
		return "[" + strings.Join(items, " ") + "]"
	default:
		return fmt.Sprintf("%v", v)
	}
}
