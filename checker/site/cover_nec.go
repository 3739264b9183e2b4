package site

import "math"

// Column is a column of NEC table 300.5: a kind of circuit and wiring method.
type Column int

// The columns of the table.
const (
	// ColumnCable is direct-burial cables or conductors.
	ColumnCable Column = iota + 1
	// ColumnMetal is rigid or intermediate metal conduit.
	ColumnMetal
	// ColumnPlastic is nonmetallic raceways listed for direct burial
	// without concrete encasement, or other approved raceways.
	ColumnPlastic
	// ColumnHome is residential branch circuits of 120 V or less with
	// ground-fault protection and overcurrent protection of 20 A at most.
	ColumnHome
	// ColumnLowVoltage is circuits for irrigation and landscape lighting of
	// not more than 30 V, in UF or other identified cable or raceway.
	ColumnLowVoltage
)

// columns is how many columns the table has.
const columns = 5

// NECSource names the table and how sure its values are: the whole table was
// read on one public page and spot-checked on three others, so it is
// "confirmed" in the sense of a profile. The table covers 0 to 1000 V. In the
// 2023 edition it is said to be table 300.5(A); that name is from memory.
const (
	NECSource     = "NEC table 300.5 (minimum cover requirements, 0 to 1000 volts)"
	NECConfidence = "confirmed"
)

// NECCell is one entry of the table, as printed: a cover in inches and, in
// brackets, in millimetres. The two are rounded apart, 6 in beside 150 mm.
type NECCell struct {
	// Inches and Millimetres are for a cable laid in the ground;
	// RacewayInches and RacewayMillimetres for one in a raceway. They
	// differ only where the entry says so.
	Inches, Millimetres               float64
	RacewayInches, RacewayMillimetres float64
	// RacewayOnly, ListedMayReduce and Note are as in [CoverRow].
	RacewayOnly, ListedMayReduce bool
	Note                         string
}

// NECRow is one row of the table.
type NECRow struct {
	Key RowKey
	// Location is what the row covers, in our own words.
	Location string
	// Cells are the entries of columns 1 to 5.
	Cells [columns]NECCell
}

// same is an entry that does not tell cable from raceway.
func same(in, mm float64) NECCell {
	return NECCell{Inches: in, Millimetres: mm, RacewayInches: in, RacewayMillimetres: mm}
}

// The notes of the table, in our own words.
const (
	noteListed      = "a lesser depth is allowed where the instructions of a listed low-voltage lighting system say so; 6 in for pool, spa and fountain lighting in nonmetallic raceway, 30 V at most, as part of such a system"
	noteUnderHouse  = "only in a raceway, or as type MC or MI cable identified for direct burial"
	noteSlabRaceway = "6 in for direct burial, 4 in in a raceway"
)

// NEC3005 returns the whole of NEC table 300.5, rows in the table's order. The
// caller may change what it gets.
func NEC3005() []NECRow {
	house := same(0, 0)
	house.RacewayOnly, house.Note = true, noteUnderHouse
	slab := NECCell{Inches: 6, Millimetres: 150, RacewayInches: 4, RacewayMillimetres: 100, Note: noteSlabRaceway}
	open := same(6, 150)
	open.ListedMayReduce, open.Note = true, noteListed
	return []NECRow{
		{RowOpen, "all locations not specified below",
			[columns]NECCell{same(24, 600), same(6, 150), same(18, 450), same(12, 300), open}},
		{RowThinConcrete, "in a trench below 2 in (50 mm) of concrete or equivalent",
			[columns]NECCell{same(18, 450), same(6, 150), same(12, 300), same(6, 150), same(6, 150)}},
		{RowBuilding, "under a building",
			[columns]NECCell{house, same(0, 0), same(0, 0), house, house}},
		{RowSlab, "under at least 4 in (102 mm) of exterior concrete slab without vehicles, reaching at least 6 in (152 mm) beyond",
			[columns]NECCell{same(18, 450), same(4, 100), same(4, 100), slab, slab}},
		{RowStreet, "under streets, highways, roads, alleys, driveways and parking lots",
			[columns]NECCell{same(24, 600), same(24, 600), same(24, 600), same(24, 600), same(24, 600)}},
		{RowHomeDrive, "one- and two-family dwelling driveways and outdoor parking, for the dwelling only",
			[columns]NECCell{same(18, 450), same(18, 450), same(18, 450), same(12, 300), same(18, 450)}},
		{RowAirfield, "in or under airport runways, and the areas beside them",
			[columns]NECCell{same(18, 450), same(18, 450), same(18, 450), same(18, 450), same(18, 450)}},
	}
}

