package machine

import (
	"errors"
	"fmt"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/topdown"
)

// Term returns a value in the engine's own form.
func (v Value) Term() *ast.Term {
	t := terms{words: map[string]*ast.Term{}, numbers: map[string]*ast.Term{}}
	return t.of(v)
}

// terms makes terms. Facts repeat their words and numbers, so each is made once.
type terms struct{ words, numbers map[string]*ast.Term }

func (t terms) of(v Value) *ast.Term {
	switch v.kind {
	case Null:
		return ast.InternedNullTerm
	case False, True:
		return ast.InternedTerm(v.kind == True)
	case Number:
		return once(t.numbers, v.Digits(), func(digits string) *ast.Term { return ast.NewTerm(ast.Number(digits)) })
	case Text:
		return once(t.words, v.text, ast.StringTerm)
	case Array, Set:
		members := make([]*ast.Term, 0, v.Len())
		v.Each(func(_, member Value) { members = append(members, t.of(member)) })
		if v.kind == Set {
			return ast.SetTerm(members...)
		}
		return ast.ArrayTerm(members...)
	case Object:
		members := make([][2]*ast.Term, 0, v.Len())
		v.Each(func(key, member Value) { members = append(members, [2]*ast.Term{t.of(key), t.of(member)}) })
		return ast.ObjectTerm(members...)
	}
	return nil
}

func once(made map[string]*ast.Term, text string, make func(string) *ast.Term) *ast.Term {
	term, found := made[text]
	if !found {
		term = make(text)
		made[text] = term
	}
	return term
}

// FromTerm returns a value of the engine.
func FromTerm(term *ast.Term) (Value, error) {
	switch t := term.Value.(type) {
	case ast.Null:
		return Value{kind: Null}, nil
	case ast.Boolean:
		return Bool(bool(t)), nil
	case ast.Number:
		return numeral(string(t))
	case ast.String:
		return TextValue(string(t)), nil
	case *ast.Array:
		members, err := fromTerms(t.Iter, t.Len())
		return ArrayOf(members), err
	case ast.Set:
		members, err := fromTerms(t.Iter, t.Len())
		g := &group{}
		for _, member := range members {
			g.add(member, Set)
		}
		return Value{kind: Set, group: g}, err
	case ast.Object:
		g := &group{}
		err := t.Iter(func(key, member *ast.Term) error {
			k, err := FromTerm(key)
			if err != nil {
				return err
			}
			m, err := FromTerm(member)
			g.put(k, m)
			return err
		})
		return Value{kind: Object, group: g}, err
	}
	return Value{}, fmt.Errorf("a %T is not a value", term.Value)
}

func fromTerms(each func(func(*ast.Term) error) error, n int) ([]Value, error) {
	members := make([]Value, 0, n)
	err := each(func(term *ast.Term) error {
		member, err := FromTerm(term)
		members = append(members, member)
		return err
	})
	return members, err
}

// byEngine calls a built-in function as the engine has it. Undefined is a
// function that has no answer.
func byEngine(name string, arguments []Value) (Value, error) {
	function := topdown.GetBuiltin(name)
	if function == nil {
		return Value{}, fmt.Errorf("there is no function %s", name)
	}
	made := terms{words: map[string]*ast.Term{}, numbers: map[string]*ast.Term{}}
	operands := make([]*ast.Term, len(arguments))
	for i := range arguments {
		operands[i] = made.of(arguments[i])
	}
	var answer Value
	answered := false
	err := function(topdown.BuiltinContext{}, operands, func(term *ast.Term) (err error) {
		if answered {
			return errors.New("more than one answer")
		}
		answered = true
		answer, err = FromTerm(term)
		return err
	})
	if err != nil {
		return Value{}, fmt.Errorf("%s: %w", name, err)
	}
	return answer, nil
}
