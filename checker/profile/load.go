package profile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"strings"
	"sync"

	"duskproof/checker/source"
	"duskproof/checker/validate"
	"duskproof/rules"
	"duskproof/schema"
)

const (
	// namesFile holds the meaning of every limit, beside the profiles that
	// come with the program.
	namesFile = "limits.json"
	// suffix ends the name of every profile's file.
	suffix = ".json"
	// maxProfileBytes bounds one profile's file; ours are below 30 kB.
	maxProfileBytes = 1 << 20
	// maxFiles bounds a folder of profiles.
	maxFiles = 200
)

// Bundled returns the profiles that come with the program. Each is read once, when
// it is asked for, and quickly: that each fits the schema and its limits their meanings is held
// by a test and not asked again.
var Bundled = sync.OnceValues(func() (*Set, error) {
	folder, err := bundledFolder()
	if err != nil {
		return nil, err
	}
	set, err := loadTrusted(folder)
	if err != nil {
		return nil, fmt.Errorf("read the profiles of the program: %w", err)
	}
	return set, nil
})

// bundledFolder opens the folder of profiles that comes with the program.
func bundledFolder() (fs.FS, error) {
	folder, err := fs.Sub(rules.Files, "profiles")
	if err != nil {
		return nil, fmt.Errorf("open the profiles of the program: %w", err)
	}
	return folder, nil
}

// loadTrusted is Load without any check.
func loadTrusted(fsys fs.FS) (*Set, error) {
	files, err := fs.Glob(fsys, "*"+suffix)
	if err != nil {
		return nil, err
	}
	set := newSet(sync.OnceValue(func() map[string]Meaning {
		data, err := fs.ReadFile(fsys, namesFile)
		if err != nil {
			return nil // a test reads them
		}
		meanings, _ := decodeMeanings(data)
		return meanings
	}))
	for _, file := range files {
		if file != namesFile {
			set.profiles[strings.TrimSuffix(file, suffix)] = sync.OnceValues(func() (*Profile, error) { return readTrusted(fsys, file) })
		}
	}
	return set, nil
}

// readTrusted reads one profile of the program.
func readTrusted(fsys fs.FS, file string) (*Profile, error) {
	data, err := fs.ReadFile(fsys, file)
	if err != nil {
		return nil, fmt.Errorf("read a profile of the program: %w", err)
	}
	p, err := decode(file, data)
	if err != nil {
		return nil, fmt.Errorf("read the profile %s of the program: %w", file, err)
	}
	p.Bundled = true
	return &p, nil
}

// validator checks profiles against their schema; it is compiled once.
var validator = sync.OnceValues(func() (*validate.Validator, error) {
	data, err := schema.Files.ReadFile(schema.Profile)
	if err != nil {
		return nil, err
	}
	return validate.Trusted(map[string][]byte{schema.Profile: data}, schema.Profile), nil
})

// Load reads a folder of profiles with the meanings of their limits: the file
// limits.json, and beside it one NAME.json for each profile. They count as those
// that come with the program. The set is nil when there is a problem.
func Load(fsys fs.FS) (*Set, []source.Problem) {
	data, err := fs.ReadFile(fsys, namesFile)
	if err != nil {
		return nil, []source.Problem{fileProblem(namesFile, "the meanings of the limits cannot be read: %v", err)}
	}
	meanings, problems := readMeanings(namesFile, data)
	if len(problems) > 0 {
		return nil, problems
	}
	set, problems := newSet(func() map[string]Meaning { return meanings }).WithFolder("", fsys)
	if len(problems) > 0 {
		return nil, problems
	}
	for name := range set.profiles {
		p, _ := set.Profile(name)
		p.Bundled = true
		set.profiles[name] = ready(&p)
	}
	return set, nil
}

// fileProblem makes a problem about a whole file.
func fileProblem(name, format string, args ...any) source.Problem {
	return source.Problem{Name: name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1, Message: fmt.Sprintf(format, args...)}
}

