package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

// TestEditorSurvivesHostileRules opens a workspace whose settings name a folder
// of hostile rules. The server says which rule it stopped, judges by all others,
// leaves the stopped one out from then on, and lives.
func TestEditorSurvivesHostileRules(t *testing.T) {
	t.Parallel()
	for _, slug := range []string{"endless-loop", "giant-number", "control-marks"} {
		t.Run(slug, func(t *testing.T) {
			t.Parallel()
			folder := hostileFolder(t, slug, hostile[slug].body)
			workspace := t.TempDir()
			if err := os.Rename(folder, filepath.Join(workspace, "rules")); err != nil {
				t.Fatal(err)
			}
			settings := filepath.Join(workspace, ".duskproof.json")
			if err := os.WriteFile(settings, []byte(`{"format": "1.0", "rule_folders": ["rules"]}`), 0o644); err != nil {
				t.Fatal(err)
			}
			path, text := filepath.Join(workspace, "plan.lighting.json"), readText(t, grave)
			c := startEditor(t, workspace)
			c.begin(workspace)
			c.open(path, 1, text)
			complaint := "lives"
			for version := 1; version <= 4; version++ {
				shown := c.findings(path, version)
				of(t, shown, "power.gfci", "")
				of(t, shown, "house.harmless", "the harmless rule was judged")
				if head := shown[0]; head.Code != "" || head.Severity != 1 || head.Range != (textRange{}) || !strings.Contains(head.Message, slug+".rego:") {
					t.Errorf("version %d: at the head of the plan stands %+v", version, head)
				}
				complaint = shown[0].Message
				c.change(path, version+1, text+strings.Repeat("\n", version))
			}
			if (slug == "endless-loop" || slug == "giant-number") && !strings.HasPrefix(complaint, "rule house."+slug+" is left out until it changes: ") {
				t.Errorf("it is woken again and again: %s", complaint)
			}
			if strings.ContainsAny(complaint, "\x1b\x07") {
				t.Errorf("control characters are sent: %q", complaint)
			}
			if err := os.Remove(filepath.Join(workspace, "rules", slug+".rego")); err != nil {
				t.Fatal(err)
			}
			c.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []map[string]any{{"uri": fileURI(settings), "type": 2}}})
			shown := c.findings(path, 5, func(d []diagnostic) bool { return len(d) > 0 && d[0].Code != "" })
			of(t, shown, "house.harmless", "")
			if status := c.end(); status != 0 {
				t.Errorf("ends with %d: %s", status, c.errors.String())
			}
		})
	}
}

// TestEditorOnBrokenSettings holds that settings that cannot be used are said at
// the head of each plan, that the plan is judged without them, and that they are
// read again when they change.
func TestEditorOnBrokenSettings(t *testing.T) {
	t.Parallel()
	workspace := t.TempDir()
	settings := filepath.Join(workspace, ".duskproof.json")
	path, text := filepath.Join(workspace, "plan.lighting.json"), readText(t, grave)
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(settings, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(`{"format": "1.0", "rule_folders": ["../outside"], }`)
	c := startEditor(t, workspace)
	c.begin(workspace)
	c.open(path, 1, text)
	shown := c.findings(path, 1)
	of(t, shown, "power.gfci", "")
	if !strings.HasPrefix(shown[0].Message, "the settings in "+settings+" cannot be used, so the plan is checked without them: .duskproof.json:1:") {
		t.Errorf("says %q", shown[0].Message)
	}
	outside := t.TempDir()
	if err := os.Symlink(outside, filepath.Join(workspace, "rules")); err != nil {
		t.Fatal(err)
	}
	write(`{"format": "1.0", "rule_folders": ["rules"]}`)
	c.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []map[string]any{{"uri": fileURI(settings), "type": 2}}})
	escapes := func(d []diagnostic) bool {
		return strings.Contains(d[0].Message, "open the folder rules of the settings")
	}
	of(t, c.findings(path, 1, escapes), "power.gfci", "")
	write(`{"format": "1.0", "rules": {"power.gfci": {"severity": "off", "reason": "shown as an example"}}}`)
	c.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []map[string]any{{"uri": fileURI(settings), "type": 2}}})
	shown = c.findings(path, 1, func(d []diagnostic) bool { return len(d) == 0 || d[0].Code != "" })
	if slices.ContainsFunc(shown, func(d diagnostic) bool { return d.Code == "power.gfci" }) {
		t.Error("the settings are not read again")
	}
	c.end()
}

// TestEditorLeavesNothing runs sessions in this process, with the real rules and
// with proofs under way, and counts the goroutines that are left.
func TestEditorLeavesNothing(t *testing.T) {
	folder, path, text := ternOpened(t)
	session := func() {
		in, editor, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		status := make(chan int, 1)
		go func() {
			status <- run(context.Background(), []string{"editor", "--today", day}, streams{in, io.Discard, io.Discard})
		}()
		send := func(body string) { fmt.Fprintf(editor, "Content-Length: %d\r\n\r\n%s", len(body), body) }
		send(fmt.Sprintf(`{"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": {"rootUri": %q, "capabilities": {}}}`, fileURI(folder)))
		send(fmt.Sprintf(`{"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": {"textDocument": {"uri": %q, "version": 1, "text": %q}}}`, fileURI(path), text))
		time.Sleep(time.Second) // whatever it is doing by then
		send(`{"jsonrpc": "2.0", "id": 2, "method": "shutdown"}`)
		send(`{"jsonrpc": "2.0", "method": "exit"}`)
		select {
		case s := <-status:
			if s != 0 {
				t.Errorf("ends with %d", s)
			}
		case <-time.After(patience):
			t.Fatal("it does not end")
		}
		editor.Close()
		in.Close()
	}
	session()
	before := runtime.NumGoroutine()
	for range 3 {
		session()
	}
	for limit := time.Now().Add(patience); runtime.NumGoroutine() > before; time.Sleep(time.Millisecond) {
		if time.Now().After(limit) {
			stacks := make([]byte, 1<<16)
			t.Fatalf("%d goroutines, %d before\n%s", runtime.NumGoroutine(), before, stacks[:runtime.Stack(stacks, true)])
		}
	}
}
