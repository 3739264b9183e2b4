package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"duskproof/checker/carried"
	"duskproof/checker/config"
	"duskproof/checker/report"
)

// changes is what changed in a repository since a revision.
type changes struct {
	*repository
	revision string // as the user wrote it
	commit   string
	files    map[string]bool // by path from the top
}

// changesSince asks git what changed.
func changesSince(ctx context.Context, revision string) (*changes, error) {
	r, err := openRepository(ctx, ".")
	if err != nil {
		return nil, flagError{fmt.Errorf("--changed-since: %w", err)}
	}
	c := &changes{repository: r, revision: revision, files: map[string]bool{}}
	if c.commit, err = r.since(ctx, revision); err != nil {
		return nil, flagError{fmt.Errorf("--changed-since: %w", err)}
	}
	files, err := r.changed(ctx, c.commit)
	if err != nil {
		return nil, fmt.Errorf("--changed-since: %w", err)
	}
	for _, file := range files {
		c.files[file] = true
	}
	return c, nil
}

// plans keeps the plans whose result may have changed: those that changed
// themselves, that read a file which changed, whose entries in a list of carried
// findings changed; and all of them when the settings, a profile or a house rule
// did. A plan outside the repository stays.
func (c *changes) plans(ctx context.Context, set *setup, names []string) ([]string, error) {
	if c.settings(set) {
		return names, nil
	}
	listed, err := c.listed(ctx, set.carried)
	if err != nil {
		return nil, err
	}
	others := c.others()
	return slices.DeleteFunc(names, func(name string) bool {
		own, inside := c.name(name)
		return inside && name != "-" && !c.files[own] && !listed[own] && !reads(name, own, others)
	}), nil
}

// settings reports whether something changed that every plan is judged by.
func (c *changes) settings(set *setup) bool {
	root, inside := c.name(filepath.Join(set.root, config.FileName))
	if !inside {
		return false
	}
	top := path.Dir(root)
	for file := range c.files {
		if file == root {
			return true
		}
		for _, folder := range slices.Concat(set.config.RuleFolders, set.config.ProfileFolders) {
			if strings.HasPrefix(file, path.Join(top, folder)+"/") {
				return true
			}
		}
	}
	return false
}

// others are the changed files that are no plans, in order.
func (c *changes) others() []string {
	var out []string
	for _, file := range sortedKeys(c.files) {
		if !strings.HasSuffix(file, planEnding) {
			out = append(out, file)
		}
	}
	return out
}

// reads reports whether a plan may read one of the changed files: one below its
// own folder whose name stands in it. A plan that writes letters by their
// numbers is taken to.
func reads(name, own string, others []string) bool {
	folder := path.Dir(own) + "/"
	var text []byte
	for _, file := range others {
		if folder != "./" && !strings.HasPrefix(file, folder) {
			continue
		}
		if text == nil {
			data, err := readPlanFile(name)
			if err != nil {
				return true // the check will say why
			}
			text = data
		}
		if bytes.Contains(text, []byte(path.Base(file))) || bytes.Contains(text, []byte(`\u`)) {
			return true
		}
	}
	return false
}

// listed are the plans whose entries in a list of carried findings are not what
// they were, by path from the top.
func (c *changes) listed(ctx context.Context, lists *carriedLists) (map[string]bool, error) {
	plans := map[string]bool{}
	for _, file := range lists.files() {
		old, _, inside, err := c.before(ctx, file)
		if err != nil {
			return nil, err
		}
		if !inside {
			continue
		}
		for _, pair := range [][2]*carried.List{{file.list, old}, {old, file.list}} {
			for _, e := range pair[0].Entries {
				if other, known := pair[1].Find(e); known && other == e {
					continue
				}
				if name, ok := c.name(filepath.Join(file.folder, filepath.FromSlash(e.Plan))); ok {
					plans[name] = true
				}
			}
		}
	}
	return plans, nil
}

// before reads a list as it was; there is false when it was not there, inside
// is false for a list outside the repository.
func (c *changes) before(ctx context.Context, file *carriedFile) (list *carried.List, there, inside bool, err error) {
	name, inside := c.name(filepath.Join(file.folder, filepath.Base(file.path)))
	if !inside {
		return nil, false, false, nil
	}
	data, there, err := c.show(ctx, c.commit, name)
	if err != nil {
		return nil, false, true, fmt.Errorf("read %s as it was: %w", file.path, err)
	}
	list, problems := parseList(file.path+" at "+c.revision, data, there)
	if len(problems) > 0 {
		return nil, false, true, problemsError(problems)
	}
	return list, there, true, nil
}

// grown says by what the lists of carried findings grew, and returns the exit
// status that this asks for. A list that is new may hold anything: a repository
// begins with one.
func (c *changes) grown(ctx context.Context, lists *carriedLists, w io.Writer) (int, error) {
	status := exitFine
	for _, file := range lists.files() {
		old, there, inside, err := c.before(ctx, file)
		if err != nil {
			return exitFailed, err
		}
		if !inside || !there {
			continue
		}
		more := file.list.Beyond(old)
		if len(more) == 0 {
			continue
		}
		status = exitHeld
		fmt.Fprintf(w, "duskproof: %s grew since %s; a list of carried findings may shrink only. Mend these, or take them off the list:\n",
			report.Clean(file.path), report.Clean(c.revision))
		for _, e := range more {
			fmt.Fprintf(w, "  %s\n", report.Clean(entryWords(e)))
		}
	}
	return status, nil
}

// entryWords names an entry in a message.
func entryWords(e carried.Entry) string {
	words := fmt.Sprintf("%s: %s: %s on %s", e.Plan, e.Severity, e.Rule, e.Element)
	if e.Case != "" {
		words += ", " + e.Case
	}
	return words
}

// usesGit refuses flags that do not go together.
func (c *checkCommand) usesGit() error {
	if c.ChangedSince == "" {
		return nil
	}
	if strings.HasPrefix(c.ChangedSince, "-") {
		return flagError{fmt.Errorf("--changed-since: %q is not a revision", c.ChangedSince)}
	}
	if slices.Contains(c.Paths, "-") {
		return flagError{errors.New("--changed-since and standard input do not go together")}
	}
	return nil
}