// readMeanings reads limits.json, which only the program itself brings.
func readMeanings(name string, data []byte) (map[string]Meaning, []source.Problem) {
	doc, problems := source.Parse(name, data, source.Limits{MaxBytes: maxProfileBytes})
	if len(problems) > 0 {
		return nil, problems
	}
	meanings, err := decodeMeanings(data)
	if err != nil {
		return nil, []source.Problem{doc.ProblemAt("", fmt.Sprintf("the meanings of the limits cannot be used: %v", err))}
	}
	return meanings, nil
}

// decodeMeanings reads the bytes of limits.json.
func decodeMeanings(data []byte) (map[string]Meaning, error) {
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.DisallowUnknownFields()
	var file struct {
		Format string             `json:"format"`
		Limits map[string]Meaning `json:"limits"`
	}
	if err := decoder.Decode(&file); err != nil {
		return nil, err
	}
	for name, meaning := range file.Limits {
		meaning.Name = name
		file.Limits[name] = meaning
	}
	return file.Limits, nil
}

// WithFolder returns a set with every profile in the root of a folder added to
// those of s, which is not changed. label goes before the names of the files in
// messages. Profiles with a problem are left out.
func (s *Set) WithFolder(label string, fsys fs.FS) (*Set, []source.Problem) {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return s, []source.Problem{fileProblem(label, "the folder of profiles cannot be read: %v", err)}
	}
	var problems []source.Problem
	next, count := s, 0
	for _, entry := range entries {
		file := entry.Name()
		if entry.IsDir() || !strings.HasSuffix(file, suffix) || file == namesFile {
			continue
		}
		shown := path.Join(label, file)
		if count++; count > maxFiles {
			return next, append(problems, fileProblem(label, "the folder holds more than %d profiles, which is the limit", maxFiles))
		}
		data, err := fs.ReadFile(fsys, file)
		if err != nil {
			problems = append(problems, fileProblem(shown, "the profile cannot be read: %v", err))
			continue
		}
		var more []source.Problem
		next, more = next.WithFile(shown, data)
		problems = append(problems, more...)
	}
	source.SortProblems(problems)
	return next, problems
}

// WithFile returns a set with the profile in one file added to those of s,
// which is not changed. The profile's name must be the file's.
func (s *Set) WithFile(file string, data []byte) (*Set, []source.Problem) {
	p, doc, problems := s.parse(file, data)
	if len(problems) > 0 {
		return s, problems
	}
	if want := strings.TrimSuffix(path.Base(file), suffix); p.Name != want {
		return s, []source.Problem{doc.ProblemAt("/name", fmt.Sprintf(
			"the profile is called %q, but its file is %s; they must agree: rename one of them", p.Name, path.Base(file)))}
	}
	if other, known := s.Profile(p.Name); known {
		return s, []source.Problem{doc.ProblemAt("/name", fmt.Sprintf(
			"there is a profile %q already (%s); give this one another name, and let it stand on that one", p.Name, other.File))}
	}
	return s.with(&p), nil
}

// parse reads one profile.
func (s *Set) parse(file string, data []byte) (Profile, *source.Document, []source.Problem) {
	doc, problems := source.Parse(file, data, source.Limits{MaxBytes: maxProfileBytes})
	if len(problems) > 0 {
		return Profile{}, nil, problems
	}
	check, err := validator()
	if err != nil {
		return Profile{}, doc, []source.Problem{fileProblem(file, "the schema of profiles cannot be used: %v", err)}
	}
	if problems := check.Validate(doc); len(problems) > 0 {
		return Profile{}, doc, problems
	}
	p, err := decode(file, data)
	if err != nil {
		return Profile{}, doc, []source.Problem{doc.ProblemAt("", fmt.Sprintf("the profile cannot be used: %v", err))}
	}
	return p, doc, s.checkMeanings(doc, p)
}
