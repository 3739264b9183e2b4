package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
)

// patience is how long a test waits for the server before it gives up; a busy
// machine is slow, and nothing is measured by it.
const patience = 4 * time.Minute

// editorClient is a scripted editor that talks to the real command in a process
// of its own. It knows the protocol's frames and JSON, and shares no code with
// the server.
type editorClient struct {
	t       testing.TB
	process *exec.Cmd
	in      io.WriteCloser
	errors  strings.Builder

	mu       sync.Mutex
	changed  *sync.Cond
	next     int
	answers  map[int]answer
	shown    map[string]published // by URI, the last
	count    int                  // of publications
	asked    []string             // methods that the server asked for
	finished bool
}

type answer struct {
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Code    int    `json:"code"`
		Message string `json:"message"`
	} `json:"error"`
}

type published struct {
	URI         string       `json:"uri"`
	Version     int          `json:"version"`
	Diagnostics []diagnostic `json:"diagnostics"`
}

type position struct {
	Line      int `json:"line"`
	Character int `json:"character"`
}

type textRange struct {
	Start position `json:"start"`
	End   position `json:"end"`
}

type diagnostic struct {
	Range           textRange `json:"range"`
	Severity        int       `json:"severity"`
	Code            string    `json:"code"`
	CodeDescription struct {
		Href string `json:"href"`
	} `json:"codeDescription"`
	Source  string `json:"source"`
	Message string `json:"message"`
	Related []struct {
		Location location `json:"location"`
		Message  string   `json:"message"`
	} `json:"relatedInformation"`
}

type location struct {
	URI   string    `json:"uri"`
	Range textRange `json:"range"`
}

type textEdit struct {
	Range   textRange `json:"range"`
	NewText string    `json:"newText"`
}

type workspaceEdit struct {
	DocumentChanges []struct {
		TextDocument struct {
			URI     string `json:"uri"`
			Version int    `json:"version"`
		} `json:"textDocument"`
		Edits []textEdit `json:"edits"`
	} `json:"documentChanges"`
}

type codeAction struct {
	Title       string        `json:"title"`
	Kind        string        `json:"kind"`
	IsPreferred bool          `json:"isPreferred"`
	Diagnostics []diagnostic  `json:"diagnostics"`
	Edit        workspaceEdit `json:"edit"`
}

// startEditor starts the command in a folder.
func startEditor(t testing.TB, folder string, args ...string) *editorClient {
	t.Helper()
	program := filepath.Join(t.TempDir(), "duskproof")
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	c := &editorClient{t: t, answers: map[int]answer{}, shown: map[string]published{}}
	c.changed = sync.NewCond(&c.mu)
	c.process = exec.Command(program, append([]string{"editor", "--today", day}, args...)...)
	c.process.Dir, c.process.Stderr = folder, &c.errors
	if c.in, err = c.process.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := c.process.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.process.Start(); err != nil {
		t.Fatal(err)
	}
	go c.read(bufio.NewReader(out))
	t.Cleanup(func() {
		_ = c.process.Process.Kill() // it has ended unless the test failed
	})
	return c
}

// read takes in what the server sends until it ends.
func (c *editorClient) read(r *bufio.Reader) {
	for {
		length := -1
		for {
			line, err := r.ReadString('\n')
			if err != nil {
				c.mu.Lock()
				c.finished = true
				c.changed.Broadcast()
				c.mu.Unlock()
				return
			}
			if line == "\r\n" {
				break
			}
			if value, ok := strings.CutPrefix(line, "Content-Length: "); ok {
				length, _ = strconv.Atoi(strings.TrimSpace(value))
			}
		}
		body := make([]byte, max(length, 0))
		if _, err := io.ReadFull(r, body); err != nil {
			continue
		}
		c.take(body)
	}
}

