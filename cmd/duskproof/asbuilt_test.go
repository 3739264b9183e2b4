package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// shownCommand is a command in a page with what it prints below it.
var shownCommand = regexp.MustCompile("(?s)```\\n\\$ duskproof (readings [^\\n]*)\\n(.*?)\\n```")

// TestAsBuiltPage runs the commands of docs/as-built.md and holds what the page
// shows to what they print.
func TestAsBuiltPage(t *testing.T) {
	page, err := os.ReadFile("../../docs/as-built.md")
	if err != nil {
		t.Fatal(err)
	}
	shown := shownCommand.FindAllStringSubmatch(string(page), -1)
	if len(shown) != 2 {
		t.Fatalf("%d commands with output in the page, want 2", len(shown))
	}
	for _, c := range shown {
		args := append(strings.Fields(strings.ReplaceAll(c[1], "testdata/", "../../testdata/")), "--today", "2026-06-02")
		var out, errs bytes.Buffer
		status := run(context.Background(), args, streams{strings.NewReader(""), &out, &errs})
		if errs.Len() > 0 {
			t.Errorf("%s: %s", c[1], &errs)
		}
		if !strings.Contains(out.String(), c[2]) {
			t.Errorf("%s prints other than the page shows:\n%s", c[1], &out)
		}
		if held := strings.Contains(c[1], "--from"); (status == exitHeld) == held {
			t.Errorf("%s: exit status %d", c[1], status)
		}
	}
}

// TestSheetMistakes holds that a sheet that cannot be read is named by line.
func TestSheetMistakes(t *testing.T) {
	for text, want := range map[string]string{
		"":                           "no header row",
		"place,volts\nL1,11":         "no column \"at\"",
		"at,volts\nL1,eleven":        "s.csv:2: volts at L1: want a number",
		"at,common,amps\nT1,one,4.1": "s.csv:2: common of T1: want a whole number",
	} {
		if _, err := readSheet("s.csv", strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// TestSheetPlacesThatAreNotThere holds that a row about a place that the plan does
// not have is named by the row, since the plan's own text has no such line.
func TestSheetPlacesThatAreNotThere(t *testing.T) {
	sheet := filepath.Join(t.TempDir(), "sheet.csv")
	if err := os.WriteFile(sheet, []byte("at,common,volts,amps\n# a note\nK2,,11.7,\nZZ,,11.7,\nT1,9,,4\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, plan := range []string{"as-built", "issued"} { // with readings of its own, and without
		var out, errs bytes.Buffer
		status := run(context.Background(), []string{"readings", "../../testdata/plans/tern-cottage/" + plan + ".lighting.json", "--from", sheet, "--today", "2026-06-02"},
			streams{strings.NewReader(""), &out, &errs})
		for _, want := range []string{sheet + ":4: there is no fixture, node, transformer or leg \"ZZ\"", sheet + ":5: there is no common 9"} {
			if status != exitUnusable || !strings.Contains(errs.String(), want) {
				t.Errorf("%s: status %d, no line %q in:\n%s", plan, status, want, &errs)
			}
		}
	}
}
