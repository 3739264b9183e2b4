package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"

	"duskproof/checker"
	"duskproof/checker/policy"
	"duskproof/checker/report"
	"duskproof/checker/source"
)

// usesLines refuses flags that do not go with --lines.
func (c *checkCommand) usesLines() error {
	switch {
	case !c.Lines:
		return nil
	case len(c.Paths) > 0, len(c.As) > 0, c.Brief, c.ChangedSince != "", c.Watch:
		return flagError{errors.New("--lines reads plans from standard input and writes reports in JSON; it takes no paths, and not --as, --brief, --changed-since or --watch")}
	}
	return nil
}

// lineOfPlan is one plan on its way through.
type lineOfPlan struct {
	key    []byte // what stood before the plan; nil without
	text   []byte
	result report.Plan
	err    error
	done   chan struct{}
}

// liner checks one plan a line. What it says of a line depends on that line
// alone, so that any split of the input gives the same results.
type liner struct {
	*checkCommand
	set    *setup
	files  fs.FS
	broken []report.RuleProblem
}

// checkLines reads one plan a line and writes one report a line, in the same
// order. A line may begin with a key and a tab: the key names the plan and comes
// back before its report. Blank lines are passed over. No more lines than a few
// for each worker are held at once.
func (c *checkCommand) checkLines(ctx context.Context, set *setup, std streams) error {
	l := &liner{checkCommand: c, set: set}
	if c.Base != "" {
		root, err := set.open(c.Base)
		if err != nil {
			return err
		}
		l.files = root.FS()
	}
	var err error
	if l.broken, err = set.broken(ctx); err != nil {
		return err
	}
	status := c.complain(set.report(nil, l.broken), std.err)
	workers := jobs(c.Jobs)
	queue, work, failed := make(chan *lineOfPlan, 2*workers), make(chan *lineOfPlan), make(chan error, 1)
	for range workers {
		go func() {
			for next := range work {
				next.result, next.err = l.check(ctx, next)
				close(next.done)
			}
		}()
	}
	go func() {
		defer close(queue)
		defer close(work)
		failed <- readLines(ctx, std.in, queue, work)
	}()
	written, err := l.write(ctx, queue, std)
	if err != nil {
		return err
	}
	if err := <-failed; err != nil {
		return fmt.Errorf("read the plans: %w", err)
	}
	return ended(max(status, written))
}

// readLines puts every line into the queue, in order, and out to work.
func readLines(ctx context.Context, in io.Reader, queue, work chan<- *lineOfPlan) error {
	r := bufio.NewReaderSize(in, 64<<10)
	for {
		text, err := readLine(r)
		if len(bytes.TrimSpace(text)) > 0 {
			next := &lineOfPlan{done: make(chan struct{})}
			next.key, next.text = splitKey(text)
			roomFor(len(next.text))
			for _, to := range []chan<- *lineOfPlan{queue, work} {
				select {
				case to <- next:
				case <-ctx.Done():
					return nil
				}
			}
		}
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return err
		}
	}
}

// readLine reads to the end of a line, which it leaves out. Of a line that is
// longer than a plan may be it keeps just enough for that to be seen.
func readLine(r *bufio.Reader) ([]byte, error) {
	most := source.DefaultLimits().MaxBytes + 1
	var text []byte
	for {
		piece, err := r.ReadSlice('\n')
		if room := most + maxKey - len(text); len(piece) > room {
			piece = piece[:max(room, 0)]
		}
		text = append(text, piece...)
		if !errors.Is(err, bufio.ErrBufferFull) {
			return bytes.TrimRight(text, "\r\n"), err
		}
	}
}

// maxKey is the longest key, in bytes.
const maxKey = 4096

// splitKey parts a line into its key and its plan. A line that begins with a
// brace has no key.
func splitKey(text []byte) (key, plan []byte) {
	if text[0] == '{' {
		return nil, text
	}
	if at := bytes.IndexByte(text[:min(len(text), maxKey)], '\t'); at >= 0 {
		return text[:at], text[at+1:]
	}
	return nil, text
}

// check checks one line.
func (l *liner) check(ctx context.Context, next *lineOfPlan) (report.Plan, error) {
	name := l.Name
	if next.key != nil {
		name = string(bytes.ToValidUTF8(next.key, []byte("\uFFFD")))
	}
	if policy.Runaways() > 0 {
		return unstopped(name)
	}
	place := filepath.Join(l.Base, filepath.FromSlash(name))
	settings := l.set.effective(place)
	if len(l.Only) > 0 {
		settings.Rules = onlyRules(settings.Rules, l.Only)
	}
	return l.set.checker.Check(ctx, checker.Input{
		Name: name, Bytes: next.text, FS: l.files, Settings: &settings,
		Carried: l.set.carried.entries(place, settings.Carried),
	})
}

// write writes the results in order and returns the exit status. It keeps
// nothing back while the reader waits for more.
func (l *liner) write(ctx context.Context, queue <-chan *lineOfPlan, std streams) (int, error) {
	out := bufio.NewWriterSize(std.out, 64<<10)
	status := exitFine
	for {
		if len(queue) == 0 {
			if err := out.Flush(); err != nil {
				return exitFailed, fmt.Errorf("write the reports: %w", err)
			}
		}
		select {
		case <-ctx.Done():
			return exitInterrupted, errors.Join(ctx.Err(), out.Flush())
		case next, more := <-queue:
			if !more {
				return status, nil
			}
			select {
			case <-next.done:
			case <-ctx.Done():
				return exitInterrupted, errors.Join(ctx.Err(), out.Flush())
			}
			if err := ctx.Err(); err != nil {
				return exitInterrupted, errors.Join(err, out.Flush())
			}
			status = max(status, l.statusOf(next, std.err))
			if err := l.writeOne(out, next); err != nil {
				return exitFailed, fmt.Errorf("write the reports: %w", err)
			}
		}
	}
}

// statusOf is the exit status that one line asks for.
func (l *liner) statusOf(next *lineOfPlan, w io.Writer) int {
	status := statusOf(next.result.Verdict)
	if len(next.result.Failed) > 0 {
		status = max(status, exitUnusable)
	}
	if next.err != nil && !ofRules(next.err) {
		status = max(status, statusOfFailures([]error{next.err}, w))
	}
	return status
}

func (l *liner) writeOne(w *bufio.Writer, next *lineOfPlan) error {
	if next.key != nil {
		if _, err := w.Write(append(next.key, '\t')); err != nil {
			return err
		}
	}
	return report.JSONLine(w, l.set.report([]report.Plan{next.result}, l.broken))
}
