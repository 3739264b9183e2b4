package source

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

// checkEncoding refuses what is not plain UTF-8 text: an empty file, another
// encoding, a byte-order mark, bad bytes.
func (d *Document) checkEncoding() (Problem, bool) {
	data := d.data
	switch {
	case skipSpace(data, 0) == len(data):
		return d.NewProblem(Span{}, "", "the file is empty; one JSON object, { … }, is expected"), true
	case bytes.HasPrefix(data, []byte("\xEF\xBB\xBF")):
		return d.NewProblem(Span{}, "", "the file begins with a byte-order mark; save it as UTF-8 without one"), true
	case bytes.HasPrefix(data, []byte("\xFE\xFF")), bytes.HasPrefix(data, []byte("\xFF\xFE")), looksLikeUTF16(data):
		return d.NewProblem(Span{}, "", "the file is in UTF-16; save it as UTF-8"), true
	case utf8.Valid(data):
		return Problem{}, false
	}
	at := firstBadByte(data)
	return d.NewProblem(Span{at, at + 1}, "", fmt.Sprintf(
		"the byte 0x%02X here is not valid UTF-8; save the file as UTF-8", data[at])), true
}

// looksLikeUTF16 says whether every other one of the first bytes is zero.
func looksLikeUTF16(data []byte) bool {
	return len(data) >= 4 && (data[0] == 0 && data[2] == 0 || data[1] == 0 && data[3] == 0)
}

// firstBadByte returns the offset of the first byte that is not UTF-8.
func firstBadByte(data []byte) int {
	for at := 0; at < len(data); {
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size == 1 {
			return at
		}
		at += size
	}
	return len(data) - 1
}

// skipSpace returns the offset of the first byte at or after at that is not
// JSON white space.
func skipSpace(data []byte, at int) int {
	for at < len(data) {
		switch data[at] {
		case ' ', '\t', '\r', '\n':
			at++
		default:
			return at
		}
	}
	return at
}
