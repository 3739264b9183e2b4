package takeoff

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Table is one schedule as rows of text, in the plan's own units.
type Table struct {
	// Name is how a command asks for it; Title is what people read.
	Name, Title string
	// Note is a sentence below the title; it may be empty.
	Note string
	// Columns head the rows.
	Columns []Column
	// Rows have a cell for each column.
	Rows [][]string
}

// Column heads one column.
type Column struct {
	// Name says what is in it; Unit in which unit, empty for words and counts.
	Name, Unit string
	// Number is true for a column of numbers.
	Number bool
	// Write is true for a column that is left empty for a hand to write in.
	Write bool
}

// Heading is the column's name with its unit.
func (c Column) Heading() string {
	if c.Unit == "" {
		return c.Name
	}
	return c.Name + ", " + c.Unit
}

// Key is the column's name for programs, its unit at the end: "length_m".
func (c Column) Key() string {
	key := c.Name
	if c.Unit != "" {
		key += "_" + strings.ReplaceAll(c.Unit, "%", "pct")
	}
	return strings.ToLower(strings.NewReplacer(", ", "_", " ", "_").Replace(key))
}

func words(name string) Column         { return Column{Name: name} }
func count(name string) Column         { return Column{Name: name, Number: true} }
func number(name, unit string) Column  { return Column{Name: name, Unit: unit, Number: true} }
func writeIn(name, unit string) Column { return Column{Name: name, Unit: unit, Write: true} }

// tables makes tables in the plan's own units, or sheets in SI units.
type tables struct {
	*Schedule
	sheet        bool
	long, short  string // units of lengths and of depths
	perM         float64
	perShort     float64
	lengthPlaces int
}

// Tables turns the schedules into tables, in the order in which a job needs
// them. A table without rows is left out.
func Tables(s *Schedule) []Table {
	t := tables{Schedule: s, long: "m", short: "mm", perM: 1, perShort: 1000, lengthPlaces: 1}
	if s.Units == "ft" {
		t.long, t.short, t.perM, t.perShort = "ft", "in", 1/metresPerFoot, 12/metresPerFoot
	}
	return t.all()
}

// Sheets are the same tables for spreadsheets and programs: SI units, each in
// the name of its column (see [Column.Key]), and cells that are empty where
// nothing is known.
func Sheets(s *Schedule) []Table {
	const millimetres = 3
	t := tables{Schedule: s, sheet: true, long: "m", short: "m", perM: 1, perShort: 1, lengthPlaces: millimetres}
	return t.all()
}

func (t *tables) all() []Table {
	all := []Table{
		t.load(), t.commons(), t.runs(), t.volts(), t.corners(), t.cable(), t.fixtures(), t.joints(), t.trench(), t.purchase(),
		t.controls(), t.aim(), t.light(), t.lid(), t.assumed(), t.commissioning(),
	}
	var out []Table
	for _, table := range all {
		if len(table.Rows) > 0 {
			out = append(out, table)
		}
	}
	return out
}

// TableNames lists the names of the tables, in their order.
func TableNames() []string {
	return []string{"load", "commons", "runs", "volts", "corners", "cable", "fixtures", "connectors", "trench", "purchase", "controls", "aiming", "light", "lid", "assumed", "commissioning"}
}

// fixed prints with fixed decimals and never a minus before nought.
func fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if zero := strconv.FormatFloat(0, 'f', decimals, 64); s == "-"+zero {
		return zero
	}
	return s
}

// maybe is fixed for a value that may be absent.
func maybe(v *float64, decimals int) string {
	if v == nil {
		return ""
	}
	return fixed(*v, decimals)
}

func (t *tables) length(m float64) string { return fixed(m*t.perM, t.lengthPlaces) }

// absent is a word for people where a sheet has an empty cell.
func (t *tables) absent(word string) string {
	if t.sheet {
		return ""
	}
	return word
}

func (t *tables) maybeLength(m *float64) string {
	if m == nil {
		return ""
	}
	return t.length(*m)
}

func (t *tables) depth(m *float64) string {
	if m == nil {
		return ""
	}
	v := *m * t.perShort
	if t.sheet {
		return fixed(v, t.lengthPlaces)
	}
	if math.Abs(v-math.Round(v)) < 0.05 {
		return fixed(v, 0)
	}
	return fixed(v, 1)
}

