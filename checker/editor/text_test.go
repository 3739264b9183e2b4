package editor

import (
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"

	"duskproof/checker/source"
)

// lineEnds are the ends of lines that the protocol knows (Language Server
// Protocol 3.17, text documents): LF, CR LF and CR.
var lineEnds = []string{"\n", "\r\n", "\r"}

// plainPosition works an editor's place out as the protocol defines it, line by
// line, with the standard library's UTF-16.
func plainPosition(text string, offset int) Position {
	before := strings.ReplaceAll(text[:offset], "\r\n", "\n")
	if strings.HasSuffix(before, "\r") && strings.HasPrefix(text[offset:], "\n") {
		before = strings.TrimSuffix(before, "\r") // between CR and LF is the end of the line
		before += "."
	}
	before = strings.ReplaceAll(before, "\r", "\n")
	last := before[strings.LastIndexByte(before, '\n')+1:]
	return Position{strings.Count(before, "\n"), len(utf16.Encode([]rune(last)))}
}

// randomText is a text of short and long lines of characters of one to four
// bytes.
func randomText(r *rand.Rand, n int) string {
	alphabet := []string{"a", "\"", "é", "–", "漢", "🌲", "\U00010000", lineEnds[r.IntN(3)]}
	var b strings.Builder
	for range n {
		b.WriteString(alphabet[r.IntN(len(alphabet))])
	}
	return b.String()
}

func TestPlacesAreUTF16(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	texts := []string{"", "a", "🌲", "\n", "\r", "\r\n", "a\r\n", "\r\r\n\n", strings.Repeat("🌲", 3000), strings.Repeat("é", unitStep)}
	for range 60 {
		texts = append(texts, randomText(r, 40))
	}
	texts = append(texts, randomText(r, 3*unitStep))
	for _, whole := range texts {
		text := newText([]byte(whole))
		step := 1 + len(whole)/500
		for offset := 0; offset <= len(whole); offset += step {
			for offset < len(whole) && !utf8.RuneStart(whole[offset]) {
				offset++
			}
			have := text.position(offset)
			if want := plainPosition(whole, offset); have != want {
				t.Fatalf("%.80q at %d: %v, want %v", whole, offset, have, want)
			}
			inCRLF := offset > 0 && offset < len(whole) && whole[offset-1] == '\r' && whole[offset] == '\n'
			if back := text.offset(have); back != offset && !inCRLF {
				t.Fatalf("%.80q: %v is at %d, want %d", whole, have, back, offset)
			}
		}
	}
}

// TestPlacesBeyondTheText: a character beyond the end of a line means its end
// (Language Server Protocol 3.17, position).
func TestPlacesBeyondTheText(t *testing.T) {
	text := newText([]byte("a🌲\r\nb"))
	for _, c := range []struct {
		at   Position
		want int
	}{
		{Position{0, 1}, 1}, {Position{0, 2}, 1}, {Position{0, 3}, 5}, {Position{0, 99}, 5},
		{Position{1, 0}, 7}, {Position{1, 99}, 8}, {Position{9, 0}, 8}, {Position{-1, 0}, 0}, {Position{0, -5}, 0},
	} {
		if have := text.offset(c.at); have != c.want {
			t.Errorf("%v is at %d, want %d", c.at, have, c.want)
		}
	}
}

// TestPlacesOfFindings holds that a finding's line and column, which count
// characters and end lines at LF alone, become the byte that the reader of plans
// meant.
func TestPlacesOfFindings(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 60 {
		whole := randomText(r, 300)
		text, lines := newText([]byte(whole)), source.NewLines([]byte(whole))
		for offset := range whole {
			if have := text.place(lines.Position(offset)); have != offset {
				t.Fatalf("%q: %v is at %d, want %d", whole, lines.Position(offset), have, offset)
			}
		}
	}
}
