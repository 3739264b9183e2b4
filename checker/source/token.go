package source

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// maxQuoted is how many characters of the file's own text a message repeats.
const maxQuoted = 40

// quote writes text of the file for a message: in double quotes, shortened,
// control characters escaped.
func quote(text string) string {
	if utf8.RuneCountInString(text) > maxQuoted {
		text = string([]rune(text)[:maxQuoted]) + "…"
	}
	return strconv.Quote(text)
}

// clip is quote without the quotes.
func clip(text string) string {
	quoted := quote(text)
	return quoted[1 : len(quoted)-1]
}

// isWordByte says whether c can be part of a bare word or a number.
func isWordByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' ||
		c == '_' || c == '.' || c == '-' || c == '+' || c == '%' || c >= utf8.RuneSelf
}

// wordEnd returns the end of the word at at; never less than one character.
func wordEnd(data []byte, at int) int {
	end := at
	for end < len(data) && isWordByte(data[end]) {
		end++
	}
	if end == at && at < len(data) {
		_, size := utf8.DecodeRune(data[at:])
		end += size
	}
	return end
}

// wordStart returns the start of the word that ends at end.
func wordStart(data []byte, end int) int {
	for end > 0 && isWordByte(data[end-1]) {
		end--
	}
	return end
}

// stray explains what may stand nowhere: comments, foreign quotes, invisible
// characters.
func (r *reader) stray(at int) (fault, bool) {
	rest := r.doc.data[at:]
	if len(rest) == 0 {
		return fault{}, false
	}
	switch c, size := utf8.DecodeRune(rest); {
	case c == '#', bytes.HasPrefix(rest, []byte("//")), bytes.HasPrefix(rest, []byte("/*")):
		return faultf(at, lineEnd(r.doc.data, at), `JSON has no comments; write a note as a field named "//"`), true
	case c == '\'' || c == '`':
		return faultf(at, at+size, "names and text stand in double quotes, not in %c", c), true
	case strings.ContainsRune("“”„‟‘’‚«»″′", c):
		return faultf(at, at+size, `names and text stand in straight double quotes, "; this is the typographic %c`, c), true
	case c >= utf8.RuneSelf && (unicode.IsControl(c) || unicode.Is(unicode.Cf, c) || unicode.IsSpace(c)):
		return faultf(at, at+size, "there is an invisible character here (U+%04X); delete it", c), true
	case c < ' ':
		return faultf(at, at+size, "there is a control character here (U+%04X); delete it", c), true
	}
	return fault{}, false
}

// lineEnd returns the end of the line that holds at, without CR and LF.
func lineEnd(data []byte, at int) int {
	end := bytes.IndexByte(data[at:], '\n')
	if end < 0 {
		return len(data)
	}
	if end > 0 && data[at+end-1] == '\r' {
		end--
	}
	return at + end
}

// explainName explains what stands where a name should; it is not a closing
// bracket and does not begin with a double quote.
func (r *reader) explainName(at, comma int) (fault, bool) {
	if found, ok := r.stray(at); ok {
		return found, true
	}
	data := r.doc.data
	end := wordEnd(data, at)
	switch c := data[at]; {
	case comma >= 0 && c >= '0' && c <= '9':
		return faultf(comma, end, "a name in double quotes is expected after the comma; in a number, write the decimal point as a dot and leave out any comma"), true
	case c == '{' || c == '[':
		return faultf(at, at+1, `a name in double quotes is expected here; an object is { "name": value, … }`), true
	case c == ':':
		return faultf(at, at+1, "the name before this colon is missing"), true
	case isWordByte(c):
		return faultf(at, end, "names stand in double quotes: write %s", quote(string(data[at:end]))), true
	}
	return faultf(at, end, "a name in double quotes is expected here, not %s", quote(string(data[at:end]))), true
}

