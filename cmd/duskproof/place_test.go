package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

// startOf finds where the value at a JSON Pointer begins, as line and column,
// with nothing but the standard decoder: a second way to the places that the
// program prints. A value that is not there begins where the nearest value
// around it does.
func startOf(t *testing.T, text []byte, pointer string) (line, column int) {
	t.Helper()
	at := 0
	steps := strings.Split(strings.TrimPrefix(pointer, "/"), "/")
	for _, step := range steps {
		step = strings.NewReplacer("~1", "/", "~0", "~").Replace(step)
		next, found := child(t, text[at:], step)
		if !found {
			break
		}
		at += next
	}
	at += len(text[at:]) - len(bytes.TrimLeft(text[at:], " \t\r\n,:"))
	before := text[:at]
	line = 1 + bytes.Count(before, []byte("\n"))
	column = 1 + utf8.RuneCount(before[bytes.LastIndexByte(before, '\n')+1:])
	return line, column
}

// child finds the offset of a member or an entry of the value that text begins
// with.
func child(t *testing.T, text []byte, step string) (int, bool) {
	t.Helper()
	skipped := len(text) - len(bytes.TrimLeft(text, " \t\r\n,:"))
	d := json.NewDecoder(bytes.NewReader(text[skipped:]))
	open, err := d.Token()
	if err != nil {
		t.Fatal(err)
	}
	for index := 0; d.More(); index++ {
		name := strconv.Itoa(index)
		if open == json.Delim('{') {
			key, err := d.Token()
			if err != nil {
				t.Fatal(err)
			}
			name = fmt.Sprint(key)
		} else if open != json.Delim('[') {
			return 0, false
		}
		at := skipped + int(d.InputOffset())
		if name == step {
			return at, true
		}
		var whole json.RawMessage
		if err := d.Decode(&whole); err != nil {
			t.Fatal(err)
		}
	}
	return 0, false
}

// marked is the text that a place marks on its first line.
func marked(text []byte, line, column, endLine, endColumn int) string {
	lines := strings.Split(string(text), "\n")
	if line < 1 || line > len(lines) {
		return ""
	}
	runes := []rune(lines[line-1])
	end := len(runes)
	if endLine == line {
		end = min(endColumn-1, end)
	}
	if column < 1 || column-1 > end {
		return ""
	}
	return string(runes[column-1 : end])
}
