package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// repository asks the git command about one working tree. No shell is involved,
// and no hook, pager or helper of the repository is run.
type repository struct{ top string }

// openRepository finds the working tree that a folder is in.
func openRepository(ctx context.Context, folder string) (*repository, error) {
	r := &repository{folder}
	out, err := r.git(ctx, "rev-parse", "--show-toplevel")
	if err != nil {
		return nil, fmt.Errorf("%s is in no git working tree: %w", folder, err)
	}
	r.top = filepath.FromSlash(strings.TrimSuffix(string(out), "\n"))
	return r, nil
}

// git runs the git command and returns what it prints.
func (r *repository) git(ctx context.Context, args ...string) ([]byte, error) {
	safe := []string{"-C", r.top, "--no-pager", "-c", "core.fsmonitor=false", "-c", "core.hooksPath=" + os.DevNull}
	command := exec.CommandContext(ctx, "git", append(safe, args...)...)
	command.Env = append(os.Environ(), "GIT_OPTIONAL_LOCKS=0", "LC_ALL=C")
	var out, complaints bytes.Buffer
	command.Stdout, command.Stderr = &out, &complaints
	err := command.Run()
	if errors.Is(err, exec.ErrNotFound) {
		return nil, errors.New("the git command is not installed")
	}
	if err != nil {
		if said := strings.TrimSpace(complaints.String()); said != "" {
			return nil, errors.New(said)
		}
		return nil, fmt.Errorf("git %s: %w", args[0], err)
	}
	return out.Bytes(), nil
}

// since turns a revision into the commit that changes are counted from: where
// the present branch left it, or the revision itself when they share no past.
func (r *repository) since(ctx context.Context, revision string) (string, error) {
	commit, err := r.git(ctx, "rev-parse", "--verify", "--quiet", "--end-of-options", revision+"^{commit}")
	if err != nil {
		return "", fmt.Errorf("there is no revision %q", revision)
	}
	from := strings.TrimSpace(string(commit))
	if base, err := r.git(ctx, "merge-base", from, "HEAD"); err == nil {
		from = strings.TrimSpace(string(base))
	}
	return from, nil
}

// changed lists the files that are not as they were in a commit, those that are
// gone and those that git does not know yet among them, by their path from the
// top, with forward slashes.
func (r *repository) changed(ctx context.Context, commit string) ([]string, error) {
	known, err := r.git(ctx, "diff", "--name-only", "-z", "--no-renames", "--no-ext-diff", "--no-textconv", "--ignore-submodules", commit, "--")
	if err != nil {
		return nil, err
	}
	added, err := r.git(ctx, "ls-files", "-z", "--others", "--exclude-standard", "--full-name")
	if err != nil {
		return nil, err
	}
	var files []string
	for name := range strings.SplitSeq(string(known)+string(added), "\x00") {
		if name != "" {
			files = append(files, name)
		}
	}
	return files, nil
}

// show reads a file as it was in a commit; false when it was not there.
func (r *repository) show(ctx context.Context, commit, name string) ([]byte, bool, error) {
	object := commit + ":" + name
	if _, err := r.git(ctx, "cat-file", "-e", object); err != nil {
		return nil, false, ctx.Err()
	}
	data, err := r.git(ctx, "cat-file", "blob", object)
	return data, true, err
}

// name is a file's path from the top, with forward slashes; false when it is
// outside the working tree. Links on the way are followed, as git does.
func (r *repository) name(file string) (string, bool) {
	absolute, err := filepath.Abs(file)
	if err != nil {
		return "", false
	}
	folder, err := filepath.EvalSymlinks(filepath.Dir(absolute))
	if err != nil {
		return "", false
	}
	relative, err := filepath.Rel(r.top, filepath.Join(folder, filepath.Base(absolute)))
	if err != nil || !filepath.IsLocal(relative) {
		return "", false
	}
	return filepath.ToSlash(relative), true
}
