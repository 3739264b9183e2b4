package takeoff

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"
)

func (t *tables) purchase() Table {
	out := Table{Name: "purchase", Title: "What to buy", Note: fmt.Sprintf("Cable is counted one way with its slack and the profile's allowance, and bought by the %s; sleeve by the %s. Connector packs are not known here.",
		t.pick("25 ft", "5 m"), t.pick("10 ft", "3 m")),
		Columns: []Column{words("what"), words("name"), words("unit"), number("needed", ""), number("with allowance", ""), number("buy", ""), number("bought", ""), words("short")}}
	for _, x := range t.Purchases {
		unit, per, decimals := x.Unit, 1.0, 0
		switch x.Unit {
		case "m":
			unit, per, decimals = t.long, t.perM, t.lengthPlaces
		case "litre":
			decimals = 0
		}
		bought, short := "", ""
		if x.Bought != nil {
			bought = fixed(*x.Bought*per, decimals)
			if *x.Bought < x.Needed-roundM {
				short = fixed((x.Needed-*x.Bought)*per, decimals) + " short"
			}
		}
		if x.Unmeasured > 0 {
			short = strings.TrimSpace(short + fmt.Sprintf(" %d not measured", x.Unmeasured))
		}
		out.Rows = append(out.Rows, []string{x.What, x.Name, unit, fixed(x.Needed*per, decimals), fixed(x.Allowed*per, decimals),
			t.whole(x.Buy*per, decimals), bought, short})
	}
	return out
}

// whole is an amount to buy: a whole number of the plan's units.
func (t *tables) whole(v float64, decimals int) string {
	if t.sheet {
		return fixed(v, decimals)
	}
	return fixed(math.Round(v), 0)
}

func (t *tables) pick(feet, metres string) string {
	if t.Units == "ft" {
		return feet
	}
	return metres
}

func (t *tables) controls() Table {
	out := Table{Name: "controls", Title: "Controls and scenes",
		Columns: []Column{words("scene"), words("control"), words("kind"), words("in use"), words("from"), words("until"), count("lamps on"), number("they draw", "VA"), words("groups")}}
	for _, x := range t.Scenes {
		use := "no"
		if x.InUse {
			use = "yes"
		}
		out.Rows = append(out.Rows, []string{x.ID, x.Control, x.Kind, use, x.From, x.Until, strconv.Itoa(x.Lamps), fixed(x.VA, 1), strings.Join(x.Groups, ", ")})
	}
	return out
}

func (t *tables) aim() Table {
	out := Table{Name: "aiming", Title: "Aiming", Note: "Bearings are clockwise from plan north; tilt is from straight down, so 90 is level and 180 straight up. Aim at night.",
		Columns: []Column{words("fixture"), words("type"), words("mount"), words("on"), number("height", t.short), number("bearing", "deg"), number("tilt", "deg"), words("at"),
			writeIn("set, bearing", "deg"), writeIn("set, tilt", "deg")}}
	for _, x := range t.Aims {
		out.Rows = append(out.Rows, []string{x.ID, x.Type, x.Mount, x.Host, t.depth(x.HeightM), maybe(x.BearingDeg, 0), maybe(x.TiltDeg, 0), x.At, "", ""})
	}
	return out
}

func (t *tables) light() Table {
	out := Table{Name: "light", Title: "Light on steps and paths", Note: "Direct light, aged lamps, in the darkest scene in use. How even it is comes in the three ways that standards ask for.",
		Columns: []Column{words("place"), words("scene"), number("least", "lx"), number("average", "lx"), number("middle", "lx"), number("most", "lx"),
			count("least to average"), count("average to least"), count("most to least"), number("grid step", t.short), count("points")}}
	for _, list := range [][]Lit{t.Treads, t.Paths} {
		for _, x := range list {
			points := ""
			if x.Points > 0 {
				points = strconv.Itoa(x.Points)
			}
			out.Rows = append(out.Rows, []string{x.ID, x.Scene, cmp.Or(maybe(x.LuxMin, 1), t.absent("not known")), cmp.Or(maybe(x.LuxAvg, 1), t.absent("not known")), maybe(x.LuxCentre, 1), maybe(x.LuxMax, 1),
				maybe(x.LeastToAverage, 2), maybe(x.AverageToLeast, 1), maybe(x.MostToLeast, 1), t.depth(x.GridStepM), points})
		}
	}
	return out
}

// lid is what to write on the lid of each transformer.
func (t *tables) lid() Table {
	out := Table{Name: "lid", Title: "Labels for the lids", Note: "One line for each run, inside the lid of its transformer.",
		Columns: []Column{words("transformer"), count("common"), number("breaker", "A"), words("run"), words("title"), number("tap", "V"), number("amps", "A"), count("lamps")}}
	devices := map[string]*float64{}
	for _, c := range t.Commons {
		devices[c.ID] = c.DeviceAmps
	}
	for _, x := range t.Runs {
		out.Rows = append(out.Rows, []string{x.Transformer, strconv.Itoa(x.Common), maybe(devices[x.Transformer+"/"+strconv.Itoa(x.Common)], 0), x.ID, x.Title,
			strconv.FormatFloat(x.TapVolts, 'f', -1, 64), t.solved(x.Amps, 2), strconv.Itoa(x.Lamps)})
	}
	return out
}

// commissioning is the sheet to take round with a meter. Its columns at, common,
// volts and amps are those that the readings command reads.
func (t *tables) commissioning() Table {
	if t.sheet {
		return t.readingSheet()
	}
	out := Table{Name: "commissioning", Title: "Commissioning sheet", Note: "Measure with a true-RMS meter, all lamps on, after half an hour. Write down the mains volts first; what you expect goes with them.",
		Columns: []Column{words("at"), words("common"), words("what"), number("expected", ""), words("unit"), number("least", ""), number("most", ""), writeIn("volts", ""), writeIn("amps", "")}}
	for _, x := range t.Readings {
		unit, common := "V", ""
		if x.Quantity == "amps" {
			unit, common = "A", strconv.Itoa(x.Common)
		}
		out.Rows = append(out.Rows, []string{x.At, common, x.What, t.solved(x.Expected, 2), unit, maybe(x.Low, 2), maybe(x.High, 2), "", ""})
	}
	return out
}

// readingSheet is the commissioning sheet with a column for each quantity, to
// be filled in and read back.
func (t *tables) readingSheet() Table {
	out := Table{Name: "commissioning", Title: "Commissioning sheet", Columns: []Column{words("at"), count("common"), writeIn("volts", ""), writeIn("amps", ""),
		count("expected volts"), count("expected amps"), count("least volts"), count("most volts"), count("most amps"), words("what")}}
	for _, x := range t.Readings {
		expected, least, most := maybe(x.Expected, 2), maybe(x.Low, 2), maybe(x.High, 2)
		if x.Quantity == "amps" {
			out.Rows = append(out.Rows, []string{x.At, strconv.Itoa(x.Common), "", "", "", expected, "", "", most, x.What})
			continue
		}
		out.Rows = append(out.Rows, []string{x.At, "", "", "", expected, "", least, most, "", x.What})
	}
	return out
}
