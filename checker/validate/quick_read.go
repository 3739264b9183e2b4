package validate

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"

	"github.com/go-json-experiment/json/jsontext"
)

// errBeyond says that a schema uses what a quick look does not know.
var errBeyond = errors.New("beyond a quick look")

// quickReader reads a schema file in one pass, over what only people read.
type quickReader struct {
	*jsontext.Decoder
	defs     map[string]*definition
	patterns map[string]textPattern
	spare    *node // not needed after all
}

// definition is a schema that others refer to by its name, known once it is read.
type definition struct {
	node
	known bool
}

// newQuick makes a schema ready for quick looks. It fails on a schema that uses
// keywords beyond those, or references out of the file.
func newQuick(data []byte) (*quick, error) {
	r := &quickReader{
		Decoder: jsontext.NewDecoder(bytes.NewBuffer(data), jsontext.AllowDuplicateNames(true)),
		defs:    map[string]*definition{}, patterns: map[string]textPattern{},
	}
	if r.PeekKind() != '{' {
		return nil, errBeyond
	}
	root := &node{}
	if _, err := r.schemaInto(root); err != nil {
		return nil, err
	}
	for name, d := range r.defs {
		if !d.known {
			return nil, fmt.Errorf("%w: there is no definition %s", errBeyond, name)
		}
	}
	return &quick{root}, nil
}

// schema reads one schema. One that is nothing but a reference is what it refers
// to.
func (r *quickReader) schema() (*node, error) {
	n := r.spare
	if r.spare = nil; n == nil {
		n = &node{}
	}
	reference, err := r.schemaInto(n)
	if err != nil || !reference {
		return n, err
	}
	to := n.ref
	n.ref, r.spare = nil, n
	return to, nil
}

// schemaInto reads a schema into an empty node; true allows everything and false
// nothing. It reports whether there is nothing but a reference.
func (r *quickReader) schemaInto(n *node) (reference bool, err error) {
	token, err := r.ReadToken()
	switch kind := token.Kind(); {
	case err != nil:
		return false, err
	case kind == 't' || kind == 'f':
		n.never = kind == 'f'
		return false, nil
	case kind != '{':
		return false, fmt.Errorf("%w: a value that begins with %s", errBeyond, kind)
	}
	own := false
	for r.PeekKind() != '}' {
		quoted, err := r.ReadValue()
		if err != nil {
			return false, err
		}
		switch keyword := keywordOf(quoted); keyword {
		case "title", "description", "examples", "$schema", "$id":
			err = r.SkipValue()
		case "$ref":
			n.ref, err = r.reference()
		default:
			own, err = true, r.keyword(n, keyword)
		}
		if err != nil {
			return false, err
		}
	}
	_, err = r.ReadToken()
	return !own && n.ref != nil, err
}

// reference reads the name of a definition.
func (r *quickReader) reference() (*node, error) {
	quoted, err := r.ReadValue()
	if err != nil {
		return nil, err
	}
	name, found := bytes.CutPrefix(bytes.TrimSuffix(quoted, []byte(`"`)), []byte(`"#/$defs/`))
	if !found || bytes.IndexByte(name, '\\') >= 0 {
		return nil, fmt.Errorf("%w: reference %s", errBeyond, quoted)
	}
	if d := r.defs[string(name)]; d != nil {
		return &d.node, nil
	}
	return &r.define(string(name)).node, nil
}

// define returns the definition with a name, which may not be read yet.
func (r *quickReader) define(name string) *definition {
	d := r.defs[name]
	if d == nil {
		d = &definition{}
		r.defs[name] = d
	}
	return d
}

// members reads an object and calls each for every member, which must read the
// value.
func (r *quickReader) members(each func(name string) error) error {
	return r.list('{', '}', func() error {
		name, err := r.text()
		if err != nil {
			return err
		}
		return each(name)
	})
}

// list reads what stands between two brackets.
func (r *quickReader) list(open, shut jsontext.Kind, each func() error) error {
	token, err := r.ReadToken()
	if err != nil {
		return err
	}
	if token.Kind() != open {
		return fmt.Errorf("%w: a value that begins with %s", errBeyond, token.Kind())
	}
	for r.PeekKind() != shut {
		if err := each(); err != nil {
			return err
		}
	}
	_, err = r.ReadToken()
	return err
}

// keywords are all that a quick look knows.
var keywords = []string{
	"title", "description", "examples", "$schema", "$id", "$defs", "$ref", "type", "enum", "required", "properties",
	"patternProperties", "additionalProperties", "items", "uniqueItems", "pattern", "format", "minimum", "maximum",
	"minItems", "maxItems", "minLength", "maxLength", "minProperties", "maxProperties", "propertyNames", "anyOf", "if",
	"then", "dependentSchemas", "dependentRequired",
}

// keywordOf is the keyword that stands in quotes, without a copy of each.
func keywordOf(quoted jsontext.Value) string {
	for _, known := range keywords {
		if len(quoted) == len(known)+2 && string(quoted[1:len(quoted)-1]) == known {
			return known
		}
	}
	return string(quoted)
}

