package numeric

import (
	"testing"

	"duskproof/checker/facts"
)

func unit(load float64, change func(*facts.Transformer)) func(*facts.Document) {
	t := facts.Transformer{ID: "T1", RatingVA: 300, NominalVA: load, LoadVA: load, Loading: load / 300, LoadCorner: "low supply, hot cable", Solved: true}
	change(&t)
	return func(d *facts.Document) { d.Transformers = []facts.Transformer{t} }
}

func asIs(*facts.Transformer) {}

func TestOverload(t *testing.T) {
	cases := []struct {
		name  string
		facts func(*facts.Document)
		want  []expectation
	}{
		{"within", unit(299, asIs), nil},
		{"at its rating", unit(300, asIs), nil},
		{"beyond, nothing ends it", unit(310, asIs), []expectation{{"T1", "", "danger", "", 310, "carries 310 VA with cable losses (low supply, hot cable); it is rated 300 VA: no device"}}},
		{"beyond, a device ends it", unit(310, func(t *facts.Transformer) { t.OverloadEnds = true }), []expectation{{"T1", "", "defect", "", 310, "its protection ends that sooner or later"}}},
		{"beyond, a device that never opens", unit(310, func(t *facts.Transformer) { t.HasProtection = true }), []expectation{{"T1", "", "danger", "", 310, ""}}},
		{"beyond while the mains is high", unit(310, func(t *facts.Transformer) { t.NominalVA = 296 }),
			[]expectation{{"T1", "corner", "advice", "", 310, "carries 310 VA with cable losses (low supply, hot cable); it is rated 300 VA: at nominal supply it carries 296 VA"}}},
		{"at its rating, beyond while the mains is high", unit(310, func(t *facts.Transformer) { t.NominalVA = 300 }), []expectation{{"T1", "corner", "advice", "", 310, "300 VA, so nothing is to spare"}}},
		{"no answer", unit(900, func(t *facts.Transformer) { t.Solved = false }), nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			expect(t, judged(document(nil, c.facts), "power.overload"), c.want...)
		})
	}
}

func TestMargin(t *testing.T) {
	// 80 %: common practice.
	limits := []facts.Limit{number("power.loading_advice", 0.8, "1")}
	grows := func(va float64) func(*facts.Transformer) {
		return func(t *facts.Transformer) { t.GrowthVA = ptr(va) }
	}
	cases := []struct {
		name   string
		limits []facts.Limit
		facts  func(*facts.Document)
		want   []expectation
	}{
		{"within", limits, unit(240, asIs), nil},
		{"above", limits, unit(270, asIs), []expectation{{"T1", "loading", "", "power.loading_advice", 0.9, "loaded to 90 % of its 300 VA"}}},
		{"no room for growth", limits, unit(200, grows(110)), []expectation{{"T1", "growth", "", "", 310, "200 VA now (low supply, hot cable) and 110 VA later make 310 VA"}}},
		{"room for growth", limits, unit(200, grows(100)), nil},
		{"both", limits, unit(270, grows(60)), []expectation{{"T1", "loading", "", "power.loading_advice", 0.9, ""}, {"T1", "growth", "", "", 330, ""}}},
		{"overloaded already", limits, unit(310, grows(60)), nil},
		{"no answer", limits, unit(270, func(t *facts.Transformer) { t.Solved = false }), nil},
		{"no limit, but stated growth", nil, unit(299, grows(60)), []expectation{{"T1", "growth", "", "", 359, ""}}},
		{"no limit", nil, unit(299, asIs), nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			expect(t, judged(document(c.limits, c.facts), "power.margin"), c.want...)
		})
	}
}
