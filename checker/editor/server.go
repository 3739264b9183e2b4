package editor

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"sync"
	"time"

	"github.com/sourcegraph/jsonrpc2"

	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// Options say how the server works.
type Options struct {
	// Version is the program's.
	Version string
	// Today is the date of the checks, ISO 8601; the server reads no clock.
	Today string
	// Check checks one plan's text; path is the file's path on disk.
	Check func(ctx context.Context, path string, text []byte) (report.Plan, error)
	// Prove returns proved fixes by finding; nil when there are none to be
	// had. It runs after the findings are shown.
	Prove func(ctx context.Context, path string, text []byte) (map[finding.Identity][]finding.Fix, error)
	// Page returns a rule's page in Markdown.
	Page func(id string) (string, bool)
	// PageURL returns where a rule's page can be read; it may be nil.
	PageURL func(id string) string
	// Inside reports whether a file may be read: it lies in the workspace.
	// It is told the workspace's folders when the editor names them.
	Inside func(folders []string, path string) bool
	// Settle is how long a text must stay as it is before it is checked;
	// nought means the default.
	Settle time.Duration
}

// defaultSettle is short enough to feel immediate and long enough that typing
// does not start a check with every key.
const defaultSettle = 25 * time.Millisecond

// Server is one editor's session.
type Server struct {
	options Options
	conn    *jsonrpc2.Conn
	mu      sync.Mutex
	files   map[string]*file
	folders []string
	work    sync.WaitGroup
	ended   bool
	stop    context.CancelFunc
	ctx     context.Context
}

// file is one open plan.
type file struct {
	uri, path string
	version   int
	text      []byte
	cancel    context.CancelFunc // of the check under way
	// good is the last result with facts, and the text it is of.
	good     *report.Plan
	goodText []byte
	// latest is the result of the present text, when it is known.
	latest *report.Plan
	fixes  map[finding.Identity][]finding.Fix
}

// Serve runs one session on a stream until the editor ends it, the stream
// closes, or ctx ends. No goroutine outlives it.
func Serve(ctx context.Context, stream io.ReadWriteCloser, options Options) error {
	if options.Settle <= 0 {
		options.Settle = defaultSettle
	}
	s := &Server{options: options, files: map[string]*file{}}
	s.ctx, s.stop = context.WithCancel(ctx)
	defer s.stop()
	handler := jsonrpc2.HandlerWithError(s.handle).SuppressErrClosed()
	s.conn = jsonrpc2.NewConn(s.ctx, jsonrpc2.NewBufferedStream(stream, jsonrpc2.VSCodeObjectCodec{}), handler)
	select {
	case <-s.conn.DisconnectNotify():
	case <-s.ctx.Done():
	}
	s.stop()
	err := s.conn.Close()
	s.work.Wait()
	if err != nil && !errors.Is(err, jsonrpc2.ErrClosed) {
		return fmt.Errorf("close the editor's stream: %w", err)
	}
	return nil
}

// handle answers one message.
func (s *Server) handle(_ context.Context, _ *jsonrpc2.Conn, r *jsonrpc2.Request) (any, error) {
	switch r.Method {
	case "initialize":
		return s.initialize(r)
	case "initialized", "$/setTrace", "$/cancelRequest", "textDocument/didSave", "workspace/didChangeConfiguration":
		return nil, nil
	case "shutdown":
		s.mu.Lock()
		s.ended = true
		s.mu.Unlock()
		return nil, nil
	case "exit":
		s.stop()
		return nil, nil
	case "textDocument/didOpen":
		return nil, with(r, func(p openParams) error { s.open(p); return nil })
	case "textDocument/didChange":
		return nil, with(r, func(p changeParams) error { s.change(p); return nil })
	case "textDocument/didClose":
		return nil, with(r, func(p openParams) error { s.close(p.TextDocument.URI); return nil })
	}
	return s.ask(r)
}

// ask answers the requests about an open file.
func (s *Server) ask(r *jsonrpc2.Request) (answer any, err error) {
	place := func(f func(*file, placeParams) any) (any, error) {
		err := with(r, func(p placeParams) error {
			answer, err = s.about(p.TextDocument.URI, func(file *file) any { return f(file, p) })
			return err
		})
		return answer, err
	}
	switch r.Method {
	case "textDocument/hover":
		return place(s.hover)
	case "textDocument/definition":
		return place(s.definition)
	case "textDocument/references":
		return place(s.references)
	case "textDocument/rename":
		return place(s.rename)
	case "textDocument/documentSymbol":
		return place(func(f *file, _ placeParams) any { return s.symbols(f) })
	case "textDocument/codeAction":
		err := with(r, func(p actionParams) error {
			answer, err = s.about(p.TextDocument.URI, func(f *file) any { return s.actions(f, p.Range) })
			return err
		})
		return answer, err
	}
	return nil, &jsonrpc2.Error{Code: jsonrpc2.CodeMethodNotFound, Message: "duskproof does not know " + r.Method}
}

// about runs an answer on an open file, under the lock.
func (s *Server) about(uri string, answer func(*file) any) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f := s.files[uri]
	if f == nil {
		return nil, &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidParams, Message: "the file is not open: " + uri}
	}
	return answer(f), nil
}

// with decodes the parameters of a message.
func with[T any](r *jsonrpc2.Request, f func(T) error) error {
	var params T
	if r.Params == nil {
		return &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidParams, Message: r.Method + " needs parameters"}
	}
	if err := json.Unmarshal(*r.Params, &params); err != nil {
		return &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidParams, Message: fmt.Sprintf("%s: %v", r.Method, err)}
	}
	return f(params)
}

func (s *Server) initialize(r *jsonrpc2.Request) (any, error) {
	err := with(r, func(p initializeParams) error {
		s.mu.Lock()
		defer s.mu.Unlock()
		for _, folder := range p.WorkspaceFolders {
			s.folders = append(s.folders, pathOf(folder.URI))
		}
		if len(s.folders) == 0 && p.RootURI != "" {
			s.folders = append(s.folders, pathOf(p.RootURI))
		}
		return nil
	})
	return capabilities(s.options.Version), err
}
