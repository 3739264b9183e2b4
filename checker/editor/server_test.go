package editor

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// patience is how long a test waits before it gives up; nothing is measured by
// it.
const patience = 2 * time.Minute

const plan1 = "file:///work/a.lighting.json"

// stub is a judge that a test holds in its hand.
type stub struct {
	check   func(ctx context.Context, text string) (Result, error)
	prove   func(ctx context.Context, checked Result) (Result, error)
	mu      sync.Mutex
	folders []string
	texts   []string // that were checked
	forgot  int
}

func (s *stub) Folders(paths []string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.folders = paths
}

func (s *stub) Check(ctx context.Context, _ string, text []byte) (Result, error) {
	s.mu.Lock()
	s.texts = append(s.texts, string(text))
	s.mu.Unlock()
	if s.check == nil {
		return say(string(text)), nil
	}
	return s.check(ctx, string(text))
}

func (s *stub) Prove(ctx context.Context, _ string, _ []byte, checked Result) (Result, error) {
	if s.prove == nil {
		return checked, nil
	}
	return s.prove(ctx, checked)
}

func (s *stub) Page(_, id string) (string, bool) { return "page of " + id, id == "a.rule" }

func (s *stub) Forget() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.forgot++
}

// say is a result with one finding that says something.
func say(message string) Result {
	return Result{Hold: finding.Defect, Plan: report.Plan{Facts: facts.New(), Findings: []finding.Finding{
		{Rule: "a.rule", Severity: finding.Defect, Element: "x", Line: 1, Column: 1, EndLine: 1, EndColumn: 2, Message: message}}}}
}

// session is a server with a test as its editor.
type session struct {
	t    *testing.T
	conn net.Conn
	in   chan map[string]json.RawMessage
	done chan error
	log  *lockedBuffer
	next int
}

type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

func serve(t *testing.T, ctx context.Context, judge Judge, options Options) *session {
	ours, theirs := net.Pipe()
	s := &session{t: t, conn: ours, in: make(chan map[string]json.RawMessage, 1000), done: make(chan error, 1), log: &lockedBuffer{}}
	options.Judge, options.Log, options.Today = judge, s.log, "2026-06-01"
	if options.Settle == 0 {
		options.Settle = time.Millisecond
	}
	if options.Rest == 0 {
		options.Rest = time.Millisecond
	}
	go func() { s.done <- Serve(ctx, theirs, options) }()
	go s.read(bufio.NewReader(ours))
	t.Cleanup(func() { ours.Close() })
	return s
}

// read takes frames apart by hand.
func (s *session) read(r *bufio.Reader) {
	defer close(s.in)
	for {
		var length int
		if _, err := fmt.Fscanf(r, "Content-Length: %d\r\n\r\n", &length); err != nil {
			return
		}
		body := make([]byte, length)
		if _, err := io.ReadFull(r, body); err != nil {
			return
		}
		var m map[string]json.RawMessage
		if err := json.Unmarshal(body, &m); err != nil {
			s.t.Errorf("the server sent %q", body)
			return
		}
		s.in <- m
	}
}

// raw writes one frame.
func (s *session) raw(body string) {
	fmt.Fprintf(s.conn, "Content-Length: %d\r\n\r\n%s", len(body), body)
}

func (s *session) note(method string, params any) {
	body, _ := json.Marshal(map[string]any{"jsonrpc": "2.0", "method": method, "params": params})
	s.raw(string(body))
}

// message waits for the next message.
func (s *session) message() map[string]json.RawMessage {
	s.t.Helper()
	select {
	case m, ok := <-s.in:
		if !ok {
			s.t.Fatal("the server has gone")
		}
		return m
	case <-time.After(patience):
		s.t.Fatal("the server is silent")
	}
	return nil
}

// ask sends a request and returns result and error as they came; notifications
// before them are passed over.
func (s *session) ask(method string, params any) (result, failure string) {
	s.t.Helper()
	s.next++
	body, _ := json.Marshal(map[string]any{"jsonrpc": "2.0", "id": s.next, "method": method, "params": params})
	s.raw(string(body))
	for {
		if m := s.message(); string(m["id"]) == fmt.Sprint(s.next) {
			return string(m["result"]), string(m["error"])
		}
	}
}

