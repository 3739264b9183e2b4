package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"duskproof/checker"
	"duskproof/checker/config"
	"duskproof/checker/editor"
	"duskproof/checker/policy"
	"duskproof/checker/rule"
)

// workspace checks plans for an editor. It reads nothing outside the folders that
// the editor names, links resolved: settings, rules and photometric files of a
// plan that lies elsewhere are not looked for.
type workspace struct {
	flags *judging

	mu      sync.Mutex
	folders []workspaceFolder
	setups  map[string]*sharedSetup // by the folder of the settings
	dead    map[string]string       // house rules that had to be stopped, and why
}

// workspaceFolder is one folder of the workspace.
type workspaceFolder struct {
	path string
	root *os.Root
}

// sharedSetup is a setup that several checks may use at once. It is closed when
// it is out of use and the last of them has ended.
type sharedSetup struct {
	*setup
	complaints []string
	users      int
	old        bool
}

// newWorkspace is a workspace without folders. The error is about the flags, or
// about what they name.
func newWorkspace(flags *judging) (*workspace, error) {
	w := &workspace{flags: flags, setups: map[string]*sharedSetup{}, dead: map[string]string{}}
	s, err := w.newSetup(spot{root: "."})
	if err != nil {
		return nil, err
	}
	w.setups[""] = s // its rules compile while the editor says what it wants
	return w, nil
}

// Folders tells which folders are the workspace. One that cannot be opened is
// not part of it.
func (w *workspace) Folders(paths []string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.closeFolders()
	for _, p := range paths {
		if root, err := os.OpenRoot(p); err == nil {
			w.folders = append(w.folders, workspaceFolder{p, root})
		}
	}
	w.forget(func(key string) bool { return key != "" })
}

func (w *workspace) closeFolders() {
	for _, f := range w.folders {
		_ = f.root.Close()
	}
	w.folders = nil
}

// Forget reads settings and rules again when they are next wanted.
func (w *workspace) Forget() {
	w.mu.Lock()
	defer w.mu.Unlock()
	clear(w.dead)
	w.forget(all)
}

// forget puts setups out of use, by their keys; the lock is held.
func (w *workspace) forget(which func(key string) bool) {
	for key, s := range w.setups {
		if which(key) {
			s.old = true
			w.closeUnused(s)
			delete(w.setups, key)
		}
	}
}

func all(string) bool { return true }

func (w *workspace) closeUnused(s *sharedSetup) {
	if s.old && s.users == 0 {
		s.close()
	}
}

func (w *workspace) close() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.forget(all)
	w.closeFolders()
}

// spot is where a plan lies in the workspace.
type spot struct {
	key     string   // of its setup
	root    string   // the folder of its settings
	files   *os.Root // the plan's own folder; nil outside the workspace
	trouble error    // why its settings cannot be looked for
}

// locate finds a plan in the workspace; the lock is held. A plan outside, or
// one that only a link leads to, has no folder.
func (w *workspace) locate(plan string) spot {
	for _, f := range w.folders {
		relative, err := filepath.Rel(f.path, plan)
		if plan == "" || err != nil || !filepath.IsLocal(relative) {
			continue
		}
		own := path.Dir(filepath.ToSlash(relative))
		files, err := f.root.OpenRoot(own)
		if err != nil {
			continue
		}
		at, found, err := config.Find(f.root.FS(), own)
		if err != nil || !found {
			return spot{root: f.path, files: files, trouble: err}
		}
		root := filepath.Join(f.path, filepath.FromSlash(at))
		return spot{key: root, root: root, files: files}
	}
	return spot{root: filepath.Dir(plan)}
}

// take finds the setup for a plan, or makes it, and the plan's own folder. give
// must be called when they are no longer used.
func (w *workspace) take(plan string) (s *sharedSetup, at spot, give func(), err error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	at = w.locate(plan)
	s = w.setups[at.key]
	if s == nil {
		if s, err = w.newSetup(at); err != nil {
			if at.files != nil {
				_ = at.files.Close()
			}
			return nil, at, nil, err
		}
		w.setups[at.key] = s
	}
	s.users++
	return s, at, func() {
		w.mu.Lock()
		defer w.mu.Unlock()
		if at.files != nil {
			_ = at.files.Close()
		}
		s.users--
		w.closeUnused(s)
	}, nil
}

// newSetup reads settings and rules. Settings that cannot be used are left out,
// with a complaint, so that a plan is checked all the same.
func (w *workspace) newSetup(at spot) (*sharedSetup, error) {
	without := sortedKeys(w.dead)
	if at.key == "" {
		s, err := w.flags.setupIn(at.root, nil, without)
		return &sharedSetup{setup: s}, err
	}
	s, err := w.settled(at, without)
	if err == nil {
		return &sharedSetup{setup: s}, nil
	}
	complaint := fmt.Sprintf("the settings in %s cannot be used, so the plan is checked without them: %v", filepath.Join(at.root, config.FileName), err)
	s, err = w.flags.setupIn(at.root, nil, without)
	return &sharedSetup{setup: s, complaints: []string{complaint}}, err
}

