package editor

import (
	"encoding/json"
	"fmt"
	"time"
	"unicode/utf8"

	"github.com/tailscale/hujson"

	"duskproof/checker/finding"
	"duskproof/checker/source"
)

// actions offers the proved fixes of the findings at a place, and a variance
// with the reason left to fill in.
func (s *Server) actions(f *file, at Range) any {
	out := []CodeAction{}
	if f.latest == nil {
		return out
	}
	lines := source.NewLines(f.text)
	for i := range f.latest.Findings {
		found := &f.latest.Findings[i]
		d := s.diagnostic(f, lines, found)
		if !overlap(d.Range, at) {
			continue
		}
		fixes := found.Fixes
		if proved, ok := f.fixes[found.Identity()]; ok {
			fixes = proved
		}
		first := true
		for _, fix := range fixes {
			if edit := s.patched(f, lines, fix.Patch); fix.Proved && edit != nil {
				out = append(out, CodeAction{Title: fix.Text, Kind: "quickfix", Diagnostics: []Diagnostic{d}, IsPreferred: first, Edit: edit})
				first = false
			}
		}
		if edit := s.patched(f, lines, variancePatch(f.text, s.options.Today, found)); edit != nil {
			out = append(out, CodeAction{Title: "Write a variance of " + found.Rule + " on " + found.Element, Kind: "quickfix", Diagnostics: []Diagnostic{d}, Edit: edit})
		}
	}
	return out
}

// overlap reports whether two ranges share a place.
func overlap(a, b Range) bool { return !before(a.End, b.Start) && !before(b.End, a.Start) }

func before(a, b Position) bool {
	return a.Line < b.Line || a.Line == b.Line && a.Character < b.Character
}

// varianceDays is how long a variance written from the editor holds.
const varianceDays = 365

// variancePatch adds a variance whose reason and grantor are left to a person.
func variancePatch(text []byte, today string, found *finding.Finding) []finding.Operation {
	tree, err := hujson.Parse(text)
	if err != nil {
		return nil
	}
	day, err := time.Parse(time.DateOnly, today)
	if err != nil {
		return nil
	}
	entry := map[string]any{
		"rule": found.Rule, "element": found.Element, "reason": "fill in", "granted_by": "fill in",
		"on": today, "until": day.AddDate(0, 0, varianceDays).Format(time.DateOnly),
	}
	if tree.Find("/variances") == nil {
		return []finding.Operation{{Op: "add", Path: "/variances", Value: []any{entry}}}
	}
	return []finding.Operation{{Op: "add", Path: "/variances/-", Value: entry}}
}

// patched applies a patch to the text and returns the smallest single edit that
// does the same; nil when it does not apply.
func (s *Server) patched(f *file, lines *source.Lines, patch []finding.Operation) *WorkspaceEdit {
	if len(patch) == 0 {
		return nil
	}
	operations, err := json.Marshal(patch)
	if err != nil {
		return nil
	}
	tree, err := hujson.Parse(f.text)
	if err != nil || tree.Patch(operations) != nil {
		return nil
	}
	start, end, replacement := difference(f.text, tree.Pack())
	return &WorkspaceEdit{Changes: map[string][]TextEdit{f.uri: {{Range: offsets(lines, start, end), NewText: replacement}}}}
}

// difference finds the stretch of a that must be replaced to make b, without
// cutting a character in two.
func difference(a, b []byte) (start, end int, replacement string) {
	for start < len(a) && start < len(b) && a[start] == b[start] {
		start++
	}
	for start > 0 && start < len(a) && !utf8.RuneStart(a[start]) {
		start--
	}
	end, other := len(a), len(b)
	for end > start && other > start && a[end-1] == b[other-1] {
		end--
		other--
	}
	for end < len(a) && !utf8.RuneStart(a[end]) {
		end++
		other++
	}
	return start, end, string(b[start:other])
}

// describe is a number with its unit, or a dash.
func describe(v *float64, unit string) string {
	if v == nil {
		return "–"
	}
	return fmt.Sprintf("%.2f %s", *v, unit)
}
