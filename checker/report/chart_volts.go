package report

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"duskproof/checker/facts"
	"duskproof/checker/plan"
)

// The size of a chart, and the room for its axes.
const (
	chartWidth, chartHeight         = 560.0, 230.0
	chartLeft, chartRight           = 40.0, 14.0
	chartTop, chartBottom           = 12.0, 34.0
	windowWidth                     = 9.0
	metresPerFoot                   = 0.3048
	mostTicks               float64 = 7
)

// profilePoint is one place on a run: how far along the cable, and its volts.
type profilePoint struct{ m, volts float64 }

// profile is one run as volts over cable length.
type profile struct {
	run    *plan.Run
	points map[string]profilePoint // of places with volts, by id
	lamps  []*facts.Fixture        // with volts, the nearest first
	tap    float64                 // loaded, V
	// readings are those of the last visit on this run.
	readings []chartReading
}

// voltCharts draws each run that has an answer.
func voltCharts(id string, p *Plan, all []visit) []pageChart {
	legs := map[string]*facts.Leg{}
	for i := range p.Facts.Legs {
		legs[p.Facts.Legs[i].ID] = &p.Facts.Legs[i]
	}
	lamps := map[string][]*facts.Fixture{}
	for i := range p.Facts.Fixtures {
		if f := &p.Facts.Fixtures[i]; f.NominalVolts != nil && f.DropV != nil {
			lamps[f.Run] = append(lamps[f.Run], f)
		}
	}
	nodes := map[string]float64{}
	for i := range p.Facts.Nodes {
		if n := &p.Facts.Nodes[i]; n.NominalVolts != nil {
			nodes[n.ID] = *n.NominalVolts
		}
	}
	var out []pageChart
	for i, run := range p.Model.Runs {
		title := Clean(run.ID)
		if run.Title != "" {
			title += ", " + Clean(run.Title)
		}
		chart := pageChart{ID: fmt.Sprintf("%s-run%d", id, i+1), Title: title}
		if len(lamps[run.ID]) == 0 {
			if fact := runFact(p.Facts, run.ID); fact != nil && !fact.Solved {
				chart.Words = "no answer: the run cannot carry its load at " + Clean(fact.Corner)
				out = append(out, chart)
			}
			continue
		}
		profile := newProfile(run, legs, lamps[run.ID], nodes)
		profile.addReadings(all, distances(run, legs))
		chart.Words = profile.words()
		chart.Picture = template.HTML(profile.picture(p.Model.Units))
		out = append(out, chart)
	}
	return out
}

func runFact(doc *facts.Document, id string) *facts.Run {
	for i := range doc.Runs {
		if doc.Runs[i].ID == id {
			return &doc.Runs[i]
		}
	}
	return nil
}

func newProfile(run *plan.Run, legs map[string]*facts.Leg, lamps []*facts.Fixture, nodes map[string]float64) *profile {
	out := &profile{run: run, points: map[string]profilePoint{}, tap: *lamps[0].NominalVolts + *lamps[0].DropV}
	away := distances(run, legs)
	out.points[run.Transformer.ID] = profilePoint{0, out.tap}
	for id, m := range away {
		if v, ok := nodes[id]; ok {
			out.points[id] = profilePoint{m, v}
		}
	}
	for _, f := range lamps {
		if m, ok := away[f.ID]; ok {
			out.points[f.ID] = profilePoint{m, *f.NominalVolts}
			out.lamps = append(out.lamps, f)
		}
	}
	slices.SortStableFunc(out.lamps, func(a, b *facts.Fixture) int { return cmp.Compare(out.points[a.ID].m, out.points[b.ID].m) })
	return out
}

// distances are the ways along the cable from the transformer, slack counted, by
// the shortest way where there are several.
func distances(run *plan.Run, legs map[string]*facts.Leg) map[string]float64 {
	away := map[string]float64{run.Transformer.ID: 0}
	for changed := true; changed; {
		changed = false
		for _, leg := range run.Legs {
			length := 0.0
			if fact := legs[leg.ID]; fact != nil {
				length = fact.SlackM
				if fact.LengthM != nil {
					length += *fact.LengthM
				}
			}
			for _, ends := range [][2]string{{leg.From, leg.To}, {leg.To, leg.From}} {
				from, known := away[ends[0]]
				if old, seen := away[ends[1]]; known && (!seen || from+length < old-1e-9) {
					away[ends[1]] = from + length
					changed = true
				}
			}
		}
	}
	return away
}

