package main

import (
	"context"
	"io"
)

// interruptible reads from a source that may never end, such as a terminal,
// until the command is interrupted.
type interruptible struct {
	ctx  context.Context
	from io.Reader
}

// Read returns what the source gives, or the context's error as soon as the
// command is interrupted; the read under way is then left behind.
func (r interruptible) Read(p []byte) (int, error) {
	type answer struct {
		n   int
		err error
	}
	buffer, done := make([]byte, len(p)), make(chan answer, 1)
	go func() {
		n, err := r.from.Read(buffer)
		done <- answer{n, err}
	}()
	select {
	case a := <-done:
		return copy(p, buffer[:a.n]), a.err
	case <-r.ctx.Done():
		return 0, r.ctx.Err()
	}
}
