package report_test

import (
	"bufio"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/websocket"
)

// browser is a headless browser, spoken to by its remote debugging protocol.
type browser struct {
	t      *testing.T
	socket *websocket.Conn
	last   int
	// said are the events of the page, in order: console, log, exceptions and
	// requests.
	said []event
}

type event struct {
	Method string
	Params json.RawMessage
}

// openBrowser starts a browser for one test. It skips by name on a machine
// without one.
func openBrowser(t *testing.T) *browser {
	t.Helper()
	program, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("DUSKPROOF_OUTSIDE") != "" {
			t.Fatal("chromium is not installed")
		}
		t.Skip("chromium is not installed; .ci/run installs it")
	}
	command := exec.Command(program, "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run",
		"--hide-scrollbars", "--remote-allow-origins=*", "--remote-debugging-port=0", "--user-data-dir="+t.TempDir(), "about:blank")
	complaints, err := command.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	b := &browser{t: t}
	t.Cleanup(func() {
		if b.socket != nil {
			b.send("Browser.close", nil)
			b.socket.Close()
		}
		ended := make(chan struct{})
		go func() { _ = command.Wait(); close(ended) }()
		select {
		case <-ended:
		case <-time.After(10 * time.Second):
			_ = command.Process.Kill()
			<-ended
		}
		time.Sleep(100 * time.Millisecond) // its helpers still write to the folder
	})
	address := listening(t, complaints)
	go func() { _, _ = io.Copy(io.Discard, complaints) }()
	if b.socket, err = websocket.Dial(pageOf(t, address), "", "http://127.0.0.1/"); err != nil {
		t.Fatal(err)
	}
	for _, domain := range []string{"Page", "Runtime", "Log", "Network", "DOM", "Accessibility"} {
		b.call(domain+".enable", nil, nil)
	}
	return b
}

// listening reads the address at which the browser listens.
func listening(t *testing.T, complaints io.Reader) string {
	t.Helper()
	at := regexp.MustCompile(`ws://([^/]+)/`)
	for scanner := bufio.NewScanner(complaints); scanner.Scan(); {
		if m := at.FindStringSubmatch(scanner.Text()); m != nil {
			return m[1]
		}
	}
	t.Fatal("the browser does not listen")
	return ""
}

// pageOf asks for the address of the one page.
func pageOf(t *testing.T, address string) string {
	t.Helper()
	answer, err := http.Get("http://" + address + "/json/list")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	var targets []struct {
		Type      string
		DebugAddr string `json:"webSocketDebuggerUrl"`
	}
	if err := json.NewDecoder(answer.Body).Decode(&targets); err != nil {
		t.Fatal(err)
	}
	for _, target := range targets {
		if target.Type == "page" {
			return target.DebugAddr
		}
	}
	t.Fatal("the browser has no page")
	return ""
}

func (b *browser) send(method string, params any) int {
	b.last++
	if params == nil {
		params = struct{}{}
	}
	if err := websocket.JSON.Send(b.socket, map[string]any{"id": b.last, "method": method, "params": params}); err != nil {
		b.t.Logf("%s: %v", method, err)
	}
	return b.last
}

// call calls a method and waits for its answer.
func (b *browser) call(method string, params, into any) {
	b.t.Helper()
	id := b.send(method, params)
	for {
		var m struct {
			ID     int
			Method string
			Params json.RawMessage
			Result json.RawMessage
			Error  *struct{ Message string }
		}
		if err := b.socket.SetReadDeadline(time.Now().Add(60 * time.Second)); err != nil {
			b.t.Fatal(err)
		}
		if err := websocket.JSON.Receive(b.socket, &m); err != nil {
			b.t.Fatalf("%s: %v", method, err)
		}
		if m.Method != "" {
			b.said = append(b.said, event{m.Method, m.Params})
		}
		if m.ID != id {
			continue
		}
		if m.Error != nil {
			b.t.Fatalf("%s: %s", method, m.Error.Message)
		}
		if into != nil {
			if err := json.Unmarshal(m.Result, into); err != nil {
				b.t.Fatalf("%s: %v", method, err)
			}
		}
		return
	}
}

// eval evaluates an expression in the page.
func (b *browser) eval(expression string, into any) {
	b.t.Helper()
	var answer struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails *struct {
			Exception struct{ Description string }
		}
	}
	b.call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true}, &answer)
	if answer.ExceptionDetails != nil {
		b.t.Fatalf("%s: %s", expression, answer.ExceptionDetails.Exception.Description)
	}
	if into != nil {
		if err := json.Unmarshal(answer.Result.Value, into); err != nil {
			b.t.Fatalf("%s: %v in %s", expression, err, answer.Result.Value)
		}
	}
}

// open shows a page in a window of a size and waits until it is drawn.
func (b *browser) open(text string, width, height int, media map[string]any) {
	b.t.Helper()
	name := filepath.Join(b.t.TempDir(), "page.html")
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		b.t.Fatal(err)
	}
	b.size(width, height)
	b.call("Emulation.setEmulatedMedia", media, nil)
	b.call("Page.navigate", map[string]any{"url": "file://" + filepath.ToSlash(name)}, nil)
	for range 200 {
		var state string
		b.eval("document.readyState + (document.querySelector('main') ? '' : '?')", &state)
		if state == "complete" {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	b.t.Fatal("the page does not come up")
}

func (b *browser) size(width, height int) {
	b.t.Helper()
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false}, nil)
}

func scheme(name string) map[string]any {
	return map[string]any{"media": "", "features": []any{map[string]any{"name": "prefers-color-scheme", "value": name}}}
}

// quiet holds that the page said nothing and asked for nothing but itself.
func (b *browser) quiet() {
	b.t.Helper()
	for _, e := range b.said {
		switch e.Method {
		case "Runtime.exceptionThrown", "Runtime.consoleAPICalled", "Log.entryAdded":
			b.t.Errorf("%s: %s", e.Method, e.Params)
		case "Network.requestWillBeSent":
			var r struct{ Request struct{ URL string } }
			if err := json.Unmarshal(e.Params, &r); err != nil || !strings.HasPrefix(r.Request.URL, "file:") || !strings.HasSuffix(r.Request.URL, "/page.html") {
				b.t.Errorf("the page asks for %s", r.Request.URL)
			}
		}
	}
}

// picture writes what the window shows as PNG.
func (b *browser) picture(name string) {
	b.t.Helper()
	var shot struct{ Data []byte }
	b.call("Page.captureScreenshot", map[string]any{"format": "png"}, &shot)
	if err := os.WriteFile(name, shot.Data, 0o644); err != nil {
		b.t.Fatal(err)
	}
}

func (b *browser) press(key string, code int) {
	b.t.Helper()
	for _, kind := range []string{"keyDown", "keyUp"} {
		b.call("Input.dispatchKeyEvent", map[string]any{"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code}, nil)
	}
}
