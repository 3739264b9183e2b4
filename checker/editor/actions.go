package editor

import (
	"bytes"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/pmezard/go-difflib/difflib"

	"duskproof/checker/finding"
	"duskproof/checker/mend"
)

// quickFix is the kind of every action offered.
const quickFix = "quickfix"

// actions offers, for the findings at a place, each proved fix, and a variance
// with the reason left to fill in. A text that has not been checked yet has
// none.
func (s *Server) actions(f *file, p actionParams) (any, error) {
	out := []CodeAction{}
	if f.latest == nil || !wanted(p.Context.Only) {
		return out, nil
	}
	head, left := len(f.latest.Complaints)+len(f.latest.Problems), mostMended(len(f.data))
	for i := range f.latest.Findings {
		if left == 0 || head+i >= min(len(f.shown), mostDiagnostics) {
			break
		}
		d := f.shown[head+i]
		if before(d.Range.End, p.Range.Start) || before(p.Range.End, d.Range.Start) {
			continue
		}
		out = append(out, s.actionsFor(f, &f.latest.Findings[i], d)...)
		left--
	}
	return out, nil
}

// mostMended is how many findings of a text of some bytes actions are offered
// for at once, the gravest first: each is written into the whole text to see what
// changes, and nobody chooses from hundreds.
func mostMended(size int) int {
	const most, least, work = 50, 4, 8 << 20 // bytes
	return min(most, max(least, work/max(1, size)))
}

// wanted reports whether an editor that asks for some kinds of actions, if it
// does, asks for quick fixes.
func wanted(only []string) bool {
	return len(only) == 0 || slices.ContainsFunc(only, func(kind string) bool {
		return kind == "" || kind == quickFix || strings.HasPrefix(quickFix, kind+".")
	})
}

// actionsFor are the actions for one finding.
func (s *Server) actionsFor(f *file, found *finding.Finding, d Diagnostic) []CodeAction {
	var out []CodeAction
	add := func(title string, patch []finding.Operation, preferred bool) bool {
		edits := f.patched(patch)
		if len(edits) > 0 {
			out = append(out, CodeAction{Title: clean(title), Kind: quickFix, Diagnostics: []Diagnostic{d}, IsPreferred: preferred, Edit: s.edit(f, edits)})
		}
		return len(edits) > 0
	}
	preferred := true
	for _, fix := range found.Fixes {
		if fix.Proved && add(fix.Text, fix.Patch, preferred) {
			preferred = false
		}
	}
	if found.Rule != varianceRule {
		add("Write a variance of "+found.Rule+" on "+found.Element, variance(f.document(), s.options.Today, found), false)
	}
	return out
}

// varianceRule finds fault with variances themselves, which no variance excepts.
const varianceRule = "plan.variance"

// varianceDays is how long a variance written from the editor holds, unless the
// person who grants it says otherwise.
const varianceDays = 365

// exception is a variance in the order in which people write it.
type exception struct {
	Rule      string `json:"rule"`
	Element   string `json:"element"`
	Case      string `json:"case,omitempty"`
	Reason    string `json:"reason"`
	GrantedBy string `json:"granted_by"`
	On        string `json:"on"`
	Until     string `json:"until"`
}

// variance adds a variance of one finding. Reason and grantor are left empty, so
// that the plan cannot be used until somebody has filled them in: nothing is
// excepted by a key press.
func variance(d *document, today string, found *finding.Finding) []finding.Operation {
	day, err := time.Parse(time.DateOnly, today)
	if err != nil {
		return nil
	}
	e := exception{Rule: found.Rule, Element: found.Element, Case: found.Case, On: today,
		Until: day.AddDate(0, 0, varianceDays).Format(time.DateOnly)}
	if d.tree.find("/variances") < 0 {
		return []finding.Operation{{Op: "add", Path: "/variances", Value: []exception{e}}}
	}
	return []finding.Operation{{Op: "add", Path: "/variances/-", Value: e}}
}

// patched is a patch as edits of the present text; none when it does not apply.
func (f *file) patched(patch []finding.Operation) []TextEdit {
	if len(patch) == 0 {
		return nil
	}
	mended, err := mend.Apply(f.data, patch)
	if err != nil {
		return nil
	}
	return f.document().edits(mended)
}

// edit is edits of a plan as the editor takes them; the lock is held.
func (s *Server) edit(f *file, edits []TextEdit) *WorkspaceEdit {
	if s.client.versions {
		return &WorkspaceEdit{DocumentChanges: []DocumentEdit{{versioned{f.uri, f.version}, edits}}}
	}
	return &WorkspaceEdit{Changes: map[string][]TextEdit{f.uri: edits}}
}

// mostLines bounds the lines that are compared; a longer change is one edit.
const mostLines = 2000

// edits are small edits that turn the text into another.
func (d *document) edits(to []byte) []TextEdit {
	start, end, otherEnd := difference(d.data, to)
	if start == end && start == otherEnd {
		return nil
	}
	// Whole lines are compared.
	start = bytes.LastIndexByte(d.data[:start], '\n') + 1
	if rest := bytes.IndexByte(d.data[end:], '\n'); rest >= 0 {
		end, otherEnd = end+rest+1, otherEnd+rest+1
	} else {
		end, otherEnd = len(d.data), len(to)
	}
	a, b := lines(d.data[start:end]), lines(to[start:otherEnd])
	if len(a) > mostLines || len(b) > mostLines {
		return []TextEdit{d.replace(start, end, to[start:otherEnd])}
	}
	var out []TextEdit
	offsets := make([]int, len(a)+1)
	offsets[0] = start
	for i, line := range a {
		offsets[i+1] = offsets[i] + len(line)
	}
	for _, code := range difflib.NewMatcherWithJunk(a, b, false, nil).GetOpCodes() {
		if code.Tag != 'e' {
			out = append(out, d.replace(offsets[code.I1], offsets[code.I2], []byte(strings.Join(b[code.J1:code.J2], ""))))
		}
	}
	return out
}

func lines(data []byte) []string { return strings.SplitAfter(string(data), "\n") }

// replace is the smallest edit that puts something in the place of a stretch.
func (d *document) replace(start, end int, with []byte) TextEdit {
	from, to, withEnd := difference(d.data[start:end], with)
	return TextEdit{d.span(start+from, start+to), string(with[from:withEnd])}
}

// difference finds the stretch of a that must be replaced by a stretch of b, from
// the same start, to make the one the other. It begins and ends where an editor
// has a place.
func difference(a, b []byte) (start, end, otherEnd int) {
	for start < len(a) && start < len(b) && a[start] == b[start] {
		start++
	}
	for start > 0 && !(isPlace(a, start) && isPlace(b, start)) {
		start--
	}
	end, otherEnd = len(a), len(b)
	for end > start && otherEnd > start && a[end-1] == b[otherEnd-1] {
		end--
		otherEnd--
	}
	for !isPlace(a, end) {
		end++
		otherEnd++
	}
	return start, end, otherEnd
}

// isPlace reports whether an offset is between characters, and not between the
// two that end a line.
func isPlace(data []byte, at int) bool {
	return at == 0 || at >= len(data) || utf8.RuneStart(data[at]) && !(data[at-1] == '\r' && data[at] == '\n')
}
