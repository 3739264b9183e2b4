package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

// settle is how long nothing may change before a round begins: editors save in
// several steps.
const settle = 80 * time.Millisecond

// mostFolders bounds how many folders are watched.
const mostFolders = 5000

// usesWatch refuses flags that do not go with --watch.
func (c *checkCommand) usesWatch() error {
	switch {
	case c.Poll != 0 && !c.Watch:
		return flagError{errors.New("--poll goes with --watch")}
	case c.Poll < 0 || c.Poll > 0 && c.Poll < 10*time.Millisecond:
		return flagError{fmt.Errorf("--poll: %s is too short; 10ms or more", c.Poll)}
	case !c.Watch:
		return nil
	case slices.Contains(c.Paths, "-"):
		return flagError{errors.New("--watch and standard input do not go together")}
	case len(c.Paths) == 0 && c.ChangedSince == "":
		return flagError{errors.New("--watch: name the plans or folders to watch")}
	}
	return nil
}

// watch checks, waits for a change, and checks again, until the user interrupts.
// The rules stay compiled until a rule, a profile or the settings change.
func (c *checkCommand) watch(ctx context.Context, outputs []output, std streams) error {
	var set *setup
	var changed signs
	defer func() {
		if set != nil {
			set.close()
		}
	}()
	watcher, err := c.newWatcher()
	if err != nil {
		return err
	}
	defer watcher.close()
	for {
		if set == nil || changed.settings {
			if set != nil {
				set.close()
			}
			if set, err = c.open(); err != nil {
				set = nil
			}
		}
		if watch := watcher.add(c.watched(set)); watch != nil { // before the round, so that no change is missed
			return watch
		}
		if err == nil {
			_, err = c.round(ctx, set, outputs, std)
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			fmt.Fprintf(std.err, "duskproof: %v\n", err)
		}
		fmt.Fprintln(std.err, "watching; end with Ctrl-C")
		if changed, err = watcher.wait(ctx, c.ours(outputs)); err != nil {
			return err
		}
	}
}

// signs is what a wait ended with.
type signs struct {
	settings bool // a file that every plan is judged by
}

// watcher tells when files change.
type watcher interface {
	// add watches folders, each once.
	add(folders []string) error
	// wait returns when something changed and nothing has changed for a
	// moment; ours are files that the command itself writes.
	wait(ctx context.Context, ours func(string) bool) (signs, error)
	close()
}

func (c *checkCommand) newWatcher() (watcher, error) {
	if c.Poll > 0 {
		return &poller{every: c.Poll}, nil
	}
	notify, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, fmt.Errorf("watch: %w; try --poll 1s", err)
	}
	return &notifier{notify, map[string]bool{}}, nil
}

// watched lists the folders in which something may change: those of the plans
// and below, the settings' own, and those of rules and profiles.
func (c *checkCommand) watched(set *setup) []string {
	var folders []string
	add := func(path string) {
		if info, err := os.Stat(path); err != nil || !info.IsDir() {
			path = filepath.Dir(path)
			folders = append(folders, path)
			return
		}
		folders = append(folders, foldersBelow(path)...)
	}
	for _, path := range c.Paths {
		add(path)
	}
	if len(c.Paths) == 0 {
		add(".")
	}
	for _, folder := range c.Rules {
		add(folder)
	}
	if set != nil {
		folders = append(folders, set.root)
		for _, folder := range slices.Concat(set.config.RuleFolders, set.config.ProfileFolders) {
			add(filepath.Join(set.root, filepath.FromSlash(folder)))
		}
	}
	slices.Sort(folders)
	return slices.Compact(folders)
}

// foldersBelow lists a folder and those below it, without the hidden ones.
func foldersBelow(root string) []string {
	var folders []string
	_ = filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return nil //nolint:nilerr // it may have gone meanwhile
		case !entry.IsDir():
			return nil
		case path != root && strings.HasPrefix(entry.Name(), "."), len(folders) >= mostFolders:
			return filepath.SkipDir
		}
		folders = append(folders, path)
		return nil
	})
	return folders
}

// ours tells the command's own output files from others.
func (c *checkCommand) ours(outputs []output) func(string) bool {
	own := map[string]bool{}
	for _, o := range outputs {
		if o.file != "" {
			if absolute, err := filepath.Abs(o.file); err == nil {
				own[absolute] = true
			}
		}
	}
	return func(path string) bool {
		absolute, err := filepath.Abs(path)
		return err != nil || own[absolute] || strings.HasPrefix(filepath.Base(path), ".duskproof-")
	}
}

// settingsChange reports whether a file is one that plans are judged by.
func settingsChange(path string) bool {
	return !strings.HasSuffix(path, planEnding) && (strings.HasSuffix(path, ".json") || strings.HasSuffix(path, ".rego"))
}
