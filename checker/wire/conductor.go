package wire

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Material is what a conductor is made of.
type Material string

// The materials.
const (
	Copper              Material = "copper"
	TinnedCopper        Material = "tinned-copper"
	Aluminium           Material = "aluminium"
	CopperCladAluminium Material = "copper-clad-aluminium"
)

// Stranding is how a conductor is built. For metric sizes solid is IEC 60228
// class 1, stranded class 2 and fine-stranded class 5.
type Stranding string

// The strandings.
const (
	Solid        Stranding = "solid"
	Stranded     Stranding = "stranded"
	FineStranded Stranding = "fine-stranded"
)

// Confidence says how sure a number is.
type Confidence string

// The degrees of confidence.
const (
	Confirmed    Confidence = "confirmed" // two independent public pages, or one and our arithmetic
	SingleSource Confidence = "single"    // one public page
	FromMemory   Confidence = "memory"    // never the ground of a code finding
)

// Conductor is one conductor of a cable.
type Conductor struct {
	// Name is the size as people write it: "12 AWG", "2.5 mm2".
	Name      string
	Material  Material
	Stranding Stranding
	// AreaMM2 is the metal cross-section in mm2 (metric: nominal).
	AreaMM2 float64
	// OhmPerM20 is the resistance of one conductor at 20 C, ohm/m.
	OhmPerM20 float64
	// PerKelvin20 is the temperature coefficient at 20 C, 1/K.
	PerKelvin20 float64
	// Source and Confidence tell where OhmPerM20 comes from.
	Source     string
	Confidence Confidence
}

// Errors of ParseConductor, to be tested with errors.Is.
var (
	ErrConductorSize = errors.New("unknown conductor size")
	ErrConductorKind = errors.New("unknown conductor material or stranding")
)

// OhmPerMetre returns the resistance of one conductor in ohm/m at the given
// conductor temperature:
//
//	R(T) = R20 * (1 + alpha20*(T - 20))
//
// alpha20 = 0.00393/K for copper (IEC 60028). Below the temperature where the
// line would reach zero the result is held at 1 % of R20, so that it stays
// positive.
func (c Conductor) OhmPerMetre(tempC float64) float64 {
	return c.OhmPerM20 * max(0.01, 1+c.PerKelvin20*(tempC-20))
}

// stuff is the electrical data of a material.
type stuff struct {
	ohmMM2PerM  float64 // resistivity at 20 C
	perKelvin20 float64
	source      string
	confidence  Confidence
}

// materials holds resistivity and temperature coefficient at 20 C.
var materials = map[Material]stuff{
	Copper: {1.0 / 58, 0.00393, "IEC 60028 annealed copper", Confirmed},
	// A coat of tin takes room from the copper: 4 % more resistance.
	TinnedCopper: {tinned / 58, 0.00393, "NEC chapter 9 table 8, coated copper", SingleSource},
	Aluminium:    {0.028264, 0.00403, "IEC 60889 hard-drawn aluminium", FromMemory},
	// 10 % copper by volume.
	CopperCladAluminium: {0.02676, 0.0040, "ASTM B566 class 10A", FromMemory},
}

// tinned is the resistance of coated copper over that of bare copper in NEC chapter
// 9 table 8, within 0.5 % (8 AWG solid: 1.2 %); thinTinned counts in addition for the
// thin strands of 16 AWG and smaller.
const (
	tinned        = 1.04
	thinTinned    = 1.022
	thinStrandAWG = 16
)

// layFactor is the added length of stranded wires. 1.02 agrees with NEC
// chapter 9 table 8 within 0.5 %; 1.04 for bunched strands is from memory.
var layFactor = map[Stranding]float64{Solid: 1, Stranded: 1.02, FineStranded: 1.04}

// ParseConductor reads a size such as "12 AWG", "2/0 AWG" or "2.5 mm2". AWG
// sizes run from 4/0 to 24, metric sizes are those of IEC 60228 from 0.5 to
// 120 mm2. Empty material means copper, empty stranding means stranded.
func ParseConductor(size string, material Material, stranding Stranding) (Conductor, error) {
	if material == "" {
		material = Copper
	}
	if stranding == "" {
		stranding = Stranded
	}
	if _, ok := materials[material]; !ok {
		return Conductor{}, fmt.Errorf("%w: %q", ErrConductorKind, material)
	}
	if _, ok := layFactor[stranding]; !ok {
		return Conductor{}, fmt.Errorf("%w: %q", ErrConductorKind, stranding)
	}
	text := strings.Join(strings.Fields(size), " ")
	upper := strings.ToUpper(text)
	switch {
	case strings.HasSuffix(upper, "AWG"):
		return awgConductor(strings.TrimSpace(upper[:len(upper)-3]), material, stranding)
	case strings.HasSuffix(upper, "MM2"):
		return metricConductor(strings.TrimSpace(upper[:len(upper)-3]), material, stranding)
	case strings.HasSuffix(upper, "MM²"):
		return metricConductor(strings.TrimSpace(strings.TrimSuffix(upper, "MM²")), material, stranding)
	}
	return Conductor{}, fmt.Errorf("%w: %q", ErrConductorSize, size)
}

// AWGDiameterMM returns the diameter of a solid AWG conductor in mm
// (ASTM B258): 0.127*92^((36-n)/39), with n = 0 for 1/0 and -3 for 4/0.
func AWGDiameterMM(n int) float64 {
	return 0.127 * math.Pow(92, float64(36-n)/39)
}

// The AWG numbers taken: 4/0 to 24.
const (
	thickestAWG = -3
	thinnestAWG = 24
)

// awgNumber reads "12", "1/0" or "4/0".
func awgNumber(text string) (int, bool) {
	if m, ok := strings.CutSuffix(text, "/0"); ok {
		n, err := strconv.Atoi(m)
		return 1 - n, err == nil && n >= 1 && n <= 4
	}
	n, err := strconv.Atoi(text)
	if err != nil || strconv.Itoa(n) != text {
		return 0, false
	}
	return n, n >= 0 && n <= thinnestAWG
}

// awgName writes n as people do.
func awgName(n int) string {
	if n <= 0 {
		return strconv.Itoa(1-n) + "/0 AWG"
	}
	return strconv.Itoa(n) + " AWG"
}

// awgConductor makes a conductor from an AWG number.
func awgConductor(number string, material Material, stranding Stranding) (Conductor, error) {
	n, ok := awgNumber(number)
	if !ok {
		return Conductor{}, fmt.Errorf("%w: %q AWG", ErrConductorSize, number)
	}
	d := AWGDiameterMM(n)
	m := materials[material]
	area := math.Pi / 4 * d * d
	c := Conductor{
		Name: awgName(n), Material: material, Stranding: stranding, AreaMM2: area,
		OhmPerM20: m.ohmMM2PerM / area * layFactor[stranding], PerKelvin20: m.perKelvin20,
		Source: "ASTM B258 and " + m.source, Confidence: m.confidence,
	}
	if material == TinnedCopper && stranding != Solid && n >= thinStrandAWG {
		c.OhmPerM20 *= thinTinned
	}
	if stranding == FineStranded {
		c.Confidence = FromMemory
	}
	return c, nil
}
