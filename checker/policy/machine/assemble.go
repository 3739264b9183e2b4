package machine

import (
	"fmt"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ir"
)

// Assemble turns the engine's plan, read from its JSON, into a program. The plan has one query for
// each rule, whose name is the path of its hits, "rules/family/slug/hits";
// ruleOf gives the rule's name in the program for it. It is an error when the
// plan has a statement that the machine does not know: one for "with", or for a
// reference to data that depends on the facts.
func Assemble(plan *ir.Policy, ruleOf func(query string) string) (*Program, error) {
	a := assembler{
		plan: plan, program: &Program{entries: map[string]int{}},
		functions: map[string]int{}, builtins: map[string]int{}, constants: map[Value]int32{},
	}
	for i, f := range plan.Funcs.Funcs {
		a.functions[f.Name] = i
	}
	for _, f := range plan.Funcs.Funcs {
		assembled, err := a.function(f)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		a.program.functions = append(a.program.functions, assembled)
	}
	for _, query := range plan.Plans.Plans {
		path := strings.Split(query.Name, "/")
		i := slices.IndexFunc(plan.Funcs.Funcs, func(f *ir.Func) bool { return slices.Equal(f.Path[1:], path) })
		if i < 0 {
			return nil, fmt.Errorf("there is no function for the query %s", query.Name)
		}
		a.program.entries[ruleOf(query.Name)] = i
	}
	return a.program, nil
}

// assembler makes a program.
type assembler struct {
	plan      *ir.Policy
	program   *Program
	functions map[string]int
	builtins  map[string]int
	constants map[Value]int32

	// of the function in hand
	current function
	uses    uses
	exits   []*label // of the blocks around the statement in hand, the innermost last
	open    int      // scans around the statement in hand
}

// label is a place in the code that is not known yet when jumps to it are made.
type label struct {
	at    int32
	jumps []int // instructions that go on there
}

// function assembles one function.
func (a *assembler) function(f *ir.Func) (function, error) {
	a.current = function{parameters: len(f.Params), remembered: len(f.Params) == 2}
	for i, p := range f.Params {
		if i >= ownParameters {
			i++
		}
		if a.local(p) != int32(i) {
			return function{}, fmt.Errorf("local %d is a parameter", p)
		}
	}
	a.uses = usesOf(f)
	for _, block := range f.Blocks {
		if err := a.block(block); err != nil {
			return function{}, err
		}
	}
	a.emit(instruction{op: opUndefined})
	return a.current, nil
}

// block assembles a block: a statement without an answer goes on behind it.
func (a *assembler) block(block *ir.Block) error {
	return a.inside(func() error { return a.statements(block) })
}

// inside assembles what make does, with a label behind it as the innermost exit.
func (a *assembler) inside(body func() error) error {
	exit := &label{}
	a.exits = append(a.exits, exit)
	err := body()
	a.exits = a.exits[:len(a.exits)-1]
	a.place(exit)
	return err
}

// place says that a label is here.
func (a *assembler) place(l *label) {
	l.at = int32(len(a.current.code))
	for _, jump := range l.jumps {
		a.current.code[jump].other = l.at
	}
}

func (a *assembler) statements(block *ir.Block) error {
	for i := 0; i < len(block.Stmts); i++ {
		statement := block.Stmts[i]
		if i+1 < len(block.Stmts) {
			next := block.Stmts[i+1]
			if op, call := a.uses.tested(statement, next); call != nil {
				a.emit(instruction{op: op, a: a.operand(call.Args[0]), b: a.operand(call.Args[1])})
				i++
				continue
			}
			for ; i+1 < len(block.Stmts) && a.uses.copied(statement, block.Stmts[i+1]); i++ {
				*target(statement) = copyOf(block.Stmts[i+1]).to
				a.uses.reads[statement] = a.uses.reads[block.Stmts[i+1]]
			}
		}
		if err := a.statement(statement); err != nil {
			return err
		}
	}
	return nil
}

