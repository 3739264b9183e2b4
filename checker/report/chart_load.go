package report

import (
	"fmt"
	"html/template"
	"math"

	"duskproof/checker/facts"
)

// loadBar is one row of a chart of loads.
type loadBar struct {
	name, words string
	share       float64 // of the limit, at nominal supply
	most        float64 // of the limit, over all corners
}

const (
	barLeft, barWidth = 80.0, 262.0
	barRow            = 24.0
	// barFull is the share of the limit at the right end of a track.
	barFull = 1.25
)

// loadCharts draws the load of each transformer and of its commons.
func loadCharts(id string, p *Plan) []pageChart {
	var out []pageChart
	for i := range p.Facts.Transformers {
		t := &p.Facts.Transformers[i]
		bars := []loadBar{transformerBar(t)}
		for k := range p.Facts.Commons {
			if c := &p.Facts.Commons[k]; c.Transformer == t.ID {
				bars = append(bars, commonBar(p.Facts, c))
			}
		}
		words := fmt.Sprintf("%s, %.0f VA", Clean(t.Type), t.RatingVA)
		if t.Branch != "" {
			words += " on " + Clean(t.Branch)
		}
		out = append(out, pageChart{ID: fmt.Sprintf("%s-load%d", id, i+1), Title: Clean(t.ID), Words: words,
			Picture: template.HTML(loadPicture(t.ID, bars))})
	}
	return out
}

func transformerBar(t *facts.Transformer) loadBar {
	va := t.ConnectedVA + t.LossW
	bar := loadBar{name: t.ID, words: fmt.Sprintf("%.0f of %.0f VA, most %.0f", va, t.RatingVA, t.LoadVA)}
	if t.RatingVA > 0 {
		bar.share, bar.most = va/t.RatingVA, t.LoadVA/t.RatingVA
	}
	return bar
}

// commonBar compares a common with its device, else with what the profile
// allows on one.
func commonBar(doc *facts.Document, c *facts.Common) loadBar {
	bar := loadBar{name: fmt.Sprintf("common %d", c.Number)}
	limit, word := 0.0, "allowed"
	for i := range doc.Limits {
		if l := &doc.Limits[i]; l.Name == "power.common_max_a" && l.Value != nil {
			limit = *l.Value
		}
	}
	if c.DeviceAmps != nil {
		limit, word = *c.DeviceAmps, "device"
	}
	if limit <= 0 {
		bar.words = fmt.Sprintf("%.1f A, most %.1f, no device stated", c.NominalAmps, c.Amps)
		return bar
	}
	bar.share, bar.most = c.NominalAmps/limit, c.Amps/limit
	bar.words = fmt.Sprintf("%.1f of %.0f A %s, most %.1f", c.NominalAmps, limit, word, c.Amps)
	return bar
}

// loadPicture draws the bars.
func loadPicture(id string, bars []loadBar) string {
	var s svg
	height := 26 + barRow*float64(len(bars))
	spoken := "Load of " + id
	for _, b := range bars {
		spoken += "; " + b.name + ": " + b.words
	}
	s.open("svg", "class", "d", "role", "img", "aria-label", spoken, "viewBox", "0 0 "+decimal(chartWidth)+" "+decimal(height), "width", decimal(chartWidth), "height", decimal(height))
	for _, share := range []float64{0, 0.5, 0.8, 1} {
		x := barLeft + share/barFull*barWidth
		s.text(x, 10, "small faint", fmt.Sprintf("%.0f %%", 100*share), "text-anchor", "middle")
		s.tag("path", "class", "c-grid", "d", line([]point{{x, 14}, {x, height - 6}}))
	}
	for i, b := range bars {
		y := 20 + barRow*float64(i)
		s.text(barLeft-8, y+11, "", cut(b.name, 16), "text-anchor", "end")
		class := "c-load"
		if b.most > 1 {
			class = "c-over"
		}
		s.tag("rect", "class", "c-track", "x", barLeft, "y", y, "width", barWidth, "height", 15)
		s.tag("rect", "class", class, "x", barLeft, "y", y+2, "width", clipped(b.share), "height", 11)
		s.tag("path", "class", "c-most", "d", line([]point{{barLeft + clipped(b.most), y - 1}, {barLeft + clipped(b.most), y + 16}}))
		words := b.words
		if b.most > 1 {
			words += ": over"
		}
		s.text(barLeft+barWidth+10, y+11, "", words)
	}
	s.tag("path", "class", "c-tick", "d", line([]point{{barLeft + barWidth/barFull, 14}, {barLeft + barWidth/barFull, height - 6}}))
	s.shut("svg")
	return s.b.String()
}

// clipped is the length of a bar, no longer than its track.
func clipped(share float64) float64 {
	if !(share > 0) {
		return 0
	}
	return math.Min(share, barFull) / barFull * barWidth
}
