package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"duskproof/checker/report"
)

// manyPlans writes n small plans, every fifth of them broken in one of a few
// ways, into folders of ten.
func manyPlans(t *testing.T, n int) string {
	t.Helper()
	folder := t.TempDir()
	whole := string(read(t, filepath.Join(plansFolder, "format/ten-lines.lighting.json")))
	broken := []string{"", "{", strings.Replace(whole, `"1.0"`, `"9.0"`, 1), "\xff" + whole}
	for i := range n {
		text := whole
		if i%5 == 4 {
			text = broken[i/5%len(broken)]
		}
		name := filepath.Join(folder, fmt.Sprintf("client-%02d", i/10), fmt.Sprintf("plan-%03d%s", i, planEnding))
		if err := errors.Join(os.MkdirAll(filepath.Dir(name), 0o755), os.WriteFile(name, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// TestBatchIsInOrder holds that a batch is reported in the order of its names,
// with the same bytes however many plans are checked at once, and that broken
// plans do not stop the others.
func TestBatchIsInOrder(t *testing.T) {
	const n = 40
	folder := manyPlans(t, n)
	var first string
	for _, jobs := range []string{"1", "3", "100"} {
		status, out, complaints := command(t, "", "check", "--today", day, "--as", "json", "--jobs", jobs, folder)
		if status != exitUnusable || complaints != "" {
			t.Fatalf("status %d, complaints %q", status, complaints)
		}
		if first == "" {
			first = out
		}
		if out != first {
			t.Fatalf("%s at once: other bytes than one at a time", jobs)
		}
	}
	_, all := judge(t, folder)
	unjudged, last := 0, ""
	for _, p := range all.Plans {
		if p.Path <= last {
			t.Errorf("%s comes after %s", p.Path, last)
		}
		last = p.Path
		if p.Verdict == report.Unjudged {
			unjudged++
		}
	}
	if len(all.Plans) != n || unjudged != n/5 {
		t.Errorf("%d plans, %d not judged; want %d and %d", len(all.Plans), unjudged, n, n/5)
	}
}

// TestBatchKeepsWhatFormsNeed holds that the results of a batch hold on to no
// plan and no facts, but to what the forms of output ask for.
func TestBatchKeepsWhatFormsNeed(t *testing.T) {
	c := checkCommand{judging: judging{Today: day}}
	set, err := c.setup()
	if err != nil {
		t.Fatal(err)
	}
	defer set.close()
	for form, want := range map[string][2]bool{"text": {}, "json": {}, "sarif": {true, false}, "html": {true, true}} {
		outputs := []output{{"text", ""}, {form, "x"}}
		plans, failures := c.checkAll(t.Context(), set, []string{issuedPlan()}, streams{nil, io.Discard, io.Discard}, outputs)
		if len(failures) > 0 {
			t.Fatal(failures)
		}
		p := plans[0]
		have := [2]bool{p.Document != nil, p.Model != nil && p.Facts != nil}
		if have != want {
			t.Errorf("%s: text and facts kept %v, want %v", form, have, want)
		}
		if form == "sarif" && p.Document.Value() != nil {
			t.Error("more than the text is kept for fixes")
		}
	}
}

// TestUnreadablePlanHasAProblem holds that a plan that could not be read says so
// where its problems are listed.
func TestUnreadablePlanHasAProblem(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "odd.lighting.json")
	if err := os.Mkdir(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	c := checkCommand{judging: judging{Today: day}}
	set, err := c.setup()
	if err != nil {
		t.Fatal(err)
	}
	defer set.close()
	plans, failures := c.checkAll(t.Context(), set, []string{folder}, streams{nil, io.Discard, io.Discard}, nil)
	if len(failures) != 1 || plans[0].Verdict != report.Unjudged || len(plans[0].Problems) != 1 {
		t.Fatalf("%v, %+v", failures, plans[0])
	}
	if p := plans[0].Problems[0]; p.Rule != "plan.unreadable" || !strings.Contains(p.Message, "is a folder, not a file") {
		t.Errorf("%+v", p)
	}
}

// interrupter is standard input that interrupts the command when it is read.
type interrupter struct{ stop context.CancelFunc }

func (i interrupter) Read([]byte) (int, error) {
	i.stop()
	return 0, io.EOF
}

// TestInterruptLeavesNothingHalf holds that an interrupted batch writes no
// output, keeps the output that was there, leaves no other file, and ends with
// status 130.
func TestInterruptLeavesNothingHalf(t *testing.T) {
	folder, outputs := manyPlans(t, 30), t.TempDir()
	old := filepath.Join(outputs, "old.json")
	if err := os.WriteFile(old, []byte("before"), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	var out, complaints bytes.Buffer
	status := run(ctx, []string{"check", "--today", day, "--as", "json=" + old, "--as", "text=" + filepath.Join(outputs, "new.txt"),
		"--as", "markdown", "-", folder}, streams{interrupter{cancel}, &out, &complaints})
	if status != exitInterrupted || out.Len() > 0 || complaints.String() != "duskproof: interrupted\n" {
		t.Errorf("status %d, printed %q, complained %q", status, out.String(), complaints.String())
	}
	entries, err := os.ReadDir(outputs)
	if err != nil || len(entries) != 1 || string(read(t, old)) != "before" {
		t.Errorf("%v, %v; want the old file as it was", entries, err)
	}
}

// TestWholeFiles holds that a file is written whole or not at all.
func TestWholeFiles(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "a.txt")
	write := func(text string, err error) error {
		return writeWhole(name, func(w io.Writer) error {
			_, failed := io.WriteString(w, text)
			return errors.Join(failed, err)
		})
	}
	if err := write("one", nil); err != nil || string(read(t, name)) != "one" {
		t.Fatalf("%v", err)
	}
	if err := write("tw", errors.New("disk full")); err == nil || !strings.Contains(err.Error(), "a.txt: disk full") || string(read(t, name)) != "one" {
		t.Errorf("%v; the file holds %q", err, read(t, name))
	}
	if entries, err := os.ReadDir(folder); err != nil || len(entries) != 1 {
		t.Errorf("%v, %v", entries, err)
	}
}

// TestLinksAndPipesStay holds that an output through a link leaves the link, and
// that a pipe is written to and not replaced.
func TestLinksAndPipesStay(t *testing.T) {
	folder := t.TempDir()
	file, link, pipe := filepath.Join(folder, "file"), filepath.Join(folder, "link"), filepath.Join(folder, "pipe")
	if err := errors.Join(os.WriteFile(file, []byte("old"), 0o644), os.Symlink(file, link), makePipe(pipe)); err != nil {
		t.Skip("no links or pipes on this machine: ", err)
	}
	write := func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }
	if err := writeWhole(link, write); err != nil || string(read(t, file)) != "new" {
		t.Errorf("%v; the file holds %q", err, read(t, file))
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link became %v, %v", info.Mode(), err)
	}
	got := make(chan string)
	go func() { data, _ := os.ReadFile(pipe); got <- string(data) }()
	if err := writeWhole(pipe, write); err != nil {
		t.Error(err)
	}
	if text := <-got; text != "new" {
		t.Errorf("%q came through the pipe", text)
	}
	if info, err := os.Lstat(pipe); err != nil || info.Mode()&os.ModeNamedPipe == 0 {
		t.Errorf("the pipe became %v, %v", info.Mode(), err)
	}
}

// TestProgress holds that the count is shown in place, at most a hundred times,
// and taken away, and that it is for long batches on terminals only.
func TestProgress(t *testing.T) {
	file, err := os.Create(filepath.Join(t.TempDir(), "log"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for _, w := range []io.Writer{file, io.Discard} {
		if p := newProgress(w, 1000); p != nil {
			t.Error("a count outside a terminal")
		}
	}
	var none *progress
	none.step()
	none.end()
	var out bytes.Buffer
	p := &progress{w: &out, total: 1000}
	for range 1000 {
		p.step()
	}
	p.end()
	if n := strings.Count(out.String(), "\r"); n > 102 {
		t.Errorf("%d counts", n)
	}
	if !strings.Contains(out.String(), "\rchecked 500 of 1000 plans") || strings.Contains(out.String(), "\n") {
		t.Errorf("%q", out.String())
	}
	if !strings.HasSuffix(out.String(), "\r"+strings.Repeat(" ", len("checked 1000 of 1000 plans"))+"\r") {
		t.Error("the count is left standing")
	}
}

// TestLinksOutOfTheFolder holds that a folder is searched no further than it
// goes: links to plans outside it are left, and so is what is no file.
func TestLinksOutOfTheFolder(t *testing.T) {
	folder, elsewhere := t.TempDir(), t.TempDir()
	for _, name := range []string{filepath.Join(folder, "a"), filepath.Join(elsewhere, "b")} {
		if err := os.WriteFile(name+planEnding, []byte("{}"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	links := map[string]string{"same": filepath.Join(folder, "a"+planEnding), "out": filepath.Join(elsewhere, "b"+planEnding), "gone": "nowhere", "round": folder}
	for name, to := range links {
		if err := os.Symlink(to, filepath.Join(folder, name+planEnding)); err != nil {
			t.Skipf("this system makes no links: %v", err)
		}
	}
	if err := os.Mkdir(filepath.Join(folder, "folder"+planEnding), 0o755); err != nil {
		t.Fatal(err)
	}
	found, err := plansBelow(folder)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range found {
		names = append(names, strings.TrimSuffix(filepath.Base(f), planEnding))
	}
	if strings.Join(names, " ") != "a same" {
		t.Errorf("found %v, want a and same", names)
	}
}
