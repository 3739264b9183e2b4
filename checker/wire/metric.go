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
	confidence Confidence
}

// metricCopper is IEC 60228 (DIN VDE 0295, HD 383) for plain copper. The
// outermost rows, and those from 25 mm2 up, are from memory.
var metricCopper = []metricRow{
	{0.5, 36.0, 39.0, FromMemory},
	{0.75, 24.5, 26.0, Confirmed},
	{1, 18.1, 19.5, Confirmed},
	{1.5, 12.1, 13.3, Confirmed},
	{2.5, 7.41, 7.98, Confirmed},
	{4, 4.61, 4.95, Confirmed},
	{6, 3.08, 3.30, Confirmed},
	{10, 1.83, 1.91, Confirmed},
	{16, 1.15, 1.21, Confirmed},
	{25, 0.727, 0.780, FromMemory},
	{35, 0.524, 0.554, FromMemory},
	{50, 0.387, 0.386, FromMemory},
	{70, 0.268, 0.272, FromMemory},
	{95, 0.193, 0.206, FromMemory},
	{120, 0.153, 0.161, FromMemory},
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
