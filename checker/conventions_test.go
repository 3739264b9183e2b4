package checker

import (
	"bufio"
	"bytes"
	"go/ast"
	"go/format"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The limits that the contributor guide sets.
const (
	mostFunctionLines = 80
	mostFileLines     = 400
)

const root = ".."

// goFiles lists every Go file of the module.
func goFiles(t *testing.T) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.HasSuffix(path, ".go") {
			files = append(files, path)
		}
		return err
	})
	if err != nil || len(files) == 0 {
		t.Fatalf("no Go files: %v", err)
	}
	return files
}

// TestSourceForm holds formatting, lengths of functions and files, and comments
// on exported names.
func TestSourceForm(t *testing.T) {
	for _, path := range goFiles(t) {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if formatted, err := format.Source(text); err != nil || !bytes.Equal(formatted, text) {
			t.Errorf("%s is not formatted", path)
			continue
		}
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		if n := bytes.Count(text, []byte("\n")); n > mostFileLines {
			t.Errorf("%s has %d lines, more than %d", path, n, mostFileLines)
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, text, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		checkFunctions(t, path, set, file)
	}
}

func checkFunctions(t *testing.T, path string, set *token.FileSet, file *ast.File) {
	for _, decl := range file.Decls {
		f, ok := decl.(*ast.FuncDecl)
		if !ok {
			continue
		}
		if n := set.Position(f.End()).Line - set.Position(f.Pos()).Line + 1; n > mostFunctionLines {
			t.Errorf("%s: %s has %d lines, more than %d", path, f.Name.Name, n, mostFunctionLines)
		}
		if f.Name.IsExported() && f.Doc == nil && f.Recv == nil {
			t.Errorf("%s: exported %s has no comment", path, f.Name.Name)
		}
	}
}

// layers are the packages from the bottom up; a package may import only those
// of lower layers.
var layers = map[string]int{
	"checker/finding": 0, "checker/rule": 1, "checker/measure": 0, "checker/source": 0,
	"schema": 0, "rules": 0, "checker/policy/packed": 0, "checker/policy/machine": 1,
	"checker/validate": 1, "checker/plan": 2, "checker/wire": 2, "checker/light": 2, "checker/site": 2,
	"checker/profile": 2, "checker/config": 3, "checker/diagnose": 3, "checker/carried": 3, "checker/facts": 4, "checker/numeric": 5, "checker/takeoff": 5,
	"checker/policy": 5, "checker/report": 6, "checker/mend": 6, "checker": 7, "checker/editor": 8, "cmd/duskproof": 9,
}

// TestDependenciesPointOneWay holds the direction of imports.
func TestDependenciesPointOneWay(t *testing.T) {
	for _, path := range goFiles(t) {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		from := filepath.ToSlash(strings.TrimPrefix(filepath.Dir(path), root+string(filepath.Separator)))
		layer, known := layers[from]
		if !known {
			t.Errorf("package %s has no layer; add it to the list in its place", from)
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range file.Imports {
			to, ours := strings.CutPrefix(strings.Trim(spec.Path.Value, `"`), "duskproof/")
			if ours && layers[to] >= layer {
				t.Errorf("%s imports %s, which is not below it", path, to)
			}
		}
	}
}

// TestLayout holds the fixed top level.
func TestLayout(t *testing.T) {
	allowed := []string{"cmd", "rules", "schema", "checker", "testdata", "docs", "go.mod", "go.sum", "README.md", "DEVELOPERS.md"}
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(allowed, e.Name()) {
			t.Errorf("%s is outside the fixed layout", e.Name())
		}
	}
}

// TestOneMainPackage holds that the hook framework, which installs every main
// package of a repository, installs one.
func TestOneMainPackage(t *testing.T) {
	var mains []string
	for _, path := range goFiles(t) {
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.PackageClauseOnly)
		if err != nil {
			t.Fatal(err)
		}
		if dir := filepath.Dir(path); file.Name.Name == "main" && !slices.Contains(mains, dir) {
			mains = append(mains, dir)
		}
	}
	if len(mains) != 1 || filepath.Base(mains[0]) != "duskproof" {
		t.Errorf("main packages: %v, want cmd/duskproof alone", mains)
	}
}

// TestHookManifest holds that the hook's entry is the program, and that its
// pattern takes plans and nothing else.
func TestHookManifest(t *testing.T) {
	file, err := os.Open(filepath.Join(root, ".pre-commit-hooks.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	fields := map[string]string{}
	for scanner := bufio.NewScanner(file); scanner.Scan(); {
		key, value, _ := strings.Cut(strings.TrimLeft(scanner.Text(), "- "), ": ")
		fields[key] = value
	}
	program, _, _ := strings.Cut(fields["entry"], " ")
	if _, err := os.Stat(filepath.Join(root, "cmd", program)); err != nil {
		t.Errorf("entry %q is not a program of this module: %v", fields["entry"], err)
	}
	pattern, err := regexp.Compile(fields["files"])
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]bool{"a/b.lighting.json": true, "b.json": false, "lighting.json": false} {
		if have := pattern.MatchString(name); have != want {
			t.Errorf("files pattern on %s: %v, want %v", name, have, want)
		}
	}
}

// TestLinters runs the linter with the repository's configuration.
func TestLinters(t *testing.T) {
	linter, err := exec.LookPath("golangci-lint")
	if err != nil {
		if os.Getenv("DUSKPROOF_OUTSIDE") != "" {
			t.Fatal("golangci-lint is not installed")
		}
		t.Skip("golangci-lint is not installed; .ci/run installs it")
	}
	command := exec.Command(linter, "run", "./...")
	command.Dir = root
	if out, err := command.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
