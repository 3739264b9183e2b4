package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
)

// soon is how long a test waits for something that must come; it is no measure
// of speed.
const soon = 30 * time.Second

// shared is a buffer that one goroutine fills and another reads.
type shared struct {
	mutex sync.Mutex
	text  bytes.Buffer
}

func (s *shared) Write(p []byte) (int, error) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.text.Write(p)
}

func (s *shared) String() string {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.text.String()
}

// awaited waits until something holds.
func awaited(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for end := time.Now().Add(soon); !holds(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%s did not come", what)
		}
	}
}

// watching is a check --watch under way in a folder of its own.
type watching struct {
	t          *testing.T
	folder     string
	out, notes shared
	stop       context.CancelFunc
	ended      chan int
	rounds     int
}

// startWatch copies the Tern Cottage plans into a folder and watches it.
func startWatch(t *testing.T, flags ...string) *watching {
	t.Helper()
	return startWatchFrom(t, t.TempDir(), flags...)
}

// startWatchFrom does so in a given folder.
func startWatchFrom(t *testing.T, folder string, flags ...string) *watching {
	t.Helper()
	w := &watching{t: t, folder: folder, ended: make(chan int, 1)}
	if err := os.CopyFS(filepath.Join(w.folder, "tern"), os.DirFS(ternFolder(t))); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	w.stop = stop
	t.Cleanup(stop)
	args := append([]string{"check", "--watch", "--today", day, "--brief", "--only", "power.gfci", "--as", "text",
		"--as", "json=" + filepath.Join(w.folder, "report.json")}, flags...)
	go func() { w.ended <- run(ctx, append(args, w.folder), streams{strings.NewReader(""), &w.out, &w.notes}) }()
	w.round()
	return w
}

// ternFolder is the folder of the Tern Cottage plans, from anywhere.
func ternFolder(t *testing.T) string {
	t.Helper()
	_, file, _, ok := runtime.Caller(0)
	if !ok {
		t.Fatal("this file is nowhere")
	}
	return filepath.Join(filepath.Dir(file), filepath.Dir(issuedPlan()))
}

// round waits until the next round has ended.
func (w *watching) round() {
	w.t.Helper()
	w.rounds++
	awaited(w.t, "a round", func() bool { return strings.Count(w.notes.String(), "watching; end with Ctrl-C\n") >= w.rounds })
}

// report reads the output file.
func (w *watching) report() string { return string(read(w.t, filepath.Join(w.folder, "report.json"))) }

// change saves a plan with one piece of text changed, as an editor does that
// puts a new file in the place of the old one.
func (w *watching) change(name, old, put string) {
	w.t.Helper()
	path := filepath.Join(w.folder, "tern", name)
	text := strings.Replace(string(read(w.t, path)), old, put, 1)
	if err := writeWhole(path, func(to io.Writer) error { _, err := io.WriteString(to, text); return err }); err != nil {
		w.t.Fatal(err)
	}
}

// end interrupts the watch.
func (w *watching) end() {
	w.t.Helper()
	w.stop()
	if status := <-w.ended; status != exitInterrupted {
		w.t.Errorf("status %d, want %d", status, exitInterrupted)
	}
}

// TestWatch holds, for both ways of watching, that a plan that is saved is
// checked again and every output written anew, that a plan that comes or goes is
// noticed, in a new folder too, and that a broken plan does not end the watch.
func TestWatch(t *testing.T) {
	for _, flags := range [][]string{nil, {"--poll", "20ms"}} {
		t.Run(strings.Join(flags, " "), func(t *testing.T) {
			w := startWatch(t, flags...)
			const finding = `"rule": "power.gfci"`
			if n := strings.Count(w.report(), finding); n != 1 {
				t.Fatalf("%d findings to begin with, want 1", n)
			}
			w.change("issued.lighting.json", `"gfci": true`, `"gfci": false`)
			w.round()
			if n := strings.Count(w.report(), finding); n != 2 {
				t.Errorf("%d findings after the change, want 2", n)
			}
			w.change("issued.lighting.json", `{`, ``)
			w.round()
			if !strings.Contains(w.report(), `"rule": "plan.syntax"`) {
				t.Error("the broken plan is not reported")
			}
			w.change("issued.lighting.json", ``, `{`)
			w.round()
			if err := os.Rename(filepath.Join(w.folder, "tern"), filepath.Join(w.folder, "moved")); err != nil {
				t.Fatal(err)
			}
			w.round()
			if !strings.Contains(w.report(), "moved/issued.lighting.json") {
				t.Error("the folder that moved is not followed")
			}
			if err := os.Rename(filepath.Join(w.folder, "moved"), filepath.Join(w.folder, "tern")); err != nil {
				t.Fatal(err)
			}
			w.round()
			w.change("issued.lighting.json", `"gfci": false`, `"gfci": true`)
			w.round()
			if n := strings.Count(w.report(), finding); n != 1 {
				t.Errorf("%d findings in the end, want 1", n)
			}
			w.end()
		})
	}
}

// TestWatchFollowsTheSettings holds that settings that change are read again,
// that settings that cannot be used are said, and that the watch goes on.
func TestWatchFollowsTheSettings(t *testing.T) {
	folder := t.TempDir()
	t.Chdir(folder)
	settings := filepath.Join(folder, ".duskproof.json")
	write := func(text string) {
		t.Helper()
		if err := os.WriteFile(settings, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(`{"format": "1.0"}`)
	w := startWatchFrom(t, folder)
	if !strings.Contains(w.report(), `"hold": "defect"`) {
		t.Error("the hold level to begin with is not defect")
	}
	write(`{"format": "1.0", "hold": "grave"}`)
	w.round()
	if !strings.Contains(w.notes.String(), `.duskproof.json:1:27:`) {
		t.Errorf("the broken settings are not said: %s", w.notes.String())
	}
	write(`{"format": "1.0", "hold": "danger"}`)
	w.round()
	if !strings.Contains(w.report(), `"hold": "danger"`) {
		t.Error("the new hold level is not in force")
	}
	w.end()
}

// TestWatchRefusesOtherFlags holds that flags that do not go together are said.
func TestWatchRefusesOtherFlags(t *testing.T) {
	for want, flags := range map[string][]string{
		"--poll goes with --watch":                      {"--poll", "1s", "a" + planEnding},
		"--poll: 1ms is too short":                      {"--watch", "--poll", "1ms", "a" + planEnding},
		"--watch and standard input do not go together": {"--watch", "-"},
		"--watch: name the plans or folders to watch":   {"--watch"},
	} {
		status, out, complaints := command(t, "", append([]string{"check"}, flags...)...)
		if status != exitUnusable || out != "" || !strings.Contains(complaints, want) {
			t.Errorf("%v: status %d, %q, %q", flags, status, out, complaints)
		}
	}
}
