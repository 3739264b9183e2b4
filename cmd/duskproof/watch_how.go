package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

// notifier is told by the system. It watches folders and not files, since many
// editors save by putting a new file in the place of the old one.
type notifier struct {
	*fsnotify.Watcher
	known map[string]bool
}

func (n *notifier) close() { _ = n.Watcher.Close() }

func (n *notifier) add(folders []string) error {
	for _, folder := range folders {
		if n.known[folder] {
			continue
		}
		if err := n.Watcher.Add(folder); err != nil {
			if _, gone := os.Stat(folder); gone != nil {
				continue
			}
			return fmt.Errorf("watch %s: %w; try --poll 1s", folder, err)
		}
		n.known[folder] = true
	}
	return nil
}

func (n *notifier) wait(ctx context.Context, ours func(string) bool) (signs, error) {
	var seen signs
	var quiet <-chan time.Time
	for {
		select {
		case <-ctx.Done():
			return seen, ctx.Err()
		case err := <-n.Errors:
			return seen, fmt.Errorf("watch: %w; try --poll 1s", err)
		case event := <-n.Events:
			if event.Op == fsnotify.Chmod || ours(event.Name) {
				continue
			}
			if event.Has(fsnotify.Remove) || event.Has(fsnotify.Rename) {
				delete(n.known, event.Name) // a folder of that name would be a new one
			}
			seen.settings = seen.settings || settingsChange(event.Name)
			quiet = time.After(settle)
		case <-quiet:
			return seen, nil
		}
	}
}

// poller looks by itself, for folders whose system tells nothing.
type poller struct {
	every   time.Duration
	folders []string
	state   map[string]stamp
}

// stamp is what changes when a file is saved.
type stamp struct {
	size    int64
	changed time.Time
}

func (p *poller) close() {}

func (p *poller) add(folders []string) error {
	p.folders = folders
	if p.state == nil {
		p.state = p.look()
	}
	return nil
}

func (p *poller) wait(ctx context.Context, ours func(string) bool) (signs, error) {
	tick := time.NewTicker(p.every)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return signs{}, ctx.Err()
		case <-tick.C:
		}
		now := p.look()
		seen, any := differs(p.state, now, ours)
		p.state = now
		if any {
			return seen, nil
		}
	}
}

// look notes every file in the folders.
func (p *poller) look() map[string]stamp {
	state := map[string]stamp{}
	for _, folder := range p.folders {
		entries, err := os.ReadDir(folder)
		if err != nil {
			continue // it may have gone meanwhile
		}
		for _, entry := range entries {
			path := filepath.Join(folder, entry.Name())
			info, err := entry.Info()
			if err != nil || strings.HasPrefix(entry.Name(), ".git") {
				continue
			}
			if info.Mode()&fs.ModeSymlink != 0 {
				if to, err := os.Stat(path); err == nil {
					info = to
				}
			}
			state[path] = stamp{info.Size(), info.ModTime()}
		}
	}
	return state
}

// differs says what differs between two looks.
func differs(old, now map[string]stamp, ours func(string) bool) (seen signs, any bool) {
	for path, s := range now {
		if old[path] != s && !ours(path) {
			any, seen.settings = true, seen.settings || settingsChange(path)
		}
	}
	for path := range old {
		if _, still := now[path]; !still && !ours(path) {
			any, seen.settings = true, seen.settings || settingsChange(path)
		}
	}
	return seen, any
}
