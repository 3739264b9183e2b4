package policy

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
	"unicode/utf8"

	"duskproof/rules"
)

// Limits on what is read from one source of rules.
const (
	maxRuleFiles     = 1000
	maxRuleFileBytes = 256 << 10
	maxSourceBytes   = 4 << 20
	maxFolderDepth   = 12
	maxNesting       = 100
)

// Source is a folder tree that holds rules.
type Source struct {
	// Name is written before every path in messages, as the user knows the
	// folder.
	Name string
	// FS is the tree. For a user's folder it should be confined
	// (os.Root.FS).
	FS fs.FS
	// House is true for a user's own rules: packages house.<slug>, in any
	// file of the tree. Otherwise the tree is <family>/<slug>/ with
	// packages rules.<family>.<slug>.
	House bool

	// library is true for the helper library and the entry query.
	library bool
	// trial is true for a folder that is tried by itself: any package that
	// a rule or the library may have, wherever its file stands.
	trial bool
}

// builtIn is written before the paths of files that come with the program. It
// is no path that a user's folder could have.
const builtIn = "built-in:rules"

// Bundled returns the rules that come with the program.
func Bundled() Source { return Source{Name: builtIn, FS: rules.Files} }

// House returns a user's folder of rules. Name is the folder as the user wrote
// it; fsys should be confined to it.
func House(name string, fsys fs.FS) Source {
	return Source{Name: name, FS: fsys, House: true}
}

// ruleFile is one file of a source.
type ruleFile struct {
	source *Source
	path   string // in the source's FS
	shown  string // as the user knows it
	text   []byte
}

// list reads every rule file of a source: *.rego without *_test.rego (or with
// them, for the test runner), and meta.json outside house folders.
func (s *Source) list(withTests bool) ([]ruleFile, []Problem) {
	var files []ruleFile
	var problems []Problem
	size := 0
	walk := func(p string, entry fs.DirEntry, err error) error {
		if err != nil {
			problems = append(problems, Problem{File: s.shown(p), Message: "cannot be read: " + plainCause(err)})
			return nil
		}
		if entry.IsDir() {
			return s.enter(p, entry)
		}
		if !s.wants(p, withTests) {
			return nil
		}
		if len(files) == maxRuleFiles || size > maxSourceBytes {
			problems = append(problems, Problem{File: s.Name,
				Message: fmt.Sprintf("holds more than %d rule files or %d MiB of them", maxRuleFiles, maxSourceBytes>>20)})
			return fs.SkipAll
		}
		file := ruleFile{source: s, path: p, shown: s.shown(p)}
		if problem := file.read(); problem != nil {
			problems = append(problems, *problem)
			return nil //nolint:nilerr // it is among the problems
		}
		files = append(files, file)
		size += len(file.text)
		return nil
	}
	if err := fs.WalkDir(s.FS, ".", walk); err != nil {
		problems = append(problems, Problem{File: s.Name, Message: "cannot be read: " + plainCause(err)})
	}
	return files, problems
}

// enter says whether to look into a folder.
func (s *Source) enter(p string, entry fs.DirEntry) error {
	hidden := p != "." && strings.HasPrefix(entry.Name(), ".")
	library := !s.House && !s.trial && (p == "lib" || p == "entry")
	if hidden || library || strings.Count(p, "/") >= maxFolderDepth {
		return fs.SkipDir
	}
	return nil
}

// wants says whether a file is one of the source's rule files.
func (s *Source) wants(p string, withTests bool) bool {
	if path.Base(p) == "meta.json" {
		return !s.House
	}
	if strings.HasSuffix(p, "_test.rego") {
		return withTests
	}
	return strings.HasSuffix(p, ".rego")
}

// shown returns a path of the source as the user knows it.
func (s *Source) shown(p string) string { return path.Join(s.Name, p) }

// read fills in the file's text, and refuses what no parser should see.
func (f *ruleFile) read() *Problem {
	text, err := readRegular(f.source.FS, f.path)
	if err != nil {
		return &Problem{File: f.shown, Message: "cannot be read: " + plainCause(err)}
	}
	f.text = text
	if len(text) > maxRuleFileBytes {
		return &Problem{File: f.shown, Message: fmt.Sprintf("is larger than %d KiB", maxRuleFileBytes>>10)}
	}
	known := texts{f.shown: text}
	if offset := invalidUTF8(text); offset >= 0 {
		line, column := placeOf(text, offset)
		p := known.at(f.shown, line, column, 1, "is not UTF-8 text: a byte here belongs to no character")
		p.Excerpt = strings.ToValidUTF8(p.Excerpt, "\uFFFD")
		return &p
	}
	if offset := tooDeep(text); offset >= 0 {
		line, column := placeOf(text, offset)
		p := known.at(f.shown, line, column, 1, fmt.Sprintf("brackets are nested more than %d deep", maxNesting))
		return &p
	}
	return nil
}

// readRegular reads at most one byte more than a rule file may have. It opens
// regular files only, since opening another kind may wait for ever.
func readRegular(fsys fs.FS, p string) ([]byte, error) {
	info, err := fs.Stat(fsys, p)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("not a regular file")
	}
	file, err := fsys.Open(p)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, maxRuleFileBytes+1))
}

// plainCause returns an error's text without the path, which messages name
// already.
func plainCause(err error) string {
	var pathError *fs.PathError
	if errors.As(err, &pathError) {
		return pathError.Err.Error()
	}
	return err.Error()
}

// invalidUTF8 returns the offset of the first byte that is not part of a
// character, or -1.
func invalidUTF8(text []byte) int {
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return -1
}

// tooDeep returns the offset of the bracket that nests deeper than maxNesting,
// or -1. Text in quotes and comments does not count.
func tooDeep(text []byte) int {
	depth := 0
	for i := 0; i < len(text); i++ {
		switch text[i] {
		case '#':
			i += lengthUntil(text[i:], '\n')
		case '"', '`':
			i += quotedLength(text[i:])
		case '(', '[', '{':
			if depth++; depth > maxNesting {
				return i
			}
		case ')', ']', '}':
			depth--
		}
	}
	return -1
}

// quotedLength returns the offset of the quote that closes the one at the
// start of text, or of the text's end.
func quotedLength(text []byte) int {
	for i := 1; i < len(text); i++ {
		if text[i] == '\\' && text[0] == '"' {
			i++
		} else if text[i] == text[0] {
			return i
		}
	}
	return len(text)
}

// lengthUntil returns the offset of the first b, or of the text's end.
func lengthUntil(text []byte, b byte) int {
	for i, c := range text {
		if c == b {
			return i
		}
	}
	return len(text)
}

// placeOf turns a byte offset into line and column, in code points.
func placeOf(text []byte, offset int) (line, column int) {
	before := string(text[:offset])
	start := strings.LastIndexByte(before, '\n') + 1
	return strings.Count(before, "\n") + 1, utf8.RuneCountInString(before[start:]) + 1
}
