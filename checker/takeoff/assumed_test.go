package takeoff_test

import (
	"strings"
	"testing"

	"duskproof/checker/takeoff"
)

// TestAssumed holds that every number that the plan leaves to the profile is
// listed, and none that it states. The numbers are the profile's; that of the
// impedance is from memory, the others are common practice or rules of the house.
func TestAssumed(t *testing.T) {
	rows := func(s *takeoff.Schedule) string {
		for _, table := range takeoff.Tables(s) {
			if table.Name == "assumed" {
				var out []string
				for _, row := range table.Rows {
					out = append(out, strings.TrimSpace(strings.Join(row[:5], " ")))
				}
				return strings.Join(out, "; ")
			}
		}
		return ""
	}
	const always = "ground in the cold corners 0 0 degC; conductors in the nominal corner 20 20 degC; light that ageing and dirt leave 0.80 0.80"
	if got, want := rows(scheduled(t, demo, "")), "ground in the hot corner 30 30 degC; "+always; got != want {
		t.Errorf("all stated:\n got %s\nwant %s", got, want)
	}
	bare := `{"format": "1.0", "units": "ft", "profiles": ["us-nec-2020"], "plan": {"title": "Invented"}, "supply": {"volts": 120},
	  "site": {"ground": {"temperature": "68 F"}},
	  "catalogue": {
	    "fixtures": {"ring": {"kind": "path", "load": "constant-power", "watts": 4}, "bar": {"kind": "strip", "load": "constant-power", "watts": 4, "va": 5}},
	    "cables": {"12/2": {"conductor": "12 AWG"}},
	    "transformers": {"unit": {"kind": "magnetic", "rating": "60 VA", "taps": ["12 V"]}}
	  },
	  "transformers": [{"id": "T1", "type": "unit"}],
	  "runs": [{"id": "R1", "from": {"transformer": "T1"}, "cable": "12/2", "chain": [{"to": "L1", "length": 9}, {"to": "L2", "length": 9}]}],
	  "fixtures": [{"id": "L1", "type": "ring"}, {"id": "L2", "type": "bar"}]}`
	if got, want := rows(scheduled(t, "bare", bare)), "mains volts over nominal 0.95 1.05; "+always+"; T1 impedance 3 6 %; ring power factor 0.70 0.70"; got != want {
		t.Errorf("little stated:\n got %s\nwant %s", got, want)
	}
}
