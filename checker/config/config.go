package config

import (
	"duskproof/checker/finding"
	"duskproof/checker/source"
)

// FileName is the name of the settings' file.
const FileName = ".duskproof.json"

// Config is the settings of one repository. The zero value is a repository
// without settings. It is not changed after reading and may be used by many
// goroutines.
type Config struct {
	// Name is the file's name, for messages; empty without a file.
	Name string
	// ProfileFolders and RuleFolders are paths from the root of the
	// repository, with forward slashes, none of which leaves it.
	ProfileFolders, RuleFolders []string
	// Base holds the settings of the whole repository.
	Base Layer
	// Paths holds the settings of some paths, in the order of the file.
	Paths []PathLayer

	doc *source.Document
}

// Layer is one layer of settings; what is empty says nothing.
type Layer struct {
	// Profiles are stacked on top of those below.
	Profiles []string
	// Rules are in order of id.
	Rules []Rule
	// Limits are in order of name.
	Limits []Limit
	// Hold is the hold level; 0 says nothing.
	Hold finding.Severity
	// Fixes is none, hint, proved or empty.
	Fixes string
	// Carried is the file that lists carried findings.
	Carried string
}

// PathLayer is a layer for the plans whose path matches.
type PathLayer struct {
	// Match is the pattern as written.
	Match string
	Layer

	pattern pattern
}

// Rule is the setting of one rule.
type Rule struct {
	// ID is the rule's id.
	ID string
	// Severity is what the rule's gravest cases become; it says nothing
	// when Off is true.
	Severity finding.Severity
	// Off switches the rule off.
	Off bool
	// Reason says why; it may be empty.
	Reason string
	// Pointer is where it stands in the settings' file, Line its line; both
	// are empty for the command line.
	Pointer string
	Line    int
}

// Limit is the setting of one limit. One of Number, Text, Flag and Table is
// set.
type Limit struct {
	// Name is the limit's name.
	Name string
	// Number is in the limit's SI unit.
	Number *float64
	Text   string
	Flag   *bool
	Table  map[string]float64
	// Reason says why; it is printed as the limit's source.
	Reason string
	// Pointer is where it stands in the settings' file.
	Pointer string
}
