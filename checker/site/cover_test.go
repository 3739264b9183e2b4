package site_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"duskproof/checker/site"
)

// necTable300_5 is the whole of NEC table 300.5, minimum cover for 0 to 1000 V,
// typed in from a public reproduction of the table and spot-checked on three
// other pages. Columns 1 to 5; inches, then millimetres in brackets. "raceway
// only" marks the entries that allow only a raceway or type MC or MI cable
// identified for direct burial; "N or M in raceway" the ones that tell a cable
// from a raceway; "notes" the entry with the note on listed systems.
const necTable300_5 = `
all                 | 24 (600) | 6 (150)  | 18 (450) | 12 (300)                            | 6 (150) notes
under-thin-concrete | 18 (450) | 6 (150)  | 12 (300) | 6 (150)                             | 6 (150)
under-building      | 0 (0) raceway only | 0 (0) | 0 (0) | 0 (0) raceway only              | 0 (0) raceway only
under-slab          | 18 (450) | 4 (100)  | 4 (100)  | 6 (150) or 4 (100) in raceway       | 6 (150) or 4 (100) in raceway
street              | 24 (600) | 24 (600) | 24 (600) | 24 (600)                            | 24 (600)
home-drive          | 18 (450) | 18 (450) | 18 (450) | 12 (300)                            | 18 (450)
runway              | 18 (450) | 18 (450) | 18 (450) | 18 (450)                            | 18 (450)
`

func TestNECTable300_5(t *testing.T) {
	rows := site.NEC3005()
	lines := strings.Split(strings.TrimSpace(necTable300_5), "\n")
	if len(rows) != 7 || len(lines) != len(rows) {
		t.Fatalf("%d rows, the table has 7", len(rows))
	}
	for i, line := range lines {
		fields := strings.Split(line, "|")
		if len(fields) != 6 {
			t.Fatalf("line %q", line)
		}
		key := site.RowKey(strings.TrimSpace(fields[0]))
		if rows[i].Key != key || rows[i].Location == "" {
			t.Errorf("row %d is %q %q, want %q", i, rows[i].Key, rows[i].Location, key)
		}
		for c := range rows[i].Cells {
			checkCell(t, fmt.Sprintf("%s, column %d", key, c+1), rows[i].Cells[c], fields[c+1])
			checkColumn(t, key, site.Column(c+1), rows[i].Cells[c])
		}
	}
}

// checkCell compares an entry with the text of the table.
func checkCell(t *testing.T, where string, cell site.NECCell, text string) {
	t.Helper()
	direct, raceway, split := strings.Cut(text, " or ")
	if !split {
		raceway = direct
	}
	in, mm := parseCover(t, direct)
	rin, rmm := parseCover(t, raceway)
	if cell.Inches != in || cell.Millimetres != mm || cell.RacewayInches != rin || cell.RacewayMillimetres != rmm {
		t.Errorf("%s: %+v, want %s", where, cell, text)
	}
	if cell.RacewayOnly != strings.Contains(text, "raceway only") || cell.ListedMayReduce != strings.Contains(text, "notes") {
		t.Errorf("%s: %+v, want %s", where, cell, text)
	}
	if (cell.RacewayOnly || cell.ListedMayReduce || split) != (cell.Note != "") {
		t.Errorf("%s: note %q", where, cell.Note)
	}
	// The printed millimetres are the inches rounded to a handy number.
	if math.Abs(in*25.4-mm) > 0.02*mm || math.Abs(rin*25.4-rmm) > 0.02*rmm {
		t.Errorf("%s: %v in is not near %v mm", where, in, mm)
	}
}

func parseCover(t *testing.T, text string) (in, mm float64) {
	t.Helper()
	fields := strings.Fields(text)
	in, err := strconv.ParseFloat(fields[0], 64)
	if err != nil {
		t.Fatalf("cover %q: %v", text, err)
	}
	if mm, err = strconv.ParseFloat(strings.Trim(fields[1], "()"), 64); err != nil {
		t.Fatalf("cover %q: %v", text, err)
	}
	return in, mm
}

