package report

import (
	"fmt"
	"strings"
)

// tint is one colour by day and by night.
type tint struct{ name, day, night string }

// tints are the colours of drawings and pages. Those of the bands of light are
// the sky from dark to sunset, and the same by day and by night.
var tints = []tint{
	{"paper", "#fbfaf7", "#15172a"}, {"card", "#ffffff", "#1d2038"}, {"ink", "#22263a", "#e9e7f1"},
	{"faint", "#5f6580", "#b9bcd6"}, {"rule", "#d5d3cc", "#363a58"}, {"accent", "#7a4a63", "#e3a77f"},
	{"lawn", "#e8eedf", "#1e2b2c"}, {"bed", "#efe9dd", "#2a2733"}, {"drive", "#e9e6e1", "#272a41"},
	{"paving", "#dfdbd3", "#30334d"}, {"deck", "#e6dccb", "#3a3544"}, {"water", "#d3e2ec", "#1c3550"},
	{"building", "#d2cdc7", "#3a3d58"}, {"wall", "#6d6a72", "#9a9bb4"}, {"tree", "#5c7d5a", "#7fa67c"},
	{"cable", "#30477a", "#9db4ee"}, {"lamp", "#ffd98a", "#ffd98a"}, {"edge", "#22263a", "#0f1122"},
	{"good", "#2f6b4a", "#8fd0a8"},
	{"danger", "#a3123a", "#ff8fa5"}, {"defect", "#8f4700", "#f5b168"}, {"advice", "#1b5c88", "#8cc4ee"}, {"caution", "#5a5378", "#bcb3dd"},
	{"onmark", "#ffffff", "#15172a"},
	{"band0", "#23264a", "#23264a"}, {"band1", "#3b3565", "#3b3565"}, {"band2", "#5f447a", "#5f447a"},
	{"band3", "#8b5482", "#8b5482"}, {"band4", "#b9687d", "#b9687d"}, {"band5", "#db8a6d", "#db8a6d"},
	{"band6", "#f0b06a", "#f0b06a"}, {"band7", "#f8d68b", "#f8d68b"}, {"band8", "#fdf2c6", "#fdf2c6"},
}

