package wire

// Ampacity is one row of a published ampacity or overcurrent table. The tables
// are references: what a cable carries is what its maker marked on it.
type Ampacity struct {
	// Table names the column for use in a profile.
	Table AmpacityTable
	Size  string // as Conductor.Name
	// Material is what the row holds for.
	Material   Material
	Amps       float64
	Source     string
	Confidence Confidence
}

// AmpacityTable names a column of a published table.
type AmpacityTable string

// The columns held.
const (
	NEC310At60C   AmpacityTable = "nec-310.16-60C"
	NEC310At75C   AmpacityTable = "nec-310.16-75C"
	NEC310At90C   AmpacityTable = "nec-310.16-90C"
	NEC240Device  AmpacityTable = "nec-240.4(D)" // largest overcurrent device
	NEC400TwoWire AmpacityTable = "nec-400.5(A)-two-conductor"
	NEC402Fixture AmpacityTable = "nec-402.5"
)

// column is a table written compactly.
type column struct {
	table      AmpacityTable
	material   Material
	source     string
	confidence Confidence
	rows       []sizeAmps
}

type sizeAmps struct {
	size string
	amps float64
}

const basis310 = ", at most three current-carrying conductors in raceway, cable or earth, 30 C ambient"

// columns holds the tables. 14 AWG in the 60 C column is 15 A since the 2011
// edition (20 A before).
var columns = []column{
	{NEC310At60C, Copper, "NEC table 310.16 (2020 on; 310.15(B)(16) in 2011 to 2017), 60 C column" + basis310, Confirmed,
		[]sizeAmps{{"14 AWG", 15}, {"12 AWG", 20}, {"10 AWG", 30}, {"8 AWG", 40}, {"6 AWG", 55}}},
	{NEC310At75C, Copper, "NEC table 310.16, 75 C column" + basis310, Confirmed,
		[]sizeAmps{{"14 AWG", 20}, {"12 AWG", 25}, {"10 AWG", 35}, {"8 AWG", 50}, {"6 AWG", 65}}},
	{NEC310At90C, Copper, "NEC table 310.16, 90 C column" + basis310, SingleSource,
		[]sizeAmps{{"18 AWG", 14}, {"16 AWG", 18}, {"14 AWG", 25}, {"12 AWG", 30}, {"10 AWG", 40}, {"8 AWG", 55}, {"6 AWG", 75}}},
	{NEC240Device, Copper, "NEC 240.4(D)(3), (5), (7)", Confirmed,
		[]sizeAmps{{"14 AWG", 15}, {"12 AWG", 20}, {"10 AWG", 30}}},
	{NEC240Device, Copper, "NEC 240.4(D)(1), (2): device type restricted, continuous load at most 80 %", FromMemory,
		[]sizeAmps{{"18 AWG", 7}, {"16 AWG", 10}}},
	{NEC240Device, Aluminium, "NEC 240.4(D)(4), (6)", SingleSource,
		[]sizeAmps{{"12 AWG", 15}, {"10 AWG", 25}}},
	{NEC240Device, CopperCladAluminium, "NEC 240.4(D)(4), (6)", SingleSource,
		[]sizeAmps{{"12 AWG", 15}, {"10 AWG", 25}}},
	{NEC400TwoWire, Copper, "NEC table 400.5(A), two current-carrying conductors, flexible cord", SingleSource,
		[]sizeAmps{{"18 AWG", 10}, {"16 AWG", 13}, {"14 AWG", 18}, {"12 AWG", 25}}},
	{NEC402Fixture, Copper, "NEC table 402.5, fixture wire", FromMemory,
		[]sizeAmps{{"18 AWG", 6}, {"16 AWG", 8}, {"14 AWG", 17}, {"12 AWG", 23}, {"10 AWG", 28}}},
}

// Ampacities returns every row held, in a fixed order.
func Ampacities() []Ampacity {
	var list []Ampacity
	for _, c := range columns {
		for _, r := range c.rows {
			list = append(list, Ampacity{c.table, r.size, c.material, r.amps, c.source, c.confidence})
		}
	}
	return list
}

// LookUpAmpacity finds a conductor in a table; false when the table has no
// such row.
func LookUpAmpacity(table AmpacityTable, c Conductor) (Ampacity, bool) {
	for _, a := range Ampacities() {
		if a.Table == table && a.Size == c.Name && a.Material == c.Material {
			return a, true
		}
	}
	return Ampacity{}, false
}