// Units says which of the two printed numbers of a table counts.
type Units int

const (
	// Inches takes the inch numbers, at 25.4 mm to the inch.
	Inches Units = iota
	// Millimetres takes the millimetre numbers, which are up to 2 percent
	// smaller. The code lets either be complied with (90.9(D), from
	// memory).
	Millimetres
)

// NECTable returns one column of the table with covers in metres; nil for a
// column that does not exist.
func NECTable(c Column, units Units) CoverTable {
	if c < ColumnCable || c > ColumnLowVoltage {
		return nil
	}
	out := make(CoverTable)
	for _, row := range NEC3005() {
		cell := row.Cells[c-1]
		r := CoverRow{
			DirectM: cell.Inches * 0.0254, RacewayM: cell.RacewayInches * 0.0254,
			RacewayOnly: cell.RacewayOnly, ListedMayReduce: cell.ListedMayReduce, Note: cell.Note,
		}
		if units == Millimetres {
			r.DirectM, r.RacewayM = cell.Millimetres/1000, cell.RacewayMillimetres/1000
		}
		out[row.Key] = r
	}
	return out
}

// Wiring is the wiring method of a circuit in the ground.
type Wiring int

// The wiring methods that the table tells apart.
const (
	// WiringCable is cable identified for direct burial.
	WiringCable Wiring = iota
	// WiringMetal is rigid or intermediate metal conduit.
	WiringMetal
	// WiringPlastic is a nonmetallic raceway.
	WiringPlastic
)

// Circuit is what decides the columns of the table that a circuit may use.
type Circuit struct {
	// Volts is the circuit's voltage; BreakerA the rating of its
	// overcurrent protection in amps.
	Volts, BreakerA float64
	// GroundFault is true with ground-fault circuit-interrupter protection.
	GroundFault bool
	// Residential is true for a branch circuit of a dwelling.
	Residential bool
	// Landscape is true for irrigation control and landscape lighting.
	Landscape bool
	// Wiring is the wiring method.
	Wiring Wiring
}

const (
	maxLandscapeVolts = 30.0
	maxHomeVolts      = 120.0
	maxHomeAmps       = 20.0
)

// NECColumns returns the columns that a circuit may use, in rising order: the
// one for its wiring method, and columns 4 and 5 where it meets their
// conditions. A voltage or rating that is not a number meets none.
func NECColumns(c Circuit) []Column {
	out := []Column{ColumnCable}
	switch c.Wiring {
	case WiringMetal:
		out[0] = ColumnMetal
	case WiringPlastic:
		out[0] = ColumnPlastic
	}
	if c.Residential && c.GroundFault && c.Volts <= maxHomeVolts && c.BreakerA <= maxHomeAmps {
		out = append(out, ColumnHome)
	}
	if c.Landscape && c.Volts <= maxLandscapeVolts {
		out = append(out, ColumnLowVoltage)
	}
	return out
}

// NECCover returns the least cover of a circuit under what lies above it: the
// most stringent row of each column that the circuit may use, then the column
// that asks for the least, the most special of equal ones. listedM is as for
// [CoverTable.Governing].
func NECCover(c Circuit, above []RowKey, listedM float64, units Units) (Requirement, Column, error) {
	laying := DirectBuried
	if c.Wiring != WiringCable {
		laying = InRaceway
	}
	best, column := Requirement{MinM: math.Inf(1)}, Column(0)
	for _, k := range NECColumns(c) {
		r, err := NECTable(k, units).Governing(above, laying, listedM)
		if err != nil {
			return Requirement{}, 0, err
		}
		if r.MinM <= best.MinM {
			best, column = r, k
		}
	}
	return best, column, nil
}