// keyword reads the value of one keyword.
func (r *quickReader) keyword(n *node, keyword string) (err error) {
	switch keyword {
	case "$defs":
		return r.members(func(name string) error {
			d := r.define(name)
			d.known = true
			_, err := r.schemaInto(&d.node)
			return err
		})
	case "type":
		return r.kinds(n)
	case "enum":
		n.words, err = r.texts()
	case "required":
		n.required, err = r.texts()
	case "properties":
		n.properties = map[string]*node{}
		return r.named(n.properties)
	case "patternProperties":
		return r.members(func(pattern string) error { return r.patternMembers(n, pattern) })
	case "additionalProperties":
		n.others, err = r.schema()
	case "items":
		n.items, err = r.schema()
	case "uniqueItems":
		n.distinct, err = r.truth()
	case "pattern":
		n.pattern, err = r.pattern()
	case "format":
		n.date = true
		if name, err := r.text(); err != nil || name != "date" {
			return errors.Join(err, errBeyond)
		}
	case "minimum", "maximum", "minItems", "maxItems", "minLength", "maxLength", "minProperties", "maxProperties":
		return r.bound(n.bounded(), keyword)
	default:
		if n.rarer == nil {
			n.rarer = &rarer{}
		}
		return r.rare(n.rarer, keyword)
	}
	return err
}

// patternMembers reads one entry of patternProperties; every object has the one of
// comments.
func (r *quickReader) patternMembers(n *node, pattern string) error {
	below, err := r.schema()
	if pattern == "^//" {
		n.comments = below
		return err
	}
	if n.rarer == nil {
		n.rarer = &rarer{}
	}
	n.rarer.patterns = append(n.rarer.patterns, patternNode{r.shared(pattern), below})
	return err
}

// rare reads the value of a keyword that few schemas have.
func (r *quickReader) rare(n *rarer, keyword string) (err error) {
	switch keyword {
	case "propertyNames":
		n.names, err = r.schema()
	case "anyOf":
		return r.list('[', ']', func() error {
			branch, err := r.schema()
			n.any = append(n.any, branch)
			return err
		})
	case "if":
		n.condition, err = r.schema()
	case "then":
		n.implied, err = r.schema()
	case "dependentSchemas":
		n.dependentSchemas = map[string]*node{}
		return r.named(n.dependentSchemas)
	case "dependentRequired":
		n.dependentRequired = map[string][]string{}
		return r.members(func(name string) (err error) {
			n.dependentRequired[name], err = r.texts()
			return err
		})
	default:
		return fmt.Errorf("%w: keyword %s", errBeyond, keyword)
	}
	return err
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
	one := func() error {
		name, err := r.text()
		if err != nil {
			return err
		}
		kind := kindNamed(name)
		if kind == 0 {
			return fmt.Errorf("%w: type %s", errBeyond, name)
		}
		n.kinds |= kind
		return nil
	}
	if r.PeekKind() == '[' {
		return r.list('[', ']', one)
	}
	return one()
}

// pattern reads an expression.
func (r *quickReader) pattern() (textPattern, error) {
	text, err := r.text()
	return r.shared(text), err
}

// shared is the pattern of an expression, the same wherever it stands.
func (r *quickReader) shared(expression string) textPattern {
	p := r.patterns[expression]
	if p == nil {
		p = newPattern(expression)
		r.patterns[expression] = p
	}
	return p
}

// bounded returns the bounds of a schema, which it has from now on.
func (n *node) bounded() *limits {
	if n.bounds == nil {
		n.bounds = &limits{leastItems: -1, mostItems: -1, leastLength: -1, mostLength: -1, leastMembers: -1, mostMembers: -1}
	}
	return n.bounds
}

// bound reads one bound: a count, or a number that float64 holds exactly enough.
func (r *quickReader) bound(b *limits, keyword string) error {
	token, err := r.ReadToken()
	if err != nil {
		return err
	}
	digits := token.String()
	x, err := strconv.ParseFloat(digits, 64)
	count, fault := strconv.Atoi(digits)
	switch keyword {
	case "minimum":
		b.least, fault = &x, nil
	case "maximum":
		b.most, fault = &x, nil
	case "minItems":
		b.leastItems = count
	case "maxItems":
		b.mostItems = count
	case "minLength":
		b.leastLength = count
	case "maxLength":
		b.mostLength = count
	case "minProperties":
		b.leastMembers = count
	case "maxProperties":
		b.mostMembers = count
	}
	if err != nil || fault != nil || token.Kind() != '0' || len(digits) > exactDigits {
		return errBeyond
	}
	return nil
}

// truth reads true or false.
func (r *quickReader) truth() (bool, error) {
	token, err := r.ReadToken()
	if kind := token.Kind(); err == nil && kind != 't' && kind != 'f' {
		err = errBeyond
	}
	return err == nil && token.Kind() == 't', err
}

// texts reads a list of texts.
func (r *quickReader) texts() (list []string, err error) {
	list = []string{}
	err = r.list('[', ']', func() error {
		text, err := r.text()
		list = append(list, text)
		return err
	})
	return list, err
}

// text reads a text.
func (r *quickReader) text() (string, error) {
	token, err := r.ReadToken()
	if err != nil {
		return "", err
	}
	if token.Kind() != '"' {
		return "", fmt.Errorf("%w: a value that begins with %s", errBeyond, token.Kind())
	}
	return token.String(), nil
}