// shown waits for findings and returns their first messages.
func (s *session) shown() (version int, messages []string) {
	s.t.Helper()
	for {
		m := s.message()
		if string(m["method"]) != `"textDocument/publishDiagnostics"` {
			continue
		}
		var p struct {
			Version     int          `json:"version"`
			Diagnostics []Diagnostic `json:"diagnostics"`
		}
		if err := json.Unmarshal(m["params"], &p); err != nil {
			s.t.Fatal(err)
		}
		for _, d := range p.Diagnostics {
			first, _, _ := strings.Cut(d.Message, "\n")
			messages = append(messages, first)
		}
		return p.Version, messages
	}
}

func (s *session) begin() {
	s.t.Helper()
	if _, failure := s.ask("initialize", map[string]any{"rootUri": "file:///work", "capabilities": map[string]any{}}); failure != "" {
		s.t.Fatal(failure)
	}
	s.note("initialized", map[string]any{})
}

func (s *session) open(uri string, version int, text string) {
	s.note("textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": uri, "version": version, "text": text}})
}

func (s *session) change(uri string, version int, text string) {
	s.note("textDocument/didChange", map[string]any{"textDocument": map[string]any{"uri": uri, "version": version},
		"contentChanges": []map[string]string{{"text": text}}})
}

// end ends the session as the protocol asks.
func (s *session) end() {
	s.t.Helper()
	if _, failure := s.ask("shutdown", nil); failure != "" {
		s.t.Error(failure)
	}
	s.note("exit", nil)
	if err := s.ended(); err != nil {
		s.t.Error(err)
	}
}

func (s *session) ended() error {
	s.t.Helper()
	select {
	case err := <-s.done:
		return err
	case <-time.After(patience):
		s.t.Fatal("the server does not end")
		return nil
	}
}

// nothingLeft waits until there are no more goroutines than before.
func nothingLeft(t *testing.T, before int) {
	t.Helper()
	limit := time.Now().Add(patience)
	for runtime.NumGoroutine() > before {
		if time.Now().After(limit) {
			stacks := make([]byte, 1<<16)
			t.Fatalf("%d goroutines, %d before\n%s", runtime.NumGoroutine(), before, stacks[:runtime.Stack(stacks, true)])
		}
		time.Sleep(time.Millisecond)
	}
}

// TestLifeCycle holds the order of a session (Language Server Protocol 3.17,
// server lifecycle): -32002 before initialize, -32600 after shutdown, and an exit
// without shutdown is an error.
func TestLifeCycle(t *testing.T) {
	before := runtime.NumGoroutine()
	s := serve(t, context.Background(), &stub{}, Options{Version: "9.9"})
	if _, failure := s.ask("textDocument/hover", map[string]any{}); !strings.Contains(failure, "-32002") {
		t.Errorf("before initialize: %s", failure)
	}
	s.note("textDocument/didOpen", map[string]any{})
	result, _ := s.ask("initialize", map[string]any{"capabilities": map[string]any{}})
	if !strings.Contains(result, `"positionEncoding":"utf-16"`) || !strings.Contains(result, `"version":"9.9"`) {
		t.Errorf("initialize: %s", result)
	}
	if _, failure := s.ask("initialize", map[string]any{}); !strings.Contains(failure, "-32600") {
		t.Errorf("initialize again: %s", failure)
	}
	if _, failure := s.ask("textDocument/formatting", map[string]any{}); !strings.Contains(failure, "-32601") {
		t.Errorf("an unknown request: %s", failure)
	}
	if _, failure := s.ask("textDocument/hover", []int{1}); !strings.Contains(failure, "-32602") {
		t.Errorf("wrong parameters: %s", failure)
	}
	if _, failure := s.ask("textDocument/hover", nil); failure != "" && !strings.Contains(failure, "-32602") {
		t.Errorf("no parameters: %s", failure)
	}
	if result, failure := s.ask("textDocument/hover", map[string]any{"textDocument": map[string]any{"uri": "file:///elsewhere"}}); result != "null" || failure != "" {
		t.Errorf("a file that is not open: %s %s", result, failure)
	}
	s.note("$/cancelRequest", map[string]any{"id": 1})
	s.note("$/unheardOf", nil)
	if _, failure := s.ask("shutdown", nil); failure != "" {
		t.Error(failure)
	}
	if _, failure := s.ask("textDocument/hover", map[string]any{}); !strings.Contains(failure, "-32600") {
		t.Errorf("after shutdown: %s", failure)
	}
	s.note("exit", nil)
	if err := s.ended(); err != nil {
		t.Error(err)
	}
	nothingLeft(t, before)
}

