package mend_test

import (
	"bytes"
	"context"
	"fmt"
	"testing"

	"duskproof/checker"
	"duskproof/checker/report"
)

// largePlan writes an invented plan of so many path lights, twelve on a run and
// two runs on a power unit, beside one path each, with a mistake in every third
// run: thin cable, a shallow trench, or a light on the path.
func largePlan(fixtures int) []byte {
	const perRun = 12
	runs := (fixtures + perRun - 1) / perRun
	var out bytes.Buffer
	fmt.Fprint(&out, `{
  "format": "1.0",
  "plan": {"title": "Invented: a park of paths", "stage": "design"},
  "units": "ft",
  "profiles": ["us-nec-2020"],
  "defaults": {"fixtures": {"connector": "gel-crimp", "slack": "2 ft", "mount": "stake", "height": "18 in"}, "legs": {"cable": "10/2", "method": "buried", "cover": "8 in"}},
  "supply": {"volts": 120, "tolerance": {"low": "-5 %", "high": "+5 %"}, "installed_by": "licensed",
    "branch_circuits": [`)
	for i := range (runs + 1) / 2 {
		comma(&out, i)
		fmt.Fprintf(&out, `{"id": "C%d", "breaker": "20 A"}`, i+1)
	}
	fmt.Fprint(&out, "],\n    \"receptacles\": [")
	for i := range (runs + 1) / 2 {
		comma(&out, i)
		fmt.Fprintf(&out, `
      {"id": "RC%d", "at": [-4, %d], "height": "20 in", "branch_circuit": "C%d", "gfci": true, "in_use_cover": true, "weather_resistant": true, "extra_duty": true}`, i+1, 60*i, i+1)
	}
	fmt.Fprint(&out, `]},
  "catalogue": {
    "fixtures": {"ring-path": {"kind": "path", "load": "constant-power", "watts": 3, "va": 3.9, "window": ["10 V", "15 V"], "lumens": 190, "colour": {"cct": "2700 K"},
      "ip": "IP65", "listing": ["wet-location"], "mounting": "ground", "body": {"diameter": "6 in", "height": "20 in"}, "shield": "full-cutoff", "light": {"shape": "downward-ring", "peak_angle": 58}}},
    "cables": {`)
	for i, size := range []string{"18", "14", "12", "10", "8"} {
		comma(&out, i)
		fmt.Fprintf(&out, `"%s/2": {"conductor": "%s AWG", "direct_burial": true, "ampacity": "%d A", "listing": ["direct-burial"]}`, size, size, []int{10, 20, 25, 33, 45}[i])
	}
	fmt.Fprint(&out, `},
    "connectors": {"gel-crimp": {"kind": "gel-crimp", "resistance": "2 mohm", "listing": ["direct-burial"], "most_conductors": 6}},
    "transformers": {"T300": {"kind": "magnetic", "rating": "300 VA", "primary_volts": "120 V", "output": "ac", "taps": ["12 V", "13 V", "14 V"], "impedance": "4 %",
      "commons": [{"breaker": "10 A", "most_conductors": 4}, {"breaker": "10 A", "most_conductors": 4}], "on_overload": "trip", "outdoor": true, "listing": ["outdoor", "landscape-system"]}}
  },
  "site": {"paths": [`)
	for i := range runs {
		comma(&out, i)
		fmt.Fprintf(&out, `
    {"id": "path-%d", "centreline": [[0, %d], [100, %d]], "width": "4 ft", "surface": "gravel"}`, i+1, 30*i, 30*i)
	}
	fmt.Fprint(&out, "]},\n  \"transformers\": [")
	for i := range (runs + 1) / 2 {
		comma(&out, i)
		fmt.Fprintf(&out, `
    {"id": "T%d", "type": "T300", "at": [-4, %d], "height": "16 in", "plugged_into": "RC%d", "cord": "4 ft", "extension_cord": false, "mounted_on": "post", "enclosed": false}`, i+1, 60*i+2, i+1)
	}
	fmt.Fprint(&out, "],\n  \"runs\": [")
	for i := range runs {
		comma(&out, i)
		fmt.Fprintf(&out, `
    {"id": "R%d", "from": {"transformer": "T%d", "common": %d, "tap": "12 V"}%s, "legs": [`, i+1, i/2+1, i%2+1, map[int]string{0: `, "cable": "18/2"`, 3: `, "cover": "3 in"`}[i%9])
		from := fmt.Sprintf("T%d", i/2+1)
		for k := range perRun {
			comma(&out, k)
			to := fmt.Sprintf("L%d-%d", i+1, k+1)
			fmt.Fprintf(&out, `{"id": "r%d-%d", "from": %q, "to": %q}`, i+1, k+1, from, to)
			from = to
		}
		fmt.Fprint(&out, "]}")
	}
	fmt.Fprint(&out, "],\n  \"fixtures\": [")
	for i := range runs {
		for k := range perRun {
			comma(&out, i+k)
			y := float64(30*i) + 2.8
			if i%9 == 6 && k == 4 {
				y -= 1
			}
			fmt.Fprintf(&out, `
    {"id": "L%d-%d", "type": "ring-path", "at": [%d, %.1f], "group": "walk"}`, i+1, k+1, 4+8*k, y)
		}
	}
	fmt.Fprint(&out, "]\n}\n")
	return out.Bytes()
}

func comma(out *bytes.Buffer, i int) {
	if i > 0 {
		out.WriteString(", ")
	}
}

func benchmarkMend(b *testing.B, c *checker.Checker, in checker.Input) {
	b.ReportAllocs()
	checks, steps := 0, 0
	for b.Loop() {
		m, err := c.Mend(context.Background(), in)
		if err != nil || len(m.After.Problems) > 0 {
			b.Fatal(err, m.After.Problems)
		}
		checks, steps = m.Combined.Checks, len(m.Combined.Steps)
	}
	b.ReportMetric(float64(checks), "checks")
	b.ReportMetric(float64(steps), "steps")
}

// BenchmarkMendDemo mends the draft of the demo: some forty fixtures, a dozen
// mistakes. It is to take less than a second.
func BenchmarkMendDemo(b *testing.B) {
	s := readSample(b, "testdata/plans/tern-cottage/draft.lighting.json")
	benchmarkMend(b, newChecker(b), s.input(s.text))
}

// BenchmarkMendLarge mends a plan of 300 fixtures with a mistake in every third
// run. It is to take less than five seconds.
func BenchmarkMendLarge(b *testing.B) {
	benchmarkMend(b, newChecker(b), checker.Input{Name: "large.lighting.json", Bytes: largePlan(300)})
}

// BenchmarkProveLarge proves fixes for each finding of the same plan.
func BenchmarkProveLarge(b *testing.B) {
	c, in := newChecker(b), checker.Input{Name: "large.lighting.json", Bytes: largePlan(300)}
	result, err := c.Check(context.Background(), in)
	if err != nil || len(result.Problems) > 0 {
		b.Fatal(err, result.Problems)
	}
	b.ReportAllocs()
	for b.Loop() {
		proved := result
		if err := c.Prove(context.Background(), in, &proved); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(share(&proved)), "%proved")
	}
	b.ReportMetric(float64(len(result.Findings)), "findings")
}

// share is the percentage of findings with a proved fix.
func share(p *report.Plan) int {
	proved := 0
	for i := range p.Findings {
		if fixes := p.Findings[i].Fixes; len(fixes) > 0 && fixes[0].Proved {
			proved++
		}
	}
	return 100 * proved / max(1, len(p.Findings))
}
