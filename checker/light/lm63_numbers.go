package light

import (
	"fmt"
	"math"
	"strconv"
	"unicode/utf8"
)

const metresPerFoot = 0.3048

// numberReader reads the numbers after the TILT line as one stream, whatever
// the line breaks, and knows where each stands.
type numberReader struct {
	data         []byte
	at           int
	line         int // completed lines before at, counted from the start of the file
	start        int // offset at which the line of at begins
	tokenLine    int
	tokenColumn  int
	afterComma   bool
	anyTokenRead bool
}

// fail is an error at the number read last.
func (n *numberReader) fail(format string, args ...any) error {
	return &FileError{n.tokenLine, n.tokenColumn, fmt.Sprintf(format, args...)}
}

// mark remembers where the next token stands.
func (n *numberReader) mark() {
	n.tokenLine = n.line + 1
	n.tokenColumn = 1 + utf8.RuneCount(n.data[n.start:n.at])
}

// skip passes white space and at most one comma; a second comma is an error.
func (n *numberReader) skip() error {
	for n.at < len(n.data) {
		switch c := n.data[n.at]; c {
		case '\n', '\r':
			if c == '\r' && n.at+1 < len(n.data) && n.data[n.at+1] == '\n' {
				n.at++
			}
			n.at++
			n.line++
			n.start = n.at
		case ' ', '\t', '\f', '\v', 0x1a:
			n.at++
		case ',':
			n.mark()
			if n.afterComma || !n.anyTokenRead {
				return n.fail("a number is missing before this comma")
			}
			n.afterComma = true
			n.at++
		default:
			return nil
		}
	}
	return nil
}

// token returns the next run of characters between delimiters; empty at the end.
func (n *numberReader) token() (string, error) {
	if err := n.skip(); err != nil {
		return "", err
	}
	n.mark()
	first := n.at
	for n.at < len(n.data) {
		if c := n.data[n.at]; c <= ' ' || c == ',' {
			break
		}
		n.at++
	}
	if n.at == first && n.at < len(n.data) {
		n.at++ // a control character: take it as a token of its own
	}
	n.afterComma, n.anyTokenRead = false, true
	return string(n.data[first:n.at]), nil
}

// number reads one number; what says what it is.
func (n *numberReader) number(what string) (float64, error) {
	return n.numberOf(func() string { return what })
}