func TestEndsWithoutShutdown(t *testing.T) {
	for name, leave := range map[string]func(*session){
		"exit":          func(s *session) { s.note("exit", nil) },
		"closed stream": func(s *session) { s.conn.Close() },
		"not a frame":   func(s *session) { io.WriteString(s.conn, "hello\r\n\r\n") },
		"a bad length":  func(s *session) { io.WriteString(s.conn, "Content-Length: -5\r\n\r\n") },
	} {
		t.Run(name, func(t *testing.T) {
			before := runtime.NumGoroutine()
			s := serve(t, context.Background(), &stub{}, Options{})
			s.begin()
			s.open(plan1, 1, "{}")
			leave(s)
			if err := s.ended(); !errors.Is(err, ErrNoShutdown) {
				t.Errorf("ends with %v", err)
			}
			s.conn.Close()
			nothingLeft(t, before)
		})
	}
}

func TestEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	s := serve(t, ctx, &stub{}, Options{})
	s.begin()
	cancel()
	if err := s.ended(); !errors.Is(err, context.Canceled) {
		t.Errorf("ends with %v", err)
	}
}

// TestBadMessages holds that one bad message does not end the session.
func TestBadMessages(t *testing.T) {
	s := serve(t, context.Background(), &stub{}, Options{})
	s.begin()
	for _, body := range []string{"{", "[]", "null", "{}", `"text"`, `{"jsonrpc":"2.0"}`, `{"id":-1,"method":"x"}`, `{"id":{},"method":"x"}`,
		`[{"id":1,"method":"x"}]`, `{"id":77,"result":null}`, "\xff\xfe", `{"method":5}`, strings.Repeat("[", 100_000)} {
		s.raw(body)
	}
	fmt.Fprintf(s.conn, "content-length: %d\r\nContent-Type: application/vscode-jsonrpc; charset=utf-8\r\n\r\n%s", 2, "{}")
	s.open(plan1, 1, "{}")
	if _, messages := s.shown(); len(messages) != 1 || messages[0] != "{}" {
		t.Errorf("afterwards it shows %q", messages)
	}
	s.end()
	if log := s.log.String(); !strings.Contains(log, "was passed over") {
		t.Errorf("nothing was said of it: %s", log)
	}
}

// TestLargeMessages holds that a message that is too large is passed over, and
// that the one after it is read.
func TestLargeMessages(t *testing.T) {
	said := ""
	f := framing{100, func(message string) { said += message }}
	frames := "Content-Length: 101\r\n\r\n" + strings.Repeat(" ", 101) + "Content-Length: 7\r\n\r\n{\"a\":1}" + "Content-Length: 90\r\n\r\n{"
	r := bufio.NewReader(strings.NewReader(frames))
	var have map[string]int
	if err := f.ReadObject(r, &have); err != nil || have["a"] != 1 {
		t.Errorf("reads %v, %v", have, err)
	}
	if said != "a message of 101 bytes was passed over; the limit is 100 bytes" {
		t.Errorf("says %q", said)
	}
	if err := f.ReadObject(r, &have); !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("a message that breaks off: %v", err)
	}
	if err := f.ReadObject(bufio.NewReader(strings.NewReader(strings.Repeat("a", 1<<20))), &have); err == nil {
		t.Error("an endless header is read")
	}
}

// TestStaleChecks holds that a new text cancels the check of the old one, that
// what an old check finds is never shown, and that a burst is one check.
func TestStaleChecks(t *testing.T) {
	before := runtime.NumGoroutine()
	begun, cancelled := make(chan bool, 10), atomic.Int32{}
	judge := &stub{check: func(ctx context.Context, text string) (Result, error) {
		if strings.Contains(text, "slow") {
			begun <- true
			<-ctx.Done()
			cancelled.Add(1)
			return say("stale"), nil // a judge that does not look at its context
		}
		return say(text), nil
	}}
	s := serve(t, context.Background(), judge, Options{Settle: 20 * time.Millisecond})
	s.begin()
	s.open(plan1, 1, "slow")
	<-begun
	for version := 2; version <= 200; version++ {
		s.change(plan1, version, fmt.Sprint("text ", version))
	}
	if version, messages := s.shown(); version != 200 || messages[0] != "text 200" {
		t.Errorf("shows %q of version %d first", messages, version)
	}
	if cancelled.Load() != 1 {
		t.Errorf("%d checks were cancelled", cancelled.Load())
	}
	judge.mu.Lock()
	if n := len(judge.texts); n > 100 {
		t.Errorf("200 edits in a row made %d checks", n)
	}
	judge.mu.Unlock()
	s.open(plan1, 1, "slow") // opened again without being closed
	<-begun
	s.end() // with a check under way
	nothingLeft(t, before)
}

