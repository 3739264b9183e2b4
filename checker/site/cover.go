package site

import (
	"fmt"
	"slices"
)

// RowKey names a row of a cover table: a kind of place that a cable can lie
// under. A profile may use keys of its own beside these.
type RowKey string

// The rows of NEC table 300.5, in its order.
const (
	// RowOpen is every place not named by another row.
	RowOpen RowKey = "all"
	// RowThinConcrete is in a trench below 2 in (50 mm) of concrete or
	// equivalent.
	RowThinConcrete RowKey = "under-thin-concrete"
	// RowBuilding is under a building.
	RowBuilding RowKey = "under-building"
	// RowSlab is under at least 4 in (102 mm) of exterior concrete slab
	// with no vehicles, which reaches at least 6 in (152 mm) beyond.
	RowSlab RowKey = "under-slab"
	// RowStreet is under streets, highways, roads, alleys, driveways and
	// parking lots.
	RowStreet RowKey = "street"
	// RowHomeDrive is under the drive and parking of a one- or two-family
	// dwelling, used for nothing else.
	RowHomeDrive RowKey = "home-drive"
	// RowAirfield is in or under airport runways and the areas beside them.
	RowAirfield RowKey = "runway"
)

// Laying says how a cable is laid, as far as cover is concerned.
type Laying int

// How a cable is laid.
const (
	// DirectBuried is a cable laid in the ground itself.
	DirectBuried Laying = iota
	// InRaceway is a cable drawn into a raceway.
	InRaceway
)

// CoverRow is one row of a cover table, for one kind of circuit.
type CoverRow struct {
	// DirectM is the least cover in metres of a cable laid in the ground;
	// RacewayM that of one in a raceway.
	DirectM, RacewayM float64
	// RacewayOnly means that a cable may lie here only in a raceway, or as
	// a cable type that the row names; see Note.
	RacewayOnly bool
	// ListedMayReduce means that the instructions of a listed low-voltage
	// lighting system may allow a lesser cover here.
	ListedMayReduce bool
	// Note is what the row says beside the numbers, for the reader.
	Note string
}

// CoverTable is a table of least covers for one kind of circuit. It is plain
// data: a profile fills one from its limits, or uses a column of [NEC3005].
type CoverTable map[RowKey]CoverRow

// Requirement is the least cover for one piece of a leg.
type Requirement struct {
	// Row is the governing row.
	Row RowKey
	// MinM is the least cover in metres.
	MinM float64
	// RacewayOnly is true when any row that applies asks for a raceway or a
	// special cable.
	RacewayOnly bool
	// Listed is true when MinM is the lesser cover of a listed system.
	Listed bool
	// Note is the governing row's note.
	Note string
	// Rows are all rows that apply, sorted.
	Rows []RowKey
}

// UnknownRowError says that a table has no row for something that lies above a
// cable, so that the cover cannot be judged.
type UnknownRowError struct {
	// Rows are the keys that the table lacks, sorted.
	Rows []RowKey
}

// Error returns the keys in words.
func (e *UnknownRowError) Error() string {
	return fmt.Sprintf("the cover table has no row for %q", e.Rows)
}

// Governing returns the least cover under everything that lies above a piece.
// With nothing above, RowOpen governs; it does not apply beside a more special
// row. Where several rows apply the most stringent governs, that is the one
// with the greatest cover, and of equal ones the key that sorts first. If any
// row asks for a raceway, the piece needs one.
//
// listedM is the lesser cover that the instructions of a listed system state,
// in metres; NaN when they state none. It counts only where the governing row
// allows it, and never makes the cover greater.
//
// The error is an [*UnknownRowError] when any key is not in the table.
func (t CoverTable) Governing(above []RowKey, laying Laying, listedM float64) (Requirement, error) {
	rows := slices.Clone(above)
	slices.Sort(rows)
	rows = slices.Compact(rows)
	if len(rows) > 1 {
		rows = slices.DeleteFunc(rows, func(k RowKey) bool { return k == RowOpen })
	}
	if len(rows) == 0 {
		rows = []RowKey{RowOpen}
	}
	var unknown []RowKey
	for _, k := range rows {
		if _, ok := t[k]; !ok {
			unknown = append(unknown, k)
		}
	}
	if unknown != nil {
		return Requirement{}, &UnknownRowError{Rows: unknown}
	}
	return t.most(rows, laying, listedM), nil
}

// most returns the most stringent of rows that are all in the table.
func (t CoverTable) most(rows []RowKey, laying Laying, listedM float64) Requirement {
	out := Requirement{MinM: -1, Rows: rows}
	for _, k := range rows {
		row := t[k]
		m := row.DirectM
		if laying == InRaceway {
			m = row.RacewayM
		}
		if m > out.MinM {
			out.Row, out.MinM, out.Note = k, m, row.Note
		}
		out.RacewayOnly = out.RacewayOnly || row.RacewayOnly
	}
	if t[out.Row].ListedMayReduce && listedM >= 0 && listedM < out.MinM {
		out.MinM, out.Listed = listedM, true
	}
	return out
}

// Shortfall returns how much cover is missing, in metres; 0 when the cover is
// enough, or short by no more than TouchM. It is NaN when the cover is not a
// number.
func (r Requirement) Shortfall(coverM float64) float64 {
	short := r.MinM - coverM
	if short <= TouchM {
		return 0
	}
	return max(short, 0)
}
