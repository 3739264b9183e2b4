package light

import (
	"bytes"
	"fmt"
	"strings"
)

// WriteLM63 writes the photometry as an LM-63 file of its edition. Reading it
// back gives the same photometry.
func WriteLM63(p *Photometry) []byte {
	var b bytes.Buffer
	for head, e := range editions {
		if e == p.Edition {
			b.WriteString(head + "\r\n")
		}
	}
	for _, l := range p.Labels {
		b.WriteString(l + "\r\n")
	}
	for _, k := range p.Keywords {
		b.WriteString(strings.TrimRight("["+k.Name+"] "+k.Text, " ") + "\r\n")
	}
	if p.Tilt == nil {
		b.WriteString("TILT=NONE\r\n")
	} else {
		fmt.Fprintf(&b, "TILT=INCLUDE\r\n%d\r\n%d\r\n", p.Tilt.Geometry, len(p.Tilt.AnglesDeg))
		writeSeries(&b, p.Tilt.AnglesDeg)
		writeSeries(&b, p.Tilt.Factors)
	}
	units, metres := 2, 1.0
	if p.Feet {
		units, metres = 1, metresPerFoot
	}
	fmt.Fprintf(&b, "%d %s %s %d %d %d %d %s %s %s\r\n", p.Lamps, trim(p.LumensPerLamp), trim(p.Multiplier),
		len(p.VerticalDeg), len(p.HorizontalDeg), int(p.Type), units,
		trim(p.WidthM/metres), trim(p.LengthM/metres), trim(p.HeightM/metres))
	fmt.Fprintf(&b, "%s %s %s\r\n", trim(p.Ballast), trim(p.Third), trim(p.InputWatts))
	writeSeries(&b, p.VerticalDeg)
	writeSeries(&b, p.HorizontalDeg)
	for _, row := range p.Candela {
		writeSeries(&b, row)
	}
	return b.Bytes()
}

// writeSeries writes numbers in lines of at most 76 characters.
func writeSeries(b *bytes.Buffer, values []float64) {
	width := 0
	for _, v := range values {
		text := trim(v)
		if width > 0 && width+1+len(text) > 76 {
			b.WriteString("\r\n")
			width = 0
		}
		if width > 0 {
			b.WriteByte(' ')
			width++
		}
		b.WriteString(text)
		width += len(text)
	}
	b.WriteString("\r\n")
}