// words says in a sentence what the chart shows.
func (c *profile) words() string {
	low, high := math.Inf(1), math.Inf(-1)
	for _, f := range c.lamps {
		low, high = math.Min(low, *f.NominalVolts), math.Max(high, *f.NominalVolts)
	}
	out := 0
	for _, f := range c.lamps {
		if _, leaves := voltWords(f); leaves {
			out++
		}
	}
	from, get := fmt.Sprintf("%.1f V", low), "get"
	if to := fmt.Sprintf("%.1f V", high); to != from {
		from = fmt.Sprintf("%.1f to %s", low, to)
	}
	if len(c.lamps) == 1 {
		get = "gets"
	}
	words := fmt.Sprintf("%g V tap, %.1f V loaded; %s %s %s", c.run.TapVolts, c.tap, counted(len(c.lamps), "lamp"), get, from)
	if out > 0 {
		words += fmt.Sprintf("; %d out of the window in some corner", out)
	}
	off := 0
	for _, x := range c.readings {
		off += boolRank(x.r.off)
	}
	if len(c.readings) > 0 {
		words += "; " + counted(len(c.readings), "reading")
		if off == 0 {
			words += " as computed"
		} else {
			words += fmt.Sprintf(", %d off", off)
		}
	}
	return words
}

// chart is a picture with axes.
type chart struct {
	svg
	fromX, toX, fromY, toY float64
	width, height          float64
}

func (c *chart) at(x, y float64) point {
	return point{
		chartLeft + (x-c.fromX)/(c.toX-c.fromX)*(c.width-chartLeft-chartRight),
		c.height - chartBottom - (y-c.fromY)/(c.toY-c.fromY)*(c.height-chartTop-chartBottom),
	}
}

// picture draws the chart.
func (c *profile) picture(units string) string {
	perUnit, unit := 1.0, "m"
	if units == "ft" {
		perUnit, unit = metresPerFoot, "ft"
	}
	low, high, far := c.tap, c.tap, 0.0
	for _, x := range c.readings {
		low = min(low, x.r.fact.Measured, *x.r.fact.Expected-*x.r.fact.Tolerance)
		high = max(high, x.r.fact.Measured, *x.r.fact.Expected+*x.r.fact.Tolerance)
	}
	for _, f := range c.lamps {
		for _, v := range []*float64{f.NominalVolts, f.LowVolts, f.HighVolts, f.MinVolts, f.MaxVolts} {
			if v != nil {
				low, high = math.Min(low, *v), math.Max(high, *v)
			}
		}
		far = math.Max(far, c.points[f.ID].m/perUnit)
	}
	pad := math.Max(0.25, 0.06*(high-low))
	g := &chart{fromX: 0, toX: math.Max(far*1.06, 1), fromY: low - pad, toY: high + pad, width: chartWidth, height: chartHeight}
	g.open("svg", "class", "d", "role", "img", "aria-label", "Volts over cable length. "+c.words(), "viewBox", "0 0 "+decimal(chartWidth)+" "+decimal(chartHeight),
		"width", decimal(chartWidth), "height", decimal(chartHeight))
	g.axes(unit)
	g.windows(c, perUnit)
	var legs strings.Builder
	for _, leg := range c.run.Legs {
		a, known := c.points[leg.From]
		b, also := c.points[leg.To]
		if known && also {
			legs.WriteString(line([]point{g.at(a.m/perUnit, a.volts), g.at(b.m/perUnit, b.volts)}))
		}
	}
	g.tag("path", "class", "c-leg", "d", legs.String())
	g.due(c, perUnit)
	g.measured(c, perUnit, g.lamps(c, perUnit))
	g.shut("svg")
	return g.b.String()
}

