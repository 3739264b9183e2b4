package policy

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"

	"duskproof/checker/policy/machine"
)

// compileDeadline is how long rules may take to compile. The rules that come
// with the program take about a hundredth of it.
const compileDeadline = 5 * time.Second

// Options say what to compile.
type Options struct {
	// Only lists the ids of the rules that are on; nil means every rule.
	Only []string
	// Facts is the JSON Schema of the facts document, decoded. Rules are
	// type-checked against it; nil leaves types unchecked.
	Facts any
	// Limits bound each evaluation; the zero value means DefaultLimits.
	Limits Limits
}

// Program is rules that are ready to judge. It may be used by many goroutines at
// once.
type Program struct {
	rules  []*Rule // in the order of judging: bundled before house, by id
	byID   map[string]*Rule
	limits Limits
	// machine runs the rules that come with the program; nil where the engine
	// is to judge all.
	machine func() *machine.Program
	// engine is the policy engine with the rules. Where the machine runs all
	// rules, it is made when it is asked for.
	engine func() (*engine, error)
}

// engine is rules compiled by the policy engine.
type engine struct {
	query   rego.PreparedEvalQuery
	owner   map[string]string // module to rule id
	texts   texts
	hitSite map[string]*ast.Location
}

// Rules returns the ids of the rules that the program judges, sorted.
func (p *Program) Rules() []string {
	ids := make([]string, 0, len(p.rules))
	for _, r := range p.rules {
		ids = append(ids, r.ID)
	}
	slices.Sort(ids)
	return ids
}

// Compile type-checks and compiles the rules that are on. A rule that does not
// compile is left out and has at least one problem, and the rest are compiled
// all the same. House rules that take too long to compile, or break the
// compiler, are left out together.
func (c *Catalogue) Compile(options Options) (*Program, []Problem) {
	if c.parsed != nil {
		return c.readyProgram(options), nil
	}
	program, problems, broke := c.guarded(options)
	if broke == "" {
		return program, problems
	}
	problems = []Problem{{File: c.foreignFile(), Message: broke}}
	if c.foreignFile() == builtIn {
		return nil, problems
	}
	program, more, _ := c.bundled().guarded(options)
	return program, sortProblems(append(problems, more...))
}

// bundled returns the catalogue without house rules.
func (c *Catalogue) bundled() *Catalogue {
	ours := *c
	ours.Rules = slices.DeleteFunc(slices.Clone(c.Rules), func(r Rule) bool { return r.House })
	ours.helpers = slices.DeleteFunc(slices.Clone(c.helpers), func(name string) bool { return !c.library[name] })
	return &ours
}

// guarded compiles in its own goroutine and waits no longer than the deadline;
// broke says what went wrong with the compiler itself.
func (c *Catalogue) guarded(options Options) (program *Program, problems []Problem, broke string) {
	type result struct {
		program  *Program
		problems []Problem
		broke    string
	}
	done := make(chan result, 1)
	go func() {
		defer func() {
			if cause := recover(); cause != nil {
				done <- result{broke: fmt.Sprintf("the compiler failed: %v", cause)}
			}
		}()
		program, problems := c.compile(options)
		done <- result{program, sortProblems(problems), ""}
	}()
	select {
	case r := <-done:
		return r.program, r.problems, r.broke
	case <-time.After(compileDeadline):
		runaways.Add(1)
		go func() {
			<-done
			runaways.Add(-1)
		}()
		return nil, nil, fmt.Sprintf("the rules did not compile within %s", compileDeadline)
	}
}

// foreignFile names where a fault of all rules together most likely lies.
func (c *Catalogue) foreignFile() string {
	for i := range c.Rules {
		if c.Rules[i].House {
			return c.Rules[i].source.Name
		}
	}
	return builtIn
}

// compile compiles until nothing is broken, leaving out what is.
func (c *Catalogue) compile(options Options) (*Program, []Problem) {
	on, problems := c.selected(options)
	helpers := slices.Clone(c.helpers)
	for {
		compiler := newCompiler(options.Facts)
		compiler.Compile(c.modulesOf(on, helpers))
		errs := compiler.Errors
		if len(errs) == 0 {
			errs = c.deepCalls(compiler)
		}
		if len(errs) == 0 {
			program, err := c.prepare(compiler, on, options)
			if err != nil {
				problems = append(problems, Problem{File: builtIn, Message: err.Error()})
			}
			return program, problems
		}
		broken, found := c.blame(errs)
		problems = append(problems, found...)
		before := len(on) + len(helpers)
		on = slices.DeleteFunc(on, func(r *Rule) bool {
			return slices.ContainsFunc(r.files, func(name string) bool { return broken[name] })
		})
		helpers = slices.DeleteFunc(helpers, func(name string) bool { return broken[name] && !c.library[name] })
		if len(on)+len(helpers) == before {
			return nil, problems
		}
	}
}