// emit appends an instruction that goes on at the innermost exit.
func (a *assembler) emit(in instruction) { a.emitTo(in, a.exit(0)) }

// exit returns the nth exit, counted from the innermost; nil at a function's end.
func (a *assembler) exit(n int) *label {
	if n >= len(a.exits) {
		return nil
	}
	return a.exits[len(a.exits)-1-n]
}

func (a *assembler) emitTo(in instruction, exit *label) {
	if exit != nil {
		exit.jumps = append(exit.jumps, len(a.current.code))
	}
	a.current.code = append(a.current.code, in)
}

// statement assembles one statement.
func (a *assembler) statement(statement ir.Stmt) error {
	switch s := statement.(type) {
	case *ir.BlockStmt:
		for _, block := range s.Blocks {
			if err := a.block(block); err != nil {
				return err
			}
		}
	case *ir.BreakStmt:
		a.emitTo(instruction{op: opJump}, a.exit(int(s.Index)))
	case *ir.ScanStmt:
		return a.scan(s)
	case *ir.NotStmt:
		return a.not(s)
	case *ir.CallStmt:
		return a.call(s)
	case *ir.DotStmt:
		a.emit(instruction{op: opDot, a: a.operand(s.Source), b: a.operand(s.Key), c: a.local(s.Target)})
	case *ir.ReturnLocalStmt:
		a.emit(instruction{op: opReturn, a: a.local(s.Source)})
	default:
		if !a.test(statement) && !a.assign(statement) && !a.build(statement) {
			return fmt.Errorf("the machine does not know %T", statement)
		}
	}
	return nil
}

// scan assembles a loop.
func (a *assembler) scan(s *ir.ScanStmt) error {
	number := int32(a.open)
	a.open++
	a.current.scans = max(a.current.scans, a.open)
	a.emit(instruction{op: opScan, a: a.local(s.Source), b: number})
	again := len(a.current.code)
	err := a.inside(func() error { // the loop is left
		a.emit(instruction{op: opNext, a: number, b: a.local(s.Key), c: a.local(s.Value)})
		err := a.block(s.Block) // one turn of it
		a.emitTo(instruction{op: opJump, other: int32(again)}, nil)
		return err
	})
	a.open--
	return err
}

// not assembles a block whose having an answer is having none.
func (a *assembler) not(s *ir.NotStmt) error {
	return a.inside(func() error {
		err := a.statements(s.Block)
		a.emitTo(instruction{op: opJump}, a.exit(1))
		return err
	})
}

// call assembles a call of a function of the rules, of a built-in one, or a comparison.
func (a *assembler) call(s *ir.CallStmt) error {
	arguments := make([]int32, len(s.Args))
	for i := range s.Args {
		arguments[i] = a.operand(s.Args[i])
	}
	in := instruction{op: opCall, b: int32(len(a.program.arguments)), c: a.local(s.Result)}
	number, ours := a.functions[s.Func]
	if !ours {
		in.op = opBuiltin
		if number, ours = a.builtins[s.Func]; !ours {
			number = len(a.program.builtins)
			a.builtins[s.Func] = number
			a.program.builtins = append(a.program.builtins, builtin{s.Func, len(s.Args), natives[s.Func]})
		}
	}
	in.a = int32(number)
	a.program.arguments = append(a.program.arguments, arguments...)
	a.emit(in)
	return nil
}

// test assembles a statement that only says yes or no.
func (a *assembler) test(statement ir.Stmt) bool {
	switch s := statement.(type) {
	case *ir.EqualStmt:
		a.emit(instruction{op: opEqual, a: a.operand(s.A), b: a.operand(s.B)})
	case *ir.NotEqualStmt:
		a.emit(instruction{op: opNotEqual, a: a.operand(s.A), b: a.operand(s.B)})
	case *ir.IsArrayStmt:
		a.emit(instruction{op: opIsArray, a: a.operand(s.Source)})
	case *ir.IsObjectStmt:
		a.emit(instruction{op: opIsObject, a: a.operand(s.Source)})
	case *ir.IsSetStmt:
		a.emit(instruction{op: opIsSet, a: a.operand(s.Source)})
	case *ir.IsDefinedStmt:
		a.emit(instruction{op: opIsDefined, a: a.local(s.Source)})
	case *ir.IsUndefinedStmt:
		a.emit(instruction{op: opIsUndefined, a: a.local(s.Source)})
	default:
		return false
	}
	return true
}