// axes draws round values of both axes.
func (c *chart) axes(unit string) {
	for _, v := range ticks(c.fromY, c.toY) {
		a, b := c.at(c.fromX, v), c.at(c.toX, v)
		c.tag("path", "class", "c-grid", "d", line([]point{a, b}))
		c.text(a.x-5, a.y+3, "small", strconv.FormatFloat(v, 'g', 4, 64), "text-anchor", "end")
	}
	for _, v := range ticks(c.fromX, c.toX) {
		at := c.at(v, c.fromY)
		c.tag("path", "class", "c-tick", "d", line([]point{at, {at.x, at.y + 4}}))
		c.text(at.x, at.y+14, "small", strconv.FormatFloat(v, 'g', 6, 64), "text-anchor", "middle")
	}
	c.tag("path", "class", "c-tick", "d", line([]point{c.at(c.fromX, c.toY), c.at(c.fromX, c.fromY), c.at(c.toX, c.fromY)}))
	c.text(4, 9, "small faint", "V")
	c.text(c.width-chartRight, c.height-6, "small faint", "cable, "+unit+" from the transformer", "text-anchor", "end")
}

// ticks are round values in a range, at most about seven.
func ticks(from, to float64) []float64 {
	if !(to > from) || math.IsInf(to-from, 0) {
		return nil
	}
	rough := (to - from) / mostTicks
	step := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*step >= rough {
			step *= m
			break
		}
	}
	var out []float64
	for i := math.Ceil(from / step); i*step <= to+1e-9; i++ {
		out = append(out, i*step)
	}
	return out
}

// windows draws the window of each lamp, and its volts over all corners.
func (c *chart) windows(p *profile, perUnit float64) {
	var windows, ranges strings.Builder
	for _, f := range p.lamps {
		x := p.points[f.ID].m / perUnit
		if f.MinVolts != nil && f.MaxVolts != nil {
			top, bottom := c.at(x, *f.MaxVolts), c.at(x, *f.MinVolts)
			const half = windowWidth / 2
			windows.WriteString(outline([]point{{top.x - half, top.y}, {top.x + half, top.y}, {top.x + half, bottom.y}, {top.x - half, bottom.y}}))
		}
		if f.LowVolts != nil && f.HighVolts != nil {
			top, bottom := c.at(x, *f.HighVolts), c.at(x, *f.LowVolts)
			ranges.WriteString(line([]point{{top.x - 3, top.y}, {top.x + 3, top.y}}) + line([]point{top, bottom}) +
				line([]point{{bottom.x - 3, bottom.y}, {bottom.x + 3, bottom.y}}))
		}
	}
	c.tag("path", "class", "c-window", "d", windows.String())
	c.tag("path", "class", "c-range", "d", ranges.String())
}

// lamps draws dots and, where there is room, names. A lamp that leaves its
// window is named first. It returns the room that is left.
func (c *chart) lamps(p *profile, perUnit float64) *placer {
	f := frame{left: chartLeft, top: 0, width: c.width - chartLeft, height: c.height - chartBottom}
	room := newPlacer(&f)
	room.ways = upright
	order := slices.Clone(p.lamps)
	slices.SortStableFunc(order, func(a, b *facts.Fixture) int {
		_, aOut := voltWords(a)
		_, bOut := voltWords(b)
		return cmp.Compare(boolRank(bOut), boolRank(aOut))
	})
	for _, lamp := range p.lamps {
		at := c.at(p.points[lamp.ID].m/perUnit, p.points[lamp.ID].volts)
		room.take(boxAt(at, 7, 7))
	}
	for _, x := range p.readings {
		room.take(boxAt(c.at(x.m/perUnit, x.r.fact.Measured), 10, 10))
		room.take(c.dueBox(x, perUnit))
	}
	for _, lamp := range order {
		at := c.at(p.points[lamp.ID].m/perUnit, p.points[lamp.ID].volts)
		words, out := voltWords(lamp)
		class, name := "c-dot", Clean(lamp.ID)
		if out {
			class = "c-open"
			name = signOf(words) + name
		}
		c.tag("circle", "class", class, "cx", at.x, "cy", at.y, "r", 3.2)
		name = cut(name, 14)
		if centre, ok := room.settle(at, textWidth(name, 8.5)+2, 9, 4, 2, 7, 13, 20); ok {
			c.text(centre.x, centre.y+3, "small halo", name, "text-anchor", "middle")
		}
	}
	return room
}

// signOf is the sign of volts that leave their window.
func signOf(words string) string {
	for _, sign := range []string{"▼ ", "▲ "} {
		if len(words) > len(sign) && words[:len(sign)] == sign {
			return sign
		}
	}
	return ""
}

func boolRank(b bool) int {
	if b {
		return 1
	}
	return 0
}
