package machine

import (
	"reflect"

	"github.com/open-policy-agent/opa/v1/ir"
)

// The engine's plan gives each answer a local of its own, and copies or tests it
// in the next statement. Where nobody else reads that local, the two statements
// become one instruction.

// uses says of each statement how often what it puts into a local is read before
// something else is put there.
type uses struct {
	reads map[ir.Stmt]int
	last  map[ir.Local]ir.Stmt // who put there what a local holds
}

// usesOf goes through the statements of a function in the order in which they
// stand. Loops do not matter: what a turn reads it has put there itself, except
// for arrays, objects and sets that are being made.
func usesOf(f *ir.Func) uses {
	u := uses{map[ir.Stmt]int{}, map[ir.Local]ir.Stmt{}}
	for _, block := range f.Blocks {
		u.block(block)
	}
	return u
}

func (u uses) block(block *ir.Block) {
	for _, statement := range block.Stmts {
		u.statement(statement)
	}
}

func (u uses) statement(statement ir.Stmt) {
	fields := reflect.ValueOf(statement).Elem()
	_, loop := statement.(*ir.ScanStmt)
	var puts []ir.Local
	for i := range fields.NumField() {
		name := fields.Type().Field(i).Name
		switch v := fields.Field(i).Interface().(type) {
		case ir.Local:
			if name == "Target" || name == "Result" || loop && name != "Source" {
				puts = append(puts, v)
			} else {
				u.read(v)
			}
		case ir.Operand:
			u.operand(v)
		case []ir.Operand:
			for _, o := range v {
				u.operand(o)
			}
		}
	}
	for _, l := range puts {
		u.last[l] = statement
	}
	for i := range fields.NumField() {
		switch v := fields.Field(i).Interface().(type) {
		case *ir.Block:
			u.block(v)
		case []*ir.Block:
			for _, b := range v {
				u.block(b)
			}
		}
	}
}

func (u uses) operand(o ir.Operand) {
	if l, ok := o.Value.(*ir.Local); ok {
		u.read(*l)
	}
}

func (u uses) read(l ir.Local) { u.reads[u.last[l]]++ }

// target returns the local that a statement puts its answer into, when it is one
// that can as well put it elsewhere.
func target(statement ir.Stmt) *ir.Local {
	switch s := statement.(type) {
	case *ir.CallStmt:
		return &s.Result
	case *ir.DotStmt:
		return &s.Target
	case *ir.AssignVarStmt:
		return &s.Target
	case *ir.MakeNumberRefStmt:
		return &s.Target
	}
	return nil
}

// copied says whether the next statement does nothing but copy what a statement
// answers, and is the only one to read it; then the first can put it there itself.
func (u uses) copied(statement, next ir.Stmt) bool {
	from, to := target(statement), copyOf(next)
	return from != nil && to != nil && u.reads[statement] == 1 && to.from == *from
}

// copying is an assignment of one local to another.
type copying struct{ from, to ir.Local }

func copyOf(statement ir.Stmt) *copying {
	if s, ok := statement.(*ir.AssignVarStmt); ok {
		if from, ok := s.Source.Value.(*ir.Local); ok {
			return &copying{*from, s.Target}
		}
	}
	return nil
}

// tested returns the operation of a comparison whose answer is only read by the
// next statement, which asks whether it is true.
func (u uses) tested(statement, next ir.Stmt) (operation, *ir.CallStmt) {
	call, ok := statement.(*ir.CallStmt)
	if !ok || u.reads[statement] != 1 {
		return 0, nil
	}
	test, ok := next.(*ir.NotEqualStmt)
	if !ok {
		return 0, nil
	}
	local, isLocal := test.A.Value.(*ir.Local)
	no, isTruth := test.B.Value.(*ir.Bool)
	if op, known := comparisons[call.Func]; known && isLocal && isTruth && *local == call.Result && !bool(*no) {
		return op, call
	}
	return 0, nil
}
