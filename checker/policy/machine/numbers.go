package machine

import (
	"math"
	"math/big"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/topdown/builtins"
)

// The engine computes with integers of less than 32 bits as such, and otherwise with
// floats of 64 bits of mantissa, each written as the shortest digits that give it
// back, and read again for the next step. Here such a float is kept as it is, and
// its digits are made where somebody looks at them.

// float returns a Number as the engine computes with it.
func (v Value) float() *big.Float {
	if v.group != nil && v.group.exact != nil {
		return v.group.exact
	}
	return builtins.NumberToFloat(ast.Number(v.Digits()))
}

// computed returns a float as a Number; ok is false for one that is left to the
// engine.
func computed(f *big.Float) (v Value, ok bool) {
	if f.IsInt() {
		n, accuracy := f.Int64()
		return wholeOf(n), accuracy == big.Exact && n > -small && n < small && (n != 0 || !f.Signbit())
	}
	if f.IsInf() {
		return Value{}, false
	}
	number, _ := f.Float64()
	if nearHalf(f) {
		v, err := numeral(string(builtins.FloatToNumber(f)))
		return v, err == nil
	}
	return Value{kind: Number, number: number, group: &group{exact: f}}, !math.IsInf(number, 0) && number != 0
}

// mantissa is how many bits the engine's floats have, and spare how many of them
// more than a float of the language.
const (
	mantissa = 64
	spare    = mantissa - 53
)

// nearHalf says whether a float lies so near to the middle between two floats of the
// language that its digits, which are rounded, may lie on the other side of it.
func nearHalf(f *big.Float) bool {
	var scaled big.Float
	scaled.SetMantExp(f, mantissa-f.MantExp(nil))
	bits, _ := scaled.Abs(&scaled).Uint64()
	rest := int64(bits & (1<<spare - 1))
	return rest >= 1<<(spare-1)-1 && rest <= 1<<(spare-1)+1
}

// arithmetic is a built-in function of two numbers.
type arithmetic struct {
	name  string
	small func(a, b int64) (n int64, ok bool)
	float func(z, a, b *big.Float) *big.Float
}

func (op arithmetic) call(v []Value) (Value, error) {
	if v[0].kind != Number || v[1].kind != Number {
		return byEngine(op.name, v)
	}
	a, whole := v[0].integer()
	b, also := v[1].integer()
	if whole && also {
		if n, ok := op.small(a, b); ok {
			return wholeOf(n), nil
		}
		return byEngine(op.name, v)
	}
	if op.float == nil || v[0].large() || v[1].large() || op.name == "div" && v[1].number == 0 {
		return byEngine(op.name, v)
	}
	if n, ok := computed(op.float(new(big.Float), v[0].float(), v[1].float())); ok {
		return n, nil
	}
	return byEngine(op.name, v)
}

// large says whether a Number may be an integer of 32 bits or more, with which the
// engine computes in ways of its own.
func (v Value) large() bool { return math.Abs(v.number) >= small }

func always(of func(a, b int64) int64) func(a, b int64) (int64, bool) {
	return func(a, b int64) (int64, bool) { return of(a, b), true }
}

var (
	plus  = arithmetic{"plus", always(func(a, b int64) int64 { return a + b }), (*big.Float).Add}
	minus = arithmetic{"minus", always(func(a, b int64) int64 { return a - b }), (*big.Float).Sub}
	mul   = arithmetic{"mul", always(func(a, b int64) int64 { return a * b }), (*big.Float).Mul}
	rem   = arithmetic{"rem", func(a, b int64) (int64, bool) {
		if b == 0 {
			return 0, false
		}
		return a % b, true
	}, nil}
	// div of integers is exact only where nothing is left; the rest is left to the engine.
	div = arithmetic{"div", func(a, b int64) (int64, bool) {
		if a == 0 || b == 0 || a%b != 0 {
			return 0, false
		}
		return a / b, true
	}, (*big.Float).Quo}
)

// rounding is a built-in function of one number.
type rounding struct {
	name  string
	small func(n int64) int64
	float func(f float64) float64          // of a number with digits as facts have them
	exact func(f *big.Float) (int64, bool) // of another, unless the next one answers
	other func(f *big.Float) *big.Float
}

func (op rounding) call(v []Value) (Value, error) {
	n, whole := v[0].integer()
	switch {
	case whole:
		return wholeOf(op.small(n)), nil
	case v[0].kind != Number || v[0].text != "" || math.Abs(v[0].number) > usual:
	case v[0].group == nil:
		return Value{kind: Number, number: op.float(v[0].number)}, nil
	case op.other != nil:
		if n, ok := computed(op.other(v[0].group.exact)); ok {
			return n, nil
		}
	default:
		if n, ok := op.exact(v[0].group.exact); ok {
			return wholeOf(n), nil
		}
	}
	return byEngine(op.name, v)
}

// usual is below where the engine writes numbers with an exponent.
const usual = 1e5

func same(n int64) int64 { return n }

var (
	abs   = rounding{"abs", func(n int64) int64 { return max(n, -n) }, math.Abs, nil, func(f *big.Float) *big.Float { return new(big.Float).Abs(f) }}
	floor = rounding{"floor", same, func(f float64) float64 { return float64(floorOf(math.Trunc(f), f)) }, func(f *big.Float) (int64, bool) {
		n, accuracy := f.Int64()
		if n < 0 && accuracy != big.Exact {
			n--
		}
		return n, true
	}, nil}
	round = rounding{"round", same, func(f float64) float64 { return float64(int64(f + math.Copysign(0.5, f))) }, func(f *big.Float) (int64, bool) {
		half := big.NewFloat(math.Copysign(0.5, float64(f.Sign())))
		n, _ := new(big.Float).Add(f, half).Int64()
		return n, true
	}, nil}
)

// floorOf is the engine's floor: between -1 and 0 that is 0.
func floorOf(whole, f float64) int64 {
	if whole < 0 && f != whole {
		whole--
	}
	return int64(whole)
}

// sum adds numbers in order, as the engine does where some are no integers.
func sum(v []Value) (Value, error) {
	if v[0].kind != Array && v[0].kind != Set {
		return byEngine("sum", v)
	}
	fraction := false
	all := new(big.Float)
	var items []Value
	v[0].Each(func(_, item Value) { items = append(items, item) })
	for _, item := range items {
		if item.kind != Number || item.large() {
			return byEngine("sum", v)
		}
		fraction = fraction || item.number != math.Trunc(item.number)
		all.Add(all, item.float())
	}
	if n, ok := computed(all); ok && fraction {
		return n, nil
	}
	return byEngine("sum", v)
}