// drawingRules are the style of drawings; {name} is a tint. Parts of symbols have
// classes of their own, since what a symbol is used in does not reach into it.
const drawingRules = `
.d text{font-family:Arial,"Liberation Sans",Helvetica,sans-serif;font-size:9.5px;fill:{ink}}
.d .halo{paint-order:stroke;stroke:{paper};stroke-width:3.4px;stroke-linejoin:round}
.d .paper{fill:{paper}}
.d .frame{fill:none;stroke:{rule}}
.d .title{font-size:14px;font-weight:bold}
.d .small{font-size:8.5px}
.d .faint{fill:{faint}}
.d .name{font-style:italic}
.d .halo.faint{fill:{ink}}
.d .lawn{fill:{lawn}}
.d .bed{fill:{bed}}
.d .drive{fill:{drive};stroke:{rule}}
.d .area{fill:{paving};stroke:{rule}}
.d .path{fill:{paving};stroke:{rule}}
.d .deck{fill:{deck};stroke:{rule}}
.d .landing{fill:{paving};stroke:{wall};stroke-width:.6}
.d .water{fill:{water};stroke:{advice};stroke-width:.7}
.d .building{fill:{building};stroke:{ink};stroke-width:1.2}
.d .hatch{stroke:{faint};stroke-width:.5;fill:none;opacity:.55}
.d .tread{fill:none;stroke:{wall};stroke-width:.7}
.d .way{fill:none;stroke:{ink};stroke-width:.9}
.d .rail{fill:none;stroke:{ink};stroke-width:1.6}
.d .wall{fill:none;stroke:{wall}}
.d .fence{fill:none;stroke:{wall};stroke-width:1.2;stroke-dasharray:7 2 1 2}
.d .hedge{fill:none;stroke:{tree};opacity:.55}
.d .canopy{fill:{tree};fill-opacity:.13;stroke:{tree};stroke-width:.9;stroke-dasharray:2 2}
.d .trunk{fill:{tree}}
.d .post{fill:{wall}}
.d .sweep{fill:{accent};fill-opacity:.14;stroke:{accent};stroke-width:.7;stroke-dasharray:3 2}
.d .leaf{stroke:{accent};stroke-width:2.4;fill:none}
.d .open{stroke:{accent};stroke-width:1;fill:none}
.d .window{stroke:{advice};stroke-width:3;fill:none}
.d .service{fill:none;stroke:{faint};stroke-width:.9;stroke-dasharray:9 4}
.d .line{fill:none;stroke:{faint};stroke-width:1;stroke-dasharray:16 3 3 3 3 3}
.d .under{fill:none;stroke:{paper};stroke-opacity:.85;stroke-linejoin:round}
.d .leg{fill:none;stroke:{cable};stroke-linejoin:round;stroke-linecap:round}
.d .surface{stroke-dasharray:1.2 3}
.d .sleeve{fill:none;stroke:{cable};stroke-opacity:.28;stroke-linejoin:round}
.d-device{fill:{paper};stroke:{ink};stroke-width:1.1}
.d-stroke{fill:none;stroke:{ink};stroke-width:1.1}
.d-node{fill:{cable};stroke:{paper};stroke-width:.8}
.d-lamp{fill:{lamp};stroke:{edge};stroke-width:1}
.d-core{fill:{edge};stroke:none}
.d-cross{fill:none;stroke:{edge};stroke-width:1}
.d .beam{fill:{lamp};fill-opacity:.55;stroke:{edge};stroke-width:.5;stroke-opacity:.6}
.d .up{stroke-dasharray:1.5 1.5}
.d .leader{stroke-width:.8;fill:none;stroke:{ink}}
.d .mark text{font-weight:bold;font-size:9px;fill:{onmark};text-anchor:middle}
.d .mark .shape{stroke:{paper};stroke-width:1}
.d .danger .shape{fill:{danger}}.d .danger .leader{stroke:{danger}}
.d .defect .shape{fill:{defect}}.d .defect .leader{stroke:{defect}}
.d .advice .shape{fill:{advice}}.d .advice .leader{stroke:{advice}}
.d .caution .shape{fill:{caution}}.d .caution .leader{stroke:{caution}}
.d .dot{fill:{ink}}
.d .met{fill:none;stroke:{good};stroke-width:1.8}
.d .met.astray{stroke:{danger};stroke-width:3}
.d .reading .shape{fill:{paper};stroke:{good};stroke-width:1}
.d .reading .leader{stroke:{good};stroke-width:.6}
.d .reading.astray .shape{fill:{danger};stroke:{paper}}
.d .reading.astray .leader{stroke:{danger};stroke-width:1}
.d .reading.astray text{fill:{onmark};font-weight:bold}
.d .suspect{fill:none;stroke:{danger};stroke-width:8;stroke-opacity:.4;stroke-linejoin:round;stroke-linecap:round}
.d .round{stroke-width:3;stroke-opacity:1;stroke-dasharray:2 3}
.d .suspicion .shape{fill:{paper};stroke:{danger};stroke-width:2}
.d .suspicion .leader{stroke:{danger}}
.d .suspicion text{fill:{danger};font-weight:bold}
.d .wanted .shape{fill:{paper};stroke:{accent};stroke-width:1.6;stroke-dasharray:3 2}
.d .wanted .leader{stroke:{accent}}
.d .volts{fill:{paper};fill-opacity:.9;stroke:{rule};stroke-width:.6}
.d .out{stroke:{danger};stroke-width:1.2}
.d .drop0{stroke:{advice}}.d .drop1{stroke:{good}}.d .drop2{stroke:{defect}}.d .drop3{stroke:{danger}}
.d .drop{fill:none;stroke-linejoin:round;stroke-linecap:round}
.d .band0{fill:{band0}}.d .band1{fill:{band1}}.d .band2{fill:{band2}}.d .band3{fill:{band3}}.d .band4{fill:{band4}}
.d .band5{fill:{band5}}.d .band6{fill:{band6}}.d .band7{fill:{band7}}.d .band8{fill:{band8}}
`

// chartRules are the style of charts.
const chartRules = `
.c-grid{fill:none;stroke:{rule};stroke-width:.8}
.c-tick{fill:none;stroke:{faint};stroke-width:1}
.c-window{fill:{lamp};fill-opacity:.45;stroke:{faint};stroke-width:.5}
.c-range{fill:none;stroke:{ink};stroke-width:1.1}
.c-leg{fill:none;stroke:{cable};stroke-width:1.6;stroke-linecap:round}
.c-dot{fill:{cable};stroke:{paper};stroke-width:.8}
.c-open{fill:{paper};stroke:{danger};stroke-width:1.8}
.c-due{fill:{paper};fill-opacity:.45;stroke:{good};stroke-width:1}
.c-read{fill:{good};stroke:{paper};stroke-width:.8}
.c-astray{fill:{danger};stroke:{paper};stroke-width:.8}
.c-track{fill:{paving};fill-opacity:.5}
.c-load{fill:{cable}}
.c-over{fill:{danger}}
.c-most{fill:none;stroke:{ink};stroke-width:2}
`

// drawingStyle writes the style with the colours of the day, for a file of its
// own, since not every reader of SVG knows variables.
func drawingStyle() string {
	return tinted(drawingRules, func(t tint) string { return t.day })
}

// pageTints writes the style with variables, which the page sets by day and by
// night.
func pageTints(rules string) string {
	return tinted(rules, func(t tint) string { return "var(--" + t.name + ")" })
}

func tinted(rules string, colour func(tint) string) string {
	var pairs []string
	for _, t := range tints {
		pairs = append(pairs, "{"+t.name+"}", colour(t))
	}
	return strings.NewReplacer(pairs...).Replace(rules)
}

// tintVariables sets the variables of a page.
func tintVariables(colour func(tint) string) string {
	var b strings.Builder
	for _, t := range tints {
		fmt.Fprintf(&b, "--%s:%s;", t.name, colour(t))
	}
	return b.String()
}
