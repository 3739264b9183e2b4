package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// The budgets of a release: how large the stripped program may be, and how many
// modules it may be linked with. Raise them knowingly.
const (
	mostMegabytes = 40
	mostModules   = 38
)

// module is one module that the program is linked with.
type module struct{ path, version, folder string }

// linkedModules lists the modules that the packages of the program come from.
func linkedModules(t *testing.T) []module {
	t.Helper()
	command := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}", ".")
	out, err := command.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []module
	for line := range strings.Lines(string(out)) {
		if parts := strings.Split(strings.TrimSpace(line), "\t"); len(parts) == 3 {
			all = append(all, module{parts[0], parts[1], parts[2]})
		}
	}
	slices.SortFunc(all, func(a, b module) int { return strings.Compare(a.path, b.path) })
	return slices.Compact(all)
}

// licences are told by sentences that only they have, in this order.
var licences = []struct{ name, sentence string }{
	{"Apache-2.0", "Apache License"},
	{"MPL-2.0", "Mozilla Public License Version 2.0"},
	{"BSD-3-Clause", "Neither the name of"},
	{"BSD-3-Clause", "names of its contributors may be used"},
	{"BSD-2-Clause", "Redistributions in binary form must reproduce"},
	{"ISC", "Permission to use, copy, modify, and/or distribute this software"},
	{"MIT", "Permission is hereby granted, free of charge"},
}

// allowed are the licences that the program may be linked with.
var allowed = []string{"Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "ISC", "MIT"}

// licenceFile is what files with licences are called.
var licenceFile = regexp.MustCompile(`(?i)^(licen[cs]e|copying)`)

// licenceOf finds and names the licence of a module; several in one file are all
// named.
func licenceOf(t *testing.T, m module) (name, file string) {
	t.Helper()
	entries, err := os.ReadDir(m.folder)
	if err != nil {
		t.Fatalf("%s: %v", m.path, err)
	}
	for _, e := range entries {
		if e.IsDir() || !licenceFile.MatchString(e.Name()) {
			continue
		}
		text := strings.Join(strings.Fields(string(read(t, filepath.Join(m.folder, e.Name())))), " ")
		var names []string
		for _, l := range licences {
			bsd := strings.HasPrefix(l.name, "BSD") && slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(n, "BSD") })
			if strings.Contains(text, l.sentence) && !bsd && !slices.Contains(names, l.name) {
				names = append(names, l.name)
			}
		}
		return strings.Join(names, " and "), e.Name()
	}
	t.Errorf("%s has no licence file", m.path)
	return "", ""
}

// TestThirdParty holds the page of linked modules to what is linked, and every
// licence to those that are allowed.
func TestThirdParty(t *testing.T) {
	all := linkedModules(t)
	if len(all) < 20 {
		t.Fatalf("only %d modules found", len(all))
	}
	if len(all) > mostModules {
		t.Errorf("the program is linked with %d modules; the budget is %d", len(all), mostModules)
	}
	var page strings.Builder
	fmt.Fprintf(&page, `# What the program is linked with

Made by `+"`go test ./cmd/duskproof -run TestThirdParty -update`"+` from the modules that the packages of the program come from; a
test holds it. The standard library of Go, under BSD-3-Clause, comes on top. Tests use more modules, which are not linked.
[The recipe of a release](release.md) puts the text of every licence beside the program.

%d modules:

| module | version | licence | file |
| --- | --- | --- | --- |
`, len(all))
	for _, m := range all {
		name, file := licenceOf(t, m)
		for part := range strings.SplitSeq(name, " and ") {
			if !slices.Contains(allowed, part) {
				t.Errorf("%s has the licence %q, which is not allowed", m.path, part)
			}
		}
		fmt.Fprintf(&page, "| `%s` | %s | %s | `%s` |\n", m.path, m.version, name, file)
	}
	golden(t, filepath.Join("..", "..", "docs", "third-party.md"), page.String())
}

// TestProgramSize builds the program as a release does, but for the paths in it,
// so that what is compiled already serves, and holds its size.
func TestProgramSize(t *testing.T) {
	program := filepath.Join(t.TempDir(), "duskproof")
	build := exec.Command("go", "build", "-ldflags=-s -w", "-o", program, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	info, err := os.Stat(program)
	if err != nil {
		t.Fatal(err)
	}
	const megabyte = 1 << 20
	t.Logf("%.1f MB on %s/%s", float64(info.Size())/megabyte, runtime.GOOS, runtime.GOARCH)
	if info.Size() > mostMegabytes*megabyte {
		t.Errorf("the program has %d MB; the budget is %d MB", info.Size()/megabyte, mostMegabytes)
	}
	out, err := exec.Command(program, "--version").Output()
	if err != nil || !bytes.HasPrefix(out, []byte("duskproof ")) {
		t.Errorf("the built program says %q, %v", out, err)
	}
}
