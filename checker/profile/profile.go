package profile

import (
	"strings"

	"duskproof/checker/finding"
)

// Common is the name of the profile at the bottom of every stack.
const Common = "common"

// The confidences of a limit: how sure its source is.
const (
	// Confirmed means two independent public pages, or one and arithmetic.
	Confirmed = "confirmed"
	// Single means one public page.
	Single = "single"
	// Memory means that nobody has checked it; it gives advice at most.
	Memory = "memory"
	// Practice means habit of the trade, without a source to check.
	Practice = "practice"
)

// Profile is one named set of limits. schema/profile.schema.json is its
// published form.
type Profile struct {
	// Name is how plans and settings call it; it is the file's name without
	// ".json".
	Name string
	// Title is one line, About a short paragraph for readers.
	Title, About string
	// CodeFamily is "nec" or "iec" or another word for a family of
	// electrical codes; empty for a profile that goes with any.
	CodeFamily string
	// StandsOn lists profiles that are stacked below it when they are not
	// in the stack already.
	StandsOn []string
	// Limits are in order of name.
	Limits []Limit
	// Cautions are in order of rule.
	Cautions []Caution
	// File is where the profile stands, for messages.
	File string
	// Bundled is true for a profile that comes with the program.
	Bundled bool
}

// Limit is one limit of one profile. Exactly one of Value, Text, Flag and Table
// is set, or Withdrawn is true.
type Limit struct {
	// Name is "family.snake_name".
	Name string
	// Value is the number, in Unit.
	Value *float64
	// Text is the value when it is a word.
	Text string
	// Flag is the value when it is yes or no.
	Flag *bool
	// Table holds the rows when the value is a table, numbers in their keys
	// in rising order.
	Table []Row
	// USValue and USTable are what the same source prints in feet and
	// inches, turned exactly into Unit. Codes round the two differently and
	// accept either; see [Limits.In].
	USValue *float64
	USTable []Row
	// Withdrawn is true when the profile takes the limit of a lower profile
	// away and puts nothing in its place.
	Withdrawn bool
	// Unit is the SI unit, "1" for ratios and counts; empty for words and
	// flags.
	Unit string
	// Source, Clause or Topic, and Edition say where it is from. A topic
	// stands where the clause number is not confirmed.
	Source, Clause, Topic, Edition string
	// Basis says why it exists.
	Basis finding.Basis
	// Confidence is confirmed, single, memory or practice.
	Confidence string
	// Note is what else a reader should know.
	Note string
	// Profile is the profile that set it.
	Profile string
}

// Row is one row of a limit that is a table.
type Row struct {
	// Key names the row.
	Key string
	// Value is in the limit's unit.
	Value float64
}

// Caution is a standing reminder to ask somebody with authority.
type Caution struct {
	// Rule is the rule that prints it, "law.permit".
	Rule string
	// Text is the caution, Source what it rests on.
	Text, Source string
	// Profile is the profile that brings it.
	Profile string
}

// Cite writes source, edition, clause or topic on one line: "NFPA 70 (2020),
// table 300.5, column 5". Common practice
// says that it has no source; a value from memory says that it is one.
func (l Limit) Cite() string {
	if l.Source == "" {
		return l.Basis.Words()
	}
	var b strings.Builder
	b.WriteString(l.Source)
	if l.Edition != "" {
		b.WriteString(" (" + l.Edition + ")")
	}
	for _, part := range []string{l.Clause, l.Topic} {
		if part != "" {
			b.WriteString(", " + part)
		}
	}
	if l.Confidence == Memory {
		b.WriteString(" (from memory)")
	}
	return b.String()
}

// Kind returns what the limit holds; a withdrawn limit holds nothing.
func (l Limit) Kind() Kind {
	switch {
	case l.Value != nil:
		return Number
	case l.Flag != nil:
		return Flag
	case l.Table != nil:
		return Table
	case l.Text != "":
		return Text
	}
	return ""
}
