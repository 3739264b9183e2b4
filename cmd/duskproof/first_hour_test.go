package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// elision stands for anything: alone on a line for any lines, in a line for any
// characters.
const elision = "…"

// fence is one piece of code on a page: what stands after the ticks, and the
// lines between them.
type fence struct {
	info  []string
	lines []string
}

// fences lists the pieces of code on a page, in order.
func fences(t *testing.T, page string) []fence {
	t.Helper()
	var all []fence
	open := false
	for line := range strings.Lines(string(read(t, page))) {
		line = strings.TrimSuffix(line, "\n")
		info, ticks := strings.CutPrefix(line, "```")
		switch {
		case ticks && !open:
			all, open = append(all, fence{info: strings.Fields(info)}), true
		case ticks:
			open = false
		case open:
			last := &all[len(all)-1]
			last.lines = append(last.lines, line)
		}
	}
	if open {
		t.Fatalf("%s: a piece of code does not end", page)
	}
	return all
}

// TestFirstHour does what the page says, step by step: it writes the files,
// makes the changes, runs the commands and compares what they print.
func TestFirstHour(t *testing.T) {
	page := filepath.Join("..", "..", "docs", "first-hour.md")
	all := fences(t, page)
	reader := &reader{folder: t.TempDir(), program: ownProcess(t)}
	ran := 0
	for _, f := range all {
		switch {
		case len(f.info) == 1 && f.info[0] == "console":
			ran += reader.console(t, f.lines)
		case len(f.info) == 2 && f.info[0] == "json":
			reader.write(t, f.info[1], strings.Join(f.lines, "\n")+"\n")
		case len(f.info) == 2 && f.info[0] == "diff":
			reader.change(t, f.info[1], f.lines)
		case len(f.info) == 1 && f.info[0] == "sh": // for a shell that stays open
		default:
			t.Errorf("nobody knows what to do with code of kind %v", f.info)
		}
	}
	if ran < 15 {
		t.Errorf("only %d commands were run", ran)
	}
}

// reader is somebody who follows the page.
type reader struct{ folder, program string }

func (r *reader) write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(r.folder, name), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// change makes the changes of a diff whose parts are divided by lines of @@.
func (r *reader) change(t *testing.T, name string, lines []string) {
	t.Helper()
	text := string(read(t, filepath.Join(r.folder, name)))
	var old, put strings.Builder
	apply := func() {
		if n := strings.Count(text, old.String()); n != 1 {
			t.Fatalf("this stands %d times in %s, want once:\n%s", n, name, old.String())
		}
		text = strings.Replace(text, old.String(), put.String(), 1)
		old.Reset()
		put.Reset()
	}
	for _, line := range lines {
		if line == "@@" {
			apply()
			continue
		}
		mark, rest := line[0], line[1:]+"\n"
		if mark != '+' {
			old.WriteString(rest)
		}
		if mark != '-' {
			put.WriteString(rest)
		}
	}
	apply()
	r.write(t, name, text)
}

// console runs every command and compares what it prints with the lines below
// it. An exit status other than nought stands on the last line.
func (r *reader) console(t *testing.T, lines []string) int {
	t.Helper()
	ran := 0
	for len(lines) > 0 {
		line, isCommand := strings.CutPrefix(lines[0], "$ duskproof ")
		if !isCommand {
			t.Fatalf("%q is no command", lines[0])
		}
		end := 1
		for end < len(lines) && !strings.HasPrefix(lines[end], "$ ") {
			end++
		}
		want, status := lines[1:end], "0"
		if n := len(want); n > 0 {
			if code, found := strings.CutPrefix(want[n-1], "exit status "); found {
				want, status = want[:n-1], code
			}
		}
		have, code := r.run(t, strings.Fields(line))
		if code != status {
			t.Errorf("%s: exit status %s, want %s", line, code, status)
		}
		if !pattern(want).MatchString(have) {
			t.Errorf("%s prints\n%s\nwhich is not\n%s", line, have, strings.Join(want, "\n"))
		}
		lines, ran = lines[end:], ran+1
	}
	return ran
}

func (r *reader) run(t *testing.T, args []string) (printed, status string) {
	t.Helper()
	command := exec.Command(r.program, args...)
	command.Dir = r.folder
	command.Env = append(os.Environ(), "NO_COLOR=1")
	var out bytes.Buffer
	command.Stdout, command.Stderr = &out, &out
	var exit *exec.ExitError
	if err := command.Run(); err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return out.String(), strings.TrimPrefix(strings.ReplaceAll(command.ProcessState.String(), "exit status ", ""), " ")
}

// pattern turns lines with elisions into an expression for the whole text.
func pattern(lines []string) *regexp.Regexp {
	var b strings.Builder
	b.WriteString(`\A`)
	for _, line := range lines {
		if line == elision {
			b.WriteString(`(?:.*\n)*?`)
			continue
		}
		b.WriteString(strings.ReplaceAll(regexp.QuoteMeta(line), elision, ".*") + `\n`)
	}
	b.WriteString(`\z`)
	return regexp.MustCompile(b.String())
}
