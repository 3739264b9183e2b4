package report

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/measure"
	"duskproof/checker/plan"
)

// unitsPerMM is the number of drawing units in a millimetre: 96 to the inch, as
// the SVG standard has it.
const unitsPerMM = 96 / 25.4

// sheet is a size of paper, in millimetres, the short side first.
type sheet struct {
	name        string
	short, long float64
}

// Sheets of ISO 216 for plans in metres, and of ANSI Y14.1 for plans in feet.
var (
	metricSheets = []sheet{{"A4", 210, 297}, {"A3", 297, 420}, {"A2", 420, 594}, {"A1", 594, 841}, {"A0", 841, 1189}}
	inchSheets   = []sheet{{"ANSI A (letter)", 215.9, 279.4}, {"ANSI B", 279.4, 431.8}, {"ANSI C", 431.8, 558.8}, {"ANSI D", 558.8, 863.6}, {"ANSI E", 863.6, 1117.6}}
)

// Scales that people draw plans in, the finest first: 1:20 and so on, and half
// an inch to the foot (1:24), 10 ft to the inch (1:120) and so on.
var (
	metricScales = []float64{20, 25, 50, 100, 200, 250, 500, 1000, 1250, 2500, 5000, 10000}
	inchScales   = []float64{24, 48, 96, 120, 192, 240, 360, 480, 600, 720, 1200, 2400, 4800, 12000}
)

const (
	sheetMarginMM = 10.0
	// sheetFurnitureMM is the height that title, scale bar and legend take.
	sheetFurnitureMM = 52.0
	// The coarsest scale that still shows fixtures a pace apart clear of each
	// other; a larger sheet comes before a coarser scale.
	clearMetric, clearInch = 125.0, 120.0
	// leastMapUnits is the least width of a map, so that legend and scale bar
	// have room.
	leastMapUnits = 560.0
)

// choice is the sheet and scale of a drawing.
type choice struct {
	sheet string  // empty when no sheet is large enough
	scale float64 // 1:scale
	words string
}

// chooseSheet finds the smallest sheet on which the ground fits at a clear
// scale, else the finest scale on the largest sheet.
func chooseSheet(size r2.Vec, units string) choice {
	sheets, scales, least := metricSheets, metricScales, clearMetric
	if units == "ft" {
		sheets, scales, least = inchSheets, inchScales, clearInch
	}
	for _, limit := range []float64{least, math.Inf(1)} {
		for _, s := range sheets {
			for _, scale := range scales {
				if scale <= limit && fits(size, s, scale) {
					return choice{s.name, scale, scaleWords(scale, units)}
				}
			}
		}
	}
	scale := scales[len(scales)-1]
	largest := sheets[len(sheets)-1]
	for !fits(size, largest, scale) && scale < 1e9 {
		scale *= 2
	}
	return choice{"", scale, scaleWords(scale, units)}
}

// fits reports whether the ground fits a sheet, upright or across.
func fits(size r2.Vec, s sheet, scale float64) bool {
	w, h := size.X*1000/scale, size.Y*1000/scale
	room := func(width, height float64) bool {
		return w <= width-2*sheetMarginMM && h <= height-2*sheetMarginMM-sheetFurnitureMM
	}
	return room(s.short, s.long) || room(s.long, s.short)
}

// scaleWords names a scale: "1:100", and with feet also "10 ft to 1 in".
func scaleWords(scale float64, units string) string {
	words := fmt.Sprintf("1:%.0f", scale)
	if units == "ft" && math.Mod(scale, 12) == 0 {
		return words + fmt.Sprintf(" (1 in to %s)", measure.Length(scale*0.0254, units))
	}
	return words
}

// extent is the ground to show: everything that the plan installs and lights,
// with some room; without any of that, everything on the site. ok is false when
// nothing has a place.
func extent(p *plan.Plan) (low, high r2.Vec, ok bool) {
	var b bounds
	for _, f := range p.Fixtures {
		b.addOne(f.At)
	}
	for _, t := range p.Transformers {
		b.addOne(t.At)
	}
	if p.Supply != nil {
		for _, r := range p.Supply.Receptacles {
			b.addOne(r.At)
		}
	}
	for _, run := range p.Runs {
		for _, n := range run.Nodes {
			b.addOne(n.At)
		}
		for _, leg := range run.Legs {
			b.add(leg.Route...)
		}
	}
	b.addLit(p.Site)
	if !b.any {
		b.addSite(p.Site)
	}
	if !b.any {
		return r2.Vec{}, r2.Vec{}, false
	}
	margin := math.Max(1.5, 0.06*math.Max(b.high.X-b.low.X, b.high.Y-b.low.Y))
	room := r2.Vec{X: margin, Y: margin}
	return r2.Sub(b.low, room), r2.Add(b.high, room), true
}

// bounds is a growing box.
type bounds struct {
	low, high r2.Vec
	any       bool
}

func (b *bounds) addOne(p *r2.Vec) {
	if p != nil {
		b.add(*p)
	}
}

func (b *bounds) add(points ...r2.Vec) {
	for _, p := range points {
		if math.IsNaN(p.X) || math.IsNaN(p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
			continue
		}
		if !b.any {
			b.low, b.high, b.any = p, p, true
		}
		b.low = r2.Vec{X: math.Min(b.low.X, p.X), Y: math.Min(b.low.Y, p.Y)}
		b.high = r2.Vec{X: math.Max(b.high.X, p.X), Y: math.Max(b.high.Y, p.Y)}
	}
}

// addLit adds what is meant to be lit.
func (b *bounds) addLit(s *plan.Site) {
	if s == nil {
		return
	}
	for _, p := range s.Paths {
		if p.Lit {
			b.add(p.Centreline...)
		}
	}
	for _, st := range s.Stairs {
		b.add(st.FootLeft, st.FootRight, st.HeadLeft, st.HeadRight)
	}
	for _, l := range s.Landings {
		b.add(l.Outline...)
	}
	for _, d := range s.Decks {
		b.add(d.Outline...)
	}
	for _, a := range s.Areas {
		if a.Lit && a.Kind == "terrace" {
			b.add(a.Outline...)
		}
	}
}

// addSite adds everything that is on the ground.
func (b *bounds) addSite(s *plan.Site) {
	if s == nil {
		return
	}
	b.add(s.PropertyLine...)
	for _, p := range s.Paths {
		b.add(p.Centreline...)
	}
	for _, a := range s.Areas {
		b.add(a.Outline...)
	}
	for _, d := range s.Drives {
		b.add(d.Outline...)
	}
	for _, x := range s.Buildings {
		b.add(x.Outline...)
	}
	for _, x := range s.Screens {
		b.add(x.Line...)
	}
	for _, t := range s.Trees {
		b.add(t.At)
	}
	for _, w := range s.Water {
		b.add(w.Outline...)
	}
	for _, l := range s.Leaves {
		b.add(l.Hinge)
	}
}