// assign assembles a statement that gives a local a value.
func (a *assembler) assign(statement ir.Stmt) bool {
	switch s := statement.(type) {
	case *ir.AssignVarStmt:
		a.emit(instruction{op: opAssign, a: a.operand(s.Source), b: a.local(s.Target)})
	case *ir.AssignVarOnceStmt:
		a.emit(instruction{op: opAssignOnce, a: a.operand(s.Source), b: a.local(s.Target)})
	case *ir.AssignIntStmt:
		a.emit(instruction{op: opAssign, a: a.constant(wholeOf(s.Value)), b: a.local(s.Target)})
	case *ir.MakeNumberIntStmt:
		a.emit(instruction{op: opAssign, a: a.constant(wholeOf(s.Value)), b: a.local(s.Target)})
	case *ir.MakeNumberRefStmt:
		number, err := numeral(a.plan.Static.Strings[s.Index].Value)
		a.emit(instruction{op: opAssign, a: a.constant(number), b: a.local(s.Target)})
		return err == nil
	case *ir.MakeNullStmt:
		a.emit(instruction{op: opAssign, a: a.constant(Value{kind: Null}), b: a.local(s.Target)})
	case *ir.ResetLocalStmt:
		a.emit(instruction{op: opReset, b: a.local(s.Target)})
	case *ir.LenStmt:
		a.emit(instruction{op: opLength, a: a.operand(s.Source), b: a.local(s.Target)})
	default:
		return false
	}
	return true
}

// build assembles a statement that makes an array, an object or a set.
func (a *assembler) build(statement ir.Stmt) bool {
	switch s := statement.(type) {
	case *ir.MakeArrayStmt:
		a.emit(instruction{op: opArray, a: s.Capacity, b: a.local(s.Target)})
	case *ir.MakeObjectStmt:
		a.emit(instruction{op: opObject, b: a.local(s.Target)})
	case *ir.MakeSetStmt:
		a.emit(instruction{op: opSet, b: a.local(s.Target)})
	case *ir.ArrayAppendStmt:
		a.emit(instruction{op: opAppend, a: a.operand(s.Value), b: a.local(s.Array)})
	case *ir.SetAddStmt:
		a.emit(instruction{op: opAdd, a: a.operand(s.Value), b: a.local(s.Set)})
	case *ir.ObjectInsertStmt:
		a.emit(instruction{op: opInsert, a: a.operand(s.Key), b: a.operand(s.Value), c: a.local(s.Object)})
	case *ir.ObjectInsertOnceStmt:
		a.emit(instruction{op: opInsertOnce, a: a.operand(s.Key), b: a.operand(s.Value), c: a.local(s.Object)})
	default:
		return false
	}
	return true
}

// local returns the place of a local.
func (a *assembler) local(l ir.Local) int32 {
	a.current.locals = max(a.current.locals, int(l)+1)
	return int32(l)
}

// operand returns the place of a local or of a constant.
func (a *assembler) operand(o ir.Operand) int32 {
	switch v := o.Value.(type) {
	case *ir.Local:
		return a.local(*v)
	case *ir.StringIndex:
		return a.constant(TextValue(a.plan.Static.Strings[*v].Value))
	case *ir.Bool:
		return a.constant(Bool(bool(*v)))
	}
	panic(fmt.Sprintf("an operand is a %T", o.Value)) // a plan that was read has no other
}

// constant returns the place of a constant, below zero.
func (a *assembler) constant(v Value) int32 {
	at, found := a.constants[v]
	if !found {
		a.program.constants = append(a.program.constants, v)
		at = int32(-len(a.program.constants))
		a.constants[v] = at
	}
	return at
}
