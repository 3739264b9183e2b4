package mend

import (
	"fmt"
	"math"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/measure"
)

// result says what a finding's quantity is after a fix; empty for a finding
// without one that is worth saying.
func result(f *finding.Finding, after *Outcome, renamed map[string]string) string {
	id := f.Element
	if to, ok := renamed[id]; ok {
		id = to
	}
	doc := after.Facts
	switch f.Rule {
	case "wire.lamp-starved", "wire.lamp-overfed":
		return lampResult(doc, f, id)
	case "wire.excess-drop":
		return dropResult(doc, f, id)
	case "power.overload", "power.margin":
		for i := range doc.Transformers {
			if t := &doc.Transformers[i]; t.ID == id {
				return fmt.Sprintf("%s is then loaded to %s", id, measure.Share(t.Loading))
			}
		}
	case "light.unlit-step", "light.unlit-landing":
		return treadResult(doc, id)
	}
	return ""
}

func lampResult(doc *facts.Document, f *finding.Finding, id string) string {
	for i := range doc.Fixtures {
		lamp := &doc.Fixtures[i]
		if lamp.ID != id || lamp.NominalVolts == nil {
			continue
		}
		volts, corner := lamp.NominalVolts, "nominal supply"
		switch {
		case f.Rule == "wire.lamp-starved" && f.Case != "nominal" && lamp.LowVolts != nil:
			volts, corner = lamp.LowVolts, lamp.LowCorner
		case f.Rule == "wire.lamp-overfed" && f.Case == "corner" && lamp.HighVolts != nil:
			volts, corner = lamp.HighVolts, lamp.HighCorner
		}
		return fmt.Sprintf("lamp %s then gets %s at %s", id, measure.Text(*volts, "V", doc.Units), corner)
	}
	return ""
}

// dropResult says what a run loses after a fix; where a higher tap makes up for
// that, what its lamps get.
func dropResult(doc *facts.Document, finding *finding.Finding, run string) string {
	worst, least := 0.0, math.Inf(1)
	for i := range doc.Fixtures {
		f := &doc.Fixtures[i]
		if f.Run != run {
			continue
		}
		if f.DropShare != nil {
			worst = max(worst, *f.DropShare)
		}
		if f.NominalVolts != nil {
			least = min(least, *f.NominalVolts)
		}
	}
	if finding.Limit != nil && worst > *finding.Limit && !math.IsInf(least, 1) {
		return fmt.Sprintf("the lamps of run %s then get %s and more at nominal supply", run, measure.Text(least, "V", doc.Units))
	}
	return fmt.Sprintf("run %s then loses %s at most", run, measure.Share(worst))
}

func treadResult(doc *facts.Document, id string) string {
	least := -1.0
	for i := range doc.Treads {
		t := &doc.Treads[i]
		if t.ID == id && t.LuxCentre != nil && (least < 0 || *t.LuxCentre < least) {
			least = *t.LuxCentre
		}
	}
	if least < 0 {
		return ""
	}
	return fmt.Sprintf("%s then gets %s", id, measure.Text(least, "lx", doc.Units))
}