func (c *editorClient) take(body []byte) {
	var m struct {
		ID     *int            `json:"id"`
		Method string          `json:"method"`
		Params json.RawMessage `json:"params"`
		answer
	}
	if err := json.Unmarshal(body, &m); err != nil {
		c.t.Errorf("the server sent %q: %v", body, err)
		return
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	defer c.changed.Broadcast()
	switch {
	case m.Method == "textDocument/publishDiagnostics":
		var p published
		if err := json.Unmarshal(m.Params, &p); err != nil {
			c.t.Error(err)
		}
		c.shown[p.URI] = p
		c.count++
	case m.Method != "" && m.ID != nil:
		c.asked = append(c.asked, m.Method)
		go c.send(map[string]any{"jsonrpc": "2.0", "id": *m.ID, "result": nil})
	case m.ID != nil:
		c.answers[*m.ID] = m.answer
	}
}

// send writes one message.
func (c *editorClient) send(message any) {
	body, err := json.Marshal(message)
	if err != nil {
		c.t.Error(err)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if _, err := fmt.Fprintf(c.in, "Content-Length: %d\r\n\r\n%s", len(body), body); err != nil && !c.finished {
		c.t.Errorf("write to the server: %v", err)
	}
}

func (c *editorClient) notify(method string, params any) {
	c.send(map[string]any{"jsonrpc": "2.0", "method": method, "params": params})
}

// until waits for something that arrives; the lock is held while it is asked.
func (c *editorClient) until(what string, there func() bool) {
	c.t.Helper()
	late := time.AfterFunc(patience, c.changed.Broadcast)
	defer late.Stop()
	limit := time.Now().Add(patience)
	c.mu.Lock()
	defer c.mu.Unlock()
	for !there() {
		if c.finished || time.Now().After(limit) {
			c.t.Fatalf("no %s; the server has ended: %v\n%s", what, c.finished, c.errors.String())
		}
		c.changed.Wait()
	}
}

// call asks and waits for the answer.
func (c *editorClient) call(method string, params any) answer {
	c.t.Helper()
	c.mu.Lock()
	c.next++
	id := c.next
	c.mu.Unlock()
	c.send(map[string]any{"jsonrpc": "2.0", "id": id, "method": method, "params": params})
	var out answer
	c.until("answer to "+method, func() bool {
		var ok bool
		out, ok = c.answers[id]
		return ok
	})
	return out
}

// ask is call with the result decoded.
func ask[T any](c *editorClient, method string, params any) T {
	c.t.Helper()
	var out T
	a := c.call(method, params)
	if a.Error != nil {
		c.t.Fatalf("%s: %s", method, a.Error.Message)
	}
	if err := json.Unmarshal(a.Result, &out); err != nil {
		c.t.Fatalf("%s: %v in %s", method, err, a.Result)
	}
	return out
}

// begin opens a session in some folders.
func (c *editorClient) begin(folders ...string) {
	c.t.Helper()
	var open []map[string]string
	for _, f := range folders {
		open = append(open, map[string]string{"uri": fileURI(f), "name": filepath.Base(f)})
	}
	capabilities := `{"workspace": {"workspaceEdit": {"documentChanges": true}, "didChangeWatchedFiles": {"dynamicRegistration": true}},
	  "textDocument": {"hover": {"contentFormat": ["markdown"]}, "publishDiagnostics": {"relatedInformation": true, "codeDescriptionSupport": true}}}`
	c.call("initialize", map[string]any{"processId": nil, "rootUri": nil, "workspaceFolders": open, "capabilities": json.RawMessage(capabilities)})
	c.notify("initialized", map[string]any{})
}

func fileURI(path string) string {
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(path)}).String()
}

func (c *editorClient) open(path string, version int, text string) {
	c.notify("textDocument/didOpen", map[string]any{"textDocument": map[string]any{
		"uri": fileURI(path), "languageId": "json", "version": version, "text": text}})
}

func (c *editorClient) change(path string, version int, text string) {
	c.notify("textDocument/didChange", map[string]any{
		"textDocument":   map[string]any{"uri": fileURI(path), "version": version},
		"contentChanges": []map[string]string{{"text": text}}})
}

// findings waits for what is shown of one version of a plan.
func (c *editorClient) findings(path string, version int, ready ...func([]diagnostic) bool) []diagnostic {
	c.t.Helper()
	var out published
	c.until(fmt.Sprintf("findings of version %d of %s", version, filepath.Base(path)), func() bool {
		var ok bool
		out, ok = c.shown[fileURI(path)]
		for _, r := range ready {
			ok = ok && r(out.Diagnostics)
		}
		return ok && out.Version == version
	})
	return out.Diagnostics
}

// end ends the session as the protocol asks and returns the exit status.
func (c *editorClient) end() int {
	c.t.Helper()
	c.call("shutdown", nil)
	c.notify("exit", nil)
	return c.status()
}

// status waits for the end of the process.
func (c *editorClient) status() int {
	c.t.Helper()
	c.until("end of the server", func() bool { return c.finished })
	_ = c.process.Wait() // the status says it
	return c.process.ProcessState.ExitCode()
}

// at is the parameters of a request about a place.
func at(path string, p position, more ...any) map[string]any {
	out := map[string]any{"textDocument": map[string]any{"uri": fileURI(path)}, "position": p}
	for i := 0; i+1 < len(more); i += 2 {
		out[more[i].(string)] = more[i+1]
	}
	return out
}
