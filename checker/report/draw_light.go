package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"duskproof/checker/facts"
	"duskproof/checker/site"
)

// lightBands are the upper ends of the bands of light, in lux; the last band
// has none. Each step is about twice the light, as the eye counts.
var lightBands = []float64{0.2, 0.5, 1, 2, 5, 10, 20, 50}

func bandOf(lux float64) int {
	for i, top := range lightBands {
		if lux < top {
			return i
		}
	}
	return len(lightBands)
}

// clipSurfaces defines the edges of lit surfaces, to which cells are cut.
func (d *drawing) clipSurfaces() {
	if len(d.scenes) == 0 {
		return
	}
	rings := d.surfaceRings()
	for i := range d.options.Light.Surfaces {
		d.open("clipPath", "id", fmt.Sprintf("%sl%d", d.prefix, i))
		d.tag("path", "d", outline(d.all(rings[d.options.Light.Surfaces[i].ID])))
		d.shut("clipPath")
	}
}

// surfaceRings are the outlines of what is lit, by id.
func (d *drawing) surfaceRings() map[string][]r2.Vec {
	rings := map[string][]r2.Vec{}
	s := d.plan.Site
	if s == nil {
		return rings
	}
	for _, x := range s.Paths {
		rings[x.ID] = site.Strip{Centreline: x.Centreline, WidthM: x.WidthM}.Outline(chordM)
	}
	for _, x := range s.Areas {
		rings[x.ID] = x.Outline
	}
	for _, x := range s.Decks {
		rings[x.ID] = x.Outline
	}
	for _, x := range s.Landings {
		rings[x.ID] = x.Outline
	}
	for _, x := range s.Stairs {
		for _, t := range x.Treads {
			rings[t.ID] = t.Outline[:]
		}
	}
	return rings
}

// lightLayer draws the light of each scene that is shown.
func (d *drawing) lightLayer() {
	if len(d.scenes) == 0 {
		return
	}
	d.open("g", "class", "layer-light", "shape-rendering", "crispEdges")
	for _, scene := range d.scenes {
		d.open("g", "class", "scene scene-"+strconv.Itoa(scene))
		for i := range d.options.Light.Surfaces {
			d.litSurface(i, &d.options.Light.Surfaces[i], scene)
		}
		d.shut("g")
	}
	d.shut("g")
	for _, s := range d.plan.Site.Stairs {
		for _, t := range s.Treads {
			d.tag("path", "class", "tread", "d", line(d.all(t.Outline[:2])))
		}
	}
}

// litSurface draws the cells of a surface, neighbours of one band in a row as
// one piece.
func (d *drawing) litSurface(index int, s *facts.LitSurface, scene int) {
	bands := make([]strings.Builder, len(lightBands)+1)
	for i := 0; i < len(s.Cells); {
		band := bandOf(s.Lux[scene][i])
		end := i + 1
		for end < len(s.Cells) && s.Cells[end].Row == s.Cells[i].Row && s.Cells[end].Column == s.Cells[end-1].Column+1 &&
			bandOf(s.Lux[scene][end]) == band {
			end++
		}
		// Edges are rounded as edges, so that neighbours share them.
		cell := s.Cells[i]
		low := d.at(r2.Vec{X: float64(cell.Column) * s.CellM, Y: float64(cell.Row) * s.CellM})
		high := d.at(r2.Vec{X: float64(cell.Column+end-i) * s.CellM, Y: float64(cell.Row+1) * s.CellM})
		x0, x1, y0, y1 := tenth(low.x), tenth(high.x), tenth(high.y), tenth(low.y)
		fmt.Fprintf(&bands[band], "M%s %sH%sV%sH%sz", decimal(x0), decimal(y0), decimal(x1), decimal(y1), decimal(x0))
		i = end
	}
	d.open("g", "clip-path", fmt.Sprintf("url(#%sl%d)", d.prefix, index))
	for band := range bands {
		if bands[band].Len() > 0 {
			d.tag("path", "class", "band"+strconv.Itoa(band), "d", bands[band].String())
		}
	}
	d.shut("g")
}

// tenth rounds to the precision of the drawing.
func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// luxWords says how much light there is on each surface in a scene, for those
// who do not see the colours: the least and the most of it.
func (d *drawing) luxWords(scene int) map[string]string {
	words := map[string]string{}
	least, most := map[string]float64{}, map[string]float64{}
	id := d.options.Light.Scenes[scene]
	note := func(name string, low, high *float64) {
		if low == nil || high == nil {
			return
		}
		if _, have := least[name]; !have {
			least[name], most[name] = math.Inf(1), 0
		}
		least[name], most[name] = math.Min(least[name], *low), math.Max(most[name], *high)
	}
	for i := range d.facts.Treads {
		if t := &d.facts.Treads[i]; t.Scene == id && !t.Unlit {
			name := t.Stair
			if t.Landing {
				name = t.ID
			}
			note(name, t.LuxCentre, t.LuxCentre)
		}
	}
	for i := range d.facts.Paths {
		if p := &d.facts.Paths[i]; p.Scene == id {
			note(p.ID, p.LuxMin, p.LuxMax)
		}
	}
	for name := range least {
		words[name] = luxRange(least[name], most[name])
	}
	return words
}

func luxRange(low, high float64) string {
	a, b := luxNumber(low), luxNumber(high)
	if a == b {
		return a + " lx"
	}
	return a + " to " + b + " lx"
}

func luxNumber(lux float64) string {
	if lux >= 10 {
		return strconv.FormatFloat(lux, 'f', 0, 64)
	}
	return strconv.FormatFloat(lux, 'f', 1, 64)
}

// luxTags writes the light on each surface beside it.
func (d *drawing) luxTags() {
	if len(d.scenes) == 0 || d.plan.Site == nil {
		return
	}
	tags := make([]map[string]string, len(d.scenes))
	for i, scene := range d.scenes {
		tags[i] = d.luxWords(scene)
	}
	places := map[string]point{}
	for _, id := range d.litIDs() {
		widest := 0.0
		for i := range tags {
			widest = max(widest, textWidth(tags[i][id], 8.5))
		}
		at := d.at(d.anchors[id])
		if widest == 0 || !d.holds(at) {
			continue
		}
		if centre, ok := d.room.settle(at, widest+6, 12, 0, 0, 6, 14, 24, 36, 50); ok {
			places[id] = centre
		}
	}
	d.open("g", "class", "layer-light")
	for i, scene := range d.scenes {
		d.open("g", "class", "scene scene-"+strconv.Itoa(scene))
		for _, id := range d.litIDs() {
			centre, ok := places[id]
			words := tags[i][id]
			if !ok || words == "" {
				continue
			}
			width := textWidth(words, 8.5) + 6
			d.tag("rect", "class", "volts", "x", centre.x-width/2, "y", centre.y-6, "width", width, "height", 12, "rx", 2)
			d.text(centre.x, centre.y+3, "small", words, "text-anchor", "middle")
		}
		d.shut("g")
	}
	d.shut("g")
}

// litIDs are what is lit, in the order of the plan.
func (d *drawing) litIDs() []string {
	var ids []string
	for _, x := range d.plan.Site.Stairs {
		ids = append(ids, x.ID)
	}
	for _, x := range d.plan.Site.Landings {
		ids = append(ids, x.ID)
	}
	for _, x := range d.plan.Site.Paths {
		ids = append(ids, x.ID)
	}
	for _, x := range d.plan.Site.Areas {
		ids = append(ids, x.ID)
	}
	for _, x := range d.plan.Site.Decks {
		ids = append(ids, x.ID)
	}
	return ids
}