func percent(share *float64) string {
	if share == nil {
		return ""
	}
	return fixed(100**share, 0)
}

// noAnswer stands for a value that a load without a stable answer does not have.
const noAnswer = "no answer"

// solved is a value at nominal supply.
func (t *tables) solved(v *float64, decimals int) string {
	if v == nil {
		return t.absent(noAnswer)
	}
	return fixed(*v, decimals)
}

func (t *tables) load() Table {
	out := Table{Name: "load", Title: "Load of each transformer", Note: "With cable losses, all lamps on at nominal supply; the most is over all corners.",
		Columns: []Column{words("transformer"), words("type"), number("rating", "VA"), number("load", "VA"), number("loading", "%"), number("most", "VA"),
			words("in the corner"), number("cable loss", "W"), number("spare", "VA"), number("primary", "A"), words("branch"), words("receptacle")}}
	for _, x := range t.Transformers {
		out.Rows = append(out.Rows, []string{x.ID, x.Type, fixed(x.RatingVA, 0), t.solved(x.VA, 1), percent(x.Loading), maybe(x.MostVA, 1),
			x.MostCorner, maybe(x.LossW, 1), maybe(x.SpareVA, 0), maybe(x.PrimaryAmps, 2), x.Branch, x.Receptacle})
	}
	return out
}

func (t *tables) commons() Table {
	out := Table{Name: "commons", Title: "Load of each common",
		Columns: []Column{words("common"), number("amps", "A"), number("most", "A"), number("most load", "VA"), number("device", "A"), words("runs")}}
	for _, x := range t.Commons {
		out.Rows = append(out.Rows, []string{x.ID, t.solved(x.Amps, 2), maybe(x.MostAmps, 2), maybe(x.MostVA, 1), maybe(x.DeviceAmps, 0), strings.Join(x.Runs, ", ")})
	}
	return out
}

func (t *tables) runs() Table {
	out := Table{Name: "runs", Title: "Load and room of each run", Note: "Spare is what the run could carry more at its farthest lamp, all else as it is, before something fails; it leaves no margin.",
		Columns: []Column{words("run"), words("title"), words("transformer"), count("common"), number("tap", "V"), count("lamps"), number("lamps draw", "VA"),
			number("amps", "A"), number("most", "A"), number("cable", t.long), number("farthest lamp", t.long), number("spare", "VA"), words("what fails first")}}
	for _, x := range t.Runs {
		fails := x.SpareUntil
		if !x.Solved {
			fails = runWithoutAnswer(&x)
		}
		out.Rows = append(out.Rows, []string{x.ID, x.Title, x.Transformer, strconv.Itoa(x.Common), strconv.FormatFloat(x.TapVolts, 'f', -1, 64), strconv.Itoa(x.Lamps), fixed(x.LampVA, 1),
			t.solved(x.Amps, 2), maybe(x.MostAmps, 2), t.length(x.LengthM), t.length(x.FarthestM), maybe(x.SpareVA, 0), fails})
	}
	return out
}

// runWithoutAnswer says that a run cannot carry its load.
func runWithoutAnswer(x *Run) string {
	said := "cannot carry its load at " + x.FailsAt
	if x.CouldCarryVA != nil {
		said += fmt.Sprintf("; could carry %.0f VA", *x.CouldCarryVA)
	}
	return said
}

func (t *tables) volts() Table {
	out := Table{Name: "volts", Title: "Volts at each lamp", Note: "Nominal is with all lamps on at nominal supply; low and high are the worst of all corners: supply, cable temperature, lamps out, scenes.",
		Columns: []Column{words("lamp"), words("run"), number("draws", "VA"), number("nominal", "V"), number("low", "V"), number("high", "V"),
			number("window from", "V"), number("to", "V"), number("drop", "V"), number("drop", "% of tap")}}
	if t.sheet {
		out.Columns = append(out.Columns, words("low corner"), words("high corner"))
	}
	for _, x := range t.Lamps {
		row := []string{x.ID, x.Run, fixed(x.VA, 1), t.absent(noVolts(&x)), "", "", maybe(x.MinVolts, 1), maybe(x.MaxVolts, 1), maybe(x.DropV, 2), "", "", ""}
		if v := x.Volts; v != nil {
			row[3], row[4], row[5], row[10], row[11] = fixed(v.Nominal, 2), fixed(v.Low, 2), fixed(v.High, 2), v.LowCorner, v.HighCorner
		}
		if x.DropShare != nil {
			row[9] = fixed(100**x.DropShare, 1)
		}
		out.Rows = append(out.Rows, row[:len(out.Columns)])
	}
	return out
}

