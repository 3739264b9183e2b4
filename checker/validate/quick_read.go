package validate

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// errBeyond says that a schema uses what a quick look does not know.
var errBeyond = errors.New("beyond a quick look")

// quickReader reads a schema file in one pass, over what only people read.
type quickReader struct {
	*jsontext.Decoder
	defs map[string]*node
	refs []*node // those whose reference is not followed yet
}

// newQuick makes a schema ready for quick looks. It fails on a schema that uses
// keywords beyond those, or references out of the file.
func newQuick(data []byte) (*quick, error) {
	r := &quickReader{Decoder: jsontext.NewDecoder(bytes.NewReader(data)), defs: map[string]*node{}}
	if r.PeekKind() != '{' {
		return nil, errBeyond
	}
	root, err := r.schema()
	if err != nil {
		return nil, err
	}
	for _, n := range r.refs {
		name, found := strings.CutPrefix(n.refName, "#/$defs/")
		if n.ref = r.defs[name]; !found || n.ref == nil {
			return nil, fmt.Errorf("%w: reference %s", errBeyond, n.refName)
		}
	}
	return &quick{root}, nil
}

// schema reads one schema; true allows everything and false nothing.
func (r *quickReader) schema() (*node, error) {
	n := &node{leastItems: -1, mostItems: -1, leastLength: -1, mostLength: -1, leastMembers: -1, mostMembers: -1}
	if kind := r.PeekKind(); kind == 't' || kind == 'f' {
		n.never = kind == 'f'
		_, err := r.ReadToken()
		return n, err
	}
	err := r.members(func(keyword string) error { return r.keyword(n, keyword) })
	return n, err
}

// members reads an object and calls each for every member, which must read the
// value.
func (r *quickReader) members(each func(name string) error) error {
	if err := r.begin('{'); err != nil {
		return err
	}
	for r.PeekKind() != '}' {
		token, err := r.ReadToken()
		if err != nil {
			return err
		}
		if err := each(token.String()); err != nil {
			return err
		}
	}
	_, err := r.ReadToken()
	return err
}

// begin reads the bracket that a value of the expected kind begins with.
func (r *quickReader) begin(kind jsontext.Kind) error {
	token, err := r.ReadToken()
	if err == nil && token.Kind() != kind {
		err = fmt.Errorf("%w: a value that begins with %s", errBeyond, token.Kind())
	}
	return err
}

// keyword reads the value of one keyword.
func (r *quickReader) keyword(n *node, keyword string) (err error) {
	switch keyword {
	case "title", "description", "examples", "$schema", "$id":
		return r.SkipValue()
	case "$defs":
		return r.named(r.defs)
	case "$ref":
		r.refs = append(r.refs, n)
		return r.value(&n.refName)
	case "type":
		return r.kinds(n)
	case "enum":
		return r.value(&n.words)
	case "properties":
		n.properties = map[string]*node{}
		return r.named(n.properties)
	case "patternProperties":
		return r.members(func(pattern string) error {
			below, err := r.schema()
			n.patterns = append(n.patterns, patternNode{newPattern(pattern), below})
			return err
		})
	case "additionalProperties":
		n.others, err = r.schema()
	case "propertyNames":
		n.names, err = r.schema()
	case "anyOf":
		return r.branches(n)
	case "items":
		n.items, err = r.schema()
	case "if":
		n.condition, err = r.schema()
	case "then":
		n.implied, err = r.schema()
	case "dependentSchemas":
		n.dependentSchemas = map[string]*node{}
		return r.named(n.dependentSchemas)
	default:
		return r.simple(n, keyword)
	}
	return err
}

// simple reads a keyword whose value is no schema.
func (r *quickReader) simple(n *node, keyword string) error {
	counts := map[string]*int{
		"minItems": &n.leastItems, "maxItems": &n.mostItems, "minLength": &n.leastLength, "maxLength": &n.mostLength,
		"minProperties": &n.leastMembers, "maxProperties": &n.mostMembers,
	}
	if count := counts[keyword]; count != nil {
		return r.value(count)
	}
	switch keyword {
	case "required":
		return r.value(&n.required)
	case "dependentRequired":
		return r.value(&n.dependentRequired)
	case "minimum":
		return r.bound(&n.least)
	case "maximum":
		return r.bound(&n.most)
	case "uniqueItems":
		return r.value(&n.distinct)
	case "pattern":
		var text string
		err := r.value(&text)
		n.pattern = newPattern(text)
		return err
	case "format":
		var name string
		if err := r.value(&name); err != nil || name != "date" {
			return errors.Join(err, errBeyond)
		}
		n.date = true
		return nil
	}
	return fmt.Errorf("%w: keyword %s", errBeyond, keyword)
}

// value reads a simple value.
func (r *quickReader) value(into any) error {
	if err := json.UnmarshalDecode(r.Decoder, into); err != nil {
		return fmt.Errorf("%w: %w", errBeyond, err)
	}
	return nil
}

// bound reads a number that float64 holds exactly enough.
func (r *quickReader) bound(into **float64) error {
	token, err := r.ReadToken()
	if err != nil {
		return err
	}
	x, err := strconv.ParseFloat(token.String(), 64)
	if err != nil || len(token.String()) > exactDigits {
		return errBeyond
	}
	*into = &x
	return nil
}

// named reads schemas by name.
func (r *quickReader) named(into map[string]*node) error {
	return r.members(func(name string) (err error) {
		into[name], err = r.schema()
		return err
	})
}

// kinds reads type, one word or several.
func (r *quickReader) kinds(n *node) error {
	if r.PeekKind() == '[' {
		return r.value(&n.kinds)
	}
	n.kinds = []string{""}
	return r.value(&n.kinds[0])
}

// branches reads anyOf.
func (r *quickReader) branches(n *node) error {
	if err := r.begin('['); err != nil {
		return err
	}
	for r.PeekKind() != ']' {
		branch, err := r.schema()
		if err != nil {
			return err
		}
		n.any = append(n.any, branch)
	}
	_, err := r.ReadToken()
	return err
}
