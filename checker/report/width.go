package report

import (
	"strings"

	"github.com/mattn/go-runewidth"
)

// terminal measures text as terminals show it: wide letters take two columns,
// marks on a letter none. It does not look at the environment, so that the same
// report is the same on every machine.
var terminal = &runewidth.Condition{}

// columnsOf is the number of columns that words take on a terminal.
func columnsOf(words string) int {
	for i := range len(words) {
		if words[i] < ' ' || words[i] > '~' {
			return terminal.StringWidth(words)
		}
	}
	return len(words)
}

// wrap breaks words into lines of at most width columns. A word that is wider is
// broken.
func wrap(words string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(words) {
		if line != "" && columnsOf(line)+1+columnsOf(word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for columnsOf(word) > width && width > 1 {
			head := terminal.Truncate(word, width, "")
			if head == "" || head == word {
				break
			}
			lines = append(lines, head)
			word = word[len(head):]
		}
		line = word
	}
	return append(lines, line)
}

// view is what is shown of a line about its mark.
type view struct {
	before, mark, after string
	// cutBefore and cutAfter say that there is more of the line on that side.
	cutBefore, cutAfter bool
}

// viewOf cuts a line round the place from column up to endColumn, in code
// points, to a number of columns of a terminal. What is shown is clean.
func viewOf(line string, column, endColumn, width int) view {
	runes := []rune(line)
	from := min(max(column-1, 0), len(runes))
	to := min(max(endColumn-1, from), len(runes))
	indent := 0
	for indent < from && (runes[indent] == ' ' || runes[indent] == '\t') {
		indent++
	}
	wide := func(r rune) int {
		if r >= ' ' && r <= '~' {
			return 1
		}
		return columnsOf(Clean(string(r)))
	}
	sum := func(part []rune) int {
		n := 0
		for _, r := range part {
			n += wide(r)
		}
		return n
	}
	start := indent
	if sum(runes[indent:to]) > width {
		// A third of the room goes to what stands before the place.
		start = from
		for room := width/3 - wide(runes[max(start-1, 0)]); start > indent && room >= 0; {
			start--
			room -= wide(runes[max(start-1, 0)])
		}
	}
	end := start
	for room := width; end < len(runes) && room >= wide(runes[end]); end++ {
		room -= wide(runes[end])
	}
	end = max(end, from)
	return view{
		before: Clean(string(runes[start:from])), mark: Clean(string(runes[from:max(from, min(to, end))])), after: Clean(string(runes[max(from, min(to, end)):end])),
		cutBefore: start > indent, cutAfter: end < len(runes),
	}
}
