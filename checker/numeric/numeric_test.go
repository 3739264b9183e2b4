package numeric

import (
	"slices"
	"strings"
	"testing"

	"duskproof/checker/facts"
	"duskproof/checker/rule"
)

func number(name string, value float64, unit string) facts.Limit {
	return facts.Limit{Name: name, Value: &value, Unit: unit, Source: "test", Basis: "practice"}
}

func word(name, text string) facts.Limit {
	return facts.Limit{Name: name, Text: text, Source: "test", Basis: "standard"}
}

// document makes facts of the parts that a rule reads.
func document(limits []facts.Limit, change func(*facts.Document)) *facts.Document {
	doc := facts.New()
	doc.Units = "ft"
	doc.Limits = limits
	change(doc)
	return doc
}

// judged runs one rule alone.
func judged(doc *facts.Document, id string) []rule.Hit {
	return Run(doc, func(other string) bool { return other == id })
}

// expectation is what a rule should say of one element.
type expectation struct {
	element, name, severity, limit string
	value                          float64
	words                          string
}

// expect holds that a rule made exactly the hits that are wanted, in order.
func expect(t *testing.T, hits []rule.Hit, want ...expectation) {
	t.Helper()
	if len(hits) != len(want) {
		t.Fatalf("%d hits, want %d: %+v", len(hits), len(want), hits)
	}
	for i, w := range want {
		h := hits[i]
		if h.Element != w.element || h.Case != w.name || h.Severity != w.severity || h.LimitName != w.limit {
			t.Errorf("hit on %s, case %q, severity %q, limit %q; want %s, %q, %q, %q",
				h.Element, h.Case, h.Severity, h.LimitName, w.element, w.name, w.severity, w.limit)
		}
		if w.value != 0 && (h.Value == nil || *h.Value != w.value) {
			t.Errorf("value %v, want %g", h.Value, w.value)
		}
		if !strings.Contains(h.Message, w.words) {
			t.Errorf("message %q lacks %q", h.Message, w.words)
		}
	}
}

func TestIDsAreSorted(t *testing.T) {
	if ids := IDs(); !slices.IsSorted(ids) || len(ids) != len(judges) {
		t.Errorf("ids %v", ids)
	}
}

// TestRunKeepsToTheWanted holds that a rule that is off says nothing, and that
// hits name their rule.
func TestRunKeepsToTheWanted(t *testing.T) {
	doc := document(nil, func(d *facts.Document) {
		d.Runs = []facts.Run{{ID: "R1", Solved: false, Corner: "nominal supply"}}
		d.Transformers = []facts.Transformer{{ID: "T1", Solved: true, LoadVA: 200, RatingVA: 150}}
	})
	all := Run(doc, func(string) bool { return true })
	if len(all) != 2 || all[0].Rule != "power.overload" || all[1].Rule != "wire.no-solution" {
		t.Errorf("hits %+v", all)
	}
	if none := Run(doc, func(string) bool { return false }); len(none) != 0 {
		t.Errorf("hits of no rule: %+v", none)
	}
}

// TestEmptyFacts holds that no rule says anything of nothing.
func TestEmptyFacts(t *testing.T) {
	if hits := Run(facts.New(), func(string) bool { return true }); len(hits) != 0 {
		t.Errorf("hits %+v", hits)
	}
}

func TestNumberOr(t *testing.T) {
	v := newView(document([]facts.Limit{number("a", 2, "1"), word("b", "x")}, func(*facts.Document) {}))
	if v.numberOr("a", 1) != 2 || v.numberOr("b", 1) != 1 || v.numberOr("c", 1) != 1 {
		t.Error("numberOr")
	}
	if v.word("b", "y") != "x" || v.word("a", "y") != "y" || v.word("c", "y") != "y" {
		t.Error("word")
	}
}
