package editor

import (
	"fmt"
	"slices"
	"strings"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/report"
	"duskproof/checker/source"
)

// mostDiagnostics bounds what is shown of one plan; nobody reads more.
const mostDiagnostics = 1000

// diagnostics turns the check of a plan into what editors show: complaints at
// the head of the file, then problems and findings where they stand.
func (s *Server) diagnostics(f *file, o *outcome) []Diagnostic {
	s.mu.Lock()
	c := s.client
	s.mu.Unlock()
	out := []Diagnostic{}
	all := len(o.Complaints) + len(o.Problems) + len(o.Findings)
	for i := range min(all, mostDiagnostics) {
		k := i - len(o.Complaints)
		switch {
		case k < 0:
			out = append(out, Diagnostic{Severity: severityError, Source: sourceName, Message: clean(o.Complaints[i])})
		case k < len(o.Problems):
			p := o.Problems[k]
			out = append(out, Diagnostic{Range: o.doc.rangeOf(p.Line, p.Column, p.EndLine, p.EndColumn),
				Severity: severityError, Code: p.Rule, Source: sourceName, Message: clean(p.Message)})
		default:
			out = append(out, s.diagnostic(c, f, o, &o.Findings[k-len(o.Problems)]))
		}
	}
	if more := all - len(out); more > 0 {
		message := fmt.Sprintf("%d more findings are not shown here; duskproof check prints them all", more)
		out = append(out, Diagnostic{Severity: severityWarning, Source: sourceName, Message: message})
	}
	return out
}

// sourceName says where a diagnostic is from.
const sourceName = "duskproof"

// diagnostic is one finding as editors show it.
func (s *Server) diagnostic(c client, f *file, o *outcome, found *finding.Finding) Diagnostic {
	d := Diagnostic{
		Range:    o.doc.rangeOf(found.Line, found.Column, found.EndLine, found.EndColumn),
		Severity: severityOf(found.Severity, o.Hold), Code: found.Rule, Source: sourceName,
		Message: clean(messageOf(found)),
	}
	if s.options.PageURL != nil && c.links {
		if href := s.options.PageURL(found.Rule); href != "" {
			d.CodeDescription = &CodeDescription{href}
		}
	}
	if c.related {
		d.Related = relatedTo(f, o, found, d.Range)
	}
	return d
}

// severityOf is the protocol's severity: what holds the plan is an error.
func severityOf(severity, hold finding.Severity) int {
	switch {
	case hold != 0 && severity >= hold:
		return severityError
	case severity >= finding.Advice:
		return severityWarning
	}
	return severityInformation
}

// messageOf is a finding in a few lines: what is wrong, how grave and by what
// source, and what to do.
func messageOf(found *finding.Finding) string {
	basis := found.Basis.Words()
	if found.Basis != finding.Practice && found.Source != "" {
		basis += ": " + found.Source
	}
	lines := []string{found.Message, fmt.Sprintf("%s (%s)", found.Severity, basis)}
	for _, fix := range found.Fixes[:min(1, len(found.Fixes))] {
		lines = append(lines, fixWord(fix)+": "+fix.Text)
	}
	return strings.Join(lines, "\n")
}

func fixWord(fix finding.Fix) string {
	if fix.Proved {
		return "proved fix"
	}
	return "hint"
}

// clean makes control characters visible, line by line.
func clean(text string) string {
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = report.Clean(lines[i])
	}
	return strings.Join(lines, "\n")
}

// relatedTo are the other places that a finding speaks of: the element itself
// where the finding stands elsewhere, as with the cover of a run that one of its
// legs breaks; what the case names, such as the gate that hits a fixture; and the
// run that a lamp with the wrong volts hangs on.
func relatedTo(f *file, o *outcome, found *finding.Finding, at Range) []Related {
	var out []Related
	seen := map[int]bool{}
	add := func(id string) {
		e, _, ok := o.doc.book.owner(id)
		if !ok || seen[e.node] {
			return
		}
		seen[e.node] = true
		whole, name := o.doc.tree.nodes[e.node].value, o.doc.tree.nodes[e.name].value
		if span := o.doc.span(whole.start, whole.end); within(at, span) {
			return
		}
		out = append(out, Related{Location{f.uri, o.doc.span(name.start, name.end)}, o.doc.tree.kindOf(e) + " " + e.id})
	}
	add(found.Element)
	for _, name := range strings.Fields(found.Case) {
		add(strings.Trim(name, ",;:()"))
	}
	if o.Facts != nil && strings.HasPrefix(found.Rule, "wire.") {
		if i := slices.IndexFunc(o.Facts.Fixtures, func(f facts.Fixture) bool { return f.ID == found.Element }); i >= 0 {
			add(o.Facts.Fixtures[i].Run)
		}
	}
	return out
}

// within reports whether one range lies inside another.
func within(inner, outer Range) bool {
	return !before(inner.Start, outer.Start) && !before(outer.End, inner.End)
}

func before(a, b Position) bool {
	return a.Line < b.Line || a.Line == b.Line && a.Character < b.Character
}

// rangeOf turns places as findings give them (from one, in characters) into an
// editor's range. An empty one takes in the next character, so that there is
// something to see.
func (d *document) rangeOf(line, column, endLine, endColumn int) Range {
	if line == 0 {
		return Range{}
	}
	start := d.place(source.Position{Line: line, Column: column})
	end := d.place(source.Position{Line: endLine, Column: endColumn})
	if end <= start {
		end = d.place(source.Position{Line: line, Column: column + 1})
	}
	return d.span(start, end)
}
