package light

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// Limits of a photometric file. A table of every half degree is well inside.
const (
	MaxFileBytes  = 4 << 20
	MaxFileAngles = 1500
	maxTiltPairs  = 500
)

// requireTilt is how the line after the labels is described to people.
const requireTilt = "TILT=NONE or TILT=INCLUDE"

// ReadLM63 reads an IES LM-63 file of any edition from 1986 to 2019: any
// photometric type and symmetry, any wrapping of the numbers, commas or spaces
// between them. Errors are [FileError] values. It reads nothing but data: a file
// whose lamp tilt is in another file is refused.
func ReadLM63(data []byte) (*Photometry, error) {
	if err := refuseForeign(data); err != nil {
		return nil, err
	}
	s := newLineReader(data)
	p := &Photometry{}
	if err := readEdition(p, s); err != nil {
		return nil, err
	}
	include, err := readLabels(p, s)
	if err != nil {
		return nil, err
	}
	n := &numberReader{data: s.rest(), line: s.line}
	if include {
		if err := readTilt(p, n); err != nil {
			return nil, err
		}
	}
	if err := readNumbers(p, n); err != nil {
		return nil, err
	}
	if flux := p.Flux().IntegratedLumens; !(flux > 0) || !finite(flux) {
		return nil, n.fail("the candela of the file add up to %g lm, which is no light distribution", flux)
	}
	return p, nil
}

// refuseForeign turns away what is plainly no LM-63 file.
func refuseForeign(data []byte) error {
	start := func(message string) error { return &FileError{1, 1, message} }
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return start("the file is empty; expected an LM-63 photometric file")
	case len(data) > MaxFileBytes:
		return start(fmt.Sprintf("the file has %d bytes; a photometric file has at most %d", len(data), MaxFileBytes))
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}), bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return start("the file is in UTF-16; save it as plain text (ASCII or UTF-8)")
	}
	if at := bytes.IndexByte(data, 0); at >= 0 {
		line, column := position(data, at)
		return &FileError{line, column, "a zero byte; expected a text file"}
	}
	return nil
}

// position returns line and column of a byte offset.
func position(data []byte, offset int) (line, column int) {
	s := newLineReader(data)
	for {
		text, first, ok := s.next()
		if !ok || offset <= first+len(text) {
			return s.line, 1 + utf8.RuneCount(data[min(first, offset):offset])
		}
	}
}

// lineReader hands out lines that end at LF, CR LF or CR.
type lineReader struct {
	data []byte
	at   int
	line int // of the text handed out last
}

