package profile

import (
	"fmt"
	"strings"
	"testing"
)

// stated writes an invented profile that sets one limit in full.
func stated(name, more, limit, value string) string {
	return `{"format": "1.0", "name": "` + name + `", "title": "Invented", ` + more + `
		"limits": {"` + limit + `": {` + value + `, "source": "Code of an invented town", "edition": "2026", "clause": "section 1"}}}`
}

// TestWeakened holds what counts as a local change that lets more pass, and that
// nothing else does.
func TestWeakened(t *testing.T) {
	const code = `, "basis": "code", "confidence": "confirmed"`
	for _, c := range []struct{ what, more, limit, value, want string }{
		{"a number on the weaker side", "", "water.setback_m", `"value": 0.1, "unit": "m"` + code, "water.setback_m 3 m to 0.1 m"},
		{"a number on the stricter side", "", "water.setback_m", `"value": 4, "unit": "m"` + code, ""},
		{"the same number", "", "water.setback_m", `"value": 3, "unit": "m"` + code, ""},
		{"more amps", "", "power.common_max_a", `"value": 500, "unit": "A"` + code, "power.common_max_a 25 A to 500 A"},
		{"the same number, from memory", "", "water.setback_m", `"value": 3, "unit": "m", "basis": "standard", "confidence": "memory"`, "water.setback_m 3 m to 3 m"},
		{"the same number, as practice", "", "water.setback_m", `"value": 3, "unit": "m", "basis": "practice", "confidence": "practice"`, "water.setback_m 3 m to 3 m"},
		{"a requirement taken back", "", "power.gfci_required", `"flag": false` + code, "power.gfci_required yes to no"},
		{"a limit taken away", "", "power.gfci_required", `"withdrawn": true` + code, "power.gfci_required yes to withdrawn"},
		{"a table with a row less", "", "wire.ampacity", `"table": {"12 AWG": 1}, "unit": "A"` + code, "wire.ampacity"},
		{"a limit of no danger", "", "site.leaf_clearance_m", `"value": 0.01, "unit": "m", "basis": "house", "confidence": "practice"`, ""},
	} {
		set := made(t, map[string]string{"town.json": stated("town", c.more, c.limit, c.value)})
		limits, err := set.Stack([]string{"us-nec-2020", "town"})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, change := range limits.Weakened() {
			was, now := change.Was, change.Now
			was.USValue = nil
			got = append(got, fmt.Sprintf("%s %s to %s", change.Name, was.Words(), now.Words()))
		}
		have := strings.Join(got, "; ")
		if c.limit == "wire.ampacity" && len(got) == 1 {
			have, _, _ = strings.Cut(have, " ")
		}
		if have != c.want {
			t.Errorf("%s: have %q, want %q", c.what, have, c.want)
		}
	}
}

// TestWeakenedByReplacing holds that a local profile of a code family of its own,
// which pushes the national code off the stack, does not do so in silence, while
// profiles that come with the program may be stacked in any order.
func TestWeakenedByReplacing(t *testing.T) {
	set := made(t, map[string]string{"own.json": stated("own", `"code_family": "own",`, "site.leaf_clearance_m",
		`"value": 0.3, "unit": "m", "basis": "house", "confidence": "practice"`)})
	limits, err := set.Stack([]string{"us-nec-2020", "own"})
	if err != nil {
		t.Fatal(err)
	}
	lost := map[string]bool{}
	for _, change := range limits.In("ft").Weakened() {
		lost[change.Name] = true
	}
	for _, name := range []string{"power.gfci_required", "water.setback_m", "power.common_max_a"} {
		if !lost[name] {
			t.Errorf("%s is gone without a word; %v are told", name, lost)
		}
	}
	for _, names := range [][]string{nil, {"us-nec-2020"}, {"us-nec-2020", "iec-60364"}, {"us-nec-2020", "local-example"}} {
		limits, err := set.Stack(names)
		if err != nil || limits.Weakened() != nil {
			t.Errorf("%v: %v, %v", names, err, limits.Weakened())
		}
	}
}

// TestWeakenedInFeet compares what a plan in feet is judged by.
func TestWeakenedInFeet(t *testing.T) {
	set := made(t, map[string]string{"town.json": stated("town", "", "water.setback_m",
		`"value": 3, "us_value": 1.0, "unit": "m", "basis": "code", "confidence": "confirmed"`)})
	limits, err := set.Stack([]string{"us-nec-2020", "town"})
	if err != nil {
		t.Fatal(err)
	}
	if metric, feet := limits.In("m").Weakened(), limits.In("ft").Weakened(); len(metric) != 0 || len(feet) != 1 {
		t.Errorf("in metres %v, in feet %v", metric, feet)
	}
}