// checkColumn holds that the column as a table in metres agrees with the entry.
func checkColumn(t *testing.T, key site.RowKey, c site.Column, cell site.NECCell) {
	t.Helper()
	inches, metric := site.NECTable(c, site.Inches)[key], site.NECTable(c, site.Millimetres)[key]
	near(t, "inches", inches.DirectM, cell.Inches*0.0254, 0)
	near(t, "inches, raceway", inches.RacewayM, cell.RacewayInches*0.0254, 0)
	near(t, "millimetres", metric.DirectM, cell.Millimetres/1000, 0)
	near(t, "millimetres, raceway", metric.RacewayM, cell.RacewayMillimetres/1000, 0)
	if inches.RacewayOnly != cell.RacewayOnly || inches.ListedMayReduce != cell.ListedMayReduce || inches.Note != cell.Note {
		t.Errorf("%s, column %d: %+v", key, c, inches)
	}
}

// lowVoltage is a 12 V landscape lighting circuit in direct-burial cable.
var lowVoltage = site.Circuit{Volts: 12, BreakerA: 25, Landscape: true}

// TestColumn5UnderEverything is column 5 of NEC table 300.5 as a plan meets it.
func TestColumn5UnderEverything(t *testing.T) {
	none := math.NaN()
	cases := []struct {
		name   string
		above  []site.RowKey
		wiring site.Wiring
		listed float64
		inches float64
		row    site.RowKey
	}{
		{"lawn", nil, site.WiringCable, none, 6, site.RowOpen},
		{"lawn, said twice", []site.RowKey{site.RowOpen, site.RowOpen}, site.WiringCable, none, 6, site.RowOpen},
		{"lawn, listed system for 3 in", nil, site.WiringCable, 3 * 0.0254, 3, site.RowOpen},
		{"lawn, listed system for 8 in", nil, site.WiringCable, 8 * 0.0254, 6, site.RowOpen},
		{"path of thin concrete", []site.RowKey{site.RowThinConcrete}, site.WiringCable, none, 6, site.RowThinConcrete},
		{"slab", []site.RowKey{site.RowSlab}, site.WiringCable, none, 6, site.RowSlab},
		{"slab, sleeved", []site.RowKey{site.RowSlab}, site.WiringPlastic, none, 4, site.RowSlab},
		{"home drive", []site.RowKey{site.RowHomeDrive}, site.WiringCable, none, 18, site.RowHomeDrive},
		{"home drive, listed system for 3 in", []site.RowKey{site.RowHomeDrive}, site.WiringCable, 3 * 0.0254, 18, site.RowHomeDrive},
		{"home drive, sleeved", []site.RowKey{site.RowHomeDrive}, site.WiringPlastic, none, 18, site.RowHomeDrive},
		{"home drive, metal", []site.RowKey{site.RowHomeDrive}, site.WiringMetal, none, 18, site.RowHomeDrive},
		{"street", []site.RowKey{site.RowStreet}, site.WiringCable, none, 24, site.RowStreet},
		{"street over concrete", []site.RowKey{site.RowThinConcrete, site.RowStreet}, site.WiringCable, none, 24, site.RowStreet},
		{"home drive with lawn over its edge", []site.RowKey{site.RowOpen, site.RowHomeDrive}, site.WiringCable, none, 18, site.RowHomeDrive},
		{"home drive meets street", []site.RowKey{site.RowHomeDrive, site.RowStreet}, site.WiringCable, none, 24, site.RowStreet},
		{"airfield", []site.RowKey{site.RowAirfield}, site.WiringCable, none, 18, site.RowAirfield},
		{"house", []site.RowKey{site.RowBuilding}, site.WiringPlastic, none, 0, site.RowBuilding},
	}
	for _, c := range cases {
		circuit := lowVoltage
		circuit.Wiring = c.wiring
		got, _, err := site.NECCover(circuit, c.above, c.listed, site.Inches)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		near(t, c.name, got.MinM, c.inches*0.0254, 1e-15)
		if got.Row != c.row {
			t.Errorf("%s: row %s, want %s", c.name, got.Row, c.row)
		}
		if got.Listed != (c.name == "lawn, listed system for 3 in") {
			t.Errorf("%s: listed %v", c.name, got.Listed)
		}
	}
}

