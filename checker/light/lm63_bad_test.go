package light

import (
	"bytes"
	"errors"
	"strings"
	"testing"
)

// goodFile is small, so that line and column of each damage are easy to see.
const goodFile = `IESNA:LM-63-2002
[TEST] 1 invented
[TESTLAB] none
[ISSUEDATE] 2026-01-01
[MANUFAC] none
TILT=NONE
1 500 1.0 3 3 1 2 0.1 0.2 0
1.0 1.0 8
0 45 90
0 45 90
100 80 0
100 70 0
100 60 0
`

// damaged is one way to spoil the good file and what must be said about it.
type damaged struct {
	name         string
	old, new     string
	line, column int
	words        string
}

func damagedFiles() []damaged {
	return []damaged{
		{"unknown edition", "LM-63-2002", "LM-63-2012", 1, 1, "no known edition"},
		{"keyword not closed", "[TESTLAB] none", "[TESTLAB none", 3, 1, "closing bracket"},
		{"empty keyword", "[TESTLAB] none", "[ ] none", 3, 2, "empty keyword"},
		{"nothing to go on with", "[TEST] 1 invented", "[MORE] 1 invented", 2, 1, "[MORE]"},
		{"no TILT line", "TILT=NONE\n", "", 12, 1, "before its TILT line"},
		{"TILT not in column 1", "TILT=NONE", "  TILT=NONE", 6, 3, "column 1"},
		{"TILT apart from =", "TILT=NONE", "TILT = NONE", 6, 1, "stand together"},
		{"TILT of nothing", "TILT=NONE", "TILT=", 6, 6, "nothing after"},
		{"TILT in a file", "TILT=NONE", "TILT=lamp.tlt", 6, 6, "another file"},
		{"tilt geometry", "TILT=NONE", "TILT=INCLUDE\n4 1 0 1", 7, 1, "lamp-to-luminaire geometry"},
		{"tilt pairs", "TILT=NONE", "TILT=INCLUDE\n1 0", 7, 3, "number of tilt angles"},
		{"too many tilt pairs", "TILT=NONE", "TILT=INCLUDE\n1 99999", 7, 3, "number of tilt angles"},
		{"tilt angles fall", "TILT=NONE", "TILT=INCLUDE\n1 2\n30 0\n1 1", 8, 4, "angles must rise"},
		{"tilt factor below 0", "TILT=NONE", "TILT=INCLUDE\n1 2\n0 90\n1 -1", 9, 3, "0 or more"},
		{"no lamps", "1 500 1.0", "0 500 1.0", 7, 1, "number of lamps"},
		{"half a lamp", "1 500 1.0", "1.5 500 1.0", 7, 1, "whole number"},
		{"lumens 0", "1 500 1.0", "1 0 1.0", 7, 3, "lumens of a lamp"},
		{"lumens -2", "1 500 1.0", "1 -2 1.0", 7, 3, "-1 for absolute"},
		{"multiplier 0", "1 500 1.0", "1 500 0", 7, 7, "candela multiplier"},
		{"a word for a number", "1 500 1.0", "1 bright 1.0", 7, 3, `"bright" is not a number`},
		{"a decimal comma", "1 500 1.0", "1 500 1,0", 7, 9, "number of vertical angles is 0"},
		{"not a number", "1 500 1.0", "1 NaN 1.0", 7, 3, "not a number"},
		{"infinity", "1 500 1.0", "1 Inf 1.0", 7, 3, "not a number"},
		{"a hexadecimal number", "1 500 1.0", "1 0x1p9 1.0", 7, 3, "not a number"},
		{"an exponent without digits", "1 500 1.0", "1 5e 1.0", 7, 3, "not a number"},
		{"far too large", "1 500 1.0", "1 5e300 1.0", 7, 3, "too large"},
		{"beyond all numbers", "1 500 1.0", "1 5e999 1.0", 7, 3, "too large"},
		{"one vertical angle", "1.0 3 3 1 2", "1.0 1 3 1 2", 7, 11, "number of vertical angles"},
		{"vertical angles as text", "1.0 3 3 1 2", "1.0 x 3 1 2", 7, 11, "number of vertical angles"},
		{"no horizontal angle", "1.0 3 3 1 2", "1.0 3 0 1 2", 7, 13, "number of horizontal angles"},
		{"angles without end", "1.0 3 3 1 2", "1.0 99999 3 1 2", 7, 11, "1500"},
		{"photometric type 0", "1.0 3 3 1 2", "1.0 3 3 0 2", 7, 15, "1 is C, 2 is B, 3 is A"},
		{"photometric type 4", "1.0 3 3 1 2", "1.0 3 3 4 2", 7, 15, "photometric type"},
		{"units 3", "1.0 3 3 1 2", "1.0 3 3 1 3", 7, 17, "1 is feet, 2 is metres"},
		{"an opening of a kilometre", "0.1 0.2 0", "1000 0.2 0", 7, 19, "width of the luminous opening"},
		{"ballast factor 0", "1.0 1.0 8", "0 1.0 8", 8, 1, "ballast factor"},
		{"watts below 0", "1.0 1.0 8", "1.0 1.0 -8", 8, 9, "input watts"},
		{"vertical angles fall", "0 45 90\n0 45 90", "0 95 90\n0 45 90", 9, 6, "angles must rise"},
		{"vertical angle twice", "0 45 90\n0 45 90", "0 0 90\n0 45 90", 9, 3, "angles must rise"},
		{"vertical angles stop at 80", "0 45 90\n0 45 90", "0 45 80\n0 45 90", 9, 6, "for type C expected 0 to 90"},
		{"vertical angles start at 10", "0 45 90\n0 45 90", "10 45 90\n0 45 90", 9, 7, "for type C expected"},
		{"horizontal angles fall", "0 45 90\n100", "0 45 30\n100", 10, 6, "angles must rise"},
		{"horizontal angles to 120", "0 45 90\n100", "0 45 120\n100", 10, 6, "0 to 90, 0 to 180"},
		{"horizontal angles from 10", "0 45 90\n100", "10 45 90\n100", 10, 7, "0 to 90, 0 to 180"},
		{"a round with a gap", "0 45 90\n100", "0 45 190\n100", 0, 0, ""},
		{"a round that stops", "0 45 90\n100", "0 100 181\n100", 10, 7, "short of 360"},
		{"type B to 45", "1.0 3 3 1 2", "1.0 3 3 2 2", 0, 0, ""},
		{"type B from 10", "3 3 1 2 0.1 0.2 0\n1.0 1.0 8\n0 45 90", "3 3 2 2 0.1 0.2 0\n1.0 1.0 8\n10 45 90", 9, 7, "for type B expected -90 to 90"},
		{"type A to 180", "3 3 1 2 0.1 0.2 0\n1.0 1.0 8\n0 45 90\n0 45 90", "3 3 3 2 0.1 0.2 0\n1.0 1.0 8\n0 45 90\n0 45 180", 10, 6, "for type A expected"},
		{"candela below 0", "100 70 0", "100 -70 0", 12, 5, "horizontal 45, vertical 45"},
		{"candela as text", "100 70 0", "100 seventy 0", 12, 5, "the candela at horizontal 45, vertical 45"},
		{"too few candela", "100 60 0\n", "100 60\n", 14, 1, "file ends where the candela at horizontal 90, vertical 90"},
		{"too many candela", "100 60 0", "100 60 0 7", 13, 10, "need 9 values"},
		{"words at the end", "100 60 0", "100 60 0\nend", 14, 1, "after the last candela"},
		{"two commas", "100 70 0", "100,,70 0", 12, 5, "missing before this comma"},
		{"a comma first", "1 500 1.0", ", 1 500 1.0", 7, 1, "missing before this comma"},
		{"cut in the ten values", "1 500 1.0 3 3 1 2 0.1 0.2 0\n1.0 1.0 8\n0 45 90\n0 45 90\n100 80 0\n100 70 0\n100 60 0\n", "1 500 1.0 3", 7, 12, "file ends where the number of horizontal angles"},
		{"all dark", "100 80 0\n100 70 0\n100 60 0", "0 0 0\n0 0 0\n0 0 0", 14, 1, "add up to 0 lm"},
		{"a zero byte", "[TESTLAB] none", "[TESTLAB]\x00none", 3, 10, "zero byte"},
		{"a wide character before the damage", "100 70 0", "100\u00a070 0", 12, 1, "not a number"},
		{"a control character", "100 70 0", "100 \x01 0", 12, 5, "not a number"},
	}
}

