package report

import (
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pmezard/go-difflib/difflib"

	"duskproof/checker/finding"
)

// fixes writes the proved fixes of a finding as changed text, and leaves out
// those whose patch cannot be applied here.
func (s *sarif) fixes(p *Plan, f *finding.Finding) []sarifFix {
	if s.options.Apply == nil || p.Document == nil {
		return nil
	}
	var out []sarifFix
	for i := range f.Fixes {
		fix := &f.Fixes[i]
		if !fix.Proved || len(fix.Patch) == 0 {
			continue
		}
		changed, err := s.options.Apply(slices.Clone(p.Document.Bytes()), fix.Patch)
		if err != nil {
			continue
		}
		replacements := replaced(string(p.Document.Bytes()), string(changed))
		if len(replacements) == 0 {
			continue
		}
		out = append(out, sarifFix{
			Description:     sarifText{Text: sarifWords(fix.Text)},
			ArtifactChanges: []sarifChange{{sarifArtifact{uri(p.Path)}, replacements}},
		})
	}
	return out
}

// replaced lists the lines that differ between two texts, as replacements in
// the first.
func replaced(before, after string) []sarifReplacement {
	old, renewed := lines(before), lines(after)
	same := 0
	for same < len(old) && same < len(renewed) && old[same] == renewed[same] {
		same++
	}
	tail := 0
	for tail < len(old)-same && tail < len(renewed)-same && old[len(old)-1-tail] == renewed[len(renewed)-1-tail] {
		tail++
	}
	middle := difflib.NewMatcher(old[same:len(old)-tail], renewed[same:len(renewed)-tail])
	var out []sarifReplacement
	for _, code := range middle.GetOpCodes() {
		if code.Tag == 'e' {
			continue
		}
		from, to := same+code.I1, same+code.I2
		out = append(out, sarifReplacement{
			DeletedRegion:   regionOfLines(old, from, to),
			InsertedContent: sarifText{Text: strings.Join(renewed[same+code.J1:same+code.J2], "")},
		})
	}
	return out
}

// lines cuts a text after each line's end.
func lines(text string) []string { return slices.Collect(strings.Lines(text)) }

// regionOfLines is the region of the lines from index from up to, but not with,
// index to.
func regionOfLines(text []string, from, to int) sarifRegion {
	startLine, startColumn := placeOfLine(text, from)
	endLine, endColumn := placeOfLine(text, to)
	return sarifRegion{startLine, startColumn, endLine, endColumn}
}

// placeOfLine is where a line begins; after the last line it is the text's end.
func placeOfLine(text []string, index int) (line, column int) {
	if index < len(text) || len(text) == 0 || strings.HasSuffix(text[len(text)-1], "\n") {
		return index + 1, 1
	}
	return len(text), utf8.RuneCountInString(text[len(text)-1]) + 1
}
