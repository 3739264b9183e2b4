package report

import (
	"html/template"
	"strings"
)

// chartReading is a reading of volts at its place along the cable.
type chartReading struct {
	m float64
	r *reading
}

// addReadings takes the readings of the last visit that were taken on the run.
func (c *profile) addReadings(all []visit, away map[string]float64) {
	for v := range all {
		for i := range all[v].rows {
			r := &all[v].rows[i]
			if !r.fact.Latest || r.fact.Expected == nil || r.fact.Quantity != "volts" {
				continue
			}
			m, on := away[r.fact.At]
			if on && (r.run == "" || r.run == c.run.ID) {
				c.readings = append(c.readings, chartReading{m, r})
			}
		}
	}
}

// due draws, under the lamps, what each reading should have been: a small frame
// from the least to the most that its tolerance allows.
func (c *chart) due(p *profile, perUnit float64) {
	for _, x := range p.readings {
		b := c.dueBox(x, perUnit)
		c.tag("rect", "class", "c-due", "x", b.x0, "y", b.y0, "width", b.x1-b.x0, "height", b.y1-b.y0)
	}
}

func (c *chart) dueBox(x chartReading, perUnit float64) box {
	const half = 6.5
	top := c.at(x.m/perUnit, *x.r.fact.Expected+*x.r.fact.Tolerance)
	bottom := c.at(x.m/perUnit, *x.r.fact.Expected-*x.r.fact.Tolerance)
	return box{top.x - half, top.y, top.x + half, bottom.y}
}

// diamond is the form of a reading.
func diamond(at point, size float64) string {
	return outline([]point{{at.x, at.y - size}, {at.x + size, at.y}, {at.x, at.y + size}, {at.x - size, at.y}})
}

const diamondSize, astraySize = 3.6, 5.0

// measured draws the readings, and writes the volts of those that are off.
func (c *chart) measured(p *profile, perUnit float64, room *placer) {
	for _, x := range p.readings {
		at := c.at(x.m/perUnit, x.r.fact.Measured)
		c.open("g")
		c.words("title", x.r.words())
		if !x.r.off {
			c.tag("path", "class", "c-read", "d", diamond(at, diamondSize))
			c.shut("g")
			continue
		}
		c.tag("path", "class", "c-astray", "d", diamond(at, astraySize))
		words := x.r.sign() + x.r.measured
		if centre, ok := room.settle(at, textWidth(words, 8.5)+2, 9, 5, 2, 7, 13, 20); ok {
			c.text(centre.x, centre.y+3, "small halo", words, "text-anchor", "middle")
		}
		c.shut("g")
	}
}

// chartSign is a sign of the charts with its meaning.
type chartSign struct {
	Picture template.HTML
	Words   string
}

// chartKey explains the signs of the charts of volts.
func chartKey(readings bool) []chartSign {
	const w, h, x, y = 30.0, 24.0, 15.0, 12.0
	sign := func(words string, draw func(s *svg)) chartSign {
		var s svg
		s.open("svg", "class", "d", "aria-hidden", "true", "width", decimal(w), "height", decimal(h), "viewBox", "0 0 30 24")
		draw(&s)
		s.shut("svg")
		return chartSign{template.HTML(strings.ReplaceAll(s.b.String(), "\n", "")), words}
	}
	out := []chartSign{
		sign("cable, from the loaded tap outward", func(s *svg) { s.tag("path", "class", "c-leg", "d", line([]point{{1, y - 4}, {w - 1, y + 4}})) }),
		sign("window of a lamp", func(s *svg) {
			s.tag("rect", "class", "c-window", "x", x-windowWidth/2, "y", 1, "width", windowWidth, "height", h-2)
		}),
		sign("its volts over all corners", func(s *svg) {
			s.tag("path", "class", "c-range", "d", line([]point{{x - 3, 3}, {x + 3, 3}})+line([]point{{x, 3}, {x, h - 3}})+line([]point{{x - 3, h - 3}, {x + 3, h - 3}}))
		}),
		sign("nominal volts", func(s *svg) { s.tag("circle", "class", "c-dot", "cx", x, "cy", y, "r", 3.2) }),
		sign("leaves its window in some corner: ▼ low, ▲ high", func(s *svg) { s.tag("circle", "class", "c-open", "cx", x, "cy", y, "r", 3.2) }),
	}
	if !readings {
		return out
	}
	return append(out,
		sign("what a reading should be, with its tolerance", func(s *svg) { s.tag("rect", "class", "c-due", "x", x-6.5, "y", y-5, "width", 13, "height", 10) }),
		sign("reading as computed", func(s *svg) { s.tag("path", "class", "c-read", "d", diamond(point{x, y}, diamondSize)) }),
		sign("reading that is off, with its volts", func(s *svg) { s.tag("path", "class", "c-astray", "d", diamond(point{x, y}, astraySize)) }),
	)
}
