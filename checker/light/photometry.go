package light

import (
	"fmt"
	"math"
)

// FileError is what is wrong with a photometric file and where. Lines and
// columns count from 1, columns in code points.
type FileError struct {
	Line, Column int
	Message      string // what was expected and what was found
}

// Error returns "line L, column C: message".
func (e *FileError) Error() string {
	return fmt.Sprintf("line %d, column %d: %s", e.Line, e.Column, e.Message)
}

// Edition is a year of the LM-63 standard.
type Edition int

// The editions, by year.
const (
	Edition1986 Edition = 1986
	Edition1991 Edition = 1991
	Edition1995 Edition = 1995
	Edition2002 Edition = 2002
	Edition2019 Edition = 2019
)

// Goniometry is the photometric type: how the angles of a file lie in space.
type Goniometry int

// The photometric types, numbered as LM-63 numbers them.
const (
	TypeC Goniometry = 1 // planes share the upright axis; vertical angle 0 is straight down
	TypeB Goniometry = 2 // planes share a level axis; vertical angle 0 is straight down
	TypeA Goniometry = 3 // planes share the upright axis; vertical angle -90 is straight down
)

// String returns "A", "B" or "C".
func (g Goniometry) String() string {
	switch g {
	case TypeA:
		return "A"
	case TypeB:
		return "B"
	}
	return "C"
}

// Keyword is one label of a photometric file. A [MORE] line is joined to the
// keyword before it.
type Keyword struct {
	Name, Text string
	Line       int
}

// Photometry is the content of an LM-63 file. Angles are degrees as written,
// Candela as written, before [Photometry.Scale].
type Photometry struct {
	Edition  Edition
	Labels   []string // free text lines, as the 1986 edition has them
	Keywords []Keyword
	Tilt     *LampTilt // nil for TILT=NONE

	Lamps         int
	LumensPerLamp float64 // -1 for absolute photometry
	Multiplier    float64
	Type          Goniometry
	Feet          bool // the opening was written in feet
	// WidthM, LengthM and HeightM are the luminous opening in metres with
	// the signs as written: negative for round shapes.
	WidthM, LengthM, HeightM float64
	Ballast                  float64
	// Third is the value after the ballast factor: the ballast-lamp
	// photometric factor of 1986 and 1991, "future use" in 1995 and 2002, and
	// the file generation type of 2019. Only the first is a factor.
	Third      float64
	InputWatts float64

	VerticalDeg, HorizontalDeg []float64
	Candela                    [][]float64 // one row for each horizontal angle
}

// LampTilt is the table of a TILT=INCLUDE file: how the flux of the lamp changes
// as it leans.
type LampTilt struct {
	// Geometry is 1 for a lamp that stands upright in an upright luminaire, 2
	// for one that lies level and stays level when the luminaire tilts, 3 for
	// one that lies level and tilts with it.
	Geometry  int
	AnglesDeg []float64
	Factors   []float64
}

// Factor returns what to multiply the flux by when the luminaire leans by
// tiltDeg from the position in which it was measured. Between the angles of the
// table it is interpolated; beyond them the last value holds.
func (t *LampTilt) Factor(tiltDeg float64) float64 {
	if t == nil || len(t.AnglesDeg) == 0 || t.Geometry == 2 {
		return 1
	}
	angles := newAxis(t.AnglesDeg)
	i, u := angles.find(math.Abs(tiltDeg))
	if i+1 >= len(t.Factors) {
		return t.Factors[i]
	}
	return t.Factors[i] + u*(t.Factors[i+1]-t.Factors[i])
}

// Absolute reports absolute photometry: the candela stand as they are and no
// lamp lumens are stated.
func (p *Photometry) Absolute() bool { return p.LumensPerLamp < 0 }

// Scale is the factor from the candela as written to true candela: the candela
// multiplier times the ballast factor, and in 1986 and 1991 times the
// ballast-lamp photometric factor.
func (p *Photometry) Scale() float64 {
	s := p.Multiplier * p.Ballast
	if p.Edition <= Edition1991 {
		s *= p.Third
	}
	return s
}

// Opening returns the luminous opening. A negative width and length (or one of
// them with the other 0, as 1995 files write it) is a round opening.
func (p *Photometry) Opening() Opening {
	w, l, h := math.Abs(p.WidthM), math.Abs(p.LengthM), math.Abs(p.HeightM)
	round := (p.WidthM < 0 && p.LengthM <= 0) || (p.LengthM < 0 && p.WidthM <= 0)
	if round {
		return Opening{LengthM: max(w, l), HeightM: h, Round: true}
	}
	return Opening{LengthM: l, WidthM: w, HeightM: h}
}

// BeamTiltDeg is the tilt at which the main axis of the file points when the
// luminaire stands at tilt 0: 0 for types B and C, whose vertical angle 0 is
// straight down, and 90 for type A, whose axis lies level along the 0 plane. To
// aim a type A luminaire at a tilt, subtract this from it.
func (p *Photometry) BeamTiltDeg() float64 {
	if p.Type == TypeA {
		return 90
	}
	return 0
}

// FluxCheck compares the flux a file states with the flux its candela add up to.
type FluxCheck struct {
	// StatedLumens is lamps times lumens per lamp; 0 for absolute photometry.
	StatedLumens float64
	// IntegratedLumens is the exact integral of the interpolated candela.
	IntegratedLumens float64
	// Ratio is integrated over stated: the light output ratio. A luminaire
	// cannot give more than its lamps do, so a ratio above 1 is a faulty file;
	// 0 for absolute photometry.
	Ratio float64
}

// Flux integrates the candela of the file.
func (p *Photometry) Flux() FluxCheck {
	c := FluxCheck{IntegratedLumens: p.integrate() * p.Scale()}
	if !p.Absolute() {
		c.StatedLumens = float64(p.Lamps) * p.LumensPerLamp
		c.Ratio = c.IntegratedLumens / c.StatedLumens
	}
	return c
}

// RatedLumens is the flux to give a luminaire that uses the lamps of the file:
// the stated lamp lumens, or for absolute photometry the integrated flux.
func (p *Photometry) RatedLumens() float64 {
	c := p.Flux()
	if p.Absolute() {
		return c.IntegratedLumens
	}
	return c.StatedLumens
}

// MissingKeywords returns the keywords that the 2002 and 2019 editions require
// and the file lacks, in the order of the standard.
func (p *Photometry) MissingKeywords() []string {
	if p.Edition < Edition2002 {
		return nil
	}
	var out []string
	for _, name := range []string{"TEST", "TESTLAB", "ISSUEDATE", "MANUFAC"} {
		if _, ok := p.Keyword(name); !ok {
			out = append(out, name)
		}
	}
	return out
}

// Keyword returns the text of the first keyword of that name.
func (p *Photometry) Keyword(name string) (text string, ok bool) {
	for _, k := range p.Keywords {
		if k.Name == name {
			return k.Text, true
		}
	}
	return "", false
}
