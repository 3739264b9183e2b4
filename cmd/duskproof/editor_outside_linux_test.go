package main

import (
	"encoding/binary"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// opened watches folders and lists the names of what is opened in them.
type opened struct {
	t     *testing.T
	fd    int
	names map[int32]string
}

// watchOpening watches folders of one folder.
func watchOpening(t *testing.T, whole string, folders ...string) *opened {
	t.Helper()
	fd, err := syscall.InotifyInit1(syscall.IN_NONBLOCK | syscall.IN_CLOEXEC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { syscall.Close(fd) })
	o := &opened{t, fd, map[int32]string{}}
	for _, f := range folders {
		wd, err := syscall.InotifyAddWatch(fd, filepath.Join(whole, f), syscall.IN_OPEN)
		if err != nil {
			t.Fatal(err)
		}
		o.names[int32(wd)] = f
	}
	return o
}

// soFar lists what has been opened since it was last asked.
func (o *opened) soFar() []string {
	o.t.Helper()
	var out []string
	buffer := make([]byte, 1<<16)
	for {
		n, err := syscall.Read(o.fd, buffer)
		if n <= 0 || err != nil {
			return out
		}
		for at := 0; at+syscall.SizeofInotifyEvent <= n; {
			wd := int32(binary.NativeEndian.Uint32(buffer[at:]))
			length := int(binary.NativeEndian.Uint32(buffer[at+12:]))
			name := strings.TrimRight(string(buffer[at+16:at+16+length]), "\x00")
			out = append(out, o.names[wd]+"/"+name)
			at += syscall.SizeofInotifyEvent + length
		}
	}
}

// TestEditorReadsNothingOutside holds, with the kernel as the witness, that
// nothing outside the workspace is opened: not the photometric file beside a plan
// that lies elsewhere, not what a link in the workspace leads to, not the
// settings above the workspace.
func TestEditorReadsNothingOutside(t *testing.T) {
	t.Parallel()
	whole := t.TempDir()
	inside, outside := filepath.Join(whole, "workspace"), filepath.Join(whole, "elsewhere")
	for _, folder := range []string{inside, outside} {
		if err := os.Mkdir(folder, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := copyInto(folder, "tern-cottage"); err != nil {
			t.Fatal(err)
		}
	}
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	const off = `{"format": "1.0", "rules": {"power.gfci": {"severity": "off", "reason": "from outside"}}}`
	write(filepath.Join(whole, ".duskproof.json"), off)
	write(filepath.Join(outside, "tern-cottage", ".duskproof.json"), off)
	links := filepath.Join(inside, "links")
	if err := os.Mkdir(links, 0o755); err != nil {
		t.Fatal(err)
	}
	for link, to := range map[string]string{
		filepath.Join(inside, "away"):           filepath.Join(outside, "tern-cottage"),
		filepath.Join(links, "stone-spot.ies"):  filepath.Join(outside, "tern-cottage", "stone-spot.ies"),
		filepath.Join(links, ".duskproof.json"): filepath.Join(outside, "tern-cottage", ".duskproof.json"),
	} {
		if err := os.Symlink(to, link); err != nil {
			t.Fatal(err)
		}
	}
	text := readText(t, filepath.Join(inside, "tern-cottage", "draft.lighting.json"))
	c := startEditor(t, inside)
	c.begin(inside)
	o := watchOpening(t, whole, ".", "elsewhere/tern-cottage", "workspace/tern-cottage")
	judged := func(path string, ready ...func([]diagnostic) bool) (opened []string, unread bool) {
		c.open(path, 1, text)
		shown := c.findings(path, 1, ready...)
		of(t, shown, "power.gfci", "RC1") // no settings from outside switch it off
		hoverText(c, path, position{10, 10})
		c.notify("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": fileURI(path)}})
		unread = slices.ContainsFunc(shown, func(d diagnostic) bool { return strings.Contains(d.Message, "stone-spot") })
		return o.soFar(), unread
	}
	own := filepath.Join(inside, "tern-cottage", "draft.lighting.json")
	if names, unread := judged(own); !slices.Contains(names, "workspace/tern-cottage/stone-spot.ies") || unread {
		t.Errorf("in the workspace it opens %q, and says that the file cannot be read: %v", names, unread)
	}
	away := filepath.Join(outside, "tern-cottage", "draft.lighting.json")
	if names, unread := judged(away, proved); len(names) > 0 || !unread {
		t.Errorf("outside, fixes proved: it opens %q, and says that the file cannot be read: %v", names, unread)
	}
	for name, path := range map[string]string{
		"behind a link":       filepath.Join(inside, "away", "draft.lighting.json"),
		"above the workspace": filepath.Join(whole, "draft.lighting.json"),
		"dots in the path":    inside + "/../elsewhere/tern-cottage/other.lighting.json",
		"beside a link":       filepath.Join(links, "draft.lighting.json"),
	} {
		names, unread := judged(path)
		names = slices.DeleteFunc(names, func(n string) bool { return n == "./workspace" }) // the workspace itself
		if len(names) > 0 || !unread {
			t.Errorf("%s: it opens %q, and says that the file cannot be read: %v", name, names, unread)
		}
	}
	c.end()
}
