package policy

import (
	"cmp"
	"fmt"
	"io/fs"
	"path"
	"slices"

	"github.com/open-policy-agent/opa/v1/ast"

	"duskproof/checker/policy/machine"
	"duskproof/checker/rule"
	"duskproof/rules"
)

// Rule is one rule as loaded: its metadata and where it stands.
type Rule struct {
	rule.Meta
	// Native is true for a rule written in Go, which has metadata only.
	Native bool
	// Package is the Rego package, "rules.power.in-use-cover", with
	// hyphens; empty for a native rule.
	Package string
	// FS and Folder say where the rule's folder stands, for its examples
	// and its page.
	FS     fs.FS
	Folder string

	path     []string // the package path as written, without "data"
	files    []string // the rule's modules, as shown
	source   *Source
	metadata metadata
}

// Example reads one of the rule's example plans: "bad" or "good".
func (r *Rule) Example(which string) ([]byte, error) {
	text, err := fs.ReadFile(r.FS, path.Join(r.Folder, which+".lighting.json"))
	if err != nil {
		return nil, fmt.Errorf("read the %s example of %s: %w", which, r.ID, err)
	}
	return text, nil
}

// Catalogue is every rule found, parsed but not compiled. It is not changed
// after loading and may be used by many goroutines.
type Catalogue struct {
	// Rules are sorted by id.
	Rules []Rule

	modules map[string]*ast.Module // by shown path
	helpers []string               // modules that belong to no rule
	library map[string]bool        // those that come with the program
	texts   texts
	problem []Problem

	machine func() *machine.Program // runs the rules that come with the program
	parsed  func() *Catalogue       // the same rules with their text; nil when this one has it
}

// Rule returns the rule with an id.
func (c *Catalogue) Rule(id string) (Rule, bool) {
	i, found := slices.BinarySearchFunc(c.Rules, id, func(r Rule, id string) int {
		return cmp.Compare(r.ID, id)
	})
	if !found {
		return Rule{}, false
	}
	return c.Rules[i], true
}

// Metas returns the metadata of every rule, sorted by id.
func (c *Catalogue) Metas() []rule.Meta {
	metas := make([]rule.Meta, len(c.Rules))
	for i := range c.Rules {
		metas[i] = c.Rules[i].Meta
	}
	return metas
}

// Load reads and parses rules and their metadata. A file or a rule that has a
// problem is left out, and the rest is loaded all the same. It compiles
// nothing.
func Load(sources ...Source) (*Catalogue, []Problem) {
	return load(false, sources...)
}

func load(withTests bool, sources ...Source) (*Catalogue, []Problem) {
	c := &Catalogue{modules: map[string]*ast.Module{}, texts: texts{}, library: map[string]bool{}}
	files := c.readAll(withTests, sources)
	parsed := parseAll(files)
	var found []Rule
	for i := range files {
		file, result := &files[i], &parsed[i]
		switch {
		case result.err != nil:
			c.addErrors(file, result.err)
		case result.module == nil:
			found = append(found, c.native(file)...)
		default:
			found = append(found, c.place(file, result.module)...)
		}
	}
	c.Rules = c.distinct(c.describe(join(found)))
	return c, sortProblems(c.problem)
}

// readAll reads the library and every source.
func (c *Catalogue) readAll(withTests bool, sources []Source) []ruleFile {
	var files []ruleFile
	var problems []Problem
	all := append(libraries(), sources...)
	for i := range all {
		more, found := all[i].list(withTests && !all[i].library)
		files, problems = append(files, more...), append(problems, found...)
	}
	c.problem = problems
	for i := range files {
		c.texts[files[i].shown] = files[i].text
		c.library[files[i].shown] = files[i].source.library
	}
	return files
}

// libraries are the helper library and the entry query, which every program
// holds.
func libraries() []Source {
	return []Source{bundledPart("lib"), bundledPart("entry")}
}

func bundledPart(folder string) Source {
	part, err := fs.Sub(rules.Files, folder)
	if err != nil {
		panic(err) // the folder's name is a constant
	}
	return Source{Name: builtIn + "/" + folder, FS: part, library: true}
}

// join puts the files of one package of one source together as one rule.
func join(found []Rule) []Rule {
	var joined []Rule
	for _, next := range found {
		i := slices.IndexFunc(joined, func(r Rule) bool {
			return !next.Native && r.source == next.source && r.Package == next.Package
		})
		if i < 0 {
			joined = append(joined, next)
			continue
		}
		joined[i].files = append(joined[i].files, next.files...)
	}
	return joined
}

// distinct sorts rules by id and refuses a second rule with the same id.
func (c *Catalogue) distinct(found []Rule) []Rule {
	slices.SortStableFunc(found, func(a, b Rule) int { return cmp.Compare(a.ID, b.ID) })
	kept := found[:0]
	for _, r := range found {
		if len(kept) > 0 && kept[len(kept)-1].ID == r.ID {
			first := kept[len(kept)-1]
			message := fmt.Sprintf("rule id %s is taken: it is defined in %s", r.ID, first.File)
			c.problem = append(c.problem, c.atMetadata(&r, "id", message))
			continue
		}
		kept = append(kept, r)
	}
	return kept
}
