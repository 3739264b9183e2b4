package policy

import (
	"fmt"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// limitFunctions are the library's functions that take the name of a limit,
// with that argument's place.
var limitFunctions = map[string]int{
	"limit": 0, "limit_text": 0, "limit_flag": 0, "limit_row": 0,
	"limit_source": 0, "has_limit": 0, "least": 0, "most": 0, "against": 1,
}

var hitsRef = ast.Ref{ast.VarTerm("hits")}

// checkModules makes the checks of a rule's modules that the compiler does not:
// that it makes hits, that it leaves the engine's own functions alone, that its
// metadata lists the limits it looks up, and that it does not take a missing
// fact for a false one.
func (c *Catalogue) checkModules(r *Rule) []Problem {
	if !slices.ContainsFunc(r.files, func(name string) bool { return makesHits(c.modules[name]) }) {
		problem := c.texts.atLocation(c.modules[r.files[0]].Package.Location,
			"the rule makes no hits: write \"hits contains hit if { ... }\"")
		problem.Rule = r.ID
		return []Problem{problem}
	}
	var problems []Problem
	complain := func(location *ast.Location, message string) {
		problem := c.texts.atLocation(location, message)
		problem.Rule = r.ID
		problems = append(problems, problem)
	}
	for _, name := range r.files {
		module := c.modules[name]
		ast.WalkRefs(module, func(ref ast.Ref) bool {
			if ref[0].Equal(engineVar) {
				complain(ref[0].Location, "rules must not call the engine's own functions")
			}
			if ref.HasPrefix(entryRef) || ref.HasPrefix(selectedRef) {
				complain(ref[0].Location, fmt.Sprintf("%s belongs to the engine; rules must not read it", ref[:2]))
			}
			return false
		})
		eachCall(module, func(function ast.Ref, arguments []*ast.Term) {
			checkLimitName(r, module, function, arguments, complain)
		})
		checkAbsence(r, module, complain)
	}
	return problems
}

// What belongs to the engine and the entry query alone.
var (
	engineVar   = ast.VarTerm("engine")
	entryRef    = dataRef("entry")
	selectedRef = dataRef("selected")
)

// makesHits says whether a module defines the partial set hits.
func makesHits(module *ast.Module) bool {
	return slices.ContainsFunc(module.Rules, func(written *ast.Rule) bool {
		ref := written.Head.Ref()
		return len(ref) == 1 && ref.HasPrefix(hitsRef) && written.Head.RuleKind() == ast.MultiValue
	})
}

// eachCall visits every function call of a module.
func eachCall(module *ast.Module, visit func(function ast.Ref, arguments []*ast.Term)) {
	call := func(terms []*ast.Term) {
		if ref, ok := terms[0].Value.(ast.Ref); ok {
			visit(ref, terms[1:])
		}
	}
	ast.WalkExprs(module, func(expr *ast.Expr) bool {
		if terms, ok := expr.Terms.([]*ast.Term); ok {
			call(terms)
		}
		return false
	})
	ast.WalkTerms(module, func(term *ast.Term) bool {
		if terms, ok := term.Value.(ast.Call); ok {
			call(terms)
		}
		return false
	})
}

// checkLimitName complains about a limit that is looked up by a name that the
// metadata does not list.
func checkLimitName(r *Rule, module *ast.Module, function ast.Ref, arguments []*ast.Term, complain func(*ast.Location, string)) {
	place, ok := limitFunctions[libraryName(module, function)]
	if !ok || place >= len(arguments) {
		return
	}
	name, ok := arguments[place].Value.(ast.String)
	if !ok || slices.Contains(r.Limits, string(name)) {
		return
	}
	complain(arguments[place].Location, fmt.Sprintf("limit %q is not listed under limits in the metadata%s",
		string(name), suggestion(string(name), r.Limits)))
}

// libraryName returns the name of a function of the helper library, or "".
func libraryName(module *ast.Module, function ast.Ref) string {
	if len(function) == 3 && function[:2].Equal(libraryRef) {
		return lastName(function)
	}
	if len(function) != 2 {
		return ""
	}
	for _, imported := range module.Imports {
		if path, ok := imported.Path.Value.(ast.Ref); ok && path.Equal(libraryRef) && imported.Name().Equal(function[0].Value) {
			return lastName(function)
		}
	}
	return ""
}

// dataRef is a reference to a package or a document of one name.
func dataRef(name string) ast.Ref { return ast.DefaultRootRef.Append(ast.StringTerm(name)) }

var libraryRef = dataRef("lib")

func lastName(ref ast.Ref) string {
	name, _ := ref[len(ref)-1].Value.(ast.String)
	return string(name)
}

// checkAbsence complains about "not element.field" on a field that the rule
// needs: it holds when the field is false, but when it is missing, too.
func checkAbsence(r *Rule, module *ast.Module, complain func(*ast.Location, string)) {
	var needed []string
	for _, need := range r.Needs {
		needed = append(needed, need.Has...)
	}
	ast.WalkExprs(module, func(expr *ast.Expr) bool {
		term, ok := expr.Terms.(*ast.Term)
		if !ok || !expr.Negated {
			return false
		}
		ref, ok := term.Value.(ast.Ref)
		if ok && len(ref) > 1 && slices.Contains(needed, lastName(ref)) {
			complain(expr.Location, fmt.Sprintf("\"not %s\" holds when the fact is missing, too; write \"%s == false\"", ref, ref))
		}
		return false
	})
}

// maxCallDepth is how deep rules and functions may call each other. Deeper
// chains could use up the stack, which no program can recover from.
const maxCallDepth = 100

// deepCalls finds the rules and functions that start too long a chain of calls.
func (c *Catalogue) deepCalls(compiler *ast.Compiler) ast.Errors {
	sorted, ok := compiler.Graph.Sort()
	if !ok {
		return nil
	}
	var errs ast.Errors
	depth := make(map[any]int, len(sorted))
	for _, node := range sorted {
		for dependency := range compiler.Graph.Dependencies(node) {
			depth[node] = max(depth[node], depth[dependency]+1)
		}
		if rule, isRule := node.(*ast.Rule); isRule && depth[node] == maxCallDepth+1 {
			errs = append(errs, &ast.Error{Location: rule.Location, Message: fmt.Sprintf(
				"%s starts a chain of more than %d rules or functions that call each other", strings.TrimSpace(rule.Head.Name.String()), maxCallDepth)})
		}
	}
	return errs
}
