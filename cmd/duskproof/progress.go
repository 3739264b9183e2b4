package main

import (
	"fmt"
	"io"
	"os"
	"sync"

	"golang.org/x/term"
)

// longBatch is how many plans are worth a count of those that are done.
const longBatch = 50

// progress counts plans on a terminal, in place. A nil progress says nothing.
type progress struct {
	mutex       sync.Mutex
	w           io.Writer
	done, total int
}

// newProgress starts a count when the batch is long and w is a terminal.
func newProgress(w io.Writer, total int) *progress {
	file, ok := w.(*os.File)
	if total < longBatch || !ok || !term.IsTerminal(int(file.Fd())) {
		return nil
	}
	return &progress{w: w, total: total}
}

// step counts one plan; the count is shown a hundred times at most.
func (p *progress) step() {
	if p == nil {
		return
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	before := p.done * 100 / p.total
	p.done++
	if p.done*100/p.total > before {
		fmt.Fprintf(p.w, "\r%s", p.words())
	}
}

func (p *progress) words() string { return fmt.Sprintf("checked %d of %d plans", p.done, p.total) }

// end takes the count away.
func (p *progress) end() {
	if p == nil {
		return
	}
	p.mutex.Lock()
	defer p.mutex.Unlock()
	fmt.Fprintf(p.w, "\r%*s\r", len(p.words()), "")
}
