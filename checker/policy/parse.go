package policy

import (
	"errors"
	"fmt"
	"path"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/open-policy-agent/opa/v1/ast"

	"duskproof/checker/rule"
)

// parsed is what became of one file.
type parsed struct {
	module *ast.Module
	err    error
}

// parseAll parses every Rego file, on all processors, in the files' order.
func parseAll(files []ruleFile) []parsed {
	results := make([]parsed, len(files))
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(files)) {
		wait.Go(func() {
			for i := next.Add(1) - 1; i < int64(len(files)); i = next.Add(1) - 1 {
				if strings.HasSuffix(files[i].path, ".rego") {
					results[i] = parse(&files[i])
				}
			}
		})
	}
	wait.Wait()
	return results
}

// parse parses one Rego file. A parser that panics on hostile text is an error
// of that file.
func parse(file *ruleFile) (result parsed) {
	defer func() {
		if cause := recover(); cause != nil {
			result = parsed{err: fmt.Errorf("the parser failed on this file: %v", cause)}
		}
	}()
	module, err := ast.ParseModuleWithOpts(file.shown, string(file.text), ast.ParserOptions{
		Capabilities:      capabilities(),
		ProcessAnnotation: true,
		RegoVersion:       ast.RegoV1,
	})
	if err == nil && module == nil {
		err = fmt.Errorf("the file holds no package")
	}
	return parsed{module: module, err: err}
}

// place finds out what a module is by its package: part of a rule, or a helper.
func (c *Catalogue) place(file *ruleFile, module *ast.Module) []Rule {
	segments := packagePath(module)
	kind, message := classify(file, segments)
	if message != "" {
		c.problem = append(c.problem, c.texts.atLocation(module.Package.Location, message))
		return nil
	}
	c.modules[file.shown] = module
	if kind == helperModule {
		c.helpers = append(c.helpers, file.shown)
		return nil
	}
	return []Rule{{
		Package: hyphens(strings.Join(segments, ".")),
		FS:      file.source.FS, Folder: path.Dir(file.path),
		Meta: rule.Meta{House: segments[0] == "house"},
		path: segments, files: []string{file.shown}, source: file.source,
	}}
}

// What a module can be.
type moduleKind int

const (
	ruleModule moduleKind = iota
	helperModule
)

// classify decides by its package what a module is, or says what is wrong.
func classify(file *ruleFile, segments []string) (moduleKind, string) {
	name := strings.Join(segments, ".")
	switch {
	case strings.HasSuffix(file.path, "_test.rego"), file.source.library:
		return helperModule, ""
	case file.source.trial && (segments[0] == "lib" || segments[0] == "entry"):
		return helperModule, ""
	case file.source.House, file.source.trial && segments[0] == "house":
		return classifyHouse(segments, name)
	}
	if len(segments) != 3 || segments[0] != "rules" {
		return 0, fmt.Sprintf("a rule's package is rules.<family>.<slug>; this one is %s", name)
	}
	folder := hyphens(segments[1] + "/" + segments[2])
	if path.Dir(file.path) != folder && !file.source.trial {
		return 0, fmt.Sprintf("package %s belongs in the folder %s", name, folder)
	}
	return ruleModule, ""
}

// classifyHouse decides what a module of a house folder is.
func classifyHouse(segments []string, name string) (moduleKind, string) {
	switch {
	case len(segments) >= 2 && segments[0] == "house" && segments[1] == "lib":
		return helperModule, ""
	case len(segments) == 2 && segments[0] == "house":
		return ruleModule, ""
	}
	return 0, fmt.Sprintf("a house rule's package is house.<slug>, and its helpers are house.lib; this one is %s", name)
}

// packagePath returns a module's package path without "data".
func packagePath(module *ast.Module) []string {
	var segments []string
	for _, term := range module.Package.Path[1:] {
		if s, ok := term.Value.(ast.String); ok {
			segments = append(segments, string(s))
		}
	}
	return segments
}

// hyphens turns a package's underscores into the hyphens of ids and folders.
func hyphens(s string) string { return strings.ReplaceAll(s, "_", "-") }

// addErrors turns a parser's errors into problems.
func (c *Catalogue) addErrors(file *ruleFile, err error) {
	var list ast.Errors
	var single *ast.Error
	switch {
	case errors.As(err, &list):
	case errors.As(err, &single):
		list = ast.Errors{single}
	default:
		c.problem = append(c.problem, Problem{File: file.shown, Message: short(err.Error())})
	}
	for _, e := range list {
		c.problem = append(c.problem, c.texts.atLocation(e.Location, explain(e)))
	}
}
