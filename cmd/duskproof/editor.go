package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/url"
	"path/filepath"
	"strings"
	"time"

	"duskproof/checker"
	"duskproof/checker/editor"
)

// editorCommand is "duskproof editor".
type editorCommand struct {
	judging
	Pages  string        `help:"Where rule pages can be read, a folder or an address; findings link to PLACE/RULE.md." placeholder:"PLACE"`
	Settle time.Duration `help:"How long a text must stay as it is before it is checked; 10ms otherwise." placeholder:"DURATION"`
	Stdio  bool          `help:"Speak on standard input and output. It always does; some editors ask for it."`
}

// Run serves one editor until it leaves.
func (c *editorCommand) Run(ctx context.Context, std streams) error {
	var err error
	if c.Today, err = today(c.Today); err != nil {
		return err
	}
	if _, err := c.flags(); err != nil {
		return err
	}
	if c.Settle < 0 || c.Settle > time.Minute {
		return flagError{fmt.Errorf("--settle: %s; a minute at most", c.Settle)}
	}
	pages, err := pageURL(c.Pages)
	if err != nil {
		return err
	}
	judge, err := newWorkspace(&c.judging)
	if err != nil {
		return err
	}
	defer judge.close()
	staySmall()
	err = editor.Serve(ctx, newStdio(std), editor.Options{
		Judge: judge, Version: checker.Version, Today: c.Today, PageURL: pages, Settle: c.Settle, Log: std.err,
	})
	if errors.Is(err, editor.ErrNoShutdown) {
		return statusError(1) // as the protocol has it
	}
	return err
}

// pageURL makes the address of a rule's page from the place where pages are.
func pageURL(place string) (func(id string) string, error) {
	if place == "" {
		return nil, nil
	}
	base, err := url.Parse(place)
	if err != nil || base.Scheme == "" || len(base.Scheme) == 1 { // "C:\pages" is a folder
		folder, err := filepath.Abs(place)
		if err != nil {
			return nil, flagError{fmt.Errorf("--pages: %w", err)}
		}
		folder = filepath.ToSlash(folder)
		if !strings.HasPrefix(folder, "/") {
			folder = "/" + folder
		}
		base = &url.URL{Scheme: "file", Path: folder}
	}
	return func(id string) string { return base.JoinPath(id + ".md").String() }, nil
}

// stdio is standard input and output as one stream.
type stdio struct {
	io.Reader
	io.Writer
	stop context.CancelFunc
}

// newStdio reads from standard input until it is closed, though the terminal or
// the editor at its other end may never do so.
func newStdio(std streams) stdio {
	ctx, stop := context.WithCancel(context.Background())
	return stdio{interruptible{ctx, std.in}, std.out, stop}
}

// Close ends reading.
func (s stdio) Close() error {
	s.stop()
	return nil
}