// explainValue explains what stands where a value should.
func (r *reader) explainValue(at int) (fault, bool) {
	data := r.doc.data
	if at >= len(data) {
		return r.truncated(), true
	}
	if found, ok := r.stray(at); ok {
		return found, true
	}
	switch c := data[at]; {
	case c == '"':
		return r.explainText(at)
	case c == '{' || c == '[':
		return fault{}, false
	case len(r.frames) > 0 && isCut(data, at):
		return r.truncated(), true
	case c == ':' && len(r.frames) > 0:
		return faultf(at, at+1, "there is a colon too many here; remove it"), true
	case len(r.frames) == 0 && strings.IndexByte(",:}]", c) >= 0:
		return faultf(at, at+1, "a value is expected here, not %c", c), true
	case c == ',' || c == '}' || c == ']':
		if c != ',' && c != r.top().closer() {
			return r.mismatch(at), true
		}
		return faultf(at, at+1, "a value is missing before this %c", c), true
	case c == '+' || c == '-' || c == '.' || c >= '0' && c <= '9':
		return explainNumber(data, at), true
	}
	return explainWord(data, at), true
}

// isCut says whether the file ends in the middle of a word or number that could
// have gone on to be a value.
func isCut(data []byte, at int) bool {
	word := string(data[at:])
	return word == "-" || len(word) < 5 &&
		(strings.HasPrefix("true", word) || strings.HasPrefix("false", word) || strings.HasPrefix("null", word))
}

// explainWord explains a bare word.
func explainWord(data []byte, at int) fault {
	end := wordEnd(data, at)
	word := clip(string(data[at:end]))
	switch strings.ToLower(strings.TrimLeft(word, "+-")) {
	case "nan", "inf", "infinity":
		return faultf(at, end, "%s is not a number that JSON can hold; leave the field out when the value is not known", word)
	case "none", "nil", "undefined", "null":
		return faultf(at, end, "%s is not a value; leave the field out when the value is not known", word)
	case "true", "yes":
		return faultf(at, end, "write true, in small letters and without quotes, not %s", word)
	case "false", "no":
		return faultf(at, end, "write false, in small letters and without quotes, not %s", word)
	}
	if isWordByte(data[at]) {
		return faultf(at, end, `text stands in double quotes: write "%s"`, word)
	}
	return faultf(at, end, `a value is expected here, not "%s"`, word)
}

// explainNumber explains a number that is not written as JSON writes one.
func explainNumber(data []byte, at int) fault {
	end := wordEnd(data, at)
	word := string(data[at:end])
	bare := strings.TrimLeft(word, "+-")
	var advice string
	switch {
	case bare == "":
		advice = "write its digits"
	case bare[0] > '9':
		return explainWord(data, at)
	case word[0] == '+':
		advice = "leave out the plus sign"
	case bare[0] == '.':
		advice = "write a digit before the point, 0" + clip(bare)
	case strings.HasSuffix(bare, "."):
		advice = "write a digit after the point, or leave the point out"
	case strings.Contains(bare, ".e") || strings.Contains(bare, ".E"):
		advice = "write a digit after the point"
	default:
		advice = "write digits, with a dot for the decimal point"
	}
	return faultf(at, end, "%s is not a number as JSON writes it; %s", clip(word), advice)
}

// feetInches matches what follows the number in 5'6".
var feetInches = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^['′]\s?([0-9][0-9.]*)["″]`)
})

// glued explains what stands right behind a number: at is where it stands, end
// where the number ends.
func (r *reader) glued(at, end int) (fault, bool) {
	data := r.doc.data
	if at >= len(data) || data[end-1] < '0' || data[end-1] > '9' {
		return fault{}, false
	}
	start, c := wordStart(data, end), data[at]
	number := string(data[start:end])
	stop := wordEnd(data, at)
	word := string(data[at:stop])
	switch {
	case at == end && c >= '0' && c <= '9':
		return faultf(start, stop, "%s is not a number as JSON writes it; leave out the zero in front", clip(number+word)), true
	case at == end && number == "0" && (c == 'x' || c == 'X'):
		return faultf(start, stop, "%s is not a number as JSON writes it; write it in decimal digits", clip(number+word)), true
	case at == end && c == '_':
		return faultf(start, stop, "%s is not a number as JSON writes it; write the digits without a separator", clip(number+word)), true
	case at == end && c == '"' && endsValue(data, at+1), at == end && bytes.HasPrefix(data[at:], []byte("″")):
		return faultf(start, stop, `a length with a unit stands in double quotes: write "%s in"`, clip(number)), true
	case at == end && feetInches().Match(data[at:]):
		parts := feetInches().FindSubmatch(data[at:])
		return faultf(start, at+len(parts[0]), `a length with a unit stands in double quotes: write "%s ft %s in"`, clip(number), clip(string(parts[1]))), true
	case at == end && c == '\'', at == end && bytes.HasPrefix(data[at:], []byte("′")):
		return faultf(start, stop, `a length with a unit stands in double quotes: write "%s ft"`, clip(number)), true
	case isWordByte(c) && c != '-' && c != '+' && c != '.' && !(c >= '0' && c <= '9') && !isLiteral(word):
		return faultf(start, stop, `a value with a unit stands in double quotes: write "%s %s"`, clip(number), clip(word)), true
	case at == end && isWordByte(c):
		return faultf(start, stop, "%s is not a number as JSON writes it; write digits, with a dot for the decimal point", clip(number+word)), true
	}
	return fault{}, false
}

