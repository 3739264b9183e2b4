// Package rules holds every rule that comes with duskproof: one folder per
// rule under its family, the helper library that rules import, the entry query
// that gathers their hits, and the profiles.
package rules

import "embed"

// Files is the whole folder tree, as rule loaders and documentation read it. A
// new rule folder needs no change here, and one that is still empty does no
// harm.
//
//go:embed lib/*.rego entry/*.rego profiles/*.json */*/*
var Files embed.FS

// Ready is the rules compiled beforehand, as policy.Open reads them. A test holds
// that it is what the rules' text says.
//
//go:embed ready.bin
var Ready string
