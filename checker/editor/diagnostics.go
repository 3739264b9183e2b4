package editor

import (
	"fmt"

	"duskproof/checker/finding"
	"duskproof/checker/source"
)

// severities are the protocol's for ours. Danger and defect both hold a plan,
// so both show as errors.
var severities = map[finding.Severity]int{
	finding.Danger: severityError, finding.Defect: severityError,
	finding.Advice: severityWarning, finding.Caution: severityInformation,
}

// diagnostics turns the latest result of a file into what editors show.
func (s *Server) diagnostics(f *file) []Diagnostic {
	out := []Diagnostic{}
	if f.latest == nil {
		return out
	}
	lines := source.NewLines(f.text)
	for _, p := range f.latest.Problems {
		out = append(out, Diagnostic{
			Range:    rangeOf(lines, p.Line, p.Column, p.EndLine, p.EndColumn),
			Severity: severityError, Code: p.Rule, Source: "duskproof", Message: p.Message,
		})
	}
	for i := range f.latest.Findings {
		out = append(out, s.diagnostic(f, lines, &f.latest.Findings[i]))
	}
	return out
}

func (s *Server) diagnostic(f *file, lines *source.Lines, found *finding.Finding) Diagnostic {
	d := Diagnostic{
		Range:    rangeOf(lines, found.Line, found.Column, found.EndLine, found.EndColumn),
		Severity: severities[found.Severity], Code: found.Rule, Source: "duskproof",
		Message: fmt.Sprintf("%s\n%s (%s: %s)", found.Message, found.Severity, found.Basis.Words(), found.Source),
	}
	if s.options.PageURL != nil {
		if href := s.options.PageURL(found.Rule); href != "" {
			d.CodeDescription = &CodeDescription{href}
		}
	}
	for _, related := range s.related(f, found) {
		d.Related = append(d.Related, related)
	}
	return d
}

// related are the places of other elements that a finding names as its case:
// the gate that hits a fixture, the run a lamp hangs on.
func (s *Server) related(f *file, found *finding.Finding) []Related {
	if f.latest.Model == nil {
		return nil
	}
	e, ok := f.latest.Model.Elements[found.Case]
	if !ok || found.Case == found.Element {
		return nil
	}
	return []Related{{Location: Location{f.uri, s.spanOf(f, e.Pointer)}, Message: e.Kind + " " + e.ID}}
}

// spanOf is the range of what a pointer names in the last good text.
func (s *Server) spanOf(f *file, pointer string) Range {
	doc := f.good.Document
	place := doc.Locate(pointer)[0]
	span := place.Value
	return offsets(doc.Lines(), span.Start, span.End)
}

// rangeOf turns our places (from one, in characters) into the protocol's.
func rangeOf(lines *source.Lines, line, column, endLine, endColumn int) Range {
	if line == 0 {
		return Range{}
	}
	if endLine < line || endLine == line && endColumn <= column {
		endLine, endColumn = line, column+1
	}
	return Range{place(lines, source.Position{Line: line, Column: column}), place(lines, source.Position{Line: endLine, Column: endColumn})}
}

func place(lines *source.Lines, p source.Position) Position {
	return Position{p.Line - 1, lines.UTF16Column(p) - 1}
}

// offsets turns byte offsets into the protocol's range.
func offsets(lines *source.Lines, start, end int) Range {
	return Range{place(lines, lines.Position(start)), place(lines, lines.Position(end))}
}

// offsetOf turns the protocol's position into a byte offset.
func offsetOf(lines *source.Lines, p Position) int {
	return lines.Offset(lines.FromUTF16(p.Line+1, p.Character+1))
}
