package policy

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strconv"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/open-policy-agent/opa/v1/ast"
)

// Document is the facts of one plan in the form that rules read. It is not
// changed after it was made and may be used by many goroutines.
type Document struct {
	value ast.Object
}

// NewDocument makes a document of facts: JSON text as []byte or
// json.RawMessage, or any value that encoding/json can write. It is an error
// when the facts are not one JSON object. Numbers keep twelve significant
// digits.
func NewDocument(facts any) (Document, error) {
	text, isText := asText(facts)
	if isText {
		return readDocument(text)
	}
	c := converter{words: map[string]*ast.Term{}, numbers: map[float64]*ast.Term{}}
	if term, ok := c.convert(reflect.ValueOf(facts)); ok {
		return documentOf(term)
	}
	text, err := json.Marshal(facts)
	if err != nil {
		return Document{}, fmt.Errorf("write the facts as JSON: %w", err)
	}
	return readDocument(text)
}

// asText returns facts that are JSON text already.
func asText(facts any) ([]byte, bool) {
	switch f := facts.(type) {
	case []byte:
		return f, true
	case json.RawMessage:
		return f, true
	}
	return nil, false
}

// readDocument makes a document of JSON text.
func readDocument(text []byte) (Document, error) {
	reader := factsReader{
		Decoder: jsontext.NewDecoder(bytes.NewReader(text)),
		words:   map[string]*ast.Term{}, numbers: map[string]*ast.Term{},
	}
	term, err := reader.value()
	if err != nil {
		return Document{}, fmt.Errorf("read the facts: %w", err)
	}
	if _, err := reader.ReadToken(); !errors.Is(err, io.EOF) {
		return Document{}, errors.New("read the facts: there is more than one value")
	}
	return documentOf(term)
}

func documentOf(term *ast.Term) (Document, error) {
	object, ok := term.Value.(ast.Object)
	if !ok {
		return Document{}, errors.New("the facts are not an object")
	}
	return Document{value: object}, nil
}

// factsReader turns JSON text into the values that rules read. Facts repeat
// their words and numbers, so each is made once.
type factsReader struct {
	*jsontext.Decoder
	words, numbers map[string]*ast.Term
}

// value reads one value.
func (r factsReader) value() (*ast.Term, error) {
	token, err := r.ReadToken()
	if err != nil {
		return nil, err
	}
	switch token.Kind() {
	case '{':
		return r.object()
	case '[':
		return r.array()
	case '"':
		return once(r.words, token.String(), ast.StringTerm), nil
	case '0':
		return once(r.numbers, token.String(), numberTerm), nil
	case 't', 'f':
		return ast.InternedTerm(token.Bool()), nil
	}
	return ast.InternedNullTerm, nil
}

func once(made map[string]*ast.Term, text string, make func(string) *ast.Term) *ast.Term {
	term, found := made[text]
	if !found {
		term = make(text)
		made[text] = term
	}
	return term
}

func (r factsReader) object() (*ast.Term, error) {
	var members [][2]*ast.Term
	for r.PeekKind() != '}' {
		key, err := r.value()
		if err != nil {
			return nil, err
		}
		value, err := r.value()
		if err != nil {
			return nil, err
		}
		members = append(members, [2]*ast.Term{key, value})
	}
	_, err := r.ReadToken()
	return ast.ObjectTerm(members...), err
}

func (r factsReader) array() (*ast.Term, error) {
	var members []*ast.Term
	for r.PeekKind() != ']' {
		member, err := r.value()
		if err != nil {
			return nil, err
		}
		members = append(members, member)
	}
	_, err := r.ReadToken()
	return ast.ArrayTerm(members...), err
}

// factDigits is how many significant digits facts keep. The policy engine
// compares numbers of up to 15 digits ten times faster than longer ones; twelve
// leave a relative error of 5e-13, far below every tolerance.
const factDigits = 12

// numberTerm shortens a number that is written with more digits.
func numberTerm(text string) *ast.Term {
	if len(text) > factDigits {
		if f, err := strconv.ParseFloat(text, 64); err == nil {
			text = strconv.FormatFloat(f, 'g', factDigits, 64)
		}
	}
	return ast.NewTerm(ast.Number(text))
}
