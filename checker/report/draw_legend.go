package report

import (
	"fmt"
	"math"
	"strconv"

	"duskproof/checker/finding"
	"duskproof/checker/measure"
)

// legendEntry is one sign and its meaning.
type legendEntry struct {
	class, words string
	width        float64 // of a line
}

// key notes a sign for the legend, once.
func (d *drawing) key(class, words string) { d.keySized(class, words, 0) }

func (d *drawing) keySized(class, words string, width float64) {
	for _, e := range d.legend {
		if e.class == class && e.words == words {
			return
		}
	}
	d.legend = append(d.legend, legendEntry{class, words, width})
}

func (d *drawing) keyMark(s finding.Severity) { d.key("mark-"+s.String(), markWords[s]) }

var markWords = map[finding.Severity]string{
	finding.Danger: "danger: can hurt", finding.Defect: "defect: will not work or last", finding.Advice: "advice: could be better", finding.Caution: "caution: ask first",
}

const (
	legendColumn = 182.0
	legendRow    = 16.0
)

// furniture draws scale bar, north, scale of light, and legend below the map,
// and returns the height of the whole drawing.
func (d *drawing) furniture() float64 {
	y := d.top + d.height + 14
	d.scaleBar(d.left, y)
	d.north(d.left+d.width-14, y+4)
	y += 34
	if len(d.scenes) > 0 && d.wants(LayerLight) {
		d.lightScale(d.left, y)
		y += 44
	}
	if d.wants(LayerVolts) {
		d.voltScale(d.left, y)
		y += 22
	}
	y = d.drawLegend(d.left, y)
	if !d.inPage && d.options.Caution != "" {
		for _, words := range wrap(d.options.Caution, int(d.width/4.6)) {
			y += 11
			d.text(d.left, y, "small faint", words)
		}
		y += 4
	}
	return y + 8
}

// scaleBar draws a bar of a round length in four parts, with the scale in
// words.
func (d *drawing) scaleBar(x, y float64) {
	unit, name := 1.0, "m"
	if d.plan.Units == "ft" {
		unit, name = 0.3048, "ft"
	}
	length := 1.0
	for _, n := range []float64{1, 2, 4, 5, 10, 20, 40, 50, 100, 200, 400, 500, 1000, 2000, 4000} {
		if n*unit*d.unitsPerM <= 190 {
			length = n
		}
	}
	part := length * unit * d.unitsPerM / 4
	for i := range 4 {
		class := "paper frame"
		if i%2 == 0 {
			class = "dot"
		}
		d.tag("rect", "class", class, "x", x+float64(i)*part, "y", y, "width", part, "height", 4)
	}
	d.tag("rect", "class", "d-stroke", "x", x, "y", y, "width", 4*part, "height", 4)
	for _, i := range []float64{0, 2, 4} {
		words := strconv.FormatFloat(length*i/4, 'g', 4, 64)
		if i == 4 {
			words += " " + name
		}
		d.text(x+i*part, y+14, "small", words, "text-anchor", "middle")
	}
	note := "scale " + d.choice.words
	switch {
	case d.inPage:
		note = "measure by this bar; drawn for " + note
	case d.choice.sheet != "":
		note += " when printed at full size, " + d.choice.sheet
	}
	d.text(x+4*part+26, y+7, "small faint", note)
}

// north draws an arrow up.
func (d *drawing) north(x, y float64) {
	d.tag("path", "class", "dot", "d", outline([]point{{x, y - 6}, {x + 5, y + 10}, {x, y + 6.5}, {x - 5, y + 10}}))
	d.text(x, y+20, "", "N", "text-anchor", "middle")
}

// lightScale draws the bands of light with their limits, and the levels that
// the profile asks for.
func (d *drawing) lightScale(x, y float64) {
	d.open("g", "class", "layer-light")
	const cell = 40.0
	title := "light on the ground, lx (direct light, nominal supply, aged lamps)"
	if !d.inPage {
		title += ", scene " + d.options.Light.Scenes[d.scenes[0]]
	}
	d.text(x, y+4, "small", title)
	for band := range len(lightBands) + 1 {
		d.tag("rect", "class", "band"+strconv.Itoa(band), "x", x+float64(band)*cell, "y", y+8, "width", cell, "height", 9)
	}
	d.tag("rect", "class", "frame", "x", x, "y", y+8, "width", cell*float64(len(lightBands)+1), "height", 9)
	for band, top := range lightBands {
		d.text(x+float64(band+1)*cell, y+27, "small", strconv.FormatFloat(top, 'g', -1, 64), "text-anchor", "middle")
	}
	if words := d.limitWords(); words != "" {
		d.text(x+cell*float64(len(lightBands)+1)+14, y+16, "small faint", words)
	}
	d.shut("g")
}

// limitWords says which levels the profile asks for.
func (d *drawing) limitWords() string {
	value := func(name string) string {
		for i := range d.facts.Limits {
			if l := &d.facts.Limits[i]; l.Name == name && l.Value != nil {
				return measure.Text(*l.Value, "lx", d.plan.Units)
			}
		}
		return ""
	}
	step, path := value("light.step_dark_lx"), value("light.path_dark_lx")
	switch {
	case step != "" && path != "":
		return fmt.Sprintf("dark: steps below %s, paths below %s", step, path)
	case step != "":
		return "dark: steps below " + step
	case path != "":
		return "dark: paths below " + path
	}
	return ""
}