// settled is a setup with the settings of a folder of the workspace.
func (w *workspace) settled(at spot, without []string) (*setup, error) {
	for _, f := range w.folders {
		relative, err := filepath.Rel(f.path, at.root)
		if err != nil || !filepath.IsLocal(relative) {
			continue
		}
		files, err := f.root.OpenRoot(filepath.ToSlash(relative))
		if err != nil {
			continue
		}
		s, err := w.flags.setupIn(at.root, files, without)
		if err != nil {
			return nil, err
		}
		if s.carried, err = loadCarried(s, ""); err != nil {
			s.close()
			return nil, err
		}
		return s, nil
	}
	return nil, fmt.Errorf("open %s: %w", at.root, fs.ErrPermission)
}

// input is what is checked of a plan.
func (w *workspace) input(s *sharedSetup, plan string, text []byte, files *os.Root) checker.Input {
	settings := s.effective(plan)
	if len(w.flags.Only) > 0 {
		settings.Rules = onlyRules(settings.Rules, w.flags.Only)
	}
	in := checker.Input{Name: filepath.Base(plan), Bytes: text, Settings: &settings, Carried: s.carried.entries(plan, settings.Carried)}
	if files != nil {
		in.FS = files.FS()
	}
	return in
}

// Check checks the text of one plan. Rules that could not judge are complaints.
func (w *workspace) Check(ctx context.Context, plan string, text []byte) (editor.Result, error) {
	s, at, give, err := w.take(plan)
	if err != nil {
		return editor.Result{}, err
	}
	defer give()
	roomFor(len(text))
	in := w.input(s, plan, text, at.files)
	checked, err := s.checker.Check(ctx, in)
	out := editor.Result{Plan: checked, Hold: cmp.Or(in.Settings.Hold, config.DefaultHold), Complaints: slices.Concat(s.complaints, w.stopped())}
	if at.trouble != nil {
		out.Complaints = append(out.Complaints, fmt.Sprintf("the settings cannot be looked for, so the plan is checked without them: %v", at.trouble))
	}
	var rules *checker.RuleError
	if errors.As(err, &rules) {
		for _, p := range rules.Problems {
			out.Complaints = append(out.Complaints, "a rule cannot be used: "+p.Error())
		}
	}
	var engine *checker.EngineError
	if errors.As(err, &engine) {
		for _, f := range engine.Failures {
			out.Complaints = append(out.Complaints, "a rule could not judge the plan: "+f.Problem.Error())
		}
		w.bury(s, engine.Failures)
	}
	if err != nil && !ofRules(err) {
		return out, err
	}
	if in.Settings.Fixes == fixesNone {
		return out, (&fixing{fixesNone}).fix(ctx, s.checker, in, &out.Plan)
	}
	return out, nil
}

// Prove looks for fixes that hold, unless the settings want none or hints alone.
func (w *workspace) Prove(ctx context.Context, plan string, text []byte, checked editor.Result) (editor.Result, error) {
	s, at, give, err := w.take(plan)
	if err != nil {
		return checked, err
	}
	defer give()
	in := w.input(s, plan, text, at.files)
	how := fixing{cmp.Or(in.Settings.Fixes, fixesProved)}
	err = how.fix(ctx, s.checker, in, &checked.Plan)
	return checked, err
}

// bury leaves house rules out that had to be stopped, until settings or rules
// change: the next key press would only wake them again.
func (w *workspace) bury(s *sharedSetup, failures []policy.Failure) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, f := range failures {
		meta, _ := s.checker.Rule(f.Rule)
		if (f.Reason == policy.Slow || f.Reason == policy.Large) && meta.House && w.dead[f.Rule] == "" {
			w.dead[f.Rule] = f.Problem.Error()
			w.forget(all)
		}
	}
}

// stopped says which rules are left out because they had to be stopped.
func (w *workspace) stopped() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	var out []string
	for _, id := range sortedKeys(w.dead) {
		out = append(out, fmt.Sprintf("rule %s is left out until it changes: %s", id, w.dead[id]))
	}
	return out
}

// Page is a rule's page without its examples, which are too long to hover.
func (w *workspace) Page(plan, id string) (string, bool) {
	s, _, give, err := w.take(plan)
	if err != nil {
		return "", false
	}
	defer give()
	r, ok := s.checker.Rule(id)
	if !ok {
		return "", false
	}
	short := rule.Examples{Meanings: map[string]string{}}
	for _, name := range r.Limits {
		if m, ok := s.checker.ProfileSet().Meaning(name); ok {
			short.Meanings[name] = m.Note
		}
	}
	return strings.TrimSpace(r.Meta.Page(short)), true
}