// TestFixesComeLater holds that findings are shown before the proof, that fixes
// follow, and that an edit ends the proof.
func TestFixesComeLater(t *testing.T) {
	before := runtime.NumGoroutine()
	release := make(chan bool)
	judge := &stub{prove: func(ctx context.Context, checked Result) (Result, error) {
		select {
		case <-release:
		case <-ctx.Done():
			return checked, ctx.Err()
		}
		checked.Findings = append([]finding.Finding(nil), checked.Findings...)
		checked.Findings[0].Fixes = []finding.Fix{{Text: "Do it", Proved: true, Patch: []finding.Operation{{Op: "add", Path: "/b", Value: 2}}}}
		return checked, nil
	}}
	s := serve(t, context.Background(), judge, Options{})
	s.begin()
	s.open(plan1, 1, `{"a": 1}`)
	s.shown()
	place := map[string]any{"textDocument": map[string]any{"uri": plan1}, "range": Range{}, "context": map[string]any{}}
	if result, _ := s.ask("textDocument/codeAction", place); strings.Count(result, `"title"`) != 1 || !strings.Contains(result, "Write a variance") {
		t.Errorf("before the proof: %s", result)
	}
	release <- true
	s.shown()
	result, _ := s.ask("textDocument/codeAction", place)
	if !strings.Contains(result, `"title":"Do it"`) || !strings.Contains(result, `"isPreferred":true`) || !strings.Contains(result, `"newText":", \"b\": 2"`) {
		t.Errorf("after the proof: %s", result)
	}
	s.change(plan1, 2, `{"a": 3}`)
	s.shown()
	s.change(plan1, 3, `{"a": 4}`) // the proof of version 2 waits for a release that never comes
	if version, _ := s.shown(); version != 3 {
		t.Errorf("version %d", version)
	}
	s.end()
	nothingLeft(t, before)
}

// TestFailuresOfOurOwn holds that a check or an answer that fails is said at the
// head of the plan, and ends nothing.
func TestFailuresOfOurOwn(t *testing.T) {
	judge := &stub{
		check: func(_ context.Context, text string) (Result, error) {
			switch {
			case strings.Contains(text, "panic"):
				panic("a hole")
			case strings.Contains(text, "error"):
				return Result{}, errors.New("no room")
			}
			return say(text), nil
		},
		prove: func(context.Context, Result) (Result, error) { panic("another hole") },
	}
	s := serve(t, context.Background(), judge, Options{})
	s.begin()
	s.open(plan1, 1, "panic")
	if _, messages := s.shown(); len(messages) != 1 || messages[0] != "the plan could not be checked: the program failed: a hole" {
		t.Errorf("shows %q", messages)
	}
	s.change(plan1, 2, "error")
	if _, messages := s.shown(); messages[0] != "the plan could not be checked: no room" {
		t.Errorf("shows %q", messages)
	}
	s.change(plan1, 3, "fine")
	if _, messages := s.shown(); messages[0] != "fine" {
		t.Errorf("shows %q", messages)
	}
	s.end()
}

// TestOnlyPlans holds that other files are left alone, and what becomes of a plan
// that is closed.
func TestOnlyPlans(t *testing.T) {
	judge := &stub{}
	s := serve(t, context.Background(), judge, Options{})
	s.begin()
	s.open("file:///work/package.json", 1, "other")
	s.open("untitled:Untitled-1.lighting.json", 1, "untitled")
	if _, messages := s.shown(); messages[0] != "untitled" {
		t.Errorf("shows %q", messages)
	}
	s.note("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": "untitled:Untitled-1.lighting.json"}})
	if _, messages := s.shown(); len(messages) != 0 {
		t.Errorf("a closed plan shows %q", messages)
	}
	s.end()
	if fmt.Sprint(judge.texts) != "[untitled]" {
		t.Errorf("checked %q", judge.texts)
	}
}

