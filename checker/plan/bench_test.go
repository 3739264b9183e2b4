package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"duskproof/checker/plan"
)

// repeat writes a JSON list of n items.
func repeat(n int, item func(i int) string) string {
	items := make([]string, n)
	for i := range items {
		items[i] = item(i)
	}
	return "[" + strings.Join(items, ", ") + "]"
}

// largePlan is a path of n metres with a fixture every metre on a chain, ten
// landings and decks beside it.
func largePlan(n int) []byte {
	return []byte(fmt.Sprintf(`{"format": "1.0", "units": "m",
		"catalogue": {"fixtures": {"ring": {"kind": "path", "load": "constant-power", "va": 5}}, "cables": {"4mm": {"conductor": "4 mm2"}},
			"transformers": {"T": {"rating": "300 VA", "kind": "magnetic", "taps": [12]}}},
		"site": {"paths": [{"id": "walk", "width": 2, "elevation": 0.1, "centreline": %s}], "decks": %s},
		"transformers": [{"id": "T1", "type": "T", "at": [0, 0]}],
		"runs": [{"id": "r", "from": {"transformer": "T1"}, "cable": "4mm", "chain": %s}],
		"fixtures": %s}`,
		repeat(n/10, func(i int) string { return fmt.Sprintf("[%d, %d]", i*10, i%2) }),
		repeat(10, func(i int) string {
			return fmt.Sprintf(`{"id": "d%d", "outline": [[%d, 3], [%d, 3], [%d, 6], [%d, 6]], "elevation": 0.5}`, i, i*10, i*10+5, i*10+5, i*10)
		}),
		repeat(n, func(i int) string { return fmt.Sprintf(`{"to": "f%d", "length": "12 m"}`, i) }),
		repeat(n, func(i int) string {
			return fmt.Sprintf(`{"id": "f%d", "type": "ring", "at": {"along": "walk", "station": %g, "side": "left"}}`, i, float64(i)*0.9)
		})))
}

// BenchmarkResolve shows that the cost grows with the fixtures, not with their
// square.
func BenchmarkResolve(b *testing.B) {
	plans := []struct {
		name string
		data []byte
	}{{"base", readFile(b, "base.lighting.json")}}
	for _, n := range []int{50, 500, 5000} {
		plans = append(plans, struct {
			name string
			data []byte
		}{fmt.Sprintf("%d fixtures", n), largePlan(n)})
	}
	for _, p := range plans {
		doc, err := plan.Decode(p.data)
		if err != nil {
			b.Fatal(err)
		}
		b.Run("decode "+p.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := plan.Decode(p.data); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run("resolve "+p.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				plan.Resolve(doc)
			}
		})
	}
}

// TestAllocations guards the allocations of one resolution; the bounds are a
// third above what was measured when they were set.
func TestAllocations(t *testing.T) {
	doc, err := plan.Decode(largePlan(500))
	if err != nil {
		t.Fatal(err)
	}
	if got, most := testing.AllocsPerRun(5, func() { plan.Resolve(doc) }), 20_000.0; got > most {
		t.Errorf("%v allocations, at most %v", got, most)
	}
}

// TestLargePlans holds that a plan of any size that the schema allows stays
// within the bounds on work: the issues say so instead of the program running on.
func TestLargePlans(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"positions in a row", `{"units": "m", "fixtures": ` + repeat(1500, func(i int) string {
			return fmt.Sprintf(`{"id": "f%d", "at": {"tapes": [{"from": "f%d", "distance": 1}, {"from": [0, 0], "distance": 1}], "side": "left"}}`, i, min(i+1, 1499))
		}) + `}`, "more than 1000 positions hang on one another"},
		{"levels of scenes", `{"units": "m", "fixtures": ` + repeat(2000, func(i int) string { return fmt.Sprintf(`{"id": "f%d", "group": "g"}`, i) }) +
			`, "controls": [{"id": "c", "scenes": ` + repeat(1001, func(i int) string { return fmt.Sprintf(`{"id": "s%d", "on": ["g"]}`, i) }) + `}]}`,
			"the scenes set more than 2000000 levels; this one is left dark"},
		{"fixtures of arrays", `{"units": "m", "site": {"paths": [{"id": "w", "width": 1, "centreline": [[0, 0], [9, 0]]}]}, "fixtures": ` +
			repeat(26, func(i int) string {
				return fmt.Sprintf(`{"id": "a%d", "array": {"along": "w", "count": 2000, "side": "left"}}`, i)
			}) + `}`,
			"the array makes too many fixtures: an array can have 2000, all arrays 50000"},
	} {
		_, issues := resolve(t, []byte(c.text))
		if len(issues) == 0 || issues[0].Message != c.want {
			t.Errorf("%s: %d issues, want %q", c.name, len(issues), c.want)
			if len(issues) > 0 {
				t.Log(show(issues[0]))
			}
		}
	}
}
