package report

import (
	"fmt"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/plan"
)

// readingMark is one reading of the last visit where it was taken.
type readingMark struct {
	number  int // counts the readings of the plan from 1
	reading *reading
	at      r2.Vec
}

// latestReadings are the readings of the last visit that could be compared and
// have a place.
func (d *drawing) latestReadings() []readingMark {
	var out []readingMark
	number := 0
	for v := range d.visits {
		for i := range d.visits[v].rows {
			number++
			r := &d.visits[v].rows[i]
			if at, ok := d.anchors[r.fact.At]; ok && r.fact.Latest && r.fact.Expected != nil {
				out = append(out, readingMark{number, r, at})
			}
		}
	}
	return out
}

// readingPlaces rings each place that was measured, and draws what the readings
// suspect: the leg, or a ring about the place.
func (d *drawing) readingPlaces() {
	marks := d.latestReadings()
	if len(marks) == 0 {
		return
	}
	d.open("g", "class", "layer-readings")
	for _, s := range d.suspects() {
		if leg := legOf(d.plan, s.fact.ID); leg != nil && len(leg.Route) > 1 {
			d.tag("path", "class", "suspect", "d", line(d.all(leg.Route)))
			d.key("suspect", "leg or joint that readings suspect")
		} else if at, ok := d.anchors[s.fact.ID]; ok {
			p := d.at(at)
			d.tag("circle", "class", "suspect round", "cx", p.x, "cy", p.y, "r", 11)
			d.key("suspect round", "place that readings suspect")
		}
	}
	for _, off := range []bool{false, true} {
		for _, m := range marks {
			if m.reading.off != off {
				continue
			}
			class := "met"
			if off {
				class = "met astray"
			}
			p := d.at(m.at)
			d.tag("circle", "class", class, "cx", p.x, "cy", p.y, "r", 7)
		}
	}
	d.shut("g")
}

// suspects are the explanations of the last visit, the best first.
func (d *drawing) suspects() []suspect {
	var out []suspect
	for _, v := range d.visits {
		if !v.latest {
			continue
		}
		for _, found := range v.diagnoses {
			for _, s := range found.suspects {
				if !s.lesser {
					out = append(out, s)
				}
			}
		}
	}
	return out
}

func legOf(p *plan.Plan, id string) *plan.Leg {
	for _, run := range p.Runs {
		for _, leg := range run.Legs {
			if leg.ID == id {
				return leg
			}
		}
	}
	return nil
}

// readingTags writes what was measured beside each place, those that are off
// first, and names what is suspected and what to read next.
func (d *drawing) readingTags() {
	marks := d.latestReadings()
	if len(marks) == 0 {
		return
	}
	d.open("g", "class", "layer-readings")
	all := d.suspects()
	several := slices.ContainsFunc(all, func(s suspect) bool { return s.fact.Transformer != all[0].fact.Transformer })
	for i, s := range all {
		if at, ok := d.anchors[s.fact.ID]; ok {
			words, id := "suspect "+strconv.Itoa(s.fact.Rank), ""
			if several {
				words = cut(Clean(s.fact.Transformer), 12) + " " + words
			}
			if d.inPage {
				id = fmt.Sprintf("%ss%d", d.prefix, i+1)
				d.flagged[s.fact] = id
			}
			d.flag(d.at(at), "suspicion", id, words, words+": "+s.words+s.confidence)
			d.key("suspicion", "suspect, by rank")
		}
	}
	for _, v := range d.visits {
		for _, found := range v.diagnoses {
			if at, ok := d.anchors[found.nextAt]; ok && v.latest {
				d.flag(d.at(at), "wanted", "", "read next", found.next)
				d.key("wanted", "where to read next")
			}
		}
	}
	for _, off := range []bool{true, false} {
		for _, m := range marks {
			if m.reading.off == off {
				d.readingTag(m)
			}
		}
	}
	d.shut("g")
}

// flag names a place in a box that is not a reading.
func (d *drawing) flag(at point, class, id, words, title string) {
	width := textWidth(words, 8.5) + 10
	centre, ok := d.room.settle(at, width, 13, 8, 3, 8, 14, 22, 30, 40, 52, 70, 100)
	if !ok {
		centre = at
	}
	d.open("g", "class", class, "id", id)
	d.words("title", title)
	d.tag("path", "class", "leader", "d", line([]point{at, centre}))
	d.tag("rect", "class", "shape", "x", centre.x-width/2, "y", centre.y-6.5, "width", width, "height", 13, "rx", 6.5)
	d.text(centre.x, centre.y+3, "small", words, "text-anchor", "middle")
	d.shut("g")
}

// readingTag writes one reading: what was measured, and by how much it is off.
func (d *drawing) readingTag(m readingMark) {
	words, class := m.reading.measured, "reading"
	if m.reading.off {
		words, class = m.reading.sign()+words+" ("+signed(m.reading.by)+")", "reading astray"
	}
	if m.reading.fact.Quantity == "amps" || m.reading.run != "" {
		words = m.reading.place + " " + words
	}
	width := textWidth(words, 8.5) + 6
	at := d.within(d.at(m.at), 2)
	centre, ok := d.room.settle(at, width, 12, 7, 1, 4, 9, 15, 22, 30, 40, 60, 90)
	if !ok {
		if !m.reading.off {
			return // its ring is there, and the table has it
		}
		centre = at
	}
	d.tagged[m.number] = true
	link := "g"
	if d.inPage {
		link = "a"
		number := strconv.Itoa(m.number)
		d.open("a", "class", class, "id", d.prefix+"g"+number, "href", "#"+d.prefix+"r"+number)
	} else {
		d.open("g", "class", class)
	}
	d.words("title", m.reading.words())
	d.tag("path", "class", "leader", "d", line([]point{at, centre}))
	d.tag("rect", "class", "shape", "x", centre.x-width/2, "y", centre.y-6, "width", width, "height", 12)
	d.text(centre.x, centre.y+3, "small", words, "text-anchor", "middle")
	d.shut(link)
	if m.reading.off {
		d.key("met astray", "reading that is off: ▼ low, ▲ high")
		return
	}
	d.key("met", "reading as computed")
}