// numberOf is number for one of many, whose name is made when it is at fault.
func (n *numberReader) numberOf(what func() string) (float64, error) {
	text, err := n.token()
	if err != nil {
		return 0, err
	}
	if text == "" {
		return 0, n.fail("the file ends where %s was expected", what())
	}
	if !plainNumber(text) {
		return 0, n.fail("%s is not a number; expected %s", quote(text), what())
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.Abs(v) > 1e12 {
		return 0, n.fail("%s is too large; expected %s", quote(text), what())
	}
	return v, nil
}

// plainNumber reports a decimal number: sign, digits, point, exponent.
func plainNumber(s string) bool {
	digits, i := 0, 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	for ; i < len(s) && s[i] >= '0' && s[i] <= '9'; i++ {
		digits++
	}
	if i < len(s) && s[i] == '.' {
		for i++; i < len(s) && s[i] >= '0' && s[i] <= '9'; i++ {
			digits++
		}
	}
	if digits == 0 {
		return false
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		i++
		if i < len(s) && (s[i] == '+' || s[i] == '-') {
			i++
		}
		first := i
		for ; i < len(s) && s[i] >= '0' && s[i] <= '9'; i++ {
		}
		if i == first {
			return false
		}
	}
	return i == len(s)
}

// whole reads a whole number from low to high.
func (n *numberReader) whole(what string, low, high int) (int, error) {
	v, err := n.number(what)
	if err != nil {
		return 0, err
	}
	if v != math.Trunc(v) || v < float64(low) || v > float64(high) {
		return 0, n.fail("%s is %s; expected a whole number from %d to %d", what, trim(v), low, high)
	}
	return int(v), nil
}

// positive reads a number above 0.
func (n *numberReader) positive(what string) (float64, error) {
	v, err := n.number(what)
	if err == nil && !(v > 0) {
		err = n.fail("%s is %s; expected more than 0", what, trim(v))
	}
	return v, err
}

// series reads count rising numbers.
func (n *numberReader) series(what string, count int) ([]float64, error) {
	out := make([]float64, count)
	for i := range out {
		v, err := n.numberOf(func() string { return fmt.Sprintf("%s %d of %d", what, i+1, count) })
		if err != nil {
			return nil, err
		}
		if i > 0 && v <= out[i-1] {
			return nil, n.fail("%s %d of %d is %s, not above the %s before it; angles must rise", what, i+1, count, trim(v), trim(out[i-1]))
		}
		out[i] = v
	}
	return out, nil
}

// trim prints a number without needless digits.
func trim(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// readTilt reads the table of TILT=INCLUDE.
func readTilt(p *Photometry, n *numberReader) error {
	geometry, err := n.whole("the lamp-to-luminaire geometry", 1, 3)
	if err != nil {
		return err
	}
	pairs, err := n.whole("the number of tilt angles", 1, maxTiltPairs)
	if err != nil {
		return err
	}
	angles, err := n.series("tilt angle", pairs)
	if err != nil {
		return err
	}
	factors := make([]float64, pairs)
	for i := range factors {
		what := fmt.Sprintf("tilt factor %d of %d", i+1, pairs)
		if factors[i], err = n.number(what); err != nil {
			return err
		}
		if factors[i] < 0 {
			return n.fail("%s is %s; expected 0 or more", what, trim(factors[i]))
		}
	}
	p.Tilt = &LampTilt{Geometry: geometry, AnglesDeg: angles, Factors: factors}
	return nil
}

// readNumbers reads the ten values, the three values, the angles and the candela.
func readNumbers(p *Photometry, n *numberReader) error {
	nv, nh, err := readTen(p, n)
	if err != nil {
		return err
	}
	if err := readThree(p, n); err != nil {
		return err
	}
	if p.VerticalDeg, err = n.series("vertical angle", nv); err != nil {
		return err
	}
	if err := checkVertical(p, n); err != nil {
		return err
	}
	if p.HorizontalDeg, err = n.series("horizontal angle", nh); err != nil {
		return err
	}
	if err := checkHorizontal(p, n); err != nil {
		return err
	}
	return readCandela(p, n)
}

// readTen reads the line of ten values.
func readTen(p *Photometry, n *numberReader) (nv, nh int, err error) {
	if p.Lamps, err = n.whole("the number of lamps", 1, 100_000); err != nil {
		return
	}
	if p.LumensPerLamp, err = n.number("the lumens of a lamp (-1 for absolute photometry)"); err != nil {
		return
	}
	if p.LumensPerLamp != -1 && !(p.LumensPerLamp > 0) {
		err = n.fail("the lumens of a lamp are %s; expected more than 0, or -1 for absolute photometry", trim(p.LumensPerLamp))
		return
	}
	if p.Multiplier, err = n.positive("the candela multiplier"); err != nil {
		return
	}
	if nv, err = n.whole("the number of vertical angles", 2, MaxFileAngles); err != nil {
		return
	}
	if nh, err = n.whole("the number of horizontal angles", 1, MaxFileAngles); err != nil {
		return
	}
	if nv*nh > MaxFileBytes/2 {
		err = n.fail("%d vertical by %d horizontal angles are more than a file of %d bytes can hold", nv, nh, MaxFileBytes)
		return
	}
	kind, err := n.whole("the photometric type (1 is C, 2 is B, 3 is A)", 1, 3)
	if err != nil {
		return
	}
	p.Type = Goniometry(kind)
	units, err := n.whole("the unit of the luminous opening (1 is feet, 2 is metres)", 1, 2)
	if err != nil {
		return
	}
	p.Feet = units == 1
	err = readOpening(p, n)
	return
}

// readOpening reads width, length and height.
func readOpening(p *Photometry, n *numberReader) error {
	const largest = 100.0 // metres
	for _, part := range []struct {
		what string
		to   *float64
	}{{"the width of the luminous opening", &p.WidthM}, {"the length of the luminous opening", &p.LengthM}, {"the height of the luminous opening", &p.HeightM}} {
		v, err := n.number(part.what)
		if err != nil {
			return err
		}
		if p.Feet {
			v *= metresPerFoot
		}
		if math.Abs(v) > largest {
			return n.fail("%s is %.4g m; expected at most %g m", part.what, v, largest)
		}
		*part.to = v
	}
	return nil
}

// readThree reads ballast factor, the field that changed its meaning, and watts.
func readThree(p *Photometry, n *numberReader) (err error) {
	if p.Ballast, err = n.positive("the ballast factor"); err != nil {
		return err
	}
	what := "the value after the ballast factor (1.0, for future use)"
	switch {
	case p.Edition <= Edition1991:
		what = "the ballast-lamp photometric factor"
	case p.Edition >= Edition2019:
		what = "the file generation type"
	}
	if p.Third, err = n.number(what); err != nil {
		return err
	}
	if p.Edition <= Edition1991 && !(p.Third > 0) {
		return n.fail("%s is %s; expected more than 0", what, trim(p.Third))
	}
	if p.InputWatts, err = n.number("the input watts"); err != nil {
		return err
	}
	if p.InputWatts < 0 {
		return n.fail("the input watts are %s; expected 0 or more", trim(p.InputWatts))
	}
	return nil
}

// readCandela reads the candela and makes sure that nothing follows.
func readCandela(p *Photometry, n *numberReader) error {
	p.Candela = make([][]float64, len(p.HorizontalDeg))
	for i, h := range p.HorizontalDeg {
		row := make([]float64, len(p.VerticalDeg))
		for j, v := range p.VerticalDeg {
			cd, err := n.numberOf(func() string { return fmt.Sprintf("the candela at horizontal %s, vertical %s", trim(h), trim(v)) })
			if err != nil {
				return err
			}
			if cd < 0 {
				return n.fail("the candela at horizontal %s, vertical %s are %s; expected 0 or more", trim(h), trim(v), trim(cd))
			}
			row[j] = cd
		}
		p.Candela[i] = row
	}
	text, err := n.token()
	if err != nil {
		return err
	}
	if text != "" {
		return n.fail("%s after the last candela; %d vertical by %d horizontal angles need %d values and no more "+
			"(a comma between digits parts two numbers)", quote(text), len(p.VerticalDeg), len(p.HorizontalDeg),
			len(p.VerticalDeg)*len(p.HorizontalDeg))
	}
	return nil
}
