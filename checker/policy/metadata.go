package policy

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
	"github.com/open-policy-agent/opa/v1/ast"

	"duskproof/checker/rule"
	"duskproof/checker/source"
	"duskproof/checker/validate"
	"duskproof/schema"
)

// metadataSchema checks metadata against schema/rule.schema.json.
var metadataSchema = sync.OnceValue(func() *validate.Validator {
	text, err := schema.Files.ReadFile(schema.Rule)
	if err != nil {
		panic(err) // an embedded file, held by a test
	}
	return validate.Trusted(map[string][]byte{schema.Rule: text}, schema.Rule)
})

// metadata is a rule's metadata before it is trusted: the object, and a way
// back from a field to its line.
type metadata struct {
	file   string
	fields map[string]any
	text   string // the lines that hold the fields
	start  int    // the number of text's first line
	isRego bool
}

// native reads a meta.json.
func (c *Catalogue) native(file *ruleFile) []Rule {
	m := metadata{file: file.shown, start: 1, text: string(file.text)}
	if err := json.Unmarshal(file.text, &m.fields); err != nil {
		line, column := 1, 1
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) {
			line, column = placeOf(file.text, max(int(syntax.Offset)-1, 0))
		}
		c.problem = append(c.problem, c.texts.at(file.shown, line, column, 1, "is not a JSON object: "+err.Error()))
		return nil
	}
	want := hyphens(strings.ReplaceAll(path.Dir(file.path), "/", "."))
	if file.source.trial {
		want, _ = m.fields["id"].(string)
	}
	meta, ok := c.read(m, want)
	if !ok {
		return nil
	}
	return []Rule{{
		Meta: meta, Native: true, source: file.source, metadata: m,
		FS: file.source.FS, Folder: path.Dir(file.path),
	}}
}

// describe fills in the metadata of rules written in Rego, and drops those
// whose metadata cannot be used.
func (c *Catalogue) describe(found []Rule) []Rule {
	kept := found[:0]
	for _, r := range found {
		if !r.Native {
			if !c.annotate(&r) {
				continue
			}
		}
		kept = append(kept, r)
	}
	return kept
}

// annotate fills in a rule's metadata from the METADATA block of its package.
func (c *Catalogue) annotate(r *Rule) bool {
	var blocks []*ast.Annotations
	for _, file := range r.files {
		for _, a := range c.modules[file].Annotations {
			if a.Scope == "package" {
				blocks = append(blocks, a)
			}
		}
	}
	if len(blocks) == 0 {
		c.problem = append(c.problem, c.texts.atLocation(c.modules[r.files[0]].Package.Location,
			"the package has no METADATA block, so nothing says what the rule is"))
		return false
	}
	if len(blocks) > 1 {
		c.problem = append(c.problem, c.texts.atLocation(blocks[1].Location,
			fmt.Sprintf("package %s has a second METADATA block; the first is in %s", r.Package, blocks[0].Location.File)))
		return false
	}
	r.metadata = c.fromBlock(blocks[0])
	meta, ok := c.read(r.metadata, strings.TrimPrefix(r.Package, "rules."))
	meta.House = r.House
	r.Meta = meta
	return ok
}

// fromBlock turns a METADATA block into the one form that the schema knows.
func (c *Catalogue) fromBlock(block *ast.Annotations) metadata {
	m := metadata{file: block.Location.File, start: block.Location.Row, fields: map[string]any{}, isRego: true}
	maps.Copy(m.fields, block.Custom)
	if block.Title != "" {
		m.fields["title"] = block.Title
	}
	if why := strings.TrimSpace(block.Description); why != "" {
		m.fields["why"] = why
	}
	var lines []string
	for n := m.start; ; n++ {
		line := c.texts.line(m.file, n)
		if !strings.HasPrefix(strings.TrimSpace(line), "#") {
			break
		}
		lines = append(lines, line)
	}
	m.text = strings.Join(lines, "\n")
	return m
}

// read validates metadata, and decodes it.
func (c *Catalogue) read(m metadata, wantID string) (rule.Meta, bool) {
	before := len(c.problem)
	text, err := json.Marshal(m.fields)
	if err != nil {
		c.complain(m, "", "cannot be written as JSON: "+err.Error())
		return rule.Meta{}, false
	}
	c.schemaProblems(m, text)
	c.hintProblems(m)
	if id, ok := m.fields["id"].(string); ok && id != wantID {
		c.complain(m, "id", fmt.Sprintf("id is %q, but the place of the rule says %q", id, wantID))
	}
	if len(c.problem) > before {
		return rule.Meta{}, false
	}
	meta := rule.Meta{File: m.file}
	if err := json.Unmarshal(text, &meta); err != nil {
		c.complain(m, "", err.Error())
		return rule.Meta{}, false
	}
	return meta, true
}

// hintWords are what is replaced in a fix hint.
var hintWords = []string{"{element}", "{case}", "{value}", "{limit}"}

// hintProblems reports words in braces that nothing replaces.
func (c *Catalogue) hintProblems(m metadata) {
	hint, _ := m.fields["hint"].(string)
	for _, word := range regexp.MustCompile(`\{[^{}]*\}`).FindAllString(hint, -1) {
		if !slices.Contains(hintWords, word) {
			c.complain(m, "hint", fmt.Sprintf("hint: nothing replaces %s; what is replaced is %s", word, strings.Join(hintWords, ", ")))
		}
	}
}

// schemaProblems reports what the schema finds, each at the line of its field.
func (c *Catalogue) schemaProblems(m metadata, text []byte) {
	doc, problems := source.Parse(m.file, text, source.Limits{})
	if len(problems) == 0 {
		problems = metadataSchema().Validate(doc)
	}
	for _, p := range problems {
		field, _, _ := strings.Cut(strings.TrimPrefix(p.Pointer, "/"), "/")
		c.complain(m, source.Unescape(field), m.inWords(p.Message))
	}
}

// inWords says of metadata what a message says of a file.
func (m metadata) inWords(message string) string {
	message = strings.ReplaceAll(message, "the file", "the metadata")
	if m.isRego {
		message = strings.ReplaceAll(message, `"why"`, `"description"`)
	}
	return message
}

// written returns how a field is called where the metadata stands.
func (m metadata) written(field string) string {
	if field == "why" && m.isRego {
		return "description"
	}
	return field
}

// complain adds a problem at the line of a field of the metadata.
func (c *Catalogue) complain(m metadata, field, message string) {
	line, column, length := m.place(field)
	c.problem = append(c.problem, c.texts.at(m.file, line, column, length, message))
}

// place finds the line and column of a top field. A field that is not there is
// placed at the metadata's first line.
func (m metadata) place(field string) (line, column, length int) {
	field = m.written(field)
	pattern := `(?m)^#[ \t]*()(` + regexp.QuoteMeta(field) + `)[ \t]*:`
	if !m.isRego {
		pattern = `[{,]\s*("(` + regexp.QuoteMeta(field) + `)")\s*:`
	}
	found := regexp.MustCompile(pattern).FindStringSubmatchIndex(m.text)
	if field == "" || found == nil {
		return m.start, 1, 1
	}
	line, column = placeOf([]byte(m.text), found[4])
	return m.start + line - 1, column, utf8.RuneCountInString(field)
}

// suggestion returns " (did you mean ...?)" when a known name is close.
func suggestion(name string, known []string) string {
	best, distance := "", 1+max(2, len(name)/3)
	for _, k := range known {
		if d := levenshtein.ComputeDistance(name, k); d < distance {
			best, distance = k, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf(" (did you mean %q?)", best)
}
