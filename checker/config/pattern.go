package config

import (
	"errors"
	"path"
	"strings"
)

// anyFolders stands for any number of folders, none included.
const anyFolders = "**"

// pattern is a pattern for paths, one entry for each name between slashes.
type pattern []string

// parsePattern reads a pattern. Between slashes the rules of [path.Match] hold;
// ** alone stands for any folders; a slash at the end means everything below.
func parsePattern(text string) (pattern, error) {
	if strings.HasSuffix(text, "/") {
		text += anyFolders
	}
	text = strings.TrimPrefix(text, "./")
	names := strings.Split(text, "/")
	for _, name := range names {
		switch {
		case name == "" || name == "." || name == "..":
			return nil, errors.New("it has an empty name, . or .. between its slashes; write it from the root of the repository")
		case name == anyFolders:
			continue
		case strings.Contains(name, anyFolders):
			return nil, errors.New("** stands alone between slashes; within a name, write *")
		case strings.Contains(name, `\`):
			return nil, errors.New("it has a backslash; write forward slashes")
		}
		if _, err := path.Match(name, ""); err != nil {
			return nil, errors.New("a [ has no matching ]")
		}
	}
	return names, nil
}

// matches says whether a path from the root of the repository fits. It takes
// time in proportion to the product of both lengths.
func (p pattern) matches(file string) bool {
	names := strings.Split(path.Clean(strings.TrimPrefix(file, "./")), "/")
	// fits[j] says whether the pattern so far fits the first j names.
	fits := make([]bool, len(names)+1)
	fits[0] = true
	for _, want := range p {
		next := make([]bool, len(names)+1)
		next[0] = fits[0] && want == anyFolders
		for j, name := range names {
			if want == anyFolders {
				next[j+1] = fits[j+1] || next[j]
				continue
			}
			ok, _ := path.Match(want, name) // parsePattern has tried it
			next[j+1] = fits[j] && ok
		}
		fits = next
	}
	return fits[len(names)]
}
