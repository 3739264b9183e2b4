package policy

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/types"
)

//go:embed builtins.txt
var builtinsText string

// The names of the two functions by which the entry query speaks to the
// engine. Rules may not call them.
const (
	beginName = "engine.begin"
	takeName  = "engine.take"
)

// beginDecl tells the engine which rule is about to be judged; it is false for
// a rule that the engine wants skipped.
var beginDecl = &ast.Builtin{
	Name: beginName,
	Decl: types.NewFunction(types.Args(types.S), types.B),
}

// takeDecl hands the engine a rule's hits.
var takeDecl = &ast.Builtin{
	Name: takeName,
	Decl: types.NewFunction(types.Args(types.S, types.A), types.B),
}

// decisions reads builtins.txt: each built-in function, and whether rules may
// call it.
func decisions() (map[string]bool, error) {
	allowed := map[string]bool{}
	for i, line := range strings.Split(builtinsText, "\n") {
		fields := strings.Fields(line)
		if len(fields) == 0 || strings.HasPrefix(fields[0], "#") {
			continue
		}
		if len(fields) < 2 || (fields[0] != "allow" && fields[0] != "refuse") {
			return nil, fmt.Errorf("builtins.txt:%d: want \"allow NAME\" or \"refuse NAME reason\"", i+1)
		}
		if _, twice := allowed[fields[1]]; twice {
			return nil, fmt.Errorf("builtins.txt:%d: %s is decided twice", i+1, fields[1])
		}
		allowed[fields[1]] = fields[0] == "allow"
	}
	return allowed, nil
}

// capabilities returns what rules may use: the built-in functions that
// builtins.txt allows and no network hosts at all. The result is shared and
// must not be changed.
var capabilities = sync.OnceValue(func() *ast.Capabilities {
	allowed, err := decisions()
	if err != nil {
		panic(err) // an embedded file, held by a test
	}
	all := ast.CapabilitiesForThisVersion()
	kept := make([]*ast.Builtin, 0, len(allowed))
	for _, builtin := range all.Builtins {
		if allowed[builtin.Name] {
			kept = append(kept, builtin)
		}
	}
	return &ast.Capabilities{
		Builtins:       append(kept, beginDecl, takeDecl),
		FutureKeywords: all.FutureKeywords,
		Features:       all.Features,
		AllowNet:       []string{},
	}
})