// TestDrivewayInversion is the trap of the table: under the drive of a home a
// low-voltage cable must lie at 18 in, a 120 V one with ground-fault protection
// at 12 in only. In the open it is the other way round.
func TestDrivewayInversion(t *testing.T) {
	mains := site.Circuit{Volts: 120, BreakerA: 20, GroundFault: true, Residential: true}
	drive := []site.RowKey{site.RowHomeDrive}
	cases := []struct {
		circuit site.Circuit
		above   []site.RowKey
		inches  float64
		column  site.Column
	}{
		{lowVoltage, drive, 18, site.ColumnLowVoltage},
		{mains, drive, 12, site.ColumnHome},
		{lowVoltage, nil, 6, site.ColumnLowVoltage},
		{mains, nil, 12, site.ColumnHome},
		{lowVoltage, []site.RowKey{site.RowStreet}, 24, site.ColumnLowVoltage},
		{mains, []site.RowKey{site.RowStreet}, 24, site.ColumnHome},
	}
	for _, c := range cases {
		got, column, err := site.NECCover(c.circuit, c.above, math.NaN(), site.Inches)
		if err != nil || column != c.column {
			t.Errorf("%+v under %v: column %d, want %d (%v)", c.circuit, c.above, column, c.column, err)
		}
		near(t, fmt.Sprint(c.above), got.MinM, c.inches*0.0254, 1e-15)
	}
}

// TestColumns holds the conditions of columns 4 and 5.
func TestColumns(t *testing.T) {
	home := site.Circuit{Volts: 120, BreakerA: 20, GroundFault: true, Residential: true}
	with := func(change func(*site.Circuit)) site.Circuit {
		c := home
		change(&c)
		return c
	}
	cases := []struct {
		name string
		c    site.Circuit
		want []site.Column
	}{
		{"home", home, []site.Column{1, 4}},
		{"home in plastic", with(func(c *site.Circuit) { c.Wiring = site.WiringPlastic }), []site.Column{3, 4}},
		{"home in metal", with(func(c *site.Circuit) { c.Wiring = site.WiringMetal }), []site.Column{2, 4}},
		{"240 V", with(func(c *site.Circuit) { c.Volts = 240 }), []site.Column{1}},
		{"30 A", with(func(c *site.Circuit) { c.BreakerA = 30 }), []site.Column{1}},
		{"no ground-fault protection", with(func(c *site.Circuit) { c.GroundFault = false }), []site.Column{1}},
		{"not a dwelling", with(func(c *site.Circuit) { c.Residential = false }), []site.Column{1}},
		{"landscape at 12 V", lowVoltage, []site.Column{1, 5}},
		{"landscape at 30 V", site.Circuit{Volts: 30, Landscape: true}, []site.Column{1, 5}},
		{"landscape at 36 V", site.Circuit{Volts: 36, Landscape: true}, []site.Column{1}},
		{"volts unknown", site.Circuit{Volts: math.NaN(), Landscape: true}, []site.Column{1}},
		{"12 V, not landscape", site.Circuit{Volts: 12}, []site.Column{1}},
	}
	for _, c := range cases {
		if got := site.NECColumns(c.c); !slices.Equal(got, c.want) {
			t.Errorf("%s: columns %v, want %v", c.name, got, c.want)
		}
	}
	for _, c := range []site.Column{-1, 0, 6} {
		if got := site.NECTable(c, site.Inches); got != nil {
			t.Errorf("column %d: %v", c, got)
		}
	}
}

