package wire

import (
	"fmt"
	"strconv"
)

// metricRow is one size of IEC 60228: largest resistance at 20 C, plain
// annealed copper, ohm/km. 0 means that the class has no such size here.
type metricRow struct {
	mm2        float64
	class12    float64 // classes 1 and 2
	class5     float64
	tinned12   float64 // the same of tinned copper; 0 where it is not held
	tinned5    float64
	confidence Confidence
}

// metricTinned is taken for the rows without a value for tinned copper: the largest
// ratio of those with one is 1.026 (from memory for these sizes).
const metricTinned = 1.03

// metricCopper is IEC 60228 (DIN VDE 0295, HD 383) for plain and tinned copper. The
// outermost rows, and those from 25 mm2 up, are from memory.
var metricCopper = []metricRow{
	{0.5, 36.0, 39.0, 0, 0, FromMemory},
	{0.75, 24.5, 26.0, 24.8, 26.7, Confirmed},
	{1, 18.1, 19.5, 18.2, 20.0, Confirmed},
	{1.5, 12.1, 13.3, 12.2, 13.7, Confirmed},
	{2.5, 7.41, 7.98, 7.56, 8.21, Confirmed},
	{4, 4.61, 4.95, 4.70, 5.09, Confirmed},
	{6, 3.08, 3.30, 3.11, 3.39, Confirmed},
	{10, 1.83, 1.91, 1.84, 1.95, Confirmed},
	{16, 1.15, 1.21, 1.16, 1.24, Confirmed},
	{25, 0.727, 0.780, 0, 0, FromMemory},
	{35, 0.524, 0.554, 0, 0, FromMemory},
	{50, 0.387, 0.386, 0, 0, FromMemory},
	{70, 0.268, 0.272, 0, 0, FromMemory},
	{95, 0.193, 0.206, 0, 0, FromMemory},
	{120, 0.153, 0.161, 0, 0, FromMemory},
}

// metricConductor makes a conductor from a metric size. Copper takes the
// largest resistance that the standard allows; other metals are computed from
// resistivity, nominal area and lay.
func metricConductor(number string, material Material, stranding Stranding) (Conductor, error) {
	mm2, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return Conductor{}, fmt.Errorf("%w: %q mm2", ErrConductorSize, number)
	}
	for _, row := range metricCopper {
		if row.mm2 == mm2 {
			return row.conductor(material, stranding), nil
		}
	}
	return Conductor{}, fmt.Errorf("%w: %q mm2", ErrConductorSize, number)
}

// conductor builds the row's conductor.
func (r metricRow) conductor(material Material, stranding Stranding) Conductor {
	m := materials[material]
	c := Conductor{
		Name:     strconv.FormatFloat(r.mm2, 'f', -1, 64) + " mm2",
		Material: material, Stranding: stranding, AreaMM2: r.mm2, PerKelvin20: m.perKelvin20,
		Source: "IEC 60228", Confidence: r.confidence,
	}
	switch {
	case material == TinnedCopper:
		c.OhmPerM20, c.Confidence = r.tinned(stranding)
	case material != Copper:
		c.OhmPerM20 = m.ohmMM2PerM / r.mm2 * layFactor[stranding]
		c.Source, c.Confidence = m.source, m.confidence
	case stranding == FineStranded:
		c.OhmPerM20 = r.class5 / 1000
	default:
		c.OhmPerM20 = r.class12 / 1000
	}
	return c
}

// tinned is the resistance of tinned copper at 20 C in ohm/m.
func (r metricRow) tinned(stranding Stranding) (ohmPerM float64, sure Confidence) {
	bare, coated := r.class12, r.tinned12
	if stranding == FineStranded {
		bare, coated = r.class5, r.tinned5
	}
	if coated == 0 {
		return bare * metricTinned / 1000, FromMemory
	}
	return coated / 1000, r.confidence
}
