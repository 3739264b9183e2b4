package editor

import (
	"sort"
	"unicode/utf8"

	"duskproof/checker/source"
)

// unitStep is the distance in bytes between two counted places of a text: small
// enough to count on from one quickly, even in a file of one long line.
const unitStep = 4096

// text is a file's text with its places: byte offsets on our side, lines and
// UTF-16 units on the editor's. Editors end a line at LF, at CR LF and at CR
// alone; findings count lines by LF alone, and columns in characters.
type text struct {
	data []byte
	// lines holds the offset of the first byte of each line as editors count
	// them, feeds the same by LF alone.
	lines, feeds []int
	// units and runes hold, for each unitStep bytes, what comes before them.
	units, runes []int
}

func newText(data []byte) *text {
	t := &text{data: data, lines: []int{0}, feeds: []int{0}}
	units, runes := 0, 0
	for i, b := range data {
		if i%unitStep == 0 {
			t.units, t.runes = append(t.units, units), append(t.runes, runes)
		}
		units, runes = units+unitsOf(b), runes+runesOf(b)
		switch {
		case b == '\n':
			t.lines, t.feeds = append(t.lines, i+1), append(t.feeds, i+1)
		case b == '\r' && (i+1 == len(data) || data[i+1] != '\n'):
			t.lines = append(t.lines, i+1)
		}
	}
	t.units, t.runes = append(t.units, units), append(t.runes, runes)
	return t
}

// runesOf is how many characters begin at a byte of valid UTF-8.
func runesOf(b byte) int {
	if utf8.RuneStart(b) {
		return 1
	}
	return 0
}

// unitsOf is how many UTF-16 units the character that begins at a byte takes:
// two when it is four bytes long.
func unitsOf(b byte) int {
	switch {
	case !utf8.RuneStart(b):
		return 0
	case b >= 0xF0:
		return 2
	}
	return 1
}

// before counts what comes before an offset, by steps and then byte by byte.
func (t *text) before(steps []int, each func(byte) int, offset int) int {
	step := min(offset/unitStep, len(steps)-1)
	n := steps[step]
	for _, b := range t.data[step*unitStep : offset] {
		n += each(b)
	}
	return n
}

// whole brings an offset into the text and to the beginning of a character.
func (t *text) whole(offset int) int {
	offset = max(0, min(offset, len(t.data)))
	for offset > 0 && offset < len(t.data) && !utf8.RuneStart(t.data[offset]) {
		offset--
	}
	return offset
}

// position is the editor's place of an offset.
func (t *text) position(offset int) Position {
	offset = t.whole(offset)
	line := sort.SearchInts(t.lines, offset+1) - 1
	start := t.before(t.units, unitsOf, t.lines[line])
	return Position{Line: line, Character: t.before(t.units, unitsOf, offset) - start}
}

// span is the editor's range of two offsets.
func (t *text) span(start, end int) Range {
	return Range{t.position(start), t.position(max(start, end))}
}

// offset is the byte offset of an editor's place; a place beyond the end of its
// line means the end, one inside a character the beginning of it.
func (t *text) offset(p Position) int {
	switch {
	case p.Line < 0:
		return 0
	case p.Line >= len(t.lines):
		return len(t.data)
	}
	start, end := t.lines[p.Line], t.lineEnd(p.Line)
	at := t.seek(t.units, unitsOf, start, p.Character)
	return t.whole(min(at, end))
}

// lineEnd is where a line ends, without the characters that end it.
func (t *text) lineEnd(line int) int {
	if line+1 >= len(t.lines) {
		return len(t.data)
	}
	end := t.lines[line+1] - 1
	if end > t.lines[line] && t.data[end] == '\n' && t.data[end-1] == '\r' {
		end--
	}
	return end
}

// seek finds the offset that lies n counted things after start.
func (t *text) seek(steps []int, each func(byte) int, start, n int) int {
	if n <= 0 {
		return start
	}
	want := t.before(steps, each, start) + n
	step := max(sort.SearchInts(steps, want)-1, start/unitStep)
	at, count := step*unitStep, steps[min(step, len(steps)-1)]
	if at < start {
		at, count = start, want-n
	}
	for at < len(t.data) && count+each(t.data[at]) <= want {
		count += each(t.data[at])
		at++
	}
	return at
}

// place is the byte offset of a place as findings give it: line and column from
// one, the column in characters.
func (t *text) place(p source.Position) int {
	switch {
	case p.Line < 1:
		return 0
	case p.Line > len(t.feeds):
		return len(t.data)
	}
	end := len(t.data)
	if p.Line < len(t.feeds) {
		end = t.feeds[p.Line] - 1
	}
	return t.whole(min(t.seek(t.runes, runesOf, t.feeds[p.Line-1], p.Column-1), end))
}
