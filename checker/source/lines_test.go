package source

import (
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"
)

// The tree is outside the basic plane: one code point, two UTF-16 code units,
// four bytes (The Unicode Standard, section 2.5, encoding forms).
const tree = "🌲"

func TestPositions(t *testing.T) {
	text := "a" + tree + "b\r\nü\n\ncr\rx\n"
	lines := NewLines([]byte(text))
	for _, c := range []struct {
		before       string
		line, column int
		utf16        int
	}{
		{"", 1, 1, 1},
		{"a", 1, 2, 2},
		{"a" + tree, 1, 3, 4},
		{"a" + tree + "b", 1, 4, 5},
		{"a" + tree + "b\r\n", 2, 1, 1},
		{"a" + tree + "b\r\nü", 2, 2, 2},
		{"a" + tree + "b\r\nü\n", 3, 1, 1},
		{"a" + tree + "b\r\nü\n\ncr\r", 4, 4, 4},
		{text, 5, 1, 1},
	} {
		p := lines.Position(len(c.before))
		if p != (Position{c.line, c.column}) {
			t.Errorf("after %q: %v, want %d:%d", c.before, p, c.line, c.column)
		}
		if got := lines.UTF16Column(p); got != c.utf16 {
			t.Errorf("after %q: UTF-16 column %d, want %d", c.before, got, c.utf16)
		}
		if got := lines.FromUTF16(p.Line, c.utf16); got != p {
			t.Errorf("back from UTF-16 column %d: %v, want %v", c.utf16, got, p)
		}
		if got := lines.Offset(p); got != len(c.before) {
			t.Errorf("back from %v: offset %d, want %d", p, got, len(c.before))
		}
	}
	if lines.Count() != 5 {
		t.Errorf("%d lines, want 5", lines.Count())
	}
	for line, want := range map[int]string{0: "", 1: "a" + tree + "b", 2: "ü", 3: "", 4: "cr\rx", 5: "", 6: ""} {
		if got := lines.Text(line); got != want {
			t.Errorf("line %d is %q, want %q", line, got, want)
		}
	}
}

func TestPositionsOutsideTheText(t *testing.T) {
	lines := NewLines([]byte("ab\ncd"))
	for offset, want := range map[int]Position{-5: {1, 1}, 99: {2, 3}} {
		if got := lines.Position(offset); got != want {
			t.Errorf("offset %d: %v, want %v", offset, got, want)
		}
	}
	for p, want := range map[Position]int{{0, 1}: 0, {1, 99}: 2, {1, -1}: 0, {9, 1}: 5} {
		if got := lines.Offset(p); got != want {
			t.Errorf("place %v: offset %d, want %d", p, got, want)
		}
	}
	if got := lines.FromUTF16(1, 99); got != (Position{1, 3}) {
		t.Errorf("UTF-16 column 99 is %v, want 1:3", got)
	}
	inside := NewLines([]byte(tree))
	if got := inside.FromUTF16(1, 2); got != (Position{1, 1}) {
		t.Errorf("the middle of a character is %v, want 1:1", got)
	}
}

// TestPositionsInOneLongLine compares the stepped counting with counting from
// the start, by the standard library.
func TestPositionsInOneLongLine(t *testing.T) {
	text := strings.Repeat("abc"+tree+"é", 3000)
	lines := NewLines([]byte(text))
	for offset := 0; offset <= len(text); offset += 331 {
		for offset < len(text) && !utf8.RuneStart(text[offset]) {
			offset++
		}
		p := lines.Position(offset)
		if want := utf8.RuneCountInString(text[:offset]) + 1; p != (Position{1, want}) {
			t.Fatalf("offset %d: %v, want 1:%d", offset, p, want)
		}
		if want := len(utf16.Encode([]rune(text[:offset]))) + 1; lines.UTF16Column(p) != want {
			t.Fatalf("offset %d: UTF-16 column %d, want %d", offset, lines.UTF16Column(p), want)
		}
	}
}
