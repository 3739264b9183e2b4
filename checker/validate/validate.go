// Package validate checks a document against a JSON Schema (draft 2020-12) and
// says what is wrong in the words of a person who edits the file: one problem
// for each missing or unknown name, with the nearest known name, the allowed
// words and examples from the schema, each at its line and column, in the order
// of the file.
//
// It reads only the schemas it is given: no network, no files.
package validate

import (
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"

	"duskproof/checker/source"
)

// maxProblems is how many problems one document gets; more help nobody.
const maxProblems = 200

// Validator checks documents against one schema. It is safe for concurrent use.
type Validator struct {
	quick   *quick // nil when the schema is beyond it
	engine  func() (*engine, error)
	schemas func() *schemaSet
}

// New compiles the schema called name among files, which holds the bytes of
// every schema by its name. A $ref may name any of them by its $id, or by its
// name when neither has one; any other reference is an error, as is a keyword that
// the messages cannot follow (a second $id in one file, $anchor, $dynamicRef).
// Compiling a large schema takes some tens of milliseconds: do it once.
func New(files map[string][]byte, name string) (*Validator, error) {
	v := prepare(files, name)
	if _, err := v.engine(); err != nil {
		return nil, err
	}
	return v, nil
}

// Trusted is New for a schema that is known to compile, since it comes with the
// program and its tests compile it: it is compiled when the first document does
// not pass a quick look, so that most runs never do.
func Trusted(files map[string][]byte, name string) *Validator { return prepare(files, name) }

func prepare(files map[string][]byte, name string) *Validator {
	v := &Validator{engine: sync.OnceValues(func() (*engine, error) { return compile(files, name) })}
	if q, err := newQuick(files[name]); err == nil {
		v.quick = q
	}
	v.schemas = sync.OnceValue(func() *schemaSet {
		engine, err := v.engine()
		if err != nil {
			return nil // nobody asks: Validate has said so
		}
		return newSchemaSet(files, engine.rootLocation())
	})
	return v
}

func compile(files map[string][]byte, name string) (*engine, error) {
	for _, file := range slices.Sorted(maps.Keys(files)) {
		if err := checkKeywords(files[file]); err != nil {
			return nil, fmt.Errorf("schema %s: %w", file, err)
		}
	}
	engine, err := newEngine(files, name)
	if err != nil {
		return nil, fmt.Errorf("compile schema %s: %w", name, err)
	}
	return engine, nil
}

// FromFS is New with every *.schema.json file in the root of fsys.
func FromFS(fsys fs.FS, name string) (*Validator, error) {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return nil, fmt.Errorf("list schemas: %w", err)
	}
	files := map[string][]byte{}
	for _, entry := range entries {
		if entry.IsDir() || !strings.HasSuffix(entry.Name(), ".schema.json") {
			continue
		}
		data, err := fs.ReadFile(fsys, path.Clean(entry.Name()))
		if err != nil {
			return nil, fmt.Errorf("read schema %s: %w", entry.Name(), err)
		}
		files[entry.Name()] = data
	}
	return New(files, name)
}

// Validate returns what is wrong with the document, in the order of the file;
// nothing when it fits the schema. At most 200 problems are listed; when there are more, one
// more says so.
func (v *Validator) Validate(doc *source.Document) []source.Problem {
	if v.quick != nil && v.quick.check(doc.Value()) == fits {
		return nil
	}
	failed, err := v.failures(doc.Value())
	if err != nil {
		return []source.Problem{doc.ProblemAt("", fmt.Sprintf("the file cannot be checked against its schema: %v", err))}
	}
	if failed == nil {
		return nil
	}
	r := &run{set: v.schemas(), doc: doc}
	leaves := gravest(r.flatten(failed, nil))
	r.findStrange(leaves)
	for _, l := range leaves {
		if len(r.notes) >= maxProblems {
			r.more++
			continue
		}
		r.explain(l)
	}
	if len(r.notes) == 0 {
		r.say(leaves[0].at, "%s does not fit the schema: %s", r.subject(leaves[0].at), clip(leaves[0].text))
	}
	return r.place()
}

// failures asks the library; nil when the value fits.
func (v *Validator) failures(value any) (*failure, error) {
	engine, err := v.engine()
	if err != nil {
		return nil, err
	}
	return engine.check(value)
}

// run explains the failures of one document.
type run struct {
	set   *schemaSet
	doc   *source.Document
	notes []note
	// strange holds, for each object, the names that are spoken of as unknown.
	strange map[string][]string
	// refused holds the pairs of names of which one was refused.
	refused map[string]bool
	// more counts the faults that were left out.
	more int
}

// note is one thing to say, before its place is known.
type note struct {
	// at is the instance path.
	at []string
	// onKey marks the name instead of the value.
	onKey   bool
	message string
}

// say records one thing to say about the value at a path.
func (r *run) say(at []string, format string, args ...any) {
	r.notes = append(r.notes, note{at: at, message: fmt.Sprintf(format, args...)})
}

// sayOfKey records one thing to say about the name at the end of a path.
func (r *run) sayOfKey(at []string, format string, args ...any) {
	r.notes = append(r.notes, note{at: at, onKey: true, message: fmt.Sprintf(format, args...)})
}

// place looks up all places in one reading and makes the problems.
func (r *run) place() []source.Problem {
	pointers := make([]string, len(r.notes))
	for i, n := range r.notes {
		pointers[i] = pointerOf(n.at)
	}
	problems := make([]source.Problem, len(r.notes))
	for i, place := range r.doc.Locate(pointers...) {
		span := place.Value
		switch {
		case r.notes[i].onKey && place.HasKey:
			span = place.Key
		case place.Open:
			span.End = span.Start + 1
		}
		problems[i] = r.doc.NewProblem(span, place.Found, r.notes[i].message)
	}
	source.SortProblems(problems)
	problems = slices.Compact(problems)
	if r.more > 0 {
		end := source.Span{Start: len(r.doc.Bytes()), End: len(r.doc.Bytes())}
		problems = append(problems, r.doc.NewProblem(end, "",
			fmt.Sprintf("there are %d more faults in the file; mend those above first", r.more)))
	}
	return problems
}

// pointerOf makes the JSON Pointer of an instance path.
func pointerOf(at []string) string {
	var b strings.Builder
	for _, token := range at {
		b.WriteByte('/')
		b.WriteString(source.Escape(token))
	}
	return b.String()
}
