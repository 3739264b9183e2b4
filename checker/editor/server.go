package editor

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"runtime"
	"sync"
	"time"

	"github.com/sourcegraph/jsonrpc2"

	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// Judge checks plans for the server. Its methods are called from several
// goroutines. A path is empty for a text that has no place on the disk.
type Judge interface {
	// Folders tells which folders are the workspace. Nothing outside them may
	// be read.
	Folders(paths []string)
	// Check checks one plan's text.
	Check(ctx context.Context, path string, text []byte) (Result, error)
	// Prove returns what Check returned with the fixes that were proved. The
	// server calls it after the findings are shown.
	Prove(ctx context.Context, path string, text []byte, checked Result) (Result, error)
	// Page is a rule's page in Markdown, for a plan.
	Page(path, id string) (string, bool)
	// Forget says that settings, profiles or rules have changed.
	Forget()
}

// Result is the check of one plan.
type Result struct {
	report.Plan
	// Hold is the level from which a finding holds the plan.
	Hold finding.Severity
	// Complaints say what kept the plan from being judged as it should be:
	// settings that cannot be used, rules that failed.
	Complaints []string
}

// Options say how the server works.
type Options struct {
	// Judge checks plans.
	Judge Judge
	// Version is the program's.
	Version string
	// Today is the date of the checks, ISO 8601; the server reads no clock.
	Today string
	// PageURL returns where a rule's page can be read, or nothing; it may be
	// nil.
	PageURL func(id string) string
	// Settle is how long a text must stay as it is before it is checked;
	// nought means [DefaultSettle].
	Settle time.Duration
	// Rest is how long findings must have stood before fixes are looked for;
	// nought means [DefaultRest].
	Rest time.Duration
	// Log receives what only a developer wants to know; nil means nowhere.
	Log io.Writer
}

// DefaultSettle is short enough to feel immediate, and long enough that a burst
// of edits is one check.
const DefaultSettle = 10 * time.Millisecond

// DefaultRest is long enough that nobody who goes on typing has to share the
// machine with a search for fixes.
const DefaultRest = 250 * time.Millisecond

// ErrNoShutdown means that the editor ended the session without asking for the
// end first, which the protocol calls an error.
var ErrNoShutdown = errors.New("the editor left without a shutdown request")

// Server is one editor's session.
type Server struct {
	options Options
	log     *log.Logger
	ready   chan struct{} // closed when conn is there
	conn    *jsonrpc2.Conn
	ctx     context.Context
	stop    context.CancelFunc
	work    sync.WaitGroup
	// checks and proofs bound how many are under way.
	checks, proofs chan struct{}
	// out is held while findings are sent, so that they arrive in order.
	out sync.Mutex

	mu      sync.Mutex // guards what follows, and the files' own
	files   map[string]*file
	folders []string
	client  client
	begun   bool // initialize has been answered
	ended   bool // shutdown has been answered
}

// Serve runs one session on a stream until the editor ends it, the stream
// closes, or ctx ends. Nothing that it started outlives it. It returns
// [ErrNoShutdown] when the editor did not ask for the end.
func Serve(ctx context.Context, stream io.ReadWriteCloser, options Options) error {
	if options.Settle <= 0 {
		options.Settle = DefaultSettle
	}
	if options.Rest <= 0 {
		options.Rest = DefaultRest
	}
	if options.Log == nil {
		options.Log = io.Discard
	}
	s := &Server{options: options, log: log.New(options.Log, "duskproof: ", 0), ready: make(chan struct{}),
		checks: make(chan struct{}, runtime.GOMAXPROCS(0)), proofs: make(chan struct{}, 1),
		files: map[string]*file{}}
	s.ctx, s.stop = context.WithCancel(ctx)
	defer s.stop()
	objects := jsonrpc2.NewBufferedStream(stream, framing{mostMessage, func(message string) { s.log.Print(message) }})
	s.conn = jsonrpc2.NewConn(s.ctx, objects, jsonrpc2.HandlerWithError(s.handle).SuppressErrClosed(), jsonrpc2.SetLogger(s.log))
	close(s.ready)
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
	s.mu.Lock()
	defer s.mu.Unlock()
	if ctx.Err() == nil && !s.ended {
		return ErrNoShutdown
	}
	return ctx.Err()
}

// The protocol's own error codes.
const (
	codeNotInitialized = -32002
	codeRequestFailed  = -32803
)

