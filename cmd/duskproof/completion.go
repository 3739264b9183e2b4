package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"duskproof/checker/policy"
	"duskproof/checker/profile"
	"duskproof/checker/report"
	"duskproof/checker/takeoff"
)

// completionCommand is "duskproof completion".
type completionCommand struct {
	Shell string `arg:"" enum:"bash,zsh,fish" help:"bash, zsh or fish."`
}

// Help gives examples.
func (completionCommand) Help() string {
	return `Examples:

    duskproof completion bash
    duskproof completion zsh
    duskproof completion fish

Let the shell read what is printed when it starts: in bash, put the first of them, wrapped in source <(…), into ~/.bashrc; in zsh likewise into ~/.zshrc; in fish, save it as ~/.config/fish/completions/duskproof.fish.`
}

// shells are the scripts: each asks the program itself what may follow, and
// leaves the names of files to the shell.
var shells = map[string]string{
	"bash": `_duskproof() {
  local IFS=$'\n'
  COMPREPLY=($(duskproof complete-words -- "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null))
}
complete -o default -F _duskproof duskproof
`,
	"zsh": `_duskproof() {
  local -a found
  found=(${(f)"$(duskproof complete-words -- "${(@)words[2,CURRENT]}" 2>/dev/null)"})
  if (( ${#found} )); then
    compadd -a found
  else
    _files
  fi
}
compdef _duskproof duskproof
`,
	"fish": `complete -c duskproof -a '(duskproof complete-words -- (commandline -opc)[2..-1] (commandline -ct) 2>/dev/null)'
`,
}

// Run prints the script for one shell.
func (c *completionCommand) Run(std streams) error {
	_, err := io.WriteString(std.out, shells[c.Shell])
	return err
}

// wordsCommand is "duskproof complete-words", which the shells' scripts call.
type wordsCommand struct {
	Words []string `arg:"" optional:"" passthrough:"" help:"The words so far, the last of which is to be completed."`
}

// Run prints the words that may stand in the place of the last one, one a line.
func (c *wordsCommand) Run(ctx context.Context, std streams) error {
	var cli commands
	parser, err := newParser(ctx, &cli, std, func(int) {})
	if err != nil {
		return err
	}
	words := c.Words
	if len(words) > 0 && words[0] == "--" {
		words = words[1:]
	}
	for _, word := range complete(parser.Model.Node, words) {
		fmt.Fprintln(std.out, word)
	}
	return nil
}

// complete lists what may stand in the place of the last word, sorted.
func complete(root *kong.Node, words []string) []string {
	if len(words) == 0 {
		words = []string{""}
	}
	before, last := words[:len(words)-1], words[len(words)-1]
	command := root
	for _, word := range before {
		if next := commandNamed(root, word); next != nil {
			command = next
			break
		}
	}
	var found []string
	name, value, hasValue := strings.Cut(last, "=")
	switch {
	case strings.HasPrefix(last, "-") && hasValue:
		for _, v := range valuesOf(strings.TrimLeft(name, "-")) {
			found = append(found, name+"="+v)
		}
		last = name + "=" + value
	case strings.HasPrefix(last, "-"):
		found = flagsOf(root, command)
	case len(before) > 0 && takesValue(root, command, before[len(before)-1]):
		found = valuesOf(strings.TrimLeft(before[len(before)-1], "-"))
	case command == root:
		found = commandsOf(root)
	case command.Name == "rules":
		found = ruleIDs()
	case command.Name == "completion":
		found = sortedKeys(shells)
	}
	found = slices.DeleteFunc(found, func(word string) bool { return !strings.HasPrefix(word, last) })
	slices.SortFunc(found, cmp.Compare[string])
	return slices.Compact(found)
}

func commandNamed(root *kong.Node, name string) *kong.Node {
	i := slices.IndexFunc(root.Children, func(n *kong.Node) bool { return n.Name == name && !n.Hidden })
	if i < 0 {
		return nil
	}
	return root.Children[i]
}

func commandsOf(root *kong.Node) []string {
	var names []string
	for _, n := range root.Children {
		if !n.Hidden {
			names = append(names, n.Name)
		}
	}
	return names
}

// flags lists the flags of a command and those of every command.
func flags(root, command *kong.Node) []*kong.Flag {
	all := slices.Clone(root.Flags)
	if command != root {
		all = append(all, command.Flags...)
	}
	return slices.DeleteFunc(all, func(f *kong.Flag) bool { return f.Hidden })
}

func flagsOf(root, command *kong.Node) []string {
	var names []string
	for _, f := range flags(root, command) {
		names = append(names, "--"+f.Name)
	}
	return names
}

// takesValue reports whether a word is a flag that a value follows.
func takesValue(root, command *kong.Node, word string) bool {
	return slices.ContainsFunc(flags(root, command), func(f *kong.Flag) bool {
		return "--"+f.Name == word && !f.IsBool()
	})
}

// valuesOf lists the values of a flag, where they are known; elsewhere the shell
// offers files.
func valuesOf(flag string) []string {
	switch flag {
	case "as":
		return report.FormNames()
	case "hold":
		return []string{"danger", "defect", "advice", "caution"}
	case "fixes":
		return []string{"none", "hint", "proved"}
	case "profile":
		set, err := profile.Bundled()
		if err != nil {
			return nil
		}
		return set.Names()
	case "only", "skip":
		return ruleIDs()
	case "layers":
		return report.Layers()
	case "table":
		return takeoff.TableNames()
	}
	return nil
}

// ruleIDs lists the rules that come with the program.
func ruleIDs() []string {
	catalogue, _ := policy.Open()
	var ids []string
	for _, meta := range catalogue.Metas() {
		ids = append(ids, meta.ID)
	}
	return ids
}
