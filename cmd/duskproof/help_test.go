package main

import (
	"io"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
)

// TestHelpExamples holds that every command has examples in its help, and that
// the command line takes each of them.
func TestHelpExamples(t *testing.T) {
	var cli commands
	parser, err := newParser(t.Context(), &cli, streams{nil, io.Discard, io.Discard}, func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	for _, command := range parser.Model.Children {
		if command.Hidden {
			continue
		}
		examples := 0
		for line := range strings.Lines(command.Detail) {
			words := strings.Fields(line)
			if len(words) == 0 || words[0] != "duskproof" || !strings.HasPrefix(line, "    ") {
				continue
			}
			examples++
			context, err := kong.Trace(parser, words[1:])
			if err != nil || context.Error != nil || context.Command() == "" || !strings.HasPrefix(context.Command(), command.Name) {
				t.Errorf("%q is not taken: %v", strings.TrimSpace(line), err)
			}
		}
		if examples == 0 {
			t.Errorf("%s has no examples", command.Name)
		}
		status, out, _ := commandRun(t, command.Name, "--help")
		if status != exitFine || !strings.Contains(out, "    duskproof "+command.Name) {
			t.Errorf("%s --help: status %d, and no example in\n%s", command.Name, status, out)
		}
	}
}

func commandRun(t *testing.T, args ...string) (int, string, string) {
	t.Helper()
	return command(t, "", args...)
}