// handle answers one message. A failure of our own is an answer, not an end.
func (s *Server) handle(_ context.Context, _ *jsonrpc2.Conn, r *jsonrpc2.Request) (answer any, err error) {
	<-s.ready
	defer func() {
		if cause := recover(); cause != nil {
			s.log.Printf("%q: %v", r.Method, cause)
			answer, err = nil, &jsonrpc2.Error{Code: jsonrpc2.CodeInternalError, Message: r.Method + " failed"}
		}
	}()
	if refusal := s.refuse(r); refusal != nil {
		return nil, refusal
	}
	switch r.Method {
	case "initialize":
		return s.initialize(r)
	case "initialized":
		s.watchFiles()
		return nil, nil
	case "shutdown":
		s.mu.Lock()
		s.ended = true
		s.mu.Unlock()
		return nil, nil
	case "exit":
		s.stop()
		return nil, nil
	}
	if r.Notif {
		return nil, s.note(r)
	}
	return s.ask(r)
}

// refuse keeps to the order of a session: initialize first, and nothing but
// exit after shutdown.
func (s *Server) refuse(r *jsonrpc2.Request) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case r.Method == "exit":
		return nil
	case s.ended && r.Notif, !s.begun && r.Notif:
		return &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidRequest, Message: r.Method + " is out of place"}
	case s.ended:
		return &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidRequest, Message: "the session has been shut down"}
	case !s.begun && r.Method != "initialize":
		return &jsonrpc2.Error{Code: codeNotInitialized, Message: "initialize comes first"}
	case s.begun && r.Method == "initialize":
		return &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidRequest, Message: "initialize comes once"}
	}
	return nil
}

// note takes in what the editor tells. What it does not know it passes over.
func (s *Server) note(r *jsonrpc2.Request) error {
	switch r.Method {
	case "textDocument/didOpen":
		return with(r, s.open)
	case "textDocument/didChange":
		return with(r, s.change)
	case "textDocument/didClose":
		return with(r, func(p openParams) { s.close(p.TextDocument.URI) })
	case "workspace/didChangeWorkspaceFolders":
		return with(r, s.changeFolders)
	case "workspace/didChangeWatchedFiles":
		return with(r, s.changeFiles)
	case "workspace/didChangeConfiguration":
		s.options.Judge.Forget()
		s.recheck()
	}
	return nil
}

// ask answers the requests about an open plan.
func (s *Server) ask(r *jsonrpc2.Request) (any, error) {
	switch r.Method {
	case "textDocument/hover":
		return about(s, r, s.hover)
	case "textDocument/definition":
		return about(s, r, s.definition)
	case "textDocument/references":
		return about(s, r, s.references)
	case "textDocument/prepareRename":
		return about(s, r, s.prepareRename)
	case "textDocument/rename":
		return about(s, r, s.rename)
	case "textDocument/documentSymbol":
		return about(s, r, s.symbols)
	case "textDocument/codeAction":
		return about(s, r, s.actions)
	}
	return nil, &jsonrpc2.Error{Code: jsonrpc2.CodeMethodNotFound, Message: "duskproof does not know " + r.Method}
}

// asking is the parameters of a request about a document.
type asking interface{ document() string }

// about answers a request on an open plan, under the lock. Of other files it
// knows nothing.
func about[P asking](s *Server, r *jsonrpc2.Request, answer func(*file, P) (any, error)) (any, error) {
	var out any
	var failed error
	err := with(r, func(p P) {
		s.mu.Lock()
		defer s.mu.Unlock()
		if f := s.files[p.document()]; f != nil {
			out, failed = answer(f, p)
		}
	})
	if err != nil {
		return nil, err
	}
	return out, failed
}

// with decodes the parameters of a message.
func with[P any](r *jsonrpc2.Request, f func(P)) error {
	var params P
	if r.Params == nil {
		return &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidParams, Message: r.Method + " needs parameters"}
	}
	if err := json.Unmarshal(*r.Params, &params); err != nil {
		return &jsonrpc2.Error{Code: jsonrpc2.CodeInvalidParams, Message: fmt.Sprintf("%s: %v", r.Method, err)}
	}
	f(params)
	return nil
}

// failed is the answer to a request that cannot be done.
func failed(format string, args ...any) error {
	return &jsonrpc2.Error{Code: codeRequestFailed, Message: fmt.Sprintf(format, args...)}
}
