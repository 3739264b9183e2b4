package report_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"duskproof/checker/report"
)

// largePlan is an invented plan of path lights on each side of a straight path:
// runs of 20 lamps, five runs to a transformer, a lamp every metre.
func largePlan(fixtures int, window string) []byte {
	const onRun, onUnit = 20, 100
	var units, runs, lamps []string
	length := float64(fixtures) / 2
	for u := 0; u*onUnit < fixtures; u++ {
		x := (float64(u) + 0.5) * onUnit / 2
		units = append(units, fmt.Sprintf(`{"id": "T%d", "type": "t", "at": [%g, 3], "height": 0.5}`, u+1, x))
	}
	for r := 0; r*onRun < fixtures; r++ {
		unit := r * onRun / onUnit
		from := fmt.Sprintf("T%d", unit+1)
		var legs []string
		for k := range onRun {
			i := r*onRun + k
			x, y := float64(i/2)+0.5, 0.9
			if i%2 == 1 {
				y = -0.9
			}
			id := fmt.Sprintf("L%d", i+1)
			lamps = append(lamps, fmt.Sprintf(`{"id": "%s", "type": "p", "at": [%g, %g], "height": 0.5, "mount": "stake"}`, id, x, y))
			legs = append(legs, fmt.Sprintf(`{"id": "w%d", "from": "%s", "to": "%s", "cable": "2.5", "method": "buried", "cover": 0.45}`, i+1, from, id))
			from = id
		}
		runs = append(runs, fmt.Sprintf(`{"id": "r%d", "from": {"transformer": "T%d", "common": %d, "tap": "12 V"}, "legs": [%s]}`,
			r+1, unit+1, r%5+1, strings.Join(legs, ",\n")))
	}
	return []byte(fmt.Sprintf(`{"format": "1.0", "plan": {"title": "Invented: %d lights", "stage": "design"}, "units": "m", "profiles": ["iec-60364"],
"catalogue": {
 "fixtures": {"p": {"kind": "path", "watts": 2, "va": 2.5, "load": "constant-power", "window": [%s], "lumens": 80, "ip": "IP65", "listing": ["wet-location"], "light": {"shape": "downward-ring", "peak_angle": 58}}},
 "cables": {"2.5": {"conductor": "2.5 mm2", "direct_burial": true}},
 "transformers": {"t": {"rating": "300 VA", "kind": "magnetic", "impedance": "4 %%", "taps": ["12 V"], "commons": [{"breaker": "10 A"}, {"breaker": "10 A"}, {"breaker": "10 A"}, {"breaker": "10 A"}, {"breaker": "10 A"}], "outdoor": true}}},
"site": {"paths": [{"id": "walk", "centreline": [[0, 0], [%g, 0]], "width": 1.2}]},
"transformers": [%s],
"runs": [%s],
"fixtures": [%s]}`, fixtures, window, length, strings.Join(units, ",\n"), strings.Join(runs, ",\n"), strings.Join(lamps, ",\n")))
}

// mostPage is the largest that the page of a plan of 2,000 fixtures may be.
const mostPage = 5 << 20

// TestLargePage holds that the page of a plan of 2,000 fixtures stays small
// enough to open and to send.
func TestLargePage(t *testing.T) {
	if testing.Short() {
		t.Skip("checks a plan of 2,000 fixtures; left out by -short")
	}
	for name, window := range map[string]string{"wide windows": `"9 V", "15 V"`, "windows that every lamp leaves": `"11.9 V", "12 V"`} {
		t.Run(name, func(t *testing.T) {
			p := checked(t, "large", largePlan(2000, window))
			var b bytes.Buffer
			if err := report.HTML(&b, pageReport(*p), report.Options{}); err != nil {
				t.Fatal(err)
			}
			t.Logf("%d findings, %.2f MB", len(p.Findings), float64(b.Len())/(1<<20))
			if b.Len() > mostPage {
				t.Errorf("the page has %d bytes, more than %d", b.Len(), mostPage)
			}
		})
	}
}

// pageReport is a report on some plans.
func pageReport(plans ...report.Plan) *report.Report {
	return &report.Report{Format: report.Format, Tool: report.Tool{Name: "duskproof", Version: "0.1.0"}, Today: "2026-06-01", Caution: report.Caution, Plans: plans}
}