// voltScale explains the layer of volts.
func (d *drawing) voltScale(x, y float64) {
	d.open("g", "class", "layer-volts")
	d.text(x, y+5, "small", "drop along the cable")
	at := x + 98
	for band := range len(dropBands) + 1 {
		words := fmt.Sprintf("to %s", measure.Share(dropBands[min(band, len(dropBands)-1)]))
		if band == len(dropBands) {
			words = "more"
		}
		d.tag("path", "class", fmt.Sprintf("drop drop%d", band), "stroke-width", "3", "d", line([]point{{at, y + 2}, {at + 20, y + 2}}))
		d.text(at+24, y+5, "small", words)
		at += 30 + textWidth(words, 8.5) + 8
	}
	d.text(at+4, y+5, "small", "▼ ▲ leaves its window in some corner")
	d.shut("g")
}

// drawLegend writes the signs that were used, in columns, and returns where it
// ends.
func (d *drawing) drawLegend(x, y float64) float64 {
	columns := max(1, int(d.width/legendColumn))
	rows := int(math.Ceil(float64(len(d.legend)) / float64(columns)))
	for i, e := range d.legend {
		cx, cy := x+float64(i/rows)*legendColumn, y+float64(i%rows)*legendRow+8
		d.sign(e, cx, cy)
		d.text(cx+32, cy+3.2, "small", cut(e.words, 34))
	}
	return y + float64(rows)*legendRow
}

// areas are the signs that fill a surface.
var areas = map[string]bool{
	"lawn": true, "bed": true, "drive": true, "water": true, "area": true, "path": true, "deck": true, "landing": true, "building": true,
}

// sign draws a sample of a sign, 26 units wide.
func (d *drawing) sign(e legendEntry, x, y float64) {
	across := []point{{x, y}, {x + 26, y}}
	switch {
	case areas[e.class]:
		d.tag("rect", "class", e.class, "x", x, "y", y-5, "width", 26, "height", 10)
	case len(e.class) > 2 && e.class[:2] == "s-":
		d.tag("use", "href", "#"+d.prefix+e.class, "x", x+13, "y", y)
	case e.class == "mark-crowded":
		d.tag("circle", "class", "dot", "cx", x+13, "cy", y, "r", 2.6)
	case len(e.class) > 5 && e.class[:5] == "mark-":
		severity, err := finding.ParseSeverity(e.class[5:])
		if err != nil {
			return
		}
		d.open("g", "class", "mark "+e.class[5:])
		d.markShape(severity, point{x + 13, y}, 15)
		d.text(x+13, y+3.2, "", "1")
		d.shut("g")
	case e.class == "canopy":
		d.tag("circle", "class", "canopy", "cx", x+13, "cy", y, "r", 6.5)
		d.tag("circle", "class", "trunk", "cx", x+13, "cy", y, "r", 1.8)
	case e.class == "met" || e.class == "met astray":
		d.tag("circle", "class", e.class, "cx", x+13, "cy", y, "r", 5.5)
	case e.class == "suspect":
		d.tag("path", "class", e.class, "d", line([]point{{x + 5, y}, {x + 21, y}}))
	case e.class == "suspect round":
		d.tag("circle", "class", e.class, "cx", x+13, "cy", y, "r", 5.5)
	case e.class == "suspicion" || e.class == "wanted":
		d.open("g", "class", e.class)
		d.tag("rect", "class", "shape", "x", x, "y", y-5.5, "width", 26, "height", 11, "rx", 5.5)
		if e.class == "suspicion" {
			d.text(x+13, y+3, "small", "1", "text-anchor", "middle")
		}
		d.shut("g")
	case e.class == "post":
		d.tag("circle", "class", "post", "cx", x+13, "cy", y, "r", 2.5)
	case e.class == "beam" || e.class == "beam up":
		d.tag("path", "class", e.class, "d", outline([]point{{x, y}, {x + 24, y - 5}, {x + 24, y + 5}}))
	case e.class == "stair":
		d.tag("path", "class", "tread", "d", "M"+decimal(x+4)+" "+decimal(y-5)+"v10m6 -10v10m6 -10v10m6 -10v10")
		d.tag("path", "class", "way", "d", line([]point{{x, y}, {x + 26, y}})+line([]point{{x + 22, y - 2.5}, {x + 26, y}, {x + 22, y + 2.5}}))
	case e.class == "leaf":
		d.tag("path", "class", "sweep", "d", "M"+decimal(x+4)+" "+decimal(y+5)+"h14a14 14 0 0 0 -9 -13z")
		d.tag("path", "class", "leaf", "d", line([]point{{x + 4, y + 5}, {x + 18, y + 5}}))
		d.tag("path", "class", "open", "d", line([]point{{x + 4, y + 5}, {x + 9, y - 8}}))
	case e.class == "wall":
		d.tag("path", "class", "wall", "stroke-width", "4", "d", line(across))
	case e.class == "hedge":
		d.tag("path", "class", "hedge", "stroke-width", "6", "d", line(across))
	case e.class == "sleeve":
		d.tag("path", "class", "sleeve", "stroke-width", "6", "d", line(across))
		d.tag("path", "class", "leg", "stroke-width", "1.6", "d", line(across))
	case e.width > 0:
		d.tag("path", "class", e.class, "stroke-width", decimal(e.width), "d", line(across))
	case e.class == "leg surface":
		d.tag("path", "class", e.class, "stroke-width", "1.6", "d", line(across))
	default:
		d.tag("path", "class", e.class, "d", line(across))
	}
}
