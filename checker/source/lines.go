package source

import (
	"sort"
	"strings"
	"unicode/utf8"
)

// runeStep is the distance in bytes between two counted places of a line table:
// small enough to count on from one quickly, even in a file of one long line.
const runeStep = 4096

// Position is a place between characters. Line and Column are 1-based; Column
// counts code points.
type Position struct{ Line, Column int }

// Lines is the line table of a text: from byte offsets to lines and columns.
// A line ends at LF; CR LF is one end; a CR alone ends nothing.
type Lines struct {
	text string
	// starts holds the offset of the first byte of each line.
	starts []int
	// runes holds, for each runeStep bytes, the code points before them.
	runes []int
}

// NewLines makes the line table of data, which need not be valid UTF-8: every
// bad byte counts as one code point.
func NewLines(data []byte) *Lines { return newLines(string(data)) }

func newLines(text string) *Lines {
	l := &Lines{text: text, starts: make([]int, 1, 1+strings.Count(text, "\n"))}
	for i := 0; i < len(text); i++ {
		next := strings.IndexByte(text[i:], '\n')
		if next < 0 {
			break
		}
		i += next
		l.starts = append(l.starts, i+1)
	}
	count := 0
	for at := 0; at < len(text); at += runeStep {
		l.runes = append(l.runes, count)
		count += countStarts(text[at:min(at+runeStep, len(text))])
	}
	l.runes = append(l.runes, count)
	return l
}

// countStarts counts the bytes of s that are not UTF-8 continuation bytes. In
// valid UTF-8 that is the number of code points that start in s.
func countStarts(s string) int {
	n := 0
	for i := 0; i < len(s); i++ {
		if utf8.RuneStart(s[i]) {
			n++
		}
	}
	return n
}

// Count returns the number of lines; a text without LF has one.
func (l *Lines) Count() int { return len(l.starts) }

// clamp brings offset into the text.
func (l *Lines) clamp(offset int) int { return max(0, min(offset, len(l.text))) }

// Position returns the place before the byte at offset. An offset outside the
// text is brought to the nearer end; one inside a character counts as after it.
func (l *Lines) Position(offset int) Position {
	offset = l.clamp(offset)
	line := sort.SearchInts(l.starts, offset+1)
	start := l.starts[line-1]
	if offset-start < runeStep {
		return Position{Line: line, Column: countStarts(l.text[start:offset]) + 1}
	}
	return Position{Line: line, Column: l.runesBefore(offset) - l.runesBefore(start) + 1}
}

// runesBefore counts the code points that start before offset.
func (l *Lines) runesBefore(offset int) int {
	step := offset / runeStep
	return l.runes[step] + countStarts(l.text[step*runeStep:offset])
}

// Offset returns the byte offset of a place; a place outside the text is
// brought to the nearest one in it.
func (l *Lines) Offset(p Position) int {
	if p.Line < 1 {
		return 0
	}
	if p.Line > len(l.starts) {
		return len(l.text)
	}
	line := l.Text(p.Line)
	left := p.Column - 1
	for i := range line {
		if left <= 0 {
			return l.starts[p.Line-1] + i
		}
		left--
	}
	return l.starts[p.Line-1] + len(line)
}

// Text returns the text of a line, 1-based, without its end. It shares the
// memory of the table, so it costs nothing; it may be very long. A line that
// does not exist is empty.
func (l *Lines) Text(line int) string {
	if line < 1 || line > len(l.starts) {
		return ""
	}
	start, end := l.starts[line-1], len(l.text)
	if line < len(l.starts) {
		end = l.starts[line] - 1
		if end > start && l.text[end-1] == '\r' {
			end--
		}
	}
	return l.text[start:end]
}

// UTF16Column returns the column of a place in UTF-16 code units, 1-based: the
// unit of editors. A character outside the basic plane counts as two.
func (l *Lines) UTF16Column(p Position) int {
	column, left := 1, p.Column-1
	for _, r := range l.Text(p.Line) {
		if left <= 0 {
			return column
		}
		column += utf16Len(r)
		left--
	}
	return column + max(0, left)
}

// FromUTF16 returns the place whose column is given in UTF-16 code units,
// 1-based. A unit inside a character means the place before that character.
func (l *Lines) FromUTF16(line, unit int) Position {
	column, left := 1, unit-1
	for _, r := range l.Text(line) {
		left -= utf16Len(r)
		if left < 0 {
			break
		}
		column++
	}
	return Position{Line: line, Column: column}
}

// utf16Len returns how many UTF-16 code units r takes.
func utf16Len(r rune) int {
	if r > 0xFFFF {
		return 2
	}
	return 1
}