// TestFolders follows the editor's workspace, and checks again when what plans
// are judged by has changed.
func TestFolders(t *testing.T) {
	judge := &stub{}
	s := serve(t, context.Background(), judge, Options{})
	s.begin()
	s.open(plan1, 1, "{}")
	s.shown()
	s.note("workspace/didChangeWorkspaceFolders", map[string]any{"event": map[string]any{
		"added": []map[string]string{{"uri": "file:///more%20room"}, {"uri": "https://a.invalid/x"}}, "removed": []map[string]string{{"uri": "file:///work"}}}})
	touched := func(uris ...string) {
		var changes []map[string]any
		for _, uri := range uris {
			changes = append(changes, map[string]any{"uri": uri, "type": 2})
		}
		s.note("workspace/didChangeWatchedFiles", map[string]any{"changes": changes})
	}
	touched("file:///work/rules/a.rego", "file:///work/.duskproof.json")
	touched("file:///work/lamp.IES")
	touched(plan1) // saved
	touched()
	s.change(plan1, 2, "{ }")
	for version := 0; version != 2; {
		version, _ = s.shown()
	}
	s.end()
	judge.mu.Lock()
	defer judge.mu.Unlock()
	if fmt.Sprint(judge.folders) != "[/more room]" || judge.forgot != 2 {
		t.Errorf("folders %q, forgot %d times", judge.folders, judge.forgot)
	}
}

func TestPathsOfURIs(t *testing.T) {
	for uri, want := range map[string]string{
		"file:///a/b%20c.lighting.json": "/a/b c.lighting.json", "file://localhost/a": "/a", "file:///a/../b/./c": "/b/c",
		"file://server/share/a": "", "untitled:a": "", "https://a.invalid/b": "", "": "", "%zz": "", "file:": "",
	} {
		if have := pathOf(uri); have != want {
			t.Errorf("%q is %q, want %q", uri, have, want)
		}
	}
}

// TestDiagnosticsAreBounded holds that no plan floods the editor.
func TestDiagnosticsAreBounded(t *testing.T) {
	many := say("first")
	for i := range 5000 {
		f := many.Findings[0]
		f.Message = fmt.Sprint("finding ", i)
		many.Findings = append(many.Findings, f)
	}
	s := &Server{}
	o := &outcome{Result: many, doc: newDocument([]byte("{}"))}
	have := s.diagnostics(&file{}, o)
	if len(have) != mostDiagnostics+1 || have[mostDiagnostics].Message != "4001 more findings are not shown here; duskproof check prints them all" {
		t.Errorf("%d are shown; the last says %q", len(have), have[len(have)-1].Message)
	}
	if o := (&outcome{Result: say("\x1b]0;owned\x07"), doc: newDocument([]byte("{}"))}); strings.ContainsAny(s.diagnostics(&file{}, o)[0].Message, "\x1b\x07") {
		t.Error("control characters are sent")
	}
}

// TestActionsAreBounded holds that asking for the actions of a whole plan is no
// way to keep the server.
func TestActionsAreBounded(t *testing.T) {
	many := say("first")
	for i := range 500 {
		f := many.Findings[0]
		f.Element = fmt.Sprint("x", i)
		many.Findings = append(many.Findings, f)
	}
	s := &Server{options: Options{Today: "2026-06-01"}}
	f := &file{data: []byte("{}")}
	f.latest = &outcome{Result: many, doc: f.document()}
	f.shown = s.diagnostics(f, f.latest)
	answer, err := s.actions(f, actionParams{})
	if n := len(answer.([]CodeAction)); err != nil || n != 50 {
		t.Errorf("offers %d actions, %v", n, err)
	}
	if a, b := mostMended(40_000), mostMended(16<<20); a != 50 || b != 4 {
		t.Errorf("of a small plan %d findings, of the largest %d", a, b)
	}
}

// TestSeverities: what holds the plan is an error.
func TestSeverities(t *testing.T) {
	for _, c := range []struct {
		severity, hold finding.Severity
		want           int
	}{
		{finding.Danger, finding.Defect, severityError}, {finding.Defect, finding.Defect, severityError},
		{finding.Advice, finding.Defect, severityWarning}, {finding.Caution, finding.Defect, severityInformation},
		{finding.Defect, finding.Danger, severityWarning}, {finding.Advice, finding.Advice, severityError},
		{finding.Danger, 0, severityWarning},
	} {
		if have := severityOf(c.severity, c.hold); have != c.want {
			t.Errorf("%s with a hold at %s is %d, want %d", c.severity, c.hold, have, c.want)
		}
	}
}
