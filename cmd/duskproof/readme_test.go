package main

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// The README, and what marks the output that it shows: an HTML comment that names
// paragraphs of the report by the words in them, and the block below it.
const readme = "README.md"

var printed = regexp.MustCompile("(?s)<!-- printed: ([^\n]*) -->\n```text\n(.*?)```\n")

// TestReadmeTellsTheTruth runs the README's first command and holds what the
// README shows against what it prints. The second is the one that CI runs.
func TestReadmeTellsTheTruth(t *testing.T) {
	t.Chdir("../..")
	text := string(read(t, readme))
	blocks := regexp.MustCompile("(?s)```sh\n(.*?)\n```").FindAllStringSubmatch(text, -1)
	if len(blocks) < 2 {
		t.Fatalf("%d commands, want at least 2", len(blocks))
	}
	arguments, ok := strings.CutPrefix(blocks[0][1], "go run ./cmd/duskproof ")
	if !ok {
		t.Fatalf("the first command is %q", blocks[0][1])
	}
	status, out, complaints := command(t, "", append(strings.Fields(arguments), "--today", day)...)
	if status != exitHeld || complaints != "" {
		t.Errorf("status %d, %q; want %d", status, complaints, exitHeld)
	}
	if ci := string(read(t, ".ci/run")); !strings.Contains(ci, "\n"+blocks[1][1]+"\n") {
		t.Errorf(".ci/run does not run %q", blocks[1][1])
	}
	shown := printed.FindStringSubmatch(text)
	if shown == nil {
		t.Fatal("the README shows no output")
	}
	want := excerpt(t, out, strings.Split(shown[1], " | "))
	if *update {
		text = strings.Replace(text, "```text\n"+shown[2]+"```", "```text\n"+want+"```", 1)
		if err := os.WriteFile(readme, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if shown[2] != want {
		t.Errorf("the README shows what is not printed; renew it with: go test ./cmd/duskproof -update\n%s", difference(shown[2], want))
	}
}

// excerpt picks paragraphs of a report, each by the words in it.
func excerpt(t *testing.T, out string, wanted []string) string {
	t.Helper()
	paragraphs := strings.Split(strings.TrimSpace(out), "\n\n")
	var picked []string
	for _, words := range wanted {
		for _, p := range paragraphs {
			if hasAll(p, strings.Fields(words)) {
				picked = append(picked, p)
				break
			}
		}
	}
	if len(picked) != len(wanted) {
		t.Fatalf("found %d of %q in the report:\n%s", len(picked), wanted, out)
	}
	return strings.Join(picked, "\n\n") + "\n"
}

func hasAll(text string, words []string) bool {
	for _, word := range words {
		if !strings.Contains(text, word) {
			return false
		}
	}
	return true
}

// TestReadmeLinksLead holds that every page the README names is there.
func TestReadmeLinksLead(t *testing.T) {
	text := string(read(t, "../../"+readme))
	links := regexp.MustCompile(`\]\(([^)]+)\)`).FindAllStringSubmatch(text, -1)
	if len(links) == 0 {
		t.Fatal("no links")
	}
	for _, link := range links {
		if _, err := os.Stat("../../" + link[1]); err != nil {
			t.Errorf("%s leads nowhere", link[1])
		}
	}
}