// selected returns the Rego rules that are on and pass the checks that the
// compiler does not make, bundled rules first.
func (c *Catalogue) selected(options Options) ([]*Rule, []Problem) {
	var on []*Rule
	var problems []Problem
	shape := newShape(options.Facts)
	for i := range c.Rules {
		r := &c.Rules[i]
		if options.Only != nil && !slices.Contains(options.Only, r.ID) {
			continue
		}
		found := c.checkNeeds(r, shape)
		if !r.Native {
			found = append(found, c.checkModules(r)...)
		}
		problems = append(problems, found...)
		if !r.Native && len(found) == 0 {
			on = append(on, r)
		}
	}
	slices.SortStableFunc(on, func(a, b *Rule) int {
		switch {
		case a.House == b.House:
			return 0
		case b.House:
			return -1
		}
		return 1
	})
	return on, problems
}

// modulesOf returns the modules to compile: the helpers and the rules' own.
func (c *Catalogue) modulesOf(on []*Rule, helpers []string) map[string]*ast.Module {
	modules := map[string]*ast.Module{}
	for _, name := range helpers {
		modules[name] = c.modules[name]
	}
	for _, r := range on {
		for _, name := range r.files {
			modules[name] = c.modules[name]
		}
	}
	return modules
}

// newCompiler returns a compiler that allows what rules may use and no more.
func newCompiler(factsSchema any) *ast.Compiler {
	compiler := ast.NewCompiler().
		WithCapabilities(capabilities()).
		WithStrict(true).
		WithDefaultRegoVersion(ast.RegoV1).
		WithEnablePrintStatements(false).
		WithUseTypeCheckAnnotations(true)
	if factsSchema != nil {
		schemas := ast.NewSchemaSet()
		schemas.Put(ast.SchemaRootRef, factsSchema)
		compiler = compiler.WithSchemas(schemas)
	}
	return compiler.SetErrorLimit(200)
}

// blame turns compile errors into problems, and names the files they are in.
func (c *Catalogue) blame(errs ast.Errors) (broken map[string]bool, problems []Problem) {
	broken = map[string]bool{}
	for _, e := range errs {
		problem := c.texts.atLocation(placeOfError(e), explain(e))
		broken[problem.File] = true
		for i := range c.Rules {
			if slices.Contains(c.Rules[i].files, problem.File) {
				problem.Rule = c.Rules[i].ID
			}
		}
		problems = append(problems, problem)
	}
	return broken, problems
}

// newProgram makes a program of rules, all but its engine.
func newProgram(on []*Rule, options Options) *Program {
	p := &Program{rules: on, byID: map[string]*Rule{}, limits: options.Limits.orDefaults()}
	for _, r := range on {
		p.byID[r.ID] = r
	}
	return p
}

// prepare makes a program out of a compiler that has compiled the rules.
func (c *Catalogue) prepare(compiler *ast.Compiler, on []*Rule, options Options) (*Program, error) {
	e := &engine{owner: map[string]string{}, texts: c.texts, hitSite: map[string]*ast.Location{}}
	for _, r := range on {
		for _, name := range r.files {
			e.owner[name] = r.ID
		}
		e.hitSite[r.ID] = c.hitSite(r)
	}
	query, err := rego.New(
		rego.Query("data.entry.judged"),
		rego.Compiler(compiler),
		rego.Store(selectedStore(on)),
		rego.StackTraces(true),
		rego.Function1(&rego.Function{Name: beginName, Decl: beginDecl.Decl}, beginFunction),
		rego.Function2(&rego.Function{Name: takeName, Decl: takeDecl.Decl}, takeFunction),
	).PrepareForEval(context.Background())
	if err != nil {
		return nil, fmt.Errorf("prepare the entry query: %w", err)
	}
	e.query = query
	p := newProgram(on, options)
	p.machine = c.machine
	p.engine = func() (*engine, error) { return e, nil }
	return p, nil
}

// hitSite returns where a rule makes its hits, or else its package's place.
func (c *Catalogue) hitSite(r *Rule) *ast.Location {
	for _, name := range r.files {
		for _, written := range c.modules[name].Rules {
			if written.Head.Ref().HasPrefix(hitsRef) {
				return written.Location
			}
		}
	}
	return c.modules[r.files[0]].Package.Location
}

// selectedStore holds the packages of the rules that are on, for the entry
// query.
func selectedStore(on []*Rule) storage.Store {
	ours, house := map[string]any{}, map[string]any{}
	for _, r := range on {
		if r.House {
			house[r.ID] = r.path[1]
			continue
		}
		ours[r.ID] = []any{r.path[1], r.path[2]}
	}
	return inmem.NewFromObjectWithOpts(
		map[string]any{"selected": map[string]any{"ours": ours, "house": house}},
		inmem.OptRoundTripOnWrite(false), inmem.OptReturnASTValuesOnRead(true),
	)
}
