package report

import (
	"fmt"

	"duskproof/checker/facts"
)

// dropBands are the upper ends of the bands of drop along the cables, as shares
// of the tap.
var dropBands = []float64{0.03, 0.05, 0.10}

func dropBand(share float64) int {
	for i, top := range dropBands {
		if share <= top {
			return i
		}
	}
	return len(dropBands)
}

// dropLayer draws each leg by the drop at its far end, at nominal supply.
func (d *drawing) dropLayer() {
	volts := map[string]float64{}
	taps := map[string]float64{}
	for i := range d.facts.Nodes {
		if n := &d.facts.Nodes[i]; n.NominalVolts != nil {
			volts[n.ID] = *n.NominalVolts
		}
	}
	for i := range d.facts.Fixtures {
		if f := &d.facts.Fixtures[i]; f.NominalVolts != nil && f.DropV != nil {
			volts[f.ID] = *f.NominalVolts
			taps[f.Run] = *f.NominalVolts + *f.DropV
		}
	}
	looks := &strokes{}
	for _, run := range d.plan.Runs {
		for _, leg := range run.Legs {
			v, known := volts[leg.To]
			tap := taps[run.ID]
			if !known || tap <= 0 || len(leg.Route) < 2 {
				continue
			}
			class := fmt.Sprintf("drop drop%d", dropBand(1-v/tap))
			looks.add(class, 3, line(d.all(leg.Route)))
		}
	}
	d.open("g", "class", "layer-volts")
	for _, s := range looks.all {
		d.tag("path", "class", s.class, "stroke-width", s.width, "d", s.path.String())
	}
	d.shut("g")
}

// voltWords says what a lamp gets, with a sign when some corner leaves its
// window; out is true then.
func voltWords(f *facts.Fixture) (words string, out bool) {
	if f.NominalVolts == nil {
		return "no answer", true
	}
	words = fmt.Sprintf("%.1f V", *f.NominalVolts)
	if f.MinVolts != nil && f.LowVolts != nil && *f.LowVolts < *f.MinVolts {
		return "▼ " + words, true
	}
	if f.MaxVolts != nil && f.HighVolts != nil && *f.HighVolts > *f.MaxVolts {
		return "▲ " + words, true
	}
	return words, false
}

// voltTags writes the volts beside each lamp.
func (d *drawing) voltTags() {
	d.open("g", "class", "layer-volts")
	for _, f := range d.plan.Fixtures {
		fact := d.lamps[f.ID]
		if f.At == nil || fact == nil || !fact.Wired || !d.holds(d.at(*f.At)) {
			continue
		}
		words, out := voltWords(fact)
		width := textWidth(words, 8.5) + 6
		centre, ok := d.room.settle(d.at(*f.At), width, 12, symbolSize(fixtureSymbol(f.Type.Kind))/2, 1, 4, 9, 15, 22, 30, 40)
		if !ok {
			continue
		}
		class := "volts"
		if out {
			class = "volts out"
		}
		d.tag("path", "class", "leader", "d", line([]point{d.at(*f.At), centre}), "stroke-opacity", "0.4")
		d.tag("rect", "class", class, "x", centre.x-width/2, "y", centre.y-6, "width", width, "height", 12, "rx", 2)
		d.text(centre.x, centre.y+3, "small", words, "text-anchor", "middle")
	}
	d.shut("g")
}
