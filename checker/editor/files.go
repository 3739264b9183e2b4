package editor

import (
	"context"
	"fmt"
	"reflect"
	"time"
)

// file is one open plan. A goroutine of its own attends to it, so that checks of
// one plan come one after the other.
type file struct {
	uri, path string
	ctx       context.Context // ends when the plan is closed
	stop      context.CancelFunc
	wake      chan struct{} // holds one when there is something to check

	// The server's lock guards these.
	version int
	edit    int // counts the texts, and what else asks for a new check
	data    []byte
	doc     *document          // of data, made when first wanted
	cancel  context.CancelFunc // of the check or proof under way
	latest  *outcome           // of the present text
	good    *outcome           // the last one that was computed
	shown   []Diagnostic
}

// outcome is the check of one text.
type outcome struct {
	Result
	doc  *document
	edit int
}

// document is a text with its places and names.
type document struct {
	*text
	tree *tree
	book *book
}

func newDocument(data []byte) *document {
	t := newTree(data)
	return &document{newText(data), t, newBook(t)}
}

// document is the present text; the server's lock is held.
func (f *file) document() *document {
	if f.doc == nil {
		f.doc = newDocument(f.data)
	}
	return f.doc
}

func (s *Server) open(p openParams) {
	d := p.TextDocument
	if !isPlan(d.URI) {
		return
	}
	s.close(d.URI) // in case it is open already
	f := &file{uri: d.URI, path: pathOf(d.URI), wake: make(chan struct{}, 1)}
	f.ctx, f.stop = context.WithCancel(s.ctx)
	s.mu.Lock()
	s.files[f.uri] = f
	f.take(d.Version, []byte(d.Text))
	s.mu.Unlock()
	s.work.Go(func() { s.attend(f) })
}

func (s *Server) change(p changeParams) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f := s.files[p.TextDocument.URI]
	if f == nil || len(p.ContentChanges) == 0 {
		return
	}
	f.take(p.TextDocument.Version, []byte(p.ContentChanges[len(p.ContentChanges)-1].Text))
}

// take takes a text in; the server's lock is held.
func (f *file) take(version int, data []byte) {
	f.version, f.data, f.doc = version, data, nil
	f.due()
}

// due asks for a check of the present text and cancels the one under way; the
// server's lock is held.
func (f *file) due() {
	f.edit++
	f.latest = nil
	if f.cancel != nil {
		f.cancel()
	}
	select {
	case f.wake <- struct{}{}:
	default:
	}
}

// recheck checks every open plan again.
func (s *Server) recheck() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, f := range s.files {
		f.due()
	}
}

// close forgets a plan and clears its findings.
func (s *Server) close(uri string) {
	s.mu.Lock()
	f := s.files[uri]
	delete(s.files, uri)
	s.mu.Unlock()
	if f == nil {
		return
	}
	f.stop()
	s.out.Lock()
	defer s.out.Unlock()
	s.send("textDocument/publishDiagnostics", publishParams{URI: uri, Diagnostics: []Diagnostic{}})
}

// attend checks a plan whenever its text has settled, until it is closed.
func (s *Server) attend(f *file) {
	defer f.stop()
	for s.settled(f) {
		s.check(f)
	}
}

// settled waits for a new text, and until no newer one has come for a moment;
// false when the plan is closed.
func (s *Server) settled(f *file) bool {
	select {
	case <-f.wake:
	case <-f.ctx.Done():
		return false
	}
	for {
		select {
		case <-f.wake:
		case <-f.ctx.Done():
			return false
		case <-time.After(s.options.Settle):
			return true
		}
	}
}

// begin notes which text is checked, and how to cancel that.
func (s *Server) begin(f *file) (ctx context.Context, cancel context.CancelFunc, data []byte, edit int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	ctx, cancel = context.WithCancel(f.ctx)
	f.cancel = cancel
	select {
	case <-f.wake: // it is this text that was waiting
	default:
	}
	return ctx, cancel, f.data, f.edit
}

// check checks the present text and shows the findings. Fixes are looked for
// beside what comes next, so that a new text need not wait for the end of that.
func (s *Server) check(f *file) {
	ctx, cancel, data, edit := s.begin(f)
	result, err := s.limited(ctx, s.checks, func() (Result, error) { return s.options.Judge.Check(ctx, f.path, data) })
	if ctx.Err() != nil {
		cancel()
		return
	}
	if err != nil {
		result.Complaints = append(result.Complaints, "the plan could not be checked: "+err.Error())
	}
	checked := &outcome{Result: result, doc: newDocument(data), edit: edit}
	if !s.show(f, checked) || result.Facts == nil {
		cancel()
		return
	}
	s.work.Go(func() {
		defer cancel()
		s.prove(ctx, f, checked)
	})
}

// prove looks for fixes once the text has rested, and shows what was found.
func (s *Server) prove(ctx context.Context, f *file, checked *outcome) {
	select {
	case <-ctx.Done():
		return
	case <-time.After(s.options.Rest):
	}
	proved, err := s.limited(ctx, s.proofs, func() (Result, error) {
		return s.options.Judge.Prove(ctx, f.path, checked.doc.data, checked.Result)
	})
	switch {
	case ctx.Err() != nil:
	case err != nil:
		s.log.Printf("%s: no fixes could be proved: %v", f.uri, err)
	default:
		s.show(f, &outcome{Result: proved, doc: checked.doc, edit: checked.edit})
	}
}

// limited runs work when there is room for it. A failure of our own is an error
// and ends nothing.
func (s *Server) limited(ctx context.Context, room chan struct{}, work func() (Result, error)) (result Result, err error) {
	select {
	case room <- struct{}{}:
	case <-ctx.Done():
		return Result{}, ctx.Err()
	}
	defer func() {
		<-room
		if cause := recover(); cause != nil {
			err = fmt.Errorf("the program failed: %v", cause)
		}
	}()
	return work()
}

// show keeps an outcome and shows its findings; false when the text has changed
// since, or the plan is closed.
func (s *Server) show(f *file, o *outcome) bool {
	diagnostics := s.diagnostics(f, o)
	s.out.Lock()
	defer s.out.Unlock()
	s.mu.Lock()
	if s.files[f.uri] != f || f.edit != o.edit {
		s.mu.Unlock()
		return false
	}
	again := f.latest != nil && reflect.DeepEqual(f.shown, diagnostics)
	f.latest, f.doc, f.shown = o, o.doc, diagnostics
	if o.Facts != nil {
		f.good = o
	}
	version := f.version
	s.mu.Unlock()
	if !again {
		s.send("textDocument/publishDiagnostics", publishParams{URI: f.uri, Version: &version, Diagnostics: diagnostics})
	}
	return true
}

// send tells the editor something. A stream that has closed is no error here: the
// session is about to end.
func (s *Server) send(method string, params any) {
	if err := s.conn.Notify(s.ctx, method, params); err != nil && s.ctx.Err() == nil {
		s.log.Printf("%s: %v", method, err)
	}
}
