package carried

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"duskproof/checker/finding"
)

// Format is the version of the list's format.
const Format = "1.0"

// Entry is one finding that is carried along.
type Entry struct {
	// Plan is the plan's path from the folder of the list, with forward
	// slashes.
	Plan string `json:"plan"`
	// Rule, Element and Case are the identity of the finding.
	Rule    string `json:"rule"`
	Element string `json:"element"`
	Case    string `json:"case,omitempty"`
	// Severity is how grave the finding was when it was written down.
	Severity finding.Severity `json:"severity"`
	// Reason says why; Expires is the last date on which the entry holds, ISO
	// 8601. At least one of them is there.
	Reason  string `json:"reason,omitempty"`
	Expires string `json:"expires,omitempty"`
}

// Identity returns the identity of the finding within its plan.
func (e *Entry) Identity() finding.Identity {
	return finding.Identity{Rule: e.Rule, Element: e.Element, Case: e.Case}
}

// List is a list of carried findings. The zero value is an empty list.
type List struct {
	// Name is the file's name, for messages.
	Name string
	// Entries are in order of plan, rule, element and case.
	Entries []Entry
}

// compare is the order of entries; two entries for one finding are equal.
func compare(a, b Entry) int {
	return cmp.Or(
		cmp.Compare(a.Plan, b.Plan), cmp.Compare(a.Rule, b.Rule),
		cmp.Compare(a.Element, b.Element), cmp.Compare(a.Case, b.Case),
	)
}

// New makes a list of entries, sorted.
func New(name string, entries []Entry) *List {
	l := &List{Name: name, Entries: slices.Clone(entries)}
	slices.SortStableFunc(l.Entries, compare)
	return l
}

// Of returns the entries for one plan, by its path from the folder of the list.
// The result shares the list's memory.
func (l *List) Of(plan string) []Entry {
	first, _ := slices.BinarySearchFunc(l.Entries, plan, func(e Entry, plan string) int { return cmp.Compare(e.Plan, plan) })
	last := first
	for last < len(l.Entries) && l.Entries[last].Plan == plan {
		last++
	}
	return l.Entries[first:last:last]
}

// Find returns the entry for the same finding as e.
func (l *List) Find(e Entry) (Entry, bool) {
	i, found := slices.BinarySearchFunc(l.Entries, e, compare)
	if !found {
		return Entry{}, false
	}
	return l.Entries[i], true
}

// Beyond returns the entries that go beyond an older list: those it has not, and
// those that now cover something graver or hold for longer.
func (l *List) Beyond(old *List) []Entry {
	var more []Entry
	for _, e := range l.Entries {
		before, known := old.Find(e)
		if !known || e.Severity > before.Severity || later(e.Expires, before.Expires) {
			more = append(more, e)
		}
	}
	return more
}

// later reports whether a last date is later than another; without one, an
// entry holds for ever.
func later(a, b string) bool { return b != "" && (a == "" || a > b) }

// Write writes the list in its standard form: one entry a line, so that a
// change to it reads well.
func (l *List) Write(w io.Writer) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\n  \"format\": %q,\n  \"entries\": [", Format)
	for i := range l.Entries {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n    ")
		encoder := json.NewEncoder(&b)
		encoder.SetEscapeHTML(false)
		if err := encoder.Encode(&l.Entries[i]); err != nil {
			return fmt.Errorf("write the carried list: %w", err)
		}
		b.Truncate(b.Len() - 1) // the encoder ends the line
	}
	if len(l.Entries) > 0 {
		b.WriteString("\n  ")
	}
	b.WriteString("]\n}\n")
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write the carried list: %w", err)
	}
	return nil
}