func newLineReader(data []byte) *lineReader {
	return &lineReader{data: data, at: len(data) - len(bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF")))}
}

// next returns the next line and its offset.
func (s *lineReader) next() (text []byte, first int, ok bool) {
	if s.at >= len(s.data) {
		return nil, s.at, false
	}
	s.line++
	first = s.at
	rest := s.data[first:]
	end := bytes.IndexAny(rest, "\r\n")
	if end < 0 {
		s.at = len(s.data)
		return rest, first, true
	}
	s.at = first + end + 1
	if rest[end] == '\r' && end+1 < len(rest) && rest[end+1] == '\n' {
		s.at++
	}
	return rest[:end], first, true
}

// rest returns what no line was taken from; its first line is s.line + 1.
func (s *lineReader) rest() []byte { return s.data[s.at:] }

// editions are the first lines that name an edition.
var editions = map[string]Edition{
	"IESNA91":          Edition1991,
	"IESNA:LM-63-1995": Edition1995,
	"IESNA:LM-63-2002": Edition2002,
	"IES:LM-63-2019":   Edition2019,
}

// readEdition reads the first line. A file without a header is of 1986, and its
// first line is a label or already the TILT line.
func readEdition(p *Photometry, s *lineReader) error {
	before := *s
	text, _, _ := s.next()
	head := strings.ToUpper(strings.TrimSpace(string(text)))
	if e, ok := editions[head]; ok {
		p.Edition = e
		return nil
	}
	if strings.HasPrefix(head, "IESNA") || strings.HasPrefix(head, "IES:") {
		return &FileError{s.line, 1, fmt.Sprintf("%s is no known edition; expected IESNA91, IESNA:LM-63-1995, IESNA:LM-63-2002, "+
			"IES:LM-63-2019, or no such line (1986)", quote(head))}
	}
	p.Edition = Edition1986
	*s = before
	return nil
}

// readLabels reads labels or keywords up to the TILT line.
func readLabels(p *Photometry, s *lineReader) (include bool, err error) {
	for {
		text, _, ok := s.next()
		if !ok {
			return false, &FileError{max(1, s.line), 1, noTilt(p)}
		}
		line := strings.TrimRight(string(text), " \t\x1a")
		body := strings.TrimLeft(line, " \t")
		switch {
		case hasFold(line, "TILT="):
			return readTiltLine(line, s.line)
		case hasFold(body, "TILT="):
			return false, &FileError{s.line, 1 + len(line) - len(body), "TILT= must stand in column 1"}
		case hasFold(body, "TILT") && strings.HasPrefix(strings.TrimLeft(body[4:], " \t"), "="):
			return false, &FileError{s.line, 1 + len(line) - len(body), "TILT and = must stand together; expected " + requireTilt}
		case body == "":
		case p.Edition > Edition1986 && body[0] == '[':
			if err := addKeyword(p, body, s.line, len(line)-len(body)); err != nil {
				return false, err
			}
		default:
			p.Labels = append(p.Labels, line)
		}
	}
}

// noTilt says what a file without a TILT line lacks, or what it is instead.
func noTilt(p *Photometry) string {
	if len(p.Labels) > 26 && isDigits(p.Labels[1], 3) && isDigits(p.Labels[2], 4) {
		return "this looks like a EULUMDAT file; expected an LM-63 file"
	}
	return "the file ends before its TILT line; expected " + requireTilt + " after the labels"
}

// isDigits reports a lone digit from 0 to most.
func isDigits(s string, most byte) bool {
	s = strings.TrimSpace(s)
	return len(s) == 1 && s[0] >= '0' && s[0] <= '0'+most
}

// readTiltLine reads what follows TILT=.
func readTiltLine(line string, number int) (include bool, err error) {
	switch value := strings.TrimSpace(line[5:]); strings.ToUpper(value) {
	case "NONE":
		return false, nil
	case "INCLUDE":
		return true, nil
	case "":
		return false, &FileError{number, 6, "nothing after TILT=; expected " + requireTilt}
	default:
		return false, &FileError{number, 6, fmt.Sprintf("the lamp tilt is in another file (%s), which is not read; "+
			"expected %s", quote(value), requireTilt)}
	}
}

// addKeyword adds one [NAME] text line.
func addKeyword(p *Photometry, body string, line, indent int) error {
	end := strings.IndexByte(body, ']')
	if end < 0 {
		return &FileError{line, indent + 1, "a keyword without its closing bracket; expected a line such as [TEST] 1234"}
	}
	name := strings.ToUpper(strings.TrimSpace(body[1:end]))
	if name == "" {
		return &FileError{line, indent + 2, "an empty keyword; expected a name between the brackets"}
	}
	text := strings.TrimSpace(body[end+1:])
	if name != "MORE" {
		p.Keywords = append(p.Keywords, Keyword{name, text, line})
		return nil
	}
	if len(p.Keywords) == 0 {
		return &FileError{line, indent + 1, "[MORE] goes on with the keyword before it, but none comes before"}
	}
	last := &p.Keywords[len(p.Keywords)-1]
	last.Text = strings.TrimSpace(last.Text + " " + text)
	return nil
}

func hasFold(s, prefix string) bool {
	return len(s) >= len(prefix) && strings.EqualFold(s[:len(prefix)], prefix)
}

// quote shows a piece of the file, shortened and without control characters.
func quote(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) > most {
		s = string([]rune(s)[:most]) + "..."
	}
	return fmt.Sprintf("%q", s)
}
