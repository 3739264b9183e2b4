package config

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"

	"duskproof/checker/finding"
	"duskproof/checker/source"
	"duskproof/checker/validate"
	"duskproof/schema"
)

// maxBytes bounds the settings' file.
const maxBytes = 1 << 20

// validator checks settings against their schema; it is compiled once.
var validator = sync.OnceValues(func() (*validate.Validator, error) {
	data, err := schema.Files.ReadFile(schema.Config)
	if err != nil {
		return nil, err
	}
	return validate.Trusted(map[string][]byte{schema.Config: data}, schema.Config), nil
})

// Load reads the settings in the root of a repository. Without a file they are
// empty, which is no problem.
func Load(fsys fs.FS) (*Config, []source.Problem) {
	data, err := fs.ReadFile(fsys, FileName)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &Config{}, nil
	case err != nil:
		return nil, []source.Problem{wholeFile(FileName, "the settings cannot be read: %v", err)}
	}
	return Parse(FileName, data)
}

// wholeFile makes a problem about a file that has no places yet.
func wholeFile(name, format string, args ...any) source.Problem {
	return source.Problem{Name: name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1, Message: fmt.Sprintf(format, args...)}
}

// Parse reads settings; name is for messages. The settings are nil when there
// is a problem. Whether the rules, limits and profiles that they name exist is
// asked apart: [Config.CheckRules], [Config.CheckProfiles].
func Parse(name string, data []byte) (*Config, []source.Problem) {
	doc, problems := source.Parse(name, data, source.Limits{MaxBytes: maxBytes})
	if len(problems) > 0 {
		return nil, problems
	}
	check, err := validator()
	if err != nil {
		return nil, []source.Problem{wholeFile(name, "the schema of settings cannot be used: %v", err)}
	}
	if problems := check.Validate(doc); len(problems) > 0 {
		return nil, problems
	}
	var written fileWritten
	if err := json.Unmarshal(data, &written); err != nil {
		return nil, []source.Problem{doc.ProblemAt("", fmt.Sprintf("the settings cannot be used: %v", err))}
	}
	r := &reader{doc: doc}
	config := r.config(name, written)
	if len(r.problems) > 0 {
		source.SortProblems(r.problems)
		return nil, r.problems
	}
	return config, nil
}

// fileWritten is the file as it is written.
type fileWritten struct {
	ProfileFolders []string `json:"profile_folders"`
	RuleFolders    []string `json:"rule_folders"`
	layerWritten
	Paths []struct {
		Match string `json:"match"`
		layerWritten
	} `json:"paths"`
}

// layerWritten is a layer as it is written.
type layerWritten struct {
	Profiles []string                   `json:"profiles"`
	Rules    map[string]json.RawMessage `json:"rules"`
	Limits   map[string]json.RawMessage `json:"limits"`
	Hold     finding.Severity           `json:"hold"`
	Fixes    string                     `json:"fixes"`
	Carried  string                     `json:"carried"`
}

// reader turns what is written into settings and collects problems.
type reader struct {
	doc      *source.Document
	problems []source.Problem
}

// add records a problem at a place.
func (r *reader) add(pointer, format string, args ...any) {
	r.problems = append(r.problems, r.doc.ProblemAt(pointer, fmt.Sprintf(format, args...)))
}

// config turns the file into settings.
func (r *reader) config(name string, w fileWritten) *Config {
	c := &Config{
		Name: name, ProfileFolders: w.ProfileFolders, RuleFolders: w.RuleFolders,
		Base: r.layer("", w.layerWritten), doc: r.doc,
	}
	for i, folder := range w.ProfileFolders {
		r.inside(source.Pointer("profile_folders", i), folder)
	}
	for i, folder := range w.RuleFolders {
		r.inside(source.Pointer("rule_folders", i), folder)
	}
	for i, p := range w.Paths {
		at := source.Pointer("paths", i)
		pattern, err := parsePattern(p.Match)
		if err != nil {
			r.add(source.Append(at, "match"), "the pattern %q cannot be used: %v", p.Match, err)
			continue
		}
		c.Paths = append(c.Paths, PathLayer{Match: p.Match, Layer: r.layer(at, p.layerWritten), pattern: pattern})
	}
	return c
}

// inside refuses a path that leaves the repository or means another file on
// another system.
func (r *reader) inside(pointer, path string) {
	if !fs.ValidPath(path) || strings.ContainsAny(path, "\\:\x00") {
		r.add(pointer, "%q is not a path inside the repository; write it from the root, with forward slashes, without . and .. and a slash at either end", path)
	}
}

// layer turns one layer into settings.
func (r *reader) layer(at string, w layerWritten) Layer {
	l := Layer{Profiles: w.Profiles, Hold: w.Hold, Fixes: w.Fixes, Carried: w.Carried}
	if w.Carried != "" {
		r.inside(source.Append(at, "carried"), w.Carried)
	}
	for _, id := range names(w.Rules) {
		l.Rules = append(l.Rules, r.rule(source.Append(at, "rules", id), id, w.Rules[id]))
	}
	for _, name := range names(w.Limits) {
		l.Limits = append(l.Limits, r.limit(source.Append(at, "limits", name), name, w.Limits[name]))
	}
	return l
}

// names returns the names of an object in order, without comments.
func names(object map[string]json.RawMessage) []string {
	return slices.DeleteFunc(slices.Sorted(maps.Keys(object)), func(name string) bool {
		return strings.HasPrefix(name, "//")
	})
}

// rule turns the setting of one rule.
func (r *reader) rule(at, id string, raw json.RawMessage) Rule {
	var w struct {
		Severity string `json:"severity"`
		Reason   string `json:"reason"`
	}
	if err := json.Unmarshal(raw, &w); err != nil {
		r.add(at, "the setting of %s cannot be used: %v", id, err)
		return Rule{}
	}
	rule := Rule{ID: id, Off: w.Severity == "off", Reason: strings.TrimSpace(w.Reason), Pointer: at}
	rule.Line = r.doc.Lines().Position(r.doc.Locate(at)[0].Value.Start).Line
	if !rule.Off {
		severity, err := finding.ParseSeverity(w.Severity)
		if err != nil {
			r.add(at, "the setting of %s cannot be used: %v", id, err)
		}
		rule.Severity = severity
	}
	return rule
}

// limit turns the setting of one limit.
func (r *reader) limit(at, name string, raw json.RawMessage) Limit {
	var w struct {
		Value  json.RawMessage `json:"value"`
		Reason string          `json:"reason"`
	}
	limit := Limit{Name: name, Pointer: at}
	err := json.Unmarshal(raw, &w)
	if err == nil {
		limit.Reason = strings.TrimSpace(w.Reason)
		err = limit.setValue(w.Value)
	}
	if err != nil {
		r.add(at, "the setting of %s cannot be used: %v", name, err)
	}
	return limit
}

// setValue takes a value of any of the four kinds.
func (l *Limit) setValue(raw json.RawMessage) error {
	if len(raw) == 0 {
		return errors.New("there is no value")
	}
	switch raw[0] {
	case '"':
		return json.Unmarshal(raw, &l.Text)
	case '{':
		return json.Unmarshal(raw, &l.Table)
	case 't', 'f':
		return json.Unmarshal(raw, &l.Flag)
	}
	return json.Unmarshal(raw, &l.Number)
}