// isLiteral says whether word is one of the words of JSON.
func isLiteral(word string) bool { return word == "true" || word == "false" || word == "null" }

// endsValue says whether a value can end at at.
func endsValue(data []byte, at int) bool {
	return at >= len(data) || strings.IndexByte(" \t\r\n,]}", data[at]) >= 0
}

// explainText explains text, in double quotes, that is not written as JSON
// writes it. at is its opening quote.
func (r *reader) explainText(at int) (fault, bool) {
	data := r.doc.data
	for i := at + 1; i < len(data); {
		switch c := data[i]; {
		case c == '"':
			return fault{}, false
		case c == '\n' || c == '\r':
			return faultf(at, i, `this text has no closing double quote on its line; text may not run over the end of a line (write \n inside it)`), true
		case c == '\t':
			return faultf(i, i+1, `there is a tab inside this text; write \t or a space`), true
		case c < ' ':
			return faultf(i, i+1, `there is a control character inside this text; write \u%04x or delete it`, c), true
		case c == '\\':
			size, found := explainEscape(data, i)
			if size == 0 {
				return found, true
			}
			i += size
		default:
			i++
		}
	}
	return faultf(at, len(bytes.TrimRight(data, " \t\r\n")), "this text has no closing double quote; the end of the file may be missing"), true
}

// explainEscape returns the length of the escape at at, or 0 and its fault.
func explainEscape(data []byte, at int) (int, fault) {
	if at+1 >= len(data) {
		return 1, fault{}
	}
	c := data[at+1]
	if c != 'u' {
		if strings.IndexByte(`"\/bfnrt`, c) >= 0 {
			return 2, fault{}
		}
		_, size := utf8.DecodeRune(data[at+1:])
		return 0, faultf(at, at+1+size, `a backslash begins an escape, and %s is none; write \\ for a backslash`, quoteEscape(data[at:at+1+size]))
	}
	unit, ok := hexUnit(data, at)
	switch {
	case !ok:
		return 0, faultf(at, at+2, `\u needs four hexadecimal digits after it`)
	case unit < 0xD800 || unit > 0xDFFF:
		return 6, fault{}
	}
	low, ok := hexUnit(data, at+6)
	if unit > 0xDBFF || !ok || low < 0xDC00 || low > 0xDFFF {
		return 0, faultf(at, at+6, `%s is half of a character; write the character itself, or both halves`, data[at:at+6])
	}
	return 12, fault{}
}

// quoteEscape writes an escape for a message; a character that cannot be seen as
// U+....
func quoteEscape(escape []byte) string {
	if c, _ := utf8.DecodeRune(escape[1:]); !unicode.IsPrint(c) {
		return fmt.Sprintf(`\ before U+%04X`, c)
	}
	return string(escape)
}

// hexUnit reads \uXXXX at at.
func hexUnit(data []byte, at int) (uint64, bool) {
	if at+6 > len(data) || data[at] != '\\' || data[at+1] != 'u' {
		return 0, false
	}
	unit, err := strconv.ParseUint(string(data[at+2:at+6]), 16, 32)
	return unit, err == nil
}