// noVolts says why a lamp has no volts.
func noVolts(x *Lamp) string {
	if x.Run == "" {
		return "not fed"
	}
	return noAnswer
}

// corners has a column for each corner that some lamp has.
func (t *tables) corners() Table {
	out := Table{Name: "corners", Title: "Volts at each lamp, corner by corner", Note: "All lamps on, then each scene in use. An empty cell is a lamp that is off.", Columns: []Column{words("lamp")}}
	at := map[string]int{}
	for _, x := range t.Lamps {
		if x.Volts == nil {
			continue
		}
		for _, c := range x.Volts.Corners {
			if at[c.Corner] == 0 {
				at[c.Corner] = len(out.Columns)
				out.Columns = append(out.Columns, number(c.Corner, "V"))
			}
		}
	}
	for _, x := range t.Lamps {
		if x.Volts == nil || len(x.Volts.Corners) == 0 {
			continue
		}
		row := make([]string, len(out.Columns))
		row[0] = x.ID
		for _, c := range x.Volts.Corners {
			row[at[c.Corner]] = fixed(c.Volts, 2)
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

func (t *tables) cable() Table {
	out := Table{Name: "cable", Title: "Cable, leg by leg", Note: "Lengths are one way.",
		Columns: []Column{words("leg"), words("run"), words("from"), words("to"), words("cable"), words("conductor"), number("length", t.long), number("slack", t.long),
			words("laid"), number("cover", t.short), words("sleeve"), number("amps", "A"), number("most", "A"), number("drop", "V")}}
	for _, x := range t.Legs {
		out.Rows = append(out.Rows, []string{x.ID, x.Run, x.From, x.To, x.Cable, x.Conductor, t.maybeLength(x.LengthM), t.length(x.SlackM), x.Method,
			t.depth(x.CoverM), x.Sleeve, t.solved(x.Amps, 2), maybe(x.MostAmps, 2), maybe(x.DropV, 2)})
	}
	return out
}

func (t *tables) fixtures() Table {
	out := Table{Name: "fixtures", Title: "Fixtures by type",
		Columns: []Column{words("type"), words("title"), words("kind"), count("count"), number("each draws", "VA"), number("gravel below", t.short), words("fixtures")}}
	for _, x := range t.FixtureTypes {
		out.Rows = append(out.Rows, []string{x.ID, x.Title, x.Kind, strconv.Itoa(x.Count), fixed(x.VA, 1), t.depth(x.GravelM), strings.Join(x.Fixtures, ", ")})
	}
	return out
}

func (t *tables) joints() Table {
	out := Table{Name: "connectors", Title: "Connectors", Note: "One for each pole where the kind joins single conductors.",
		Columns: []Column{words("type"), words("kind"), count("count"), words("where")}}
	for _, x := range t.Joints {
		out.Rows = append(out.Rows, []string{x.ID, x.Kind, strconv.Itoa(x.Count), strings.Join(x.Places, ", ")})
	}
	return out
}

func (t *tables) trench() Table {
	out := Table{Name: "trench", Title: "Trenches by cover and surface",
		Note:    fmt.Sprintf("Legs no more than %s apart share a trench, which is counted once. Cover is the earth above the cable.", t.shareWords()),
		Columns: []Column{number("cover", t.short), words("surface"), number("length", t.long), words("legs")}}
	for _, x := range t.Trenches {
		cover := t.absent("not stated")
		if x.CoverM != nil {
			cover = t.depth(x.CoverM)
		}
		out.Rows = append(out.Rows, []string{cover, x.Surface, t.length(x.LengthM), strings.Join(x.Legs, ", ")})
	}
	return out
}

func (t *tables) shareWords() string {
	if t.Units == "ft" {
		return "6 in"
	}
	return "150 mm"
}
