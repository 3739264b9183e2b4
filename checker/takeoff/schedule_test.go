package takeoff_test

import (
	"encoding/json"
	"strings"
	"testing"

	"duskproof/checker/takeoff"
)

// TestJSONNames holds the names that other programs read.
func TestJSONNames(t *testing.T) {
	text, err := json.Marshal(scheduled(t, demo, ""))
	if err != nil {
		t.Fatal(err)
	}
	var s struct {
		Lamps []struct {
			ID    string
			Volts struct{ Nominal, Low, High float64 }
		}
		Legs, Commons []struct {
			ID   string
			Amps float64
		}
		Transformers []struct {
			ID          string
			VA, Loading float64
		}
		Treads, Paths []struct {
			ID     string
			LuxMin *float64 `json:"lux_min"`
			LuxAvg *float64 `json:"lux_avg"`
		}
	}
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	if len(s.Lamps) != 32 || s.Lamps[0].Volts.Low >= s.Lamps[0].Volts.Nominal || s.Lamps[0].Volts.High <= s.Lamps[0].Volts.Nominal {
		t.Errorf("%d lamps, the first %+v", len(s.Lamps), s.Lamps[0])
	}
	if len(s.Legs) != 36 || s.Legs[0].ID != "w1" || s.Legs[0].Amps <= 0 {
		t.Errorf("%d legs, the first %+v", len(s.Legs), s.Legs[0])
	}
	if len(s.Commons) != 3 || s.Commons[0].ID != "T1/1" || len(s.Transformers) != 2 || s.Transformers[0].VA <= 0 || s.Transformers[0].Loading <= 0 {
		t.Errorf("commons %+v, transformers %+v", s.Commons, s.Transformers)
	}
	seen := map[string]bool{}
	for _, x := range append(s.Treads, s.Paths...) {
		if seen[x.ID] {
			t.Errorf("%s is listed twice", x.ID)
		}
		seen[x.ID] = true
		if x.LuxMin == nil || x.LuxAvg == nil {
			t.Errorf("%s has no light", x.ID)
		}
	}
	if !seen["upper/5"] || !seen["half-landing"] || !seen["walk"] || !seen["terrace"] {
		t.Errorf("places %v", seen)
	}
}

// TestEveryTableHasItsName holds that a table can be asked for by name, and that
// each row has a cell for each column.
func TestEveryTableHasItsName(t *testing.T) {
	names := strings.Join(takeoff.TableNames(), " ")
	for _, table := range takeoff.Tables(scheduled(t, demo, "")) {
		if !strings.Contains(" "+names+" ", " "+table.Name+" ") {
			t.Errorf("table %q is not in the list of names", table.Name)
		}
		headings := map[string]bool{}
		for _, c := range table.Columns {
			if headings[c.Heading()] {
				t.Errorf("table %s has two columns %q", table.Name, c.Heading())
			}
			headings[c.Heading()] = true
		}
		for _, row := range table.Rows {
			if len(row) != len(table.Columns) {
				t.Errorf("table %s: %d cells for %d columns", table.Name, len(row), len(table.Columns))
			}
		}
	}
	if n := len(takeoff.Tables(scheduled(t, demo, ""))); n != len(takeoff.TableNames()) {
		t.Errorf("the demo fills %d of %d tables", n, len(takeoff.TableNames()))
	}
}

// TestWiringAlone holds that a plan without a site, or without anything, has
// schedules all the same, and nothing that is null.
func TestWiringAlone(t *testing.T) {
	for _, text := range []string{
		`{"format": "1.0", "plan": {"title": "Invented: nothing"}, "units": "m"}`,
		`{"format": "1.0", "plan": {"title": "Invented: a chain"}, "units": "m",
		  "catalogue": {"fixtures": {"p": {"kind": "path", "watts": 4, "load": "constant-power", "va": 5}},
		    "cables": {"2.5": {"conductor": "2.5 mm2"}}, "transformers": {"t": {"rating": "100 VA", "kind": "magnetic", "taps": ["12 V"], "commons": [{"breaker": "10 A"}]}}},
		  "transformers": [{"id": "T1", "type": "t"}],
		  "runs": [{"id": "r", "from": {"transformer": "T1", "common": 1, "tap": "12 V"}, "cable": "2.5",
		    "chain": [{"to": "A", "length": 10}, {"to": "B", "length": 20}]}],
		  "fixtures": [{"id": "A", "type": "p"}, {"id": "B", "type": "p"}]}`,
	} {
		s := scheduled(t, "invented", text)
		data, err := json.Marshal(s)
		if err != nil || strings.Contains(string(data), "null") {
			t.Errorf("%v, %s", err, data)
		}
		takeoff.Tables(s)
		if len(s.Lamps) == 2 {
			near(t, "cable, m", purchase(t, s, "cable", "2.5").Needed, 30, 1e-9)
			if len(s.Trenches) != 1 || s.Trenches[0].Routed || s.Trenches[0].LengthM != 30 {
				t.Errorf("trenches %+v", s.Trenches)
			}
			if got := s.OneLines[0].Lines[len(s.OneLines[0].Lines)-1]; !strings.Contains(got, "to B (p) ") || strings.Contains(got, "└") {
				t.Errorf("the chain goes on as %q", got)
			}
		}
	}
}