func TestDamagedFiles(t *testing.T) {
	mustRead(t, []byte(goodFile))
	refused := 0
	for _, d := range damagedFiles() {
		text := strings.Replace(goodFile, d.old, d.new, 1)
		if text == goodFile {
			t.Fatalf("%s: %q is not in the good file", d.name, d.old)
		}
		_, err := ReadLM63([]byte(text))
		if d.line == 0 {
			if err != nil {
				t.Errorf("%s is no damage, got %v", d.name, err)
			}
			continue
		}
		refused++
		wantPosition(t, d.name, err, d.line, d.column, d.words)
	}
	for name, c := range map[string]struct {
		data  []byte
		words string
	}{
		"nothing":      {nil, "empty"},
		"white space":  {[]byte(" \r\n\t\n"), "empty"},
		"UTF-16":       {[]byte("\xFF\xFEI\x00E\x00"), "UTF-16"},
		"too large":    {bytes.Repeat([]byte("1 "), MaxFileBytes), "at most"},
		"another text": {[]byte("hello"), "before its TILT line"},
	} {
		refused++
		_, err := ReadLM63(c.data)
		wantPosition(t, name, err, 1, 1, c.words)
	}
	_, err := ReadLM63([]byte("maker\n1\n0\n" + strings.Repeat("1\n", 40)))
	wantPosition(t, "EULUMDAT", err, 43, 1, "EULUMDAT")
	t.Logf("%d kinds of damage give a positioned message", refused+1)
	if refused < 30 {
		t.Errorf("only %d kinds", refused)
	}
}

// Cutting a file anywhere gives a message or, where only white space is cut, the
// same light; it never panics.
func TestCutFiles(t *testing.T) {
	for _, name := range samples(t) {
		data := sample(t, name)
		whole := len(bytes.TrimRight(data, "\r\n"))
		for n := range data {
			_, err := ReadLM63(data[:n])
			if err == nil && n < whole && data[n] <= ' ' {
				t.Fatalf("%s cut at %d of %d was read", name, n, len(data))
			}
			if err != nil {
				if line, column := positionOf(err); line < 1 || column < 1 || line > 1+bytes.Count(data, []byte("\n")) {
					t.Fatalf("%s cut at %d: %v", name, n, err)
				}
			}
		}
	}
}

func positionOf(err error) (line, column int) {
	var fe *FileError
	if errors.As(err, &fe) {
		return fe.Line, fe.Column
	}
	return 0, 0
}
