package main

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

// object is a JSON object.
type object = map[string]any

// measuredPlan is the demo's draft with eight lamps more, 40 in all, on a run of
// their own. Number 0 is the plan itself; others differ in where lamps stand, how
// much they draw, and how deep cables lie, so that no two have the same answers.
func measuredPlan(tb testing.TB, number uint64) []byte {
	tb.Helper()
	text, err := os.ReadFile(filepath.Join(plansFolder, "tern-cottage", "draft.lighting.json"))
	if err != nil {
		tb.Fatal(err)
	}
	var whole object
	if err := json.Unmarshal(text, &whole); err != nil {
		tb.Fatal(err)
	}
	fixtures, chain := whole["fixtures"].([]any), []any{}
	for i := range 8 {
		id := fmt.Sprintf("Q%d", i+1)
		chain = append(chain, object{"to": id, "length": "8 ft"})
		fixtures = append(fixtures, object{"id": id, "type": "ring-path", "at": []any{50 + float64(i), 10 + 5*float64(i)}, "height": "18 in", "mount": "stake", "group": "walk"})
	}
	whole["fixtures"] = fixtures
	whole["runs"] = append(whole["runs"].([]any), object{"id": "lawn-run", "cable": "12/2", "chain": chain,
		"from": object{"transformer": "T1", "common": 2.0, "tap": "14 V"}})
	if number > 0 {
		vary(whole, rand.New(rand.NewPCG(number, 9)))
		whole["plan"].(object)["title"] = fmt.Sprintf("Tern Cottage, another %d (invented site)", number)
	}
	if len(fixtures) != 40 {
		tb.Fatalf("%d fixtures", len(fixtures))
	}
	out, err := json.MarshalIndent(whole, "", "  ")
	if err != nil {
		tb.Fatal(err)
	}
	return out
}

// vary moves lamps by up to half a foot, changes what they draw by up to a tenth,
// and how deep each run lies.
func vary(whole object, random *rand.Rand) {
	hundredths := func(x float64) float64 { return math.Round(x*100) / 100 }
	for _, f := range whole["fixtures"].([]any) {
		if at, ok := f.(object)["at"].([]any); ok {
			for i := range at {
				at[i] = hundredths(at[i].(float64) + random.Float64() - 0.5)
			}
		}
	}
	types := whole["catalogue"].(object)["fixtures"].(object)
	for _, name := range sortedKeys(types) {
		factor := 0.9 + 0.2*random.Float64()
		for _, field := range []string{"watts", "va"} {
			if value, ok := types[name].(object)[field].(float64); ok {
				types[name].(object)[field] = hundredths(value * factor)
			}
		}
	}
	for _, run := range whole["runs"].([]any) {
		run.(object)["cover"] = fmt.Sprintf("%d in", 5+random.IntN(9))
	}
}

// beside puts the file that the demo refers to into a folder.
func (m *measured) beside(folder string) {
	const name = "stone-spot.ies"
	text, err := os.ReadFile(filepath.Join(plansFolder, "tern-cottage", name))
	m.must(err)
	m.must(os.WriteFile(filepath.Join(folder, name), text, 0o600))
}

// garden writes a folder of plans, no two the same.
func (m *measured) garden(name string, plans int) string {
	folder := filepath.Join(m.folder, name)
	m.must(os.Mkdir(folder, 0o700))
	m.beside(folder)
	for i := range plans {
		file := filepath.Join(folder, fmt.Sprintf("garden-%04d.lighting.json", i+1))
		m.must(os.WriteFile(file, measuredPlan(m.b, uint64(i)+1), 0o600))
	}
	return folder
}

// many measures a folder of plans, as a form of output that is read by programs,
// as one that is read by people, and as lines.
func (m *measured) many() {
	folder := m.garden("many", folderPlans)
	m.say("%d plans of 40 fixtures in a folder, --fixes hint%14s %10s %10s %8s %6s", folderPlans, "plans/s", "wall", "processor", "by it", "MB")
	for i, run := range [][2]string{{"json", "2"}, {"json", "1"}, {"text", "2"}, {"sarif", "2"}} {
		form, jobs := run[0], run[1]
		s := m.run(m.program, "check", "--fixes", "hint", "--today", day, "--jobs", jobs, "--as", form+"="+filepath.Join(m.folder, "out."+form), folder)
		m.say("  --as %-8s --jobs %s %38.0f %10s %10s %8.0f %6.0f", form, jobs, folderPlans/s.wall.Seconds(),
			fmt.Sprintf("%.2f s", s.wall.Seconds()), fmt.Sprintf("%.2f s", s.processor.Seconds()),
			2*folderPlans/s.processor.Seconds(), float64(s.peakBytes)/1e6)
		if i == 0 {
			m.b.ReportMetric(folderPlans/s.wall.Seconds(), "plans/s")
			m.b.ReportMetric(float64(s.peakBytes)/1e6, "MB")
		}
	}
	m.say("  (\"by it\": plans a second on two processors that do nothing else, by the processor time)")
}
