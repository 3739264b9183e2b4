package machine

// operation is what an instruction does.
type operation uint8

// The operations. A, B and C are the instruction's operands: places of locals, or,
// when negative, constants. An instruction that has no answer goes on at Else.
const (
	opUndefined      operation = iota // the function has no answer
	opReturn                          // A is the answer
	opJump                            // goes on at Else
	opAssign                          // B = A
	opAssignOnce                      // B = A; an irregularity when B is another value already
	opReset                           // B becomes undefined
	opDot                             // C = A[B], or Else
	opScan                            // begins to go through A, as number B of the function's scans
	opNext                            // B, C = next key and value of scan A, or Else
	opEqual                           // A == B, or Else
	opNotEqual                        // A != B, or Else
	opLess                            // A < B, or Else
	opLessOrEqual                     // A <= B, or Else
	opGreater                         // A > B, or Else
	opGreaterOrEqual                  // A >= B, or Else
	opIsArray                         // A is an array, or Else
	opIsObject                        // A is an object, or Else
	opIsSet                           // A is a set, or Else
	opIsDefined                       // A has a value, or Else
	opIsUndefined                     // A has none, or Else
	opLength                          // B = how many members A has
	opArray                           // B = a new array with room for A
	opObject                          // B = a new object
	opSet                             // B = a new set
	opAppend                          // appends A to array B
	opAdd                             // adds A to set B
	opInsert                          // object C gets key A with value B
	opInsertOnce                      // the same; an irregularity when the key has another value
	opCall                            // C = function A of the arguments at B, or Else
	opBuiltin                         // C = built-in function A of the arguments at B, or Else
	operations
)

// instruction is one step of a function.
type instruction struct {
	op      operation
	a, b, c int32
	other   int32 // where to go on when there is no answer
}

// function is a rule or a function of the rules.
type function struct {
	parameters int
	locals     int
	scans      int
	// remembered is true of a rule: its answer depends on the facts alone.
	remembered bool
	code       []instruction
}

// builtin is a built-in function that the program calls.
type builtin struct {
	name       string
	parameters int
	native     func([]Value) (Value, error)
}

// Program is rules that can be run. It is not changed after it was made, and may
// be used by many goroutines.
type Program struct {
	constants []Value
	builtins  []builtin
	arguments []int32 // of all calls
	functions []function
	entries   map[string]int // functions by the name of the rule
}

// Has says whether the program can run a rule.
func (p *Program) Has(rule string) bool {
	_, found := p.entries[rule]
	return found
}
