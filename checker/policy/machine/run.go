package machine

import (
	"errors"
	"fmt"
	"time"
)

// ErrSlow means that a rule ran longer than it may.
var ErrSlow = errors.New("the rule ran too long")

// errConflict means that there are two values where one may be.
var errConflict = errors.New("two different values where there may be one")

// looks is after how many steps of a loop the clock is looked at.
const looks = 1 << 14

// Session runs rules over one set of facts. What one rule worked out is kept for
// the others. It is for one goroutine.
type Session struct {
	program *Program
	facts   Value
	known   []Value // answers of the remembered functions
	asked   []bool  // which of them are known
	room    []Value // for the locals of functions that are running
	used    int
	steps   int
	ends    time.Time
}

// NewSession begins a session.
func (p *Program) NewSession(facts Value) *Session {
	return &Session{
		program: p, facts: facts, known: make([]Value, len(p.functions)), asked: make([]bool, len(p.functions)),
		room: make([]Value, 512),
	}
}

// Judge runs a rule and returns its hits, undefined when the rule has no answer.
// Any error means that the engine has to be asked; ErrSlow that this took longer
// than the time allowed.
func (s *Session) Judge(rule string, most time.Duration) (hits Value, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			err = fmt.Errorf("the machine failed: %v", cause)
		}
	}()
	entry, found := s.program.entries[rule]
	if !found {
		return Value{}, fmt.Errorf("rule %s is not in the program", rule)
	}
	s.used, s.steps, s.ends = 0, 0, time.Now().Add(most)
	return s.call(entry, nil, nil)
}

// Where the engine's plan keeps things in each function: first the facts and the
// data, which rules do not use, then the answer, then the arguments.
const (
	factsLocal    = 0
	ownParameters = 2
)

// call runs a function. The arguments are places of the caller's locals.
func (s *Session) call(number int, arguments []int32, caller []Value) (Value, error) {
	f := &s.program.functions[number]
	if f.remembered && s.asked[number] {
		return s.known[number], nil
	}
	before := s.used
	locals := s.take(f.locals)
	locals[factsLocal] = s.facts
	for i, from := range arguments {
		if i >= ownParameters {
			locals[i+1] = s.value(caller, from)
		}
	}
	answer, err := s.run(f, locals)
	s.used = before
	if f.remembered && err == nil {
		s.known[number], s.asked[number] = answer, true
	}
	return answer, err
}

// take returns room for locals, all undefined.
func (s *Session) take(n int) []Value {
	if s.used+n > len(s.room) {
		s.room, s.used = make([]Value, 2*len(s.room)+n), 0 // those who run keep the room they have
	}
	locals := s.room[s.used : s.used+n : s.used+n]
	s.used += n
	clear(locals)
	return locals
}

// value returns a local or a constant.
func (s *Session) value(locals []Value, at int32) Value {
	if at < 0 {
		return s.program.constants[^at]
	}
	return locals[at]
}

// tick counts a step of a loop and looks at the clock now and then.
func (s *Session) tick() error {
	s.steps++
	if s.steps%looks == 0 && time.Now().After(s.ends) {
		return ErrSlow
	}
	return nil
}

// run runs the code of a function.
func (s *Session) run(f *function, locals []Value) (Value, error) {
	var scans [4]scan
	open := scans[:]
	if f.scans > len(open) {
		open = make([]scan, f.scans)
	}
	for at := 0; ; {
		in := &f.code[at]
		at++
		answered := true
		switch in.op {
		case opUndefined:
			return Value{}, nil
		case opReturn:
			return s.value(locals, in.a), nil
		case opJump:
			answered = false
		case opAssign:
			locals[in.b] = s.value(locals, in.a)
		case opReset:
			locals[in.b] = Value{}
		case opDot:
			found := s.value(locals, in.a).Get(s.value(locals, in.b))
			locals[in.c], answered = found, found.kind != Undefined
		case opScan:
			open[in.b] = s.value(locals, in.a).scan()
		case opNext:
			if err := s.tick(); err != nil {
				return Value{}, err
			}
			locals[in.b], locals[in.c], answered = open[in.a].next()
		case opCall, opBuiltin:
			answer, err := s.dispatch(in, locals)
			if err != nil {
				return Value{}, err
			}
			locals[in.c], answered = answer, answer.kind != Undefined
		default:
			var err error
			if in.op <= opIsUndefined && in.op >= opEqual {
				answered = s.test(in, locals)
			} else if err = s.build(in, locals); err != nil {
				return Value{}, err
			}
		}
		if !answered {
			at = int(in.other)
		}
	}
}

// dispatch calls a function of the rules or a built-in one.
func (s *Session) dispatch(in *instruction, locals []Value) (Value, error) {
	arguments := s.program.arguments[in.b:]
	if in.op == opCall {
		return s.call(int(in.a), arguments[:s.program.functions[in.a].parameters], locals)
	}
	b := &s.program.builtins[in.a]
	var room [4]Value
	given := room[:0]
	for _, from := range arguments[:b.parameters] {
		given = append(given, s.value(locals, from))
	}
	if b.native == nil {
		return byEngine(b.name, given)
	}
	return b.native(given)
}

// test makes the comparison of an instruction.
func (s *Session) test(in *instruction, locals []Value) bool {
	a := s.value(locals, in.a)
	switch in.op {
	case opIsArray:
		return a.kind == Array
	case opIsObject:
		return a.kind == Object
	case opIsSet:
		return a.kind == Set
	case opIsDefined:
		return a.kind != Undefined
	case opIsUndefined:
		return a.kind == Undefined
	}
	order := Compare(a, s.value(locals, in.b))
	switch in.op {
	case opEqual:
		return order == 0
	case opNotEqual:
		return order != 0
	case opLess:
		return order < 0
	case opLessOrEqual:
		return order <= 0
	case opGreater:
		return order > 0
	}
	return order >= 0
}

// build makes arrays, objects and sets.
func (s *Session) build(in *instruction, locals []Value) error {
	switch in.op {
	case opAssignOnce:
		a, b := s.value(locals, in.a), &locals[in.b]
		if b.kind != Undefined && Compare(a, *b) != 0 {
			return errConflict
		}
		*b = a
	case opLength:
		locals[in.b] = wholeOf(int64(s.value(locals, in.a).Len()))
	case opArray:
		locals[in.b] = ArrayOf(make([]Value, 0, in.a))
	case opObject:
		locals[in.b] = Value{kind: Object, group: &group{}}
	case opSet:
		locals[in.b] = Value{kind: Set, group: &group{}}
	case opAppend:
		g := locals[in.b].group
		g.items = append(g.items, s.value(locals, in.a))
	case opAdd:
		locals[in.b].group.add(s.value(locals, in.a), Set)
	case opInsert, opInsertOnce:
		g, key, value := locals[in.c].group, s.value(locals, in.a), s.value(locals, in.b)
		if i := g.find(key); in.op == opInsertOnce && i >= 0 && Compare(g.items[i], value) != 0 {
			return errConflict
		}
		g.put(key, value)
	default:
		return fmt.Errorf("operation %d is not known", in.op)
	}
	return nil
}
