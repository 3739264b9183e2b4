package facts_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
	"duskproof/checker/profile"
)

const (
	inch = 0.0254 // m, international yard and pound agreement, 1959
	foot = 0.3048 // m
)

// tolM is how far a length may be from the one worked out by hand, in metres.
const tolM = 1e-6

// catalogue is the invented catalogue of the plans below. Sections of a plan
// are written as JSON members and joined by sketch.
const catalogue = `"catalogue": {
  "fixtures": {
    "lamp": {"kind": "path", "load": "constant-power", "va": 5, "window": ["9 V", "15 V"]},
    "fat": {"kind": "path", "load": "constant-power", "va": 5, "window": ["9 V", "15 V"], "body": {"diameter": "12 in"}},
    "leaded": {"kind": "path", "load": "constant-power", "va": 5, "window": ["9 V", "15 V"], "lead": {"conductor": "18 AWG", "length": "3 ft"}},
    "well": {"kind": "well", "load": "filament", "watts": 20, "window": ["10.8 V", "12 V"], "ip": "IP67", "load_class": "walk-over"},
    "spot": {"kind": "spot", "load": "filament", "watts": 20, "window": ["10.8 V", "12 V"]},
    "step": {"kind": "step", "load": "constant-power", "va": 2, "window": ["9 V", "15 V"]}
  },
  "cables": {"12/2": {"conductor": "12 AWG", "listing": ["direct-burial"]}, "10/2": {"conductor": "10 AWG", "direct_burial": false}},
  "connectors": {
    "lug": {"kind": "gel-lug", "resistance": "2 mohm", "listing": ["direct-burial"], "most_conductors": 4},
    "hub-block": {"kind": "screw-hub", "listing": ["wet-location"], "most_conductors": 8}
  },
  "transformers": {
    "T300": {"kind": "magnetic", "rating": "300 VA", "impedance": "4 %", "taps": ["12 V"], "commons": [{"breaker": "25 A"}], "listing": ["pool-spa"], "output": "ac"}
  }
}`

// sketch joins sections into a plan in feet.
func sketch(sections ...string) string {
	head := `{"format": "1.0", "plan": {"title": "Invented"}, "units": "ft", ` + catalogue
	return head + ", " + strings.Join(sections, ", ") + "}"
}

// limitsOf gives the limits of some profiles the form that facts take.
func limitsOf(t *testing.T, names ...string) []facts.Limit {
	t.Helper()
	set, err := profile.Bundled()
	if err != nil {
		t.Fatal(err)
	}
	stacked, err := set.Stack(names)
	if err != nil {
		t.Fatal(err)
	}
	var out []facts.Limit
	for _, l := range stacked.In("ft").All() {
		f := facts.Limit{Name: l.Name, Value: l.Value, Text: l.Text, Flag: l.Flag, Unit: l.Unit, Source: l.Cite()}
		for _, row := range l.Table {
			f.Table = append(f.Table, facts.LimitRow{Key: row.Key, Value: row.Value})
		}
		out = append(out, f)
	}
	return out
}

// computeWith computes the facts of a plan that has no contradiction.
func computeWith(t *testing.T, limits []facts.Limit, text string) *facts.Document {
	t.Helper()
	var any map[string]any
	if err := json.Unmarshal([]byte(text), &any); err != nil {
		t.Fatalf("the plan of the test: %v\n%s", err, text)
	}
	document, err := plan.Decode([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	p, issues := plan.Resolve(document)
	for _, issue := range issues {
		t.Errorf("the plan of the test: %s at %s", issue.Message, issue.Pointer)
	}
	doc, err := facts.Compute(context.Background(), facts.Input{Plan: p, Limits: limits, Today: "2026-06-01"})
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// compute computes the facts of a plan under the US profile.
func compute(t *testing.T, text string) *facts.Document {
	t.Helper()
	return computeWith(t, limitsOf(t, "us-nec-2020"), text)
}

// same compares two lengths in metres.
func same(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolM) {
		t.Errorf("%s: %.6f m, by hand %.6f m", what, got, want)
	}
}

// known is a length that must be there.
func known(t *testing.T, what string, got *float64, want float64) {
	t.Helper()
	if got == nil {
		t.Errorf("%s is not known, by hand %.6f m", what, want)
		return
	}
	same(t, what, *got, want)
}

// words lists what a test sees in a collection, for comparing it as a whole.
func words[T any](of []T, write func(T) string) string {
	var out []string
	for _, v := range of {
		out = append(out, write(v))
	}
	return strings.Join(out, "; ")
}

// feet writes metres as feet with two decimals.
func feet(m float64) string { return fmt.Sprintf("%.2f", m/foot) }

// yesNo writes what may not be known.
func yesNo(b *bool) string {
	switch {
	case b == nil:
		return "unknown"
	case *b:
		return "yes"
	}
	return "no"
}