// TestMostStringentGoverns holds over every pair of rows and every column.
func TestMostStringentGoverns(t *testing.T) {
	for c := site.ColumnCable; c <= site.ColumnLowVoltage; c++ {
		table := site.NECTable(c, site.Inches)
		for a, rowA := range table {
			for b, rowB := range table {
				for _, laying := range []site.Laying{site.DirectBuried, site.InRaceway} {
					got, err := table.Governing([]site.RowKey{a, b}, laying, math.NaN())
					if err != nil {
						t.Fatal(err)
					}
					x, y := rowA.DirectM, rowB.DirectM
					if laying == site.InRaceway {
						x, y = rowA.RacewayM, rowB.RacewayM
					}
					switch {
					case a == site.RowOpen:
						x = y
					case b == site.RowOpen:
						y = x
					}
					near(t, fmt.Sprint(c, a, b), got.MinM, max(x, y), 0)
					if special := a != b && (a == site.RowOpen || b == site.RowOpen); special && slices.Contains(got.Rows, site.RowOpen) {
						t.Errorf("column %d: the open row applies beside %s and %s", c, a, b)
					}
				}
			}
		}
	}
}

// TestOtherTables holds that a profile's own table with its own keys works, and
// that what it has no row for is said, never passed.
func TestOtherTables(t *testing.T) {
	table := site.CoverTable{
		site.RowOpen:    {DirectM: 0.5, RacewayM: 0.3, Note: "invented"},
		"under-tramway": {DirectM: 1.0, RacewayM: 0.8},
	}
	got, err := table.Governing([]site.RowKey{"under-tramway", site.RowOpen}, site.InRaceway, math.NaN())
	if err != nil || got.Row != "under-tramway" || got.MinM != 0.8 {
		t.Errorf("tramway: %+v, %v", got, err)
	}
	_, err = table.Governing([]site.RowKey{"b", "under-tramway", "a", "b"}, site.DirectBuried, math.NaN())
	var unknown *site.UnknownRowError
	if !errors.As(err, &unknown) || !slices.Equal(unknown.Rows, []site.RowKey{"a", "b"}) {
		t.Errorf("unknown rows: %v", err)
	}
	if err == nil || err.Error() != `the cover table has no row for ["a" "b"]` {
		t.Errorf("message: %v", err)
	}
	if _, err = (site.CoverTable{}).Governing(nil, site.DirectBuried, 0); err == nil {
		t.Error("an empty table judges the open")
	}
	if _, _, err = site.NECCover(lowVoltage, []site.RowKey{"under-tramway"}, math.NaN(), site.Inches); err == nil {
		t.Error("a tramway is judged by the table")
	}
}

func TestRacewayOnly(t *testing.T) {
	got, column, err := site.NECCover(lowVoltage, []site.RowKey{site.RowBuilding}, math.NaN(), site.Inches)
	if err != nil || !got.RacewayOnly || got.MinM != 0 || got.Note == "" {
		t.Errorf("under a building: %+v, column %d, %v", got, column, err)
	}
	// Even where another row governs the depth.
	got, _, _ = site.NECCover(lowVoltage, []site.RowKey{site.RowBuilding, site.RowStreet}, math.NaN(), site.Inches)
	if !got.RacewayOnly || got.Row != site.RowStreet {
		t.Errorf("under a building and a street: %+v", got)
	}
}

func TestShortfall(t *testing.T) {
	six := site.Requirement{MinM: 6 * 0.0254}
	near(t, "at 4 in", six.Shortfall(4*0.0254), 2*0.0254, 1e-15)
	for _, in := range []float64{6, 6 - 1e-6, 7} {
		if got := six.Shortfall(in * 0.0254); got != 0 {
			t.Errorf("at %v in: short by %v", in, got)
		}
	}
	if got := six.Shortfall(math.NaN()); !math.IsNaN(got) {
		t.Errorf("at no number: short by %v", got)
	}
	if site.NECConfidence != "confirmed" || !strings.Contains(site.NECSource, "300.5") {
		t.Errorf("source %q, confidence %q", site.NECSource, site.NECConfidence)
	}
}
